package tui

// This file draws the answer that is being given.

import (
	"garage/tundish/model/job"
	"garage/tundish/model/text"
)

// lines draws field, list or key to press.
func (a answer) lines(sc scene) []string {
	switch a.prompt.Kind {
	case job.Choose:
		return a.choiceLines(sc)
	case job.Acknowledge:
		return []string{a.confirmLine(sc, "when that is so")}
	case job.Event:
		return []string{a.confirmLine(sc, "at that moment")}
	}
	return []string{a.fieldLine(sc)}
}

func (a answer) confirmLine(sc scene, does string) string {
	t := sc.app.theme
	return "   press " + t.Key.Render(" "+string(a.digit)+" ") + "  " + t.Text.Render(does)
}

func (a answer) choiceLines(sc scene) []string {
	var lines []string
	for i, o := range a.choices {
		lines = append(lines, item{label: o.Label, hint: o.Hint}.lines(sc, i, i == a.chosen.at)...)
	}
	return lines
}

func (a answer) fieldLine(sc scene) string {
	t := sc.app.theme
	field := a.field
	unit := a.prompt.BareUnit(sc.state)
	hint := ""
	if a.text() == "" && a.prompt.Ends == job.NoTopic {
		hint = "  " + a.emptyHint(sc)
	}
	field.Width = numberCells
	if a.prompt.Kind == job.Free {
		field.Width = min(textCells, max(sc.width-7-text.Width(hint), leastTextCells))
	}
	field.TextStyle, field.Cursor.Style, field.Cursor.TextStyle = t.Field, t.Field, t.Field
	if a.earlier {
		field.TextStyle = t.Dim
	}
	shown := field.View()
	line := "   " + t.Accent.Render(t.Glyphs.ArrowRight) + " " + shown
	if unit != "" {
		line += " " + t.Text.Render(unit)
	}
	return line + t.Dim.Render(hint)
}

// Widths of a field: for figures, a sum of a few; for text, less where it is
// empty and what is on offer needs the room.
const (
	numberCells    = 20
	textCells      = 40
	leastTextCells = 12
)

// emptyHint says what Enter on the empty field does.
func (a answer) emptyHint(sc scene) string {
	p := a.prompt
	if p.Ends != job.NoTopic {
		return "Enter: no more readings"
	}
	if v, ok := p.DefaultValue(sc.state); ok {
		return "Enter: " + p.Echo(sc.state, v)
	}
	return ""
}
