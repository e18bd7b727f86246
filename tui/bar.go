package tui

// This file draws what is on every screen: the state of the unit, the line of
// steps, and the row of keys.

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"garage/tundish/model/car"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
	"garage/tundish/model/text"
	"garage/tundish/model/verdict"
	"garage/tundish/tui/digits"
	"garage/tundish/tui/status"
)

// tallBar is the height of a terminal from which on the state is written large too, in
// letters of barLetters rows.
const (
	tallBar    = 38
	barLetters = 5
)

// barLines tell the state of the unit in words and shape, full width.
func (a App) barLines() []string {
	s := a.job.Visit.Guide
	if s == nil || a.screen != screenJob {
		return []string{a.theme.BannerOpen.Width(a.width).Render(" tundish")}
	}
	style, glyph := a.barStyle(s.UnitState())
	left := " " + glyph + " " + status.Line(s, a.now)
	name := text.Visible(status.JobName(s.Vehicle(), s.UnitName()))
	if room := a.width - text.Width(left) - 3; room >= leastNameCells {
		name = text.Cut(name, room, "…")
	} else {
		name = ""
	}
	gap := a.width - text.Width(left) - text.Width(name) - 1
	lines := []string{left + strings.Repeat(" ", max(gap, 0)) + name + " "}
	if a.height >= tallBar && a.overlay == nil {
		lines = append(append([]string{""}, a.largeState(left)...), lines[0], "")
	}
	for i := range lines {
		lines[i] = style.Render(text.PadRight(text.Cut(lines[i], a.width, ""), a.width))
	}
	if words := car.Beside(s); words != "" {
		style := a.theme.BannerOpen
		if len(s.Offered.OpenUnits) > 0 {
			style = a.theme.BannerEmpty
		}
		lines = append(lines, style.Render(text.PadRight(text.Cut(" CAR: "+text.Visible(words), a.width, "…"), a.width)))
	}
	return lines
}

// largeState is the state in letters that are read from far; none where it has no room.
func (a App) largeState(words string) []string {
	_, words, _ = strings.Cut(strings.TrimSpace(words), " ") // without its mark
	words, _, _ = strings.Cut(words, ": do")
	rows := strings.Split(digits.Fit(strings.ToUpper(words), a.width-4, barLetters, a.theme.Glyphs.ASCII), "\n")
	if len(rows) < barLetters {
		return nil
	}
	return styledLines(lipgloss.NewStyle(), "  ", rows)
}

// leastNameCells is the room below which a name tells nothing.
const leastNameCells = 10

func (a App) barStyle(u verdict.UnitState) (lipgloss.Style, string) {
	t := a.theme
	switch u {
	case verdict.Empty:
		return t.BannerEmpty, t.Glyphs.StateEmpty
	case verdict.Unproven, verdict.LeftOff, verdict.Accepted:
		return t.BannerUnproven, t.Glyphs.StateUnproven
	case verdict.Proven:
		return t.BannerProven, t.Glyphs.StateProven
	}
	return t.BannerOpen, t.Glyphs.StateOpen
}

// stepsOf are the steps that a job has in a round.
func stepsOf(s *guide.Guide, round int) []job.Step {
	var list []job.Step
	for step := job.Prepare; step <= job.CloseOut; step++ {
		off := s.RoundKind(round) == job.RoundLetsOut && (step == job.Preload || step == job.Cap)
		if off || (step == job.Cap && s.Path().PouredIn()) || ((step == job.Measure || step == job.Drain) && s.DryStart()) {
			continue
		}
		list = append(list, step)
	}
	return list
}

// stepLine shows all steps, done, now, to come; where there is no room which one is
// on, and the next.
func (a App) stepLine() string {
	s, g, t := a.job.state(), a.theme.Glyphs, a.theme
	now := a.job.sheet.ID.Step()
	if !a.job.on {
		now = job.NumSteps
	} else if a.job.sheet.ID >= sheet.Resume {
		now = s.Step()
	}
	steps := stepsOf(s, a.job.sheet.Round)
	line, short := "", ""
	for i, step := range steps {
		name := strings.ReplaceAll(step.String(), " ", "-")
		switch {
		case step < now:
			line += " " + t.Dim.Render(g.Done+name)
		case step == now:
			name = strings.ToUpper(name)
			if r := a.job.sheet.Round; r > 0 {
				name += fmt.Sprintf(" (round %d)", r+1)
			}
			line += " " + t.Accent.Render(g.Now+name)
			short = " " + t.Dim.Render(fmt.Sprintf("%d of %d  ", i+1, len(steps))) + t.Accent.Render(name)
			if i+1 < len(steps) {
				short += t.Dim.Render("   next: " + steps[i+1].String())
			}
		default:
			line += " " + t.Dim.Render(name)
		}
	}
	if text.Width(line) > a.width {
		return short
	}
	return line
}

// hint is one key and what it does.
type hint struct{ key, does string }

func (a App) hintLine(hints []hint) string {
	line := ""
	for _, h := range hints {
		is := " "
		if strings.Contains(h.key, "igit") || strings.Contains(h.key, "Enter") {
			is = " = "
		}
		piece := " " + a.theme.Key.Render(h.key) + a.theme.KeyHint.Render(is+h.does) + " "
		if text.Width(line)+text.Width(piece) > a.width {
			continue
		}
		line += piece
	}
	return line
}

// jobHints are the keys that work now, the most needed first.
func (a App) jobHints() []hint {
	g := a.job
	if !g.on {
		return []hint{{"F3 or -", "write the record"}, {"/", "look back"}, {"any other key", "menu"}}
	}
	l, ok := g.line()
	usual := []hint{{"/", "back"}, {"*", "menu"}, {"?", "help"}}
	worth := hint{"+", "worth knowing"}
	if g.sheet.ID == sheet.Verdict {
		worth.does = "how it was worked out"
	}
	switch {
	case g.seen == asWorth:
		return []hint{{"digit", "type it"}, {"/", "back to the sheet"}, {"+", "more of it"}, {"*", "menu"}}
	case len(g.asked) > 0:
		return []hint{{"digit", "what was meant"}, {"/", "back to the figure"}}
	case g.not:
		return []hint{{"digit of a line", "it is not so"}, {"any other key", "leave it"}}
	case ok && typable(l) && g.field.Typing():
		return []hint{{"Enter", "take"}, {"*", "clear"}, {"Esc", "back"}, {"F1", "help"}}
	case ok && typable(l):
		enter := hint{"Enter", "take"}
		switch {
		case isRun(l):
			enter = hint{"Enter alone", runEnds(l)}
		case g.Visit.Looking():
			enter.does = "back to the job"
		case l.Standing != sheet.Open:
			enter.does = "as it stands"
		}
		hints := []hint{enter}
		if l.Unknown {
			hints = append(hints, hint{". Enter", "not known"})
		}
		return append(append(hints, usual[0], hint{"*", "menu"}), worth)
	case g.Visit.Looking():
		return append([]hint{{"Enter", "back to the job"}, {"- digit", "not so"}}, usual...)
	case !ok:
		return append([]hint{{"Enter", a.completes()}}, append(usual[:1:1], worth, usual[1], usual[2], hint{"- digit", "not so"})...)
	case l.Kind == sheet.Confirm:
		return append([]hint{{"line's digit", "it is so"}, {"- digit", "not so"}}, usual...)
	case g.sheet.ID == sheet.Verdict:
		return append([]hint{{"digit", "your answer"}, worth}, usual...)
	}
	return append([]hint{{"digit", "your answer"}}, append(usual[:1:1], hint{".", "far"}, usual[1], usual[2])...)
}

// runEnds says what Enter alone does in a run of readings.
func runEnds(l sheet.Line) string {
	switch l.Place.Topic {
	case job.FillReading:
		return "push ended"
	case job.OilRunning:
		return "warm enough: level now"
	}
	return "no more readings"
}

// completes says what Enter does when nothing is open.
func (a App) completes() string {
	switch a.job.sheet.ID {
	case sheet.Prepare3:
		return "all of it is here"
	case sheet.Isolate:
		if !a.job.state().DryStart() {
			return "complete: I pull the plug now"
		}
	case sheet.Seat:
		return "complete: show the verdict"
	}
	return "sheet complete"
}
