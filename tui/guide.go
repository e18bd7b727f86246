package tui

// This file holds the job on the screen: the entries, the question that is
// asked, and what becomes of an answer. Drawing is view.go's, the field and
// its keys answer.go's.

import (
	"slices"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/text"
)

// guide is one open job. It is a value: every change makes another.
type guideScreen struct {
	job      job.Job
	offers   guide.Offers // what is stored is made with these
	shown    guide.Offers // the same, to be shown
	state    *guide.Guide
	fresh    bool           // not in the store yet
	resume   []guide.Prompt // asked before anything else, after a break
	resumed  time.Time      // when the job was left; zero for a new one
	answer   answer         // the question on the screen and what is typed
	again    bool           // the owner corrects an answer that stands
	draft    *guide.Guide   // state as it would be with what is typed; nil: not computable
	finished bool           // nothing is left to ask
	rest     []guide.Taken  // what + takes over
	wait     guide.Wait     // what is waited for, where waiting
	waiting  bool

	saving   bool
	request  int    // ties a save to its result
	failure  string // why a save failed, "" else
	notice   string // what just happened, "" nothing to say
	draftTag int
	kept     Draft // half typed before the break, for when its question comes
}

// with is a job with entries more. The entries before are never written to: a
// state that was folded from them stays valid.
func with(job job.Job, entries ...job.Entry) job.Job {
	job.Entries = append(slices.Clip(job.Entries), entries...)
	return job
}

// fold is the state to be shown: control characters in texts are made visible.
// What is stored is made from the job itself.
func (g guideScreen) fold(j job.Job) *guide.Guide { return guide.Fold(visible(j), g.shown) }

// bring takes what earlier jobs bring. Those before this one are folded here once:
// every state after it works on them.
func (g guideScreen) bring(offers guide.Offers) guideScreen {
	g.offers, g.shown = offers, offers
	g.shown.Answers = make(map[job.Place]job.Value, len(offers.Answers))
	for p, v := range offers.Answers {
		v.Text = text.Visible(v.Text)
		g.shown.Answers[p] = v
	}
	for b := offers.Before; b != nil; b = b.Before() {
		if entries, _ := b.Ledger(); slices.ContainsFunc(entries, hides) {
			g.shown.Before = offers.Before.Refold(visible) // so that the same names are the same in all of them
			break
		}
	}
	return g
}

// visible is a job with the control characters in its texts made visible.
func visible(j job.Job) job.Job {
	j.Entries = slices.Clone(j.Entries)
	for i := range j.Entries {
		j.Entries[i] = visibleEntry(j.Entries[i])
	}
	return j
}

func visibleEntry(e job.Entry) job.Entry {
	e.Typed, e.Value.Text, e.Value.Choice = text.Visible(e.Typed), text.Visible(e.Value.Text), text.Visible(e.Value.Choice)
	return e
}

// hides reports whether there is something in an entry to be made visible.
func hides(e job.Entry) bool {
	v := visibleEntry(e)
	return v.Typed != e.Typed || v.Value.Text != e.Value.Text || v.Value.Choice != e.Value.Choice
}

// newGuide opens a job at the question it was left at.
func newGuide(msg loadedMsg) guideScreen {
	g := guideScreen{job: msg.job, fresh: msg.fresh}.bring(msg.offers)
	g.state = g.fold(g.job)
	if !msg.fresh {
		g.resumed = g.state.Updated
		g.resume = g.state.ResumePrompts()
	}
	g.kept = msg.draft
	return g.ask()
}

// ask puts the next question on the screen.
func (g guideScreen) ask() guideScreen {
	g.draft, g.rest, g.again = nil, nil, false
	g.wait, g.waiting = g.state.Wait()
	if len(g.resume) > 0 {
		g.finished = false
		g.answer = newAnswer(g.state, g.resume[0])
		return g
	}
	p, ok := g.state.Next()
	g.finished = !ok
	if !ok {
		g.answer = answer{}
		return g
	}
	g.answer = newAnswer(g.state, p)
	if g.answer.canTakeAll() {
		g.rest = g.state.TakeOver(g.answer.prompt.Part, time.Time{})
	}
	if g.kept.Text != "" && g.kept.Place == p.Place {
		g.answer = g.answer.withEarlier(g.kept.Text)
		g.kept = Draft{}
		g.notice = "as you had typed it: Enter takes it, the first key replaces it"
		return g.redraft()
	}
	return g
}

// keep puts what is half typed aside, for when its question comes again.
func (g guideScreen) keep() guideScreen {
	if text := g.answer.text(); text != "" && !g.again {
		g.kept = Draft{Place: g.answer.prompt.Place, Text: text}
	}
	return g
}

// correct asks for an earlier entry again, with what was typed then.
func (g guideScreen) correct(seq int) guideScreen {
	p, ok := g.state.Correcting(seq)
	if !ok {
		g.notice = "that entry cannot be asked for again"
		return g
	}
	g = g.keep()
	g.draft, g.again = nil, true
	g.answer = newAnswer(g.state, p)
	g.finished = false
	entries, _ := g.state.Ledger()
	old := entries[seq-1]
	g.notice = "the old answer is kept, struck out; Esc leaves it as it was"
	if g.answer = g.answer.withEarlier(old.Typed); g.answer.earlier {
		g.notice = "the first key replaces it; " + g.notice
	}
	if p.Kind == job.Choose && !p.Safety {
		g.answer.chosen.at = slices.IndexFunc(g.answer.choices, func(o guide.Option) bool { return o.Token == old.Value.Choice })
	}
	return g
}

// key gives a key to the question on the screen.
func (g guideScreen) key(msg tea.KeyMsg, k keymap) (guideScreen, intent) {
	if g.saving {
		return g, nil // the answer before is still being written
	}
	if g.finished {
		return g, keyWhenFinished(msg, k)
	}
	if g.again && msg.Type == tea.KeyEsc {
		g.notice = "left as it was"
		return g.ask(), nil
	}
	before := g.answer.text()
	var want intent
	g.answer, want = g.answer.key(msg, k)
	switch want.(type) {
	case wantAccept:
		return g.accept()
	case wantTakeAll:
		return g.takeAll()
	case wantOverlay:
		return g, want
	}
	if g.answer.text() != before {
		g.notice, g.failure = "", ""
		return g.redraft(), wantDraft{}
	}
	return g, nil
}

func keyWhenFinished(msg tea.KeyMsg, k keymap) intent {
	switch {
	case matches(msg, k.Sums):
		return wantOverlay{overlaySums}
	case matches(msg, k.Help):
		return wantOverlay{overlayHelp}
	case matches(msg, k.Back):
		return wantOverlay{overlayCorrect}
	}
	return wantOverlay{overlayMenu}
}

// recordAtHand reports whether the record is what one comes for now: nothing is
// left to ask, or only what is for later, and no field is open.
func (g guideScreen) recordAtHand() bool {
	return g.finished || (!g.answer.isField() && g.state.Phase() != guide.Open)
}

// accept checks the answer; a good one becomes an entry.
func (g guideScreen) accept() (guideScreen, intent) {
	e, err := g.answer.entry(g.state)
	if err != nil {
		g.answer = g.answer.refused(err)
		return g, nil
	}
	return g, wantSave{[]job.Entry{e}}
}

// takeAll accepts the rest of the offers of this part as shown.
func (g guideScreen) takeAll() (guideScreen, intent) {
	if len(g.rest) == 0 {
		g.answer.problem = "this one is needed: nothing is on offer"
		return g, nil
	}
	entries := make([]job.Entry, len(g.rest))
	for i, o := range g.rest {
		entries[i] = o.Entry
	}
	return g, wantSave{entries}
}

// redraft works out the state as it would be with what is typed, so that the
// gauge moves with every digit.
func (g guideScreen) redraft() guideScreen {
	g.draft = nil
	v, err := g.answer.prompt.Parse(g.state, g.answer.text())
	if err != nil || g.answer.prompt.Kind == job.Choose {
		return g
	}
	e := g.answer.prompt.Entry(g.state, v, "", g.state.Updated)
	g.draft = g.fold(with(g.job, e))
	return g
}

// save sends entries to the journal, stamped with the time of acceptance.
func (g guideScreen) save(j Journal, entries []job.Entry) (guideScreen, tea.Cmd) {
	g.saving, g.failure = true, ""
	g.request++
	s := saving{request: g.request, job: with(g.job, entries...), create: g.fresh, entries: entries}
	if job.Fold(s.job).UnitKey() == job.Fold(g.job).UnitKey() {
		s.head = guide.Fold(s.job, g.offers).Head()
	} else {
		s.moved = true
	}
	return g, save(j, s)
}

// saved moves on: the entries are durable.
func (g guideScreen) saved(msg savedMsg) guideScreen {
	if msg.request != g.request || !g.saving {
		return g
	}
	g.saving, g.fresh, g.notice = false, false, ""
	g.job = with(g.job, msg.entries...)
	if msg.offers != nil {
		g = g.bring(*msg.offers)
	}
	g.state = g.fold(g.job)
	if len(g.resume) > 0 && len(msg.entries) == 1 && msg.entries[0].Topic == g.resume[0].Topic {
		g.resume = g.resume[1:]
	}
	if len(msg.entries) == 1 && msg.entries[0].Topic == job.Undo {
		g.notice = "struck out: " + entryName(g.state, g.job.Entries[msg.entries[0].Strikes-1])
	}
	return g.ask()
}

// saveFailed stays at the question with what was typed.
func (g guideScreen) saveFailed(msg saveFailedMsg) guideScreen {
	if msg.request != g.request {
		return g
	}
	g.saving = false
	g.failure = msg.err.Error()
	return g
}

// draftCmd keeps what is half typed, if typing has paused since.
func (g guideScreen) draftCmd(cfg Config, tag int) tea.Cmd {
	if tag != g.draftTag || g.fresh || g.saving || g.finished || g.again {
		return nil
	}
	d := Draft{Place: g.answer.prompt.Place, Text: g.answer.text(), At: cfg.Clock()}
	return saveDraft(cfg.Journal, g.job.ID, d)
}
