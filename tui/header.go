package tui

// This file draws the banner with the state of the unit, the line of steps,
// and the line of keys.

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/text"
	"garage/tundish/model/verdict"
)

// bannerLine tells the state of the unit in words and shape, full width. It is
// on every screen.
func (a App) bannerLine() string {
	s := a.guide.state
	if s == nil || a.screen != screenGuide {
		return a.theme.BannerOpen.Width(a.width).Render(" tundish")
	}
	style, glyph := a.bannerStyle(s.UnitState())
	left := fmt.Sprintf(" %s %s", glyph, s.StateWords())
	if since := a.sinceWords(s); since != "" {
		left += " " + since
	}
	name := jobName(s.Vehicle(), s.UnitName())
	if s.Phase() != guide.Open {
		name = s.Phase().String() + " · " + name
	}
	if room := a.width - text.Width(left) - 3; room >= leastNameCells {
		name = text.Cut(name, room, "…")
	} else {
		name = ""
	}
	gap := a.width - text.Width(left) - text.Width(name) - 1
	return style.Render(left + strings.Repeat(" ", max(gap, 0)) + name + " ")
}

// leastNameCells is the room below which a name tells nothing.
const leastNameCells = 10

func (a App) bannerStyle(u verdict.UnitState) (lipgloss.Style, string) {
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

// sinceWords says how long the unit has been empty: since the plug came out, or
// all along.
func (a App) sinceWords(s *guide.Guide) string {
	if s.UnitState() != verdict.Empty {
		return ""
	}
	out, ok := s.When(job.PlugOut, 0)
	if !ok {
		return "from the start: do not move the car"
	}
	if !a.guide.clockFits(a.now) {
		return "for a time not known: do not move the car"
	}
	return "for " + agoWords(a.now.Sub(out)) + ": do not move the car"
}

func jobName(vehicle, unit string) string {
	switch {
	case vehicle == "" && unit == "":
		return "new job"
	case unit == "":
		return vehicle
	}
	return vehicle + ", " + unit
}

// stepsLine shows all steps: done, now, to come.
func (a App) stepsLine() string {
	s, g := a.guide.state, a.theme.Glyphs
	now := s.Step()
	if a.guide.finished {
		now = job.CloseOut + 1
	}
	var parts []string
	at := 0 // where the step that is on stands
	for step := job.Prepare; step <= job.CloseOut; step++ {
		if (step == job.Cap && s.Path() == job.LevelPort) || (step == job.Measure && s.DryStart()) {
			continue
		}
		switch {
		case step < now:
			at++
			parts = append(parts, a.theme.Dim.Render(g.Done+step.String()))
		case step == now:
			parts = append(parts, a.theme.Accent.Render(g.Now+a.stepNow(step)))
		default:
			parts = append(parts, a.theme.Dim.Render(step.String()))
		}
	}
	return shortened(parts, at, a.width)
}

// stepNow is the step that is on, how far it has got, and in which round.
func (a App) stepNow(step job.Step) string {
	s := a.guide.state
	done, all := s.Progress(step, s.Round())
	text := fmt.Sprintf("%s %d/%d", strings.ToUpper(step.String()), min(done+1, all), all)
	if r := s.Round(); r > 0 {
		text += fmt.Sprintf(" round %d", r+1)
	}
	return text
}

// shortened leaves out the steps that are furthest away where the line is too
// long, never the one that stands at an index.
func shortened(parts []string, at, width int) string {
	for {
		line := " " + strings.Join(parts, " ")
		switch {
		case text.Width(line) <= width || len(parts) < 2:
			return line
		case at > len(parts)/2:
			parts, at = parts[1:], at-1
		default:
			parts = parts[:len(parts)-1]
		}
	}
}

// hint is one key and what it does.
type hint struct{ key, does string }

func (a App) hintLine(hints []hint) string {
	line := ""
	for _, h := range hints {
		piece := " " + a.theme.Key.Render(h.key) + " " + a.theme.KeyHint.Render(h.does) + " "
		if text.Width(line)+text.Width(piece) > a.width {
			break
		}
		line += piece
	}
	return line
}

// guideHints are the keys that work now.
func (a App) guideHints() []hint {
	g := a.guide
	if g.finished {
		return []hint{{"-", "write the record"}, {"/", "sums"}, {"any other key", "menu"}}
	}
	var hints []hint
	switch p := g.answer.prompt; p.Kind {
	case job.Acknowledge, job.Event:
		hints = append(hints, hint{string(g.answer.digit), "confirm"})
	case job.Choose:
		hints = append(hints, hint{"1-" + itoa(len(g.answer.choices)), "choose"}, hint{"Enter", "accept"})
	default:
		hints = append(hints, hint{"Enter", g.enterDoes()})
		if g.answer.unknownIsAKey(g.state) {
			hints = append(hints, hint{". Enter", "don't know"})
		}
	}
	if g.answer.canTakeAll() && len(g.rest) > 1 {
		hints = append(hints, hint{"+", "take all"})
	}
	if g.recordAtHand() {
		hints = append(hints, hint{"-", "write the record"})
	}
	if g.answer.typing() {
		menu := hint{"*", "menu"}
		if g.answer.clears() {
			hints = append(hints, hint{"*", "clear"})
		}
		switch {
		case g.again:
			menu = hint{"Esc", "leave it as it was"}
		case g.answer.text() != "":
			menu.key = "Esc"
		}
		return append(hints, menu, hint{"F1", "help"}, hint{"F2", "sums"}, hint{"PgUp", "correct"})
	}
	return append(hints, hint{"*", "menu"}, hint{"?", "help"}, hint{"/", "sums"}, hint{"PgUp", "correct"})
}

func (g guideScreen) enterDoes() string {
	if g.answer.text() == "" && g.answer.prompt.Ends != job.NoTopic {
		return "no more readings"
	}
	return "accept"
}
