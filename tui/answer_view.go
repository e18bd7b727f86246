package tui

// This file draws the answer that is being given.

import "garage/tundish/model"

// lines draws field, list or key to press.
func (a answer) lines(sc scene) []string {
	switch a.prompt.Kind {
	case model.Choose:
		return a.choiceLines(sc)
	case model.Acknowledge:
		return []string{a.confirmLine(sc, "when that is so")}
	case model.Event:
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
		lines = append(lines, itemLines(sc, i, i == a.chosen.at, o.Label, o.Hint)...)
	}
	return lines
}

func (a answer) fieldLine(sc scene) string {
	t := sc.app.theme
	field := a.field
	unit := a.prompt.BareUnit(sc.state)
	field.Width = min(40, sc.width-10)
	if a.prompt.Kind != model.Free {
		field.Width = numberCells
	}
	field.TextStyle, field.Cursor.Style, field.Cursor.TextStyle = t.Field, t.Field, t.Field
	shown := field.View()
	line := "   " + t.Accent.Render(t.Glyphs.ArrowRight) + " " + shown
	if unit != "" {
		line += " " + t.Text.Render(unit)
	}
	if a.text() == "" && a.prompt.Ends == model.NoTopic {
		line += "  " + t.Dim.Render(a.emptyHint(sc))
	}
	return line
}

// numberCells is the width of a field for figures: a sum of a few.
const numberCells = 20

// emptyHint says what Enter on the empty field does.
func (a answer) emptyHint(sc scene) string {
	p := a.prompt
	if p.Ends != model.NoTopic {
		return "Enter: no more readings"
	}
	if v, ok := p.DefaultValue(sc.state); ok {
		return "Enter: " + p.Echo(sc.state, v)
	}
	return ""
}
