package tui

// This file lays a sheet out: state, steps, what the hands do, the figure that
// matters, the lines, what comes next, the gauge, the keys. Where there is no room for
// all of it hints go first, then what is only read, then the figure shrinks, then what
// is answered; the line that is open and cautions stay.

import (
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/charmbracelet/lipgloss"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
	"garage/tundish/model/text"
	"garage/tundish/tui/digits"
	"garage/tundish/tui/gauge"
	"garage/tundish/tui/input"
	"garage/tundish/tui/oilgauge"
	"garage/tundish/tui/status"
	"garage/tundish/tui/theme"
)

// The least that the screens are made for.
const (
	minWidth  = 60
	minHeight = 20
)

// View draws the screen. It reads no clock and changes nothing.
func (a App) View() string {
	if a.width < minWidth || a.height < minHeight {
		return a.tooSmall()
	}
	var lines []string
	switch {
	case a.fatal != nil:
		lines = a.fatalLines()
	case a.overlay != nil:
		lines = a.framed(a.overlay.lines(a.overlayScene()))
	case a.screen == screenPicking:
		lines = a.framed(a.picker.lines(a.overlayScene()))
	case a.screen == screenJob && a.job.state() != nil:
		lines = a.jobLines()
	default:
		lines = []string{" opening…"}
	}
	return a.fit(lines)
}

// fit pads and cuts to exactly the terminal, whatever the parts did.
func (a App) fit(lines []string) string {
	out := make([]string, a.height)
	for i := range out {
		if i < len(lines) {
			line := a.theme.Glyphs.Spell(lines[i]) // the escape sequences in it are ASCII already
			out[i] = text.Cut(line, a.width, a.theme.Glyphs.Ellipsis)
		}
	}
	return strings.Join(out, "\n")
}

func (a App) tooSmall() string {
	lines := []string{"tundish needs 60 x 20", "this is " + strconv.Itoa(a.width) + " x " + strconv.Itoa(a.height),
		"make the window larger",
		"nothing is lost"}
	if a.screen == screenJob && a.job.state() != nil {
		lines = append([]string{a.job.state().StateWords()}, lines...)
	}
	for i := range lines {
		lines[i] = text.Cut(lines[i], max(a.width, 0), "")
	}
	return strings.Join(lines[:min(len(lines), max(a.height, 1))], "\n")
}

func (a App) fatalLines() []string {
	lines := []string{"", " " + a.theme.Danger.Render("This does not work:"), ""}
	lines = append(lines, styledLines(a.theme.Text, "  ", text.Wrap(text.Visible(a.fatal.Error()), a.width-4))...)
	return append(lines, "", " Any key leaves.")
}

// styledLines are texts in a style, each behind an indent that has none.
func styledLines(style lipgloss.Style, indent string, lines []string) []string {
	out := make([]string, len(lines))
	for i, l := range lines {
		out[i] = indent + style.Render(l)
	}
	return out
}

// scene is what a part of the screen needs to draw itself.
type scene struct {
	job      jobScreen
	theme    theme.Theme
	now      time.Time
	quitting bool
	state    *guide.Guide // as stored; nil where no job is open
	live     *guide.Guide // as it would be with what is typed
	width    int
	height   int
	lines    map[fit][]string // rows of lines that were drawn for one fit and do for another
}

func (a App) scene(width, height int) scene {
	sc := scene{job: a.job, theme: a.theme, now: a.now, quitting: a.quitting, state: a.job.state(), width: width, height: height}
	if sc.state != nil {
		sc.live = a.job.live()
	}
	return sc
}

// overlayScene is that of what lies between the state and the keys.
func (a App) overlayScene() scene { return a.scene(a.width, a.height-3) }

// framed puts lines under the state and over the keys.
func (a App) framed(body []string, hints []hint) []string {
	lines := append(a.barLines(), "")
	room := a.height - len(lines) - 1
	for i := range room {
		if i < len(body) {
			lines = append(lines, body[i])
		} else {
			lines = append(lines, "")
		}
	}
	return append(lines, a.hintLine(hints))
}

// jobLines is the sheet.
func (a App) jobLines() []string {
	lines := append(a.barLines(), a.stepLine())
	var foot []string
	if a.job.on && a.job.seen != asFar && a.job.live().CapacityML() > 0 {
		foot = strings.Split(gauge.View(oilgauge.Of(a.job.live(), a.job.stands()), a.width, a.theme), "\n")
	}
	if coach := a.cfg.coachLine(a.job.sheet, a.job.focus); coach != "" && a.job.on {
		foot = append(foot, " "+a.theme.Accent.Render(coach))
	}
	foot = append(foot, a.hintLine(a.jobHints()))
	sc := a.scene(a.width, a.height-len(lines)-len(foot))
	body := sc.body()
	for len(body) < sc.height {
		body = append(body, "")
	}
	return append(append(lines, body[:sc.height]...), foot...)
}

// body is what stands between the steps and the gauge.
func (sc scene) body() []string {
	switch {
	case !sc.job.on:
		return sc.doneRows()
	case sc.job.seen == asWorth:
		return sc.worthRows()
	case sc.job.seen == asFar:
		return sc.farRows()
	}
	sc.lines = map[fit][]string{}
	list := fits
	if sc.job.sheet.ID == sheet.Fill {
		list = pushFits
	}
	for _, f := range list {
		if rows, ok := sc.fitted(f); ok {
			return rows
		}
	}
	rows, _ := sc.fitted(fits[len(fits)-1])
	return rows
}

// fit says what of a sheet is shown.
type fit struct {
	blanks bool // between its parts
	hints  int  // 2 all, 1 of the open line, 0 none
	intro  int  // paragraphs at most
	notes  bool // what is only to be known
	figure int  // rows of the figure at least
	short  bool // what is answered, and what is not at hand, has one row each
	gone   bool // what is ticked is not shown
	bare   bool // nothing of what comes next
	scroll bool // what is answered goes, and the lines below the open one
}

var fits = []fit{
	{blanks: true, hints: 2, intro: 9, notes: true, figure: 7},
	{hints: 2, intro: 9, notes: true, figure: 7},
	{blanks: true, hints: 1, intro: 9, notes: true, figure: 7},
	{hints: 1, intro: 9, notes: true, figure: 7},
	{hints: 1, intro: 1, notes: true, figure: 7},
	{hints: 0, intro: 1, notes: true, figure: 7},
	{hints: 0, intro: 1, figure: 7},
	{hints: 0, intro: 1, figure: 5},
	{hints: 0, intro: 1, figure: 3},
	{hints: 0, figure: 3},
	{figure: 3, short: true},
	{figure: 3, short: true, bare: true},
	{figure: 1, short: true, bare: true},
	{figure: 1, short: true, bare: true, scroll: true},
}

// pushFits are those of the push: the mark to stop at stays large.
var pushFits = append(fits[:6:6], fit{gone: true, hints: 1, intro: 1, notes: true, figure: 7}, fit{gone: true, hints: 0, figure: 7},
	fit{gone: true, short: true, figure: 7}, fit{gone: true, short: true, figure: 5}, fit{gone: true, short: true, figure: 3},
	fits[len(fits)-1])

// parts are those of a sheet, from the top; the figure's rows come last, when it is
// known how much room they have.
type parts struct {
	rows                 [][]string
	figure, lines, notes int // where they stand; figure -1: none
	blanks               bool
}

func (p *parts) add(rows []string) {
	if len(rows) > 0 {
		p.rows = append(p.rows, rows)
	}
}

// gap reports whether a blank row goes before a part.
func (p *parts) gap(i int) bool { return p.blanks && i > 0 && i != p.figure+1 }

// used is how many rows they take.
func (p *parts) used() int {
	n := 0
	for i, rows := range p.rows {
		if n += len(rows); p.gap(i) {
			n++
		}
	}
	if p.blanks {
		n++ // one above the gauge
	}
	return n
}

func (p *parts) joined() []string {
	var out []string
	for i, rows := range p.rows {
		if p.gap(i) {
			out = append(out, "")
		}
		out = append(out, rows...)
	}
	return out
}

// partsOf are the parts of the sheet in a fit, but for the rows of its figure.
func (sc scene) partsOf(f fit) *parts {
	w := sc.job.words
	p := &parts{figure: -1, blanks: f.blanks}
	p.add(sc.introRows(w, f))
	if w.Figure != "" {
		p.figure = len(p.rows)
		p.rows = append(p.rows, nil)
	}
	p.add(sc.afterRows(w, f))
	p.lines = len(p.rows)
	p.add(sc.linesRows(f))
	p.notes = len(p.rows)
	p.add(sc.noteRows(f))
	if n := len(sc.job.folded()); n > 0 && f.notes {
		p.add([]string{" " + sc.theme.Dim.Render(fmt.Sprintf("+ worth knowing (%d)", n))})
	}
	if w.Next != "" && !f.bare {
		p.add(sc.nextRows(w.Next, f))
	}
	return p
}

// fitted is the sheet in a fit; false where it has no room.
func (sc scene) fitted(f fit) ([]string, bool) {
	p := sc.partsOf(f)
	room := sc.height - p.used()
	if p.figure >= 0 {
		if room < f.figure+captionRows(sc.job.words) && !f.scroll {
			return nil, false
		}
		p.rows[p.figure] = sc.figureRows(sc.job.words, max(room, 1))
		room -= len(p.rows[p.figure])
	}
	switch {
	case room > 0 && p.figure < 0 && !f.notes && !f.scroll:
		sc.someNotes(p, f, room)
	case room < 0 && f.scroll && p.lines < len(p.rows):
		p.rows[p.lines] = sc.scrolled(len(p.rows[p.lines]) + room)
		room = 0
	}
	return p.joined(), room >= 0
}

// someNotes shows as much of what is only to be known as there is room for.
func (sc scene) someNotes(p *parts, f fit, room int) {
	some := sc.noteRows(fit{notes: true})
	if len(some) == 0 {
		return
	}
	had := len(sc.noteRows(f))
	if had == 0 {
		p.rows = slices.Insert(p.rows, p.notes, nil)
	}
	kept := min(had+room, len(some))
	if some = some[:kept:kept]; kept < len(sc.noteRows(fit{notes: true})) {
		some[kept-1] = text.Cut(some[kept-1], sc.width-3, "") + sc.theme.Dim.Render(" …")
	}
	p.rows[p.notes] = some
}

func captionRows(w sheet.Words) int {
	if w.Caption != "" {
		return 1
	}
	return 0
}

// introRows say what the hands do.
func (sc scene) introRows(w sheet.Words, f fit) []string {
	var rows []string
	for i, p := range w.Intro {
		if i < f.intro {
			rows = append(rows, sc.paragraph(sc.theme.Text, 1, p)...)
		}
	}
	if words := status.Misfit(sc.state, sc.now); words != "" {
		rows = append(rows, sc.paragraph(sc.theme.Danger, 1, words)...)
	}
	if sc.job.focus == noLine { // where no line says it
		if words, style := sc.status(); words != "" {
			rows = append(rows, sc.paragraph(style, 1, words)...)
		}
	}
	return rows
}

// figureRows are the figure under what it is, as large as the rows let it be.
func (sc scene) figureRows(w sheet.Words, room int) []string {
	var rows []string
	if w.Caption != "" && room > 1 {
		rows = append(rows, " "+sc.theme.Strong.Render(text.Cut(w.Caption, sc.width-2, "…")))
		room--
	}
	big, unit := w.Figure, ""
	if at := strings.LastIndexByte(big, ' '); at > 0 && input.IsDigit(rune(big[0])) {
		big, unit = big[:at], big[at+1:]
	}
	drawn := strings.Split(digits.Fit(big, sc.width-6-text.Width(unit), room, sc.theme.Glyphs.ASCII), "\n")
	indent := strings.Repeat(" ", max((sc.width-text.Width(drawn[0])-text.Width(unit)-1)/2, 2))
	for i, l := range drawn {
		row := indent + sc.theme.Strong.Render(l)
		if i == len(drawn)-1 && unit != "" {
			row += "  " + sc.theme.Strong.Render(unit)
		}
		rows = append(rows, row)
	}
	return rows
}

// afterRows say what the figure means.
func (sc scene) afterRows(w sheet.Words, f fit) []string {
	var rows []string
	for i, p := range w.After {
		switch {
		case f.short && i == 0 && !sc.listed():
			rows = append(rows, " "+sc.theme.Strong.Render(text.Cut(text.Visible(p), sc.width-2, "…")))
		case f.intro > 1 || i == 0 || sc.listed() && i < 3:
			rows = append(rows, sc.paragraph(sc.theme.Strong, 1, p)...)
		}
	}
	return rows
}

// linesRows are all lines that are seen, as they are in all fits that are alike to them.
func (sc scene) linesRows(f fit) []string {
	alike := fit{hints: f.hints, short: f.short, gone: f.gone}
	rows, drawn := sc.lines[alike]
	if !drawn {
		rows = sc.drawnLines(alike)
		sc.lines[alike] = rows
	}
	return slices.Clone(rows)
}

func (sc scene) drawnLines(f fit) []string {
	var rows []string
	shown := sc.job.shown()
	for _, i := range shown {
		l := sc.job.sheet.Lines[i]
		gone := f.gone && sc.job.words.Figure != "" && l.Kind == sheet.Confirm && l.Standing == sheet.Said && i != sc.job.focus
		if gone || sc.named(l, i) {
			continue
		}
		rows = append(rows, sc.lineRows(i, f)...)
	}
	more := 0
	for _, l := range sc.job.sheet.Lines {
		if !l.Folded && sc.job.hides(l, sc.job.sheet.FirstOpen()) {
			more++
		}
	}
	if more > 0 {
		rows = append(rows, sc.paragraph(sc.theme.Dim, confirmAt, fmt.Sprintf("%d more for under the car, once these are so", more))...)
	}
	return rows
}

// named reports whether a line only says of which unit a job is, which the state does
// too, where little room is left.
func (sc scene) named(l sheet.Line, i int) bool {
	return sc.height < 30 && sc.state.KnowsUnit() && !sc.job.Visit.Looking() && i != sc.job.focus && l.Standing == sheet.Said &&
		(l.Place.Topic == job.Vehicle || l.Place.Topic == job.UnitKind || l.Place.Topic == job.UnitName)
}

// noteRows are what is only to be known, then what was found, which is seen as long as
// there is any room.
func (sc scene) noteRows(f fit) []string {
	t := sc.theme
	notes := sc.job.words.Notes
	found := min(sc.job.found, len(notes))
	var rows []string
	for i, n := range notes {
		switch {
		case i >= len(notes)-found && !f.scroll:
			p := sc.paragraph(t.Strong, textAt, n)
			if len(p) > 0 {
				p[0] = " " + t.Caution.Render("!") + " " + strings.TrimLeft(p[0], " ")
			}
			rows = append(rows, p...)
		case f.notes:
			rows = append(rows, sc.paragraph(t.Text, 1, n)...)
		}
	}
	if sc.job.sheet.ID == sheet.Resume && sc.job.Kept.Text != "" {
		rows = append(rows, sc.paragraph(t.Text, 1, "What you had typed and not entered is kept: "+sc.job.Kept.Text)...)
	}
	return rows
}

// nextRows say how the next sheet begins.
func (sc scene) nextRows(next string, f fit) []string {
	lines := sc.wrap("Next: "+next, 1, 6, f.short)
	for i := range lines {
		indent := " "
		if i > 0 {
			indent = "       "
		}
		lines[i] = indent + sc.theme.Dim.Render(lines[i])
	}
	return lines
}

// scrolled are as many rows of the lines as there is room for, the open line among
// them: what is answered goes first.
func (sc scene) scrolled(room int) []string {
	short := fit{short: true}
	shown := sc.job.shown()
	rows := map[int][]string{}
	used := 0
	for _, i := range shown {
		rows[i] = sc.lineRows(i, short)
		used += len(rows[i])
	}
	drop := func(gone func(i int, l sheet.Line) bool) {
		for _, i := range shown {
			if l := sc.job.sheet.Lines[i]; used > room && rows[i] != nil && i != sc.job.focus && gone(i, l) {
				used -= len(rows[i])
				rows[i] = nil
			}
		}
	}
	drop(func(_ int, l sheet.Line) bool { return l.Standing == sheet.Said })
	drop(func(_ int, l sheet.Line) bool { return l.Standing == sheet.Offered })
	for at := len(shown) - 1; at >= 0; at-- {
		i := shown[at]
		if used > room && i != sc.job.focus && rows[i] != nil && !sc.job.sheet.Lines[i].Safety {
			used -= len(rows[i])
			rows[i] = nil
		}
	}
	var out []string
	for _, i := range shown {
		out = append(out, rows[i]...)
	}
	return out[:min(len(out), max(room, 0))]
}

// farRows are the figure and the line that is open.
func (sc scene) farRows() []string {
	f := fit{}
	var line []string
	if l, ok := sc.job.line(); ok {
		line = sc.lineRows(sc.job.focus, f)
		if w := sc.job.words; w.Figure == "" {
			sc.job.words.Figure = strings.TrimSpace(string(l.Key))
		}
	}
	w := sc.job.words
	after := sc.afterRows(w, fit{intro: 1})
	rows := append([]string{""}, sc.figureRows(w, max(sc.height-len(line)-len(after)-3, 1))...)
	rows = append(append(rows, ""), after...)
	return append(append(rows, ""), line...)
}

// worthPage is how many lines a page of what is worth knowing has: each has a digit.
const worthPage = 9

// worthRows are the lines that are folded, each with its number, what it is taken for
// and what it would gain.
func (sc scene) worthRows() []string {
	t := sc.theme
	folded := sc.job.folded()
	from := min(sc.job.from, len(folded))
	page := folded[from:min(from+worthPage, len(folded))]
	head := "WORTH KNOWING for " + sc.job.sheet.ID.Step().String() + ". None is needed; each makes the sum surer."
	if rest := len(folded) - from - len(page); rest > 0 {
		head += fmt.Sprintf(" + %d more", rest)
	}
	top := append(sc.paragraph(t.Strong, 1, head), "")
	long, short := slices.Clone(top), top
	at := sc.answerAt() + 2
	for n, i := range page {
		l := sc.job.sheet.Lines[i]
		value := text.Visible(l.Value)
		if value == "" {
			value = "not known"
		}
		cells := []string{t.Dim.Render(value)}
		if l.Worth != "" {
			cells = append(cells, t.Text.Render(text.Visible(l.Worth)))
		}
		label := " " + t.Key.Render(strconv.Itoa(n+1)) + "  " + t.Text.Render(text.Visible(l.Ask))
		short = append(short, text.Cut(text.PadRight(text.Cut(label, at-1, "…"), at)+strings.Join(cells, "  "), sc.width-1, "…"))
		below := sc.flow(cells, at)
		if text.Width(label) < at-1 {
			label = text.PadRight(label, at) + strings.TrimLeft(below[0], " ")
			below = below[1:]
		}
		long = append(append(long, label), below...)
	}
	if len(long) > sc.height {
		return short
	}
	return long
}

func (sc scene) doneRows() []string {
	t := sc.theme
	rows := append([]string{""}, sc.paragraph(t.Strong, 1, status.End(sc.state))...)
	rows = append(rows, sc.paragraph(t.Dim, 1, "F3 or - writes the record; / looks back; any other key: menu, another job, leave.")...)
	if words, style := sc.status(); words != "" {
		rows = append(rows, sc.paragraph(style, 1, words)...)
	}
	return rows
}
