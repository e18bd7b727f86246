package tui

// This file holds a job on the screen: the sheet that is before the person, the
// line that keys go to, and what becomes of an answer. The keys are in press.go,
// drawing in show.go.

import (
	"errors"
	"slices"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
	"garage/tundish/model/text"
	"garage/tundish/tui/input"
	"garage/tundish/tui/session"
	"garage/tundish/tui/status"
)

// looks says what is seen of a sheet.
type looks uint8

const (
	asSheet looks = iota
	asFar         // from far: its figure and the line that is open
	asWorth       // the lines that are folded
)

// jobScreen is one open job. It is a value: every change makes another.
type jobScreen struct {
	session.Session
	sheet  sheet.Sheet
	on     bool // a sheet is before the person; else nothing is left to do
	focus  int  // the line that keys go to; noLine: Enter completes the sheet
	field  input.Field
	passed bool            // Enter alone has left the readings of a run
	asked  []guide.Reading // of what was typed: which one is meant?
	typed  *guide.Guide    // the job as it would be with what is typed; nil: none, or not computable
	words  sheet.Words     // of the sheet as it would be then
	found  int             // how many of its notes were found out
	seen   looks
	from   int  // of the folded lines, the first on the page
	not    bool // the digit of a line to be unticked comes next
	again  bool // the line is typed anew for a stop, which is gone back to

	wait    guide.Wait // what is waited for, where waiting
	waiting bool

	saving   bool
	leaving  bool   // the sheet is complete once the save is done
	request  int    // ties a save to its result
	failure  string // why a save failed, "" else
	notice   string // what just happened, "" nothing to say
	refused  bool   // notice says why something is not taken
	draftTag int
}

const noLine = -1

// state is the job as it stands; live as it would with what is typed and what is on
// offer.
func (g jobScreen) state() *guide.Guide { return g.Visit.Guide }

func (g jobScreen) live() *guide.Guide {
	if g.typed != nil {
		return g.typed
	}
	return g.stands()
}

// stands is the job with what is on offer.
func (g jobScreen) stands() *guide.Guide {
	if g.on && g.sheet.ID < sheet.Resume {
		return g.sheet.Live()
	}
	return g.state()
}

// read makes the sheet anew, as things stand at a moment.
func (g jobScreen) read(now time.Time) jobScreen {
	g.sheet, g.on = g.Visit.Sheet(now)
	g.wait, g.waiting = g.state().Wait()
	if g.typed == nil {
		g = g.undrafted()
	}
	return g
}

// undrafted is without anything that is typed.
func (g jobScreen) undrafted() jobScreen {
	g.typed, g.words, g.found = nil, g.sheet.Words, 0
	if g.on && g.sheet.ID < sheet.Resume {
		g.found = findings(g.sheet)
	}
	return g
}

// look puts the sheet that the job is at before the person.
func (g jobScreen) look(now time.Time) jobScreen {
	g.typed, g.passed, g.again, g.not, g.seen = nil, false, false, false, min(g.seen, asFar)
	g = g.read(now)
	return g.focusOn(g.first())
}

// shown are the lines that are seen, in order. Those for under the car come when all is
// done that comes before, a reading of the push when oil can be pushed.
func (g jobScreen) shown() []int {
	var list []int
	open := g.sheet.FirstOpen()
	for i, l := range g.sheet.Lines {
		early := isPush(l) && l.Standing == sheet.Offered && open >= 0 && open < i
		if !l.Folded && !early && !g.hides(l, open) {
			list = append(list, i)
		}
	}
	return list
}

// hides reports whether a line is for under the car, where nobody may be yet.
func (g jobScreen) hides(l sheet.Line, open int) bool {
	return g.sheet.ID == sheet.Isolate && !g.Visit.Looking() && !l.Early() && open >= 0 && g.sheet.Lines[open].Early()
}

// folded are the lines that are worth knowing.
func (g jobScreen) folded() []int {
	var list []int
	for i, l := range g.sheet.Lines {
		if l.Folded {
			list = append(list, i)
		}
	}
	return list
}

// first is the line that keys go to first: the first that is open, or a run of
// readings before it.
func (g jobScreen) first() int {
	if g.Visit.Looking() {
		return noLine
	}
	open := g.sheet.FirstOpen()
	for _, i := range g.shown() {
		l := g.sheet.Lines[i]
		if i == open || open >= 0 && !g.passed && isPush(l) && l.Standing == sheet.Offered {
			return i
		}
	}
	return noLine
}

// isRun reports whether a line is one of readings that end when somebody says so.
func isRun(l sheet.Line) bool { return l.Kind == sheet.Reading && l.Prompt().Ends != job.NoTopic }

// isPush reports whether a line is a reading while oil is pushed in, or while it warms
// with the engine running.
func isPush(l sheet.Line) bool {
	return isRun(l) && (l.Place.Topic == job.FillReading || l.Place.Topic == job.OilRunning)
}

// line is the line that keys go to.
func (g jobScreen) line() (sheet.Line, bool) {
	if !g.on || g.focus < 0 || g.focus >= len(g.sheet.Lines) {
		return sheet.Line{}, false
	}
	return g.sheet.Lines[g.focus], true
}

// focusOn turns to a line, with what was half typed there.
func (g jobScreen) focusOn(i int) jobScreen {
	g.focus, g.field, g.asked = i, input.Field{}, nil
	g = g.undrafted()
	l, ok := g.line()
	switch {
	case !ok || !typable(l):
	case g.Kept.Text != "" && g.Kept.Place == l.Place:
		g.field = input.Field{Text: g.Kept.Text, Stood: true}
		g.Kept = session.Draft{}
		g.notice, g.refused = "as you had typed it: Enter takes it, the first key replaces it", false
		return g.redraft()
	case l.Standing == sheet.Said:
		g.field = input.Field{Text: text.Visible(l.Typed), Stood: true, Said: true}
	}
	return g
}

// typable reports whether a line is typed into.
func typable(l sheet.Line) bool { return l.Kind == sheet.Reading || l.Kind == sheet.Moment }

// keep puts what is half typed aside, for when its line is come back to.
func (g jobScreen) keep() jobScreen {
	if l, ok := g.line(); ok && g.field.Half() {
		g.Kept = session.Draft{Place: l.Place, Text: g.field.Text}
	}
	return g
}

// turn leaves the line for another one.
func (g jobScreen) turn(to int) jobScreen {
	g = g.keep()
	g.notice, g.refused = "", false
	return g.focusOn(to)
}

// step turns to the line above or below, in the order in which they are seen; below
// the last one only Enter is awaited. A line comes only after all above it.
func (g jobScreen) step(by int) jobScreen {
	places := append(g.shown(), noLine)
	at := slices.Index(places, g.focus)
	to := max(at, 0) + by
	if to < 0 || to >= len(places) {
		return g
	}
	if open := g.sheet.FirstOpen(); open >= 0 && !g.Visit.Looking() && (places[to] == noLine || places[to] > open) {
		return g.say("first: " + g.sheet.Lines[open].Ask)
	}
	return g.turn(places[to])
}

// back is one line back, before the first one a sheet.
func (g jobScreen) back(now time.Time) jobScreen {
	places := append(g.shown(), noLine)
	if at := slices.Index(places, g.focus); at > 0 {
		return g.turn(places[at-1])
	}
	return g.leaf(-1, now)
}

// leaf looks at the sheet before or after.
func (g jobScreen) leaf(by int, now time.Time) jobScreen {
	visited := sheet.Visited(g.state())
	at := slices.Index(visited, g.sheet.At)
	switch {
	case g.sheet.ID == sheet.Resume:
		return g.say("first look at the car, in this order")
	case at < 0 || !g.on:
		at = len(visited)
	}
	if g.sheet.ID == sheet.Stop { // what it doubts is on the sheet that it is of
		at = len(visited)
	}
	if at += by; at < 0 || at >= len(visited) {
		return g.say("there is no other sheet that way")
	}
	return g.visit(visited[at], now)
}

// visit looks at another sheet, at the foot of it.
func (g jobScreen) visit(at sheet.At, now time.Time) jobScreen {
	g = g.keep()
	g.Visit = g.Visit.Looks(at)
	g.notice, g.refused = "", false
	g = g.look(now)
	if shown := g.shown(); g.Visit.Looking() && len(shown) > 0 {
		g = g.focusOn(shown[len(shown)-1])
	}
	return g
}

// goTo turns to the line that stands for the question at a place, whatever sheet it
// is on.
func (g jobScreen) goTo(p job.Place, now time.Time) (jobScreen, bool) {
	at, ok := sheet.Home(g.state(), p)
	if !ok {
		return g, false
	}
	g = g.visit(at, now)
	i := g.sheet.LineOf(p)
	if i < 0 {
		return g, false
	}
	g.Visit = g.Visit.Unfold(g.sheet.Lines[i].Place)
	return g.read(now).focusOn(i), true
}

// say says something of what was just pressed.
func (g jobScreen) say(words string) jobScreen {
	g.notice, g.refused = words, true
	return g
}

// take answers the line. Where that leaves nothing open and there is nothing to be
// said of a reading, the sheet is complete with it.
func (g jobScreen) take(a sheet.Answer, now time.Time) (jobScreen, intent) {
	l, _ := g.line()
	entries, err := g.sheet.Take(g.Real(), g.focus, a, now)
	if err != nil {
		return g.refuse(err, now)
	}
	done := false
	if l.Kind == sheet.Reading || g.sheet.ID == sheet.Verdict {
		var more []job.Entry
		if more, done = g.completes(entries, now); done {
			entries = append(entries, more...)
		}
	}
	return g, wantSave{entries, done}
}

// completes are the entries of the sheet being complete with those of the line: false
// where something is open, is looked at by the way, or has to be seen first.
func (g jobScreen) completes(entries []job.Entry, now time.Time) ([]job.Entry, bool) {
	if g.Visit.Looking() || g.sheet.ID >= sheet.Resume {
		return nil, g.again
	}
	with := g.Real().With(entries...)
	next := sheet.Of(with, g.sheet.At, now)
	if next.ID == sheet.Stop || next.FirstOpen() >= 0 || findings(next) > findings(g.sheet) {
		return nil, false
	}
	more, err := next.Complete(with, now)
	return more, err == nil
}

// findings is how much was found at a sheet.
func findings(s sheet.Sheet) int { return len(s.Live().FindingsAt(s.ID.Step(), s.Round)) }

// refuse says why an answer is not taken, or asks which reading is meant, or goes
// back to the readings that are doubted.
func (g jobScreen) refuse(err error, now time.Time) (jobScreen, intent) {
	var unclear *guide.UnclearUnit
	var back *sheet.Back
	switch {
	case errors.As(err, &unclear):
		g.asked = append(slices.Clone(unclear.Readings[1:]), unclear.Readings[0]) // that the unit was forgotten comes first
		g.notice = ""
		return g, nil
	case errors.As(err, &back):
		stop := g.sheet.ID == sheet.Stop
		to, ok := g.goTo(back.Places[0], now)
		if ok {
			to.again = stop
			to.notice, to.refused = "type it anew: the old one stays in the record, struck out", false
			return to, nil
		}
	}
	return g.say(err.Error()), nil
}

// complete leaves the sheet: with what is on offer, or, where it was only looked at,
// without.
func (g jobScreen) complete(now time.Time) (jobScreen, intent) {
	if g.Visit.Looking() {
		g.Visit = g.Visit.Done()
		g.notice = ""
		return g.look(now), nil
	}
	entries, err := g.sheet.Complete(g.Real(), now)
	if err != nil {
		return g.say(err.Error()), nil
	}
	if len(entries) == 0 {
		g.Visit = g.Visit.Done()
		return g.look(now), nil
	}
	return g, wantSave{entries, true}
}

// untick takes back what a line says.
func (g jobScreen) untick(digit rune, now time.Time) (jobScreen, intent) {
	g.not = false
	i := slices.IndexFunc(g.sheet.Lines, func(l sheet.Line) bool {
		return l.Kind == sheet.Confirm && l.Key == digit && l.Standing == sheet.Said
	})
	if i < 0 {
		return g.say("no line with a " + string(digit) + " is ticked"), nil
	}
	var entries []job.Entry
	with := g.Real()
	for _, topic := range g.sheet.Lines[i].Topics() {
		if e, ok := with.StrikeEntry(with.SeqOf(g.sheet.Lines[i].Place.Of(topic)), now); ok {
			entries, with = append(entries, e), with.With(e)
		}
	}
	return g, wantSave{entries, false}
}

// redraft works out the job as it would be with what is typed, so that the gauge and
// what the sheet says move with every digit.
func (g jobScreen) redraft() jobScreen {
	g = g.undrafted()
	l, ok := g.line()
	if !ok || l.Kind != sheet.Reading || l.Prompt().Kind == job.Free || g.field.Text == "" {
		return g
	}
	entries, err := g.sheet.Take(g.Real(), g.focus, sheet.Answer{Typed: g.field.Text}, g.state().Updated)
	if err != nil {
		return g
	}
	g.typed = g.With(entries...)
	if g.sheet.ID < sheet.Resume && !g.Visit.Looking() {
		if s := sheet.Of(g.typed, g.sheet.At, g.state().Updated); s.ID != sheet.Stop {
			g.typed, g.words, g.found = s.Live(), s.Words, findings(s)
		}
	}
	return g
}

// save sends entries to the journal.
func (g jobScreen) save(j session.Journal, want wantSave) (jobScreen, tea.Cmd) {
	g.saving, g.failure, g.leaving = true, "", want.done
	g.request++
	return g, save(j, g.request, g.Save(want.entries))
}

// saved moves on: the entries are durable.
func (g jobScreen) saved(msg savedMsg, now time.Time) jobScreen {
	if msg.request != g.request || !g.saving {
		return g
	}
	load, planned := loadOf(g.state())
	looking, focus := g.Visit.Looking(), g.focus
	g.Session = g.Stored(msg.saved)
	g.saving, g.notice, g.refused = false, "", false
	if g.leaving {
		g.Visit = g.Visit.Done()
	}
	passed := g.passed && !g.leaving
	g = g.look(now)
	if g.passed = passed; passed {
		g = g.focusOn(g.first())
	}
	if looking && g.Visit.Looking() {
		g = g.focusOn(min(focus, len(g.sheet.Lines)-1))
	}
	if first := msg.saved.Entries[0]; first.Topic == job.Undo {
		g.notice = "struck out: " + status.Entry(g.state(), g.Job.Entries[first.Strikes-1])
	} else if now, ok := loadOf(g.state()); ok && planned && now != load && first.Strikes > 0 {
		u := g.state().Units()
		g.notice = "worked out again: load " + u.BareVolume(load) + " → " + u.FormatVolume(now)
	}
	return g
}

// loadOf is what is to be poured into the vessel, ml.
func loadOf(s *guide.Guide) (ml float64, ok bool) {
	plan, err := s.Plan(s.Round())
	return plan.PreloadML, err == nil && !plan.Undecided
}

// saveFailed stays at the line with what was typed.
func (g jobScreen) saveFailed(msg saveFailedMsg) jobScreen {
	if msg.request == g.request {
		g.saving, g.failure = false, session.Refused(msg.err).Error()
	}
	return g
}

// draftPause is how long typing pauses before what is half typed is kept.
const draftPause = 300 * time.Millisecond

// draftCmd keeps what is half typed, if typing has paused since.
func (g jobScreen) draftCmd(cfg Config, tag int) tea.Cmd {
	l, ok := g.line()
	if tag != g.draftTag || g.Fresh || g.saving || !ok {
		return nil
	}
	d := session.Draft{Place: l.Place, Text: g.field.Text, At: cfg.Clock()}
	if !g.field.Half() {
		d.Text = ""
	}
	return func() tea.Msg { return draftSavedMsg{cfg.Journal.SaveDraft(g.Job.ID, d)} }
}
