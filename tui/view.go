package tui

// This file lays the screen out: banner, steps, question, what the step shows,
// gauge, keys, from top to bottom. Every part is told its room and keeps to it.

import (
	"strings"

	"github.com/charmbracelet/x/ansi"

	"garage/tundish/model"
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
		lines = a.framed(a.overlay.lines(a.scene(a.width, a.height-3)), a.overlay.hints())
	case a.screen == screenPicking:
		lines = a.framed(a.picker.lines(a.scene(a.width, a.height-3)), a.picker.hints())
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
			line := lines[i]
			if a.theme.Glyphs.ASCII {
				line = spellStyled(a.theme.Glyphs, line)
			}
			if ansi.StringWidth(line) > a.width {
				line = ansi.Truncate(line, a.width, a.theme.Glyphs.Ellipsis)
				if ansi.StringWidth(line) > a.width {
					line = ansi.Truncate(line, a.width, "")
				}
			}
			out[i] = line
		}
	}
	return strings.Join(out, "\n")
}

func (a App) tooSmall() string {
	lines := []string{"tundish needs 60 x 20", "this is " + itoa(a.width) + " x " + itoa(a.height), "make the window larger", "nothing is lost"}
	for i := range lines {
		lines[i] = ansi.Truncate(lines[i], max(a.width, 0), "")
	}
	return strings.Join(lines[:min(len(lines), max(a.height, 1))], "\n")
}

func (a App) fatalLines() []string {
	lines := []string{"", " " + a.theme.Danger.Render("This does not work:"), ""}
	for _, l := range wrap(a.fatal.Error(), a.width-4) {
		lines = append(lines, "  "+l)
	}
	return append(lines, "", " Any key leaves.")
}

// scene is what a part of the screen needs to draw itself.
type scene struct {
	app    App
	state  *model.State // as stored
	live   *model.State // as it would be with what is typed
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

// guideLines is the job: the question gets what it needs, the gauge what it
// needs at least, and what is left goes to the step's own panel and to the
// gauge.
func (a App) guideLines() []string {
	sc := a.scene(a.width, a.height)
	lines := []string{a.bannerLine(), a.stepsLine(), ""}
	lines = append(lines, a.questionLines(sc)...)
	foot := append(a.coachLines(), a.hintLine(a.guideHints()))
	gaugeRoom := 5
	if sc.live.CapacityML() <= 0 {
		gaugeRoom = 0 // nothing to measure against yet
	}
	free := a.height - len(lines) - len(foot) - gaugeRoom - 1
	if free > 12 && gaugeRoom > 0 {
		gaugeRoom += min(free-10, 7)
		free = a.height - len(lines) - len(foot) - gaugeRoom - 1
	}
	lines = append(lines, a.middle(sc, free)...)
	if gaugeRoom > 0 {
		lines = append(lines, strings.Split(gauge.View(gaugeData(sc), a.width, gaugeRoom, a.theme), "\n")...)
	}
	for len(lines) < a.height-len(foot) {
		lines = append(lines, "")
	}
	return append(lines[:a.height-len(foot)], foot...)
}

// coachLines are what the coach says of the question, over the keys.
func (a App) coachLines() []string {
	if a.cfg.Coach == nil || a.guide.finished {
		return nil
	}
	line := a.cfg.Coach(a.guide.answer.prompt)
	if line == "" {
		return nil
	}
	return []string{" " + a.theme.Accent.Render(line)}
}

// middle is the step's panel and, where there is room, the figure that
// matters in large digits.
func (a App) middle(sc scene, room int) []string {
	panel := panelOf(sc)
	big, caption := figureOf(sc)
	out := []string{""}
	if size := room - len(panel) - 3; big != "" && size >= 3 {
		drawn := digits.Fit(big, a.width-4, min(size, 7), a.theme.Glyphs.ASCII)
		out = append(out, " "+a.theme.Dim.Render(caption))
		for _, l := range strings.Split(drawn, "\n") {
			out = append(out, "  "+a.theme.Strong.Render(l))
		}
		out = append(out, "")
	} else if big != "" && room-len(panel) >= 2 {
		out = append(out, " "+a.theme.Dim.Render(caption)+" "+a.theme.Strong.Render(big))
	}
	out = append(out, panel...)
	for len(out) < room+1 {
		out = append(out, "")
	}
	out = out[:max(room+1, 0)]
	if n := len(out); n > 1 {
		out[n-1] = "" // the gauge stands apart
	}
	return out
}

// questionLines are what to do, why, and the answer as it is being given.
func (a App) questionLines(sc scene) []string {
	g, t := a.guide, a.theme
	if g.finished {
		return a.finishedLines(sc)
	}
	p := g.answer.prompt
	ask := " " + t.Strong.Render(p.AskText(g.state))
	if p.Safety {
		ask = " " + t.Caution.Render("CAUTION") + " " + t.Strong.Render(p.AskText(g.state))
	}
	if p.Strikes > 0 {
		ask = " " + t.Caution.Render("CORRECTING line "+itoa(p.Strikes)) + " " + t.Strong.Render(p.AskText(g.state))
	}
	lines := []string{ask}
	if why := p.WhyText(g.state); why != "" {
		for _, l := range wrap(why, a.width-2) {
			lines = append(lines, " "+t.Dim.Render(l))
		}
	}
	lines = append(lines, "")
	lines = append(lines, g.answer.lines(sc)...)
	return append(lines, a.statusLines(sc)...)
}

// statusLines is the status in one line, or two where it does not fit in one.
func (a App) statusLines(sc scene) []string {
	status := a.statusLine(sc)
	if ansi.StringWidth(status) <= a.width {
		return []string{status}
	}
	lines := strings.Split(ansi.Wrap(status, a.width-1, ""), "\n")
	for i := 1; i < len(lines); i++ {
		lines[i] = " " + lines[i]
	}
	return lines[:min(len(lines), 3)]
}

// statusLine says what was understood, what is wrong, or what just happened.
func (a App) statusLine(sc scene) string {
	g, t := a.guide, a.theme
	switch {
	case g.failure != "":
		return " " + t.FieldError.Render("NOT STORED: "+g.failure)
	case g.saving && a.quitting:
		return " " + t.Caution.Render("storing, then leaving…")
	case g.saving:
		return " " + t.Dim.Render("storing…")
	case g.answer.problem != "":
		return " " + t.FieldError.Render(g.answer.problem)
	case g.answer.text() != "" && g.answer.text() != unknownSign:
		return " " + a.echo()
	case g.notice != "":
		return " " + t.Accent.Render(g.notice)
	case len(g.resume) > 0:
		return " " + t.Accent.Render(a.resumedWords())
	}
	return ""
}

// echo says what the program understands of what is typed.
func (a App) echo() string {
	g := a.guide
	p := g.answer.prompt
	if p.Kind == model.Free {
		return ""
	}
	v, err := p.Parse(g.state, g.answer.text())
	if err != nil {
		return a.theme.Dim.Render(err.Error())
	}
	return a.theme.Good.Render(a.theme.Glyphs.ArrowRight + " " + p.Echo(g.state, v))
}

func (a App) resumedWords() string {
	words := "you stopped " + agoWords(a.now.Sub(a.guide.resumed)) + " ago"
	if a.guide.state.UnitState() == model.Empty {
		words += "; THE UNIT IS EMPTY"
	}
	return words
}

func (a App) finishedLines(sc scene) []string {
	t := a.theme
	word := "Nothing is left to do in this job."
	if sc.state.StoppedByOwner() {
		word = "Stopped: the unit is not to be used as it is. The tag stays on."
	}
	return []string{" " + t.Strong.Render(word), " " + t.Dim.Render("The record is kept. Any key opens the menu: summary, another job, leave."), "", a.statusLine(sc)}
}
