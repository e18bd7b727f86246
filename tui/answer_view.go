package tui

// This file draws the answer that is being given.

import "garage/tundish/model"

// lines draws field, list or key to press.
func (a answer) lines(sc scene) []string {
	switch a.prompt.Kind {
	case model.Choose:
		return a.choiceLines(sc)
	case model.Acknowledge:
		return []string{a.confirmLine(sc, "seen to, and it is so")}
	case model.Event:
		return []string{a.confirmLine(sc, "now")}
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
		lines = append(lines, itemLines(sc, i, i == a.chosen, o.Label, o.Hint)...)
	}
	return lines
}

func (a answer) fieldLine(sc scene) string {
	t := sc.app.theme
	field := a.field
	width := min(40, sc.width-10)
	field.Width = width
	field.TextStyle, field.Cursor.Style, field.Cursor.TextStyle = t.Field, t.Field, t.Field
	shown := field.View()
	line := "   " + t.Accent.Render(t.Glyphs.ArrowRight) + " " + shown
	if a.text() == "" {
		line += "  " + t.Dim.Render(a.emptyHint(sc))
	}
	return line
}

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
