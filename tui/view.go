package tui

// This file lays the screen out: banner, steps, question, what the step shows,
// gauge, keys, from top to bottom. Every part is told its room and keeps to it.

import (
	"strings"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/text"
	"garage/tundish/model/verdict"
	"garage/tundish/tui/digits"
	"garage/tundish/tui/gauge"
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
		lines = a.framed(a.overlay.lines(a.overlayScene()), a.overlay.hints())
	case a.screen == screenPicking:
		lines = a.framed(a.picker.lines(a.overlayScene()), a.picker.hints())
	case a.screen == screenGuide && a.guide.state != nil:
		lines = a.guideLines()
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
	lines := []string{"tundish needs 60 x 20", "this is " + itoa(a.width) + " x " + itoa(a.height), "make the window larger",
		"nothing is lost"}
	if a.screen == screenGuide && a.guide.state != nil {
		lines = append([]string{a.guide.state.StateWords()}, lines...)
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

// scene is what a part of the screen needs to draw itself.
type scene struct {
	app    App
	state  *guide.Guide // as stored
	live   *guide.Guide // as it would be with what is typed
	width  int
	height int
}

func (a App) scene(width, height int) scene {
	sc := scene{app: a, state: a.guide.state, live: a.guide.state, width: width, height: height}
	if a.guide.draft != nil {
		sc.live = a.guide.draft
	}
	return sc
}

// overlayScene is that of what lies between banner and keys.
func (a App) overlayScene() scene { return a.scene(a.width, a.height-3) }

// framed puts lines under the banner and over the keys.
func (a App) framed(body []string, hints []hint) []string {
	lines := []string{a.bannerLine(), ""}
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

// guideLines is the job: the question gets what it needs, then what must be
// seen; the gauge goes where both leave no room for it.
func (a App) guideLines() []string {
	sc := a.scene(a.width, a.height)
	lines := append([]string{a.bannerLine(), a.stepsLine(), ""}, a.questionLines(sc)...)
	foot := append(a.coachLines(), a.hintLine(a.guideHints()))
	free := a.height - len(lines) - len(foot)
	blocks := panelOf(sc)
	gaugeRows := gaugeRowsFor(sc, free, blocks)
	lines = append(lines, a.middle(sc, blocks, free-gaugeRows)...)
	if gaugeRows > 0 {
		lines = append(lines, strings.Split(gauge.View(gaugeData(sc.live, sc.state), a.width, a.theme), "\n")...)
	}
	for len(lines) < a.height-len(foot) {
		lines = append(lines, "")
	}
	return append(lines[:a.height-len(foot)], foot...)
}

// coachLines are what the coach says of the question, over the keys.
func (a App) coachLines() []string {
	if a.guide.finished { // no question is left for it to speak of
		return nil
	}
	line := a.cfg.coachLine(a.guide.answer.prompt)
	if line == "" {
		return nil
	}
	return []string{" " + a.theme.Accent.Render(line)}
}

// gaugeRowsFor is how many of the free rows the gauge gets: none where there is
// nothing to measure against, or where what must be seen would not fit.
func gaugeRowsFor(sc scene, free int, blocks []block) int {
	must := mustRows(blocks)
	if _, _, runs := clockFigure(sc); runs {
		must++ // no other line tells the time
	}
	if sc.live.CapacityML() <= 0 || free-gauge.Rows < must+2 {
		return 0
	}
	return gauge.Rows
}

// mustRows are how many rows the blocks take that must be seen.
func mustRows(blocks []block) (rows int) {
	for _, b := range blocks {
		if b.must {
			rows += len(b.lines)
		}
	}
	return rows
}

// middle is what the step shows, in a number of rows of which the first and the
// last stay empty: the figure that matters, as large as what must be seen lets
// it be, then the panel, as much of it as fits.
func (a App) middle(sc scene, blocks []block, rows int) []string {
	room := rows - 2
	must := mustRows(blocks)
	figure := a.figureLines(sc, room-must, leastDigitRows)
	spare := room - len(figure)
	var panel []string
	for _, b := range blocks {
		if !b.must && len(b.lines) > spare {
			break // less important ones would be read as if this were not there
		}
		spare -= len(b.lines)
		panel = append(panel, b.lines...)
	}
	if grown := a.figureLines(sc, spare+len(figure), mostDigitRows); len(grown) > len(figure) {
		figure = grown
	}
	out := append(append([]string{""}, figure...), panel...)
	if most := max(rows-1, 0); len(out) > most {
		out = out[:most]
		if most > 0 {
			out[most-1] = " " + a.theme.Caution.Render("… the rest is under / or F2")
		}
	}
	for len(out) < rows {
		out = append(out, "")
	}
	return out
}

// Rows of the large digits.
const (
	leastDigitRows = 3
	mostDigitRows  = 7
)

// figureLines are the figure that matters under what it is: in digits of at
// most mostDigits rows, or beside it where there is no room for them.
func (a App) figureLines(sc scene, room, mostDigits int) []string {
	big, caption := figureOf(sc)
	switch size := min(max(room-2, min(room-1, leastDigitRows)), mostDigits); { // an empty line after, if it can be
	case big == "" || room < 1:
		return nil
	case size < leastDigitRows:
		return []string{" " + a.theme.Dim.Render(caption) + " " + a.theme.Strong.Render(big)}
	default:
		lines := []string{" " + a.theme.Dim.Render(caption)}
		for _, l := range strings.Split(digits.Fit(big, a.width-4, size, a.theme.Glyphs.ASCII), "\n") {
			lines = append(lines, "  "+a.theme.Strong.Render(l))
		}
		if len(lines) < room {
			lines = append(lines, "")
		}
		return lines
	}
}

// questionLines are what to do, why, and the answer as it is being given.
func (a App) questionLines(sc scene) []string {
	g, t := a.guide, a.theme
	if g.finished {
		return a.finishedLines(sc)
	}
	p := g.answer.prompt
	label := ""
	switch {
	case g.again:
		label = "CORRECTING line " + itoa(p.Strikes) + " "
	case p.Safety:
		label = "CAUTION "
	case p.Strikes > 0: // what followed has made the answer void
		label = "ONCE MORE "
	}
	var lines []string
	for i, l := range text.Wrap(label+p.AskText(g.state), a.width-2) {
		if i > 0 {
			label = ""
		}
		lines = append(lines, " "+t.Caution.Render(label)+t.Strong.Render(strings.TrimPrefix(l, label)))
	}
	if why := p.WhyText(g.state); why != "" {
		lines = append(lines, wrapped(sc, t.Dim, why)...)
	}
	lines = append(lines, "")
	lines = append(lines, g.answer.lines(sc)...)
	return append(lines, a.statusLines()...)
}

// statusLines are the status of the answer and what just happened, each in as
// many lines as it needs; one empty line where there is neither.
func (a App) statusLines() []string {
	var lines []string
	for _, status := range []string{a.statusLine(), a.theme.Accent.Render(a.guide.notice)} {
		if text.Width(status) == 0 {
			continue
		}
		for _, l := range text.Wrap(status, a.width-2) {
			lines = append(lines, " "+l)
		}
	}
	if len(lines) == 0 {
		return []string{""}
	}
	return lines[:min(len(lines), 3)]
}

// statusLine says what was understood of the answer, or what is wrong.
func (a App) statusLine() string {
	g, t := a.guide, a.theme
	switch {
	case g.failure != "":
		return t.FieldError.Render("NOT STORED: " + g.failure)
	case g.saving && a.quitting:
		return t.Caution.Render("storing, then leaving…")
	case g.saving:
		return t.Dim.Render("storing…")
	case g.answer.problem != "":
		return t.FieldError.Render(g.answer.problem)
	case g.answer.text() != "":
		return a.echo()
	case len(g.resume) > 0 && g.notice == "":
		return t.Accent.Render(a.resumedWords())
	}
	return ""
}

// echo says what the program understands of what is typed.
func (a App) echo() string {
	g := a.guide
	p := g.answer.prompt
	if p.Kind == job.Free {
		return ""
	}
	if g.answer.text() == guide.UnknownLine && p.Unknown != "" {
		return a.theme.Good.Render(a.theme.Glyphs.ArrowRight + " don't know: " + p.UnknownText(g.state))
	}
	v, err := p.Parse(g.state, g.answer.text())
	if err != nil {
		return a.theme.Dim.Render(err.Error())
	}
	return a.theme.Good.Render(a.theme.Glyphs.ArrowRight + " " + p.Echo(g.state, v))
}

func (a App) resumedWords() string {
	words := "you stopped here"
	if a.guide.clockFits(a.now) {
		words = "you stopped " + agoWords(a.now.Sub(a.guide.resumed)) + " ago"
	}
	if a.guide.state.UnitState() == verdict.Empty {
		words += "; THE UNIT IS EMPTY"
	}
	return words
}

// endWords say how a job has ended.
func endWords(s *guide.Guide) string {
	if s.StoppedByOwner() {
		return "Stopped: the unit is not to be used as it is. The tag stays on."
	}
	return "Nothing is left to do in this job."
}

func (a App) finishedLines(sc scene) []string {
	t := a.theme
	lines := []string{" " + t.Strong.Render(endWords(sc.state)), " " +
		t.Dim.Render("- writes the record to a file; any other key: menu, another job, leave."), ""}
	return append(lines, a.statusLines()...)
}
