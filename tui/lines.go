package tui

// This file draws the lines of a sheet.

import (
	"strconv"
	"strings"

	"github.com/charmbracelet/lipgloss"
	"github.com/charmbracelet/x/ansi"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
	"garage/tundish/model/text"
	"garage/tundish/tui/status"
)

// Columns of a line: its mark, where its text begins, and its answer.
const (
	textAt     = 3
	confirmAt  = 7
	underAt    = 5 // answers under a text that has no room beside it
	timeCells  = 6
	fieldCells = 9
	nameCells  = 40 // of a field for words
)

// answerAt is the column of the answers.
func (sc scene) answerAt() int {
	if sc.width < 76 {
		return 28
	}
	return 32
}

// lineRows draws line i: with what can be typed and why where there is room for it,
// or as short as can be.
func (sc scene) lineRows(i int, f fit) []string {
	l := sc.job.sheet.Lines[i]
	on := i == sc.job.focus
	mark := "  "
	if on {
		mark = sc.theme.Accent.Render(sc.theme.Glyphs.Now) + " "
	}
	var rows []string
	switch {
	case l.Kind == sheet.Confirm:
		rows = sc.confirmRows(l, on, f)
	case l.Kind == sheet.Choice && sc.listed():
		rows = sc.listRows(l, f)
	case l.Kind == sheet.Choice && (l.Standing == sheet.Open || on):
		rows = sc.besides(l.Ask, sc.optionCells(l, f), "", on)
		if f.short && !on && len(rows) > 1 {
			all := text.Visible(l.Ask) + "  " + ansi.Strip(strings.Join(sc.optionCells(l, f), "  "))
			rows = []string{strings.Repeat(" ", textAt) + text.Cut(all, sc.width-textAt-1, "…")}
		}
	case on:
		rows = sc.besides(l.Ask, []string{sc.fieldCell(l, f)}, "", on)
	default:
		hint := ""
		if f.hints > 1 && l.Standing != sheet.Said || l.Kind == sheet.Moment && f.hints > 1 {
			hint = text.Visible(l.Hint)
		}
		rows = sc.besides(l.Ask, []string{sc.valueCell(l, f)}, hint, on)
	}
	if len(rows) > 0 && !(l.Kind == sheet.Choice && sc.listed()) {
		if l.Kind == sheet.Confirm && on {
			rows[0] = strings.TrimSuffix(mark, " ") + strings.TrimPrefix(rows[0], " ")
		} else if l.Kind != sheet.Confirm {
			rows[0] = " " + mark + strings.TrimPrefix(rows[0], "   ")
		}
	}
	if on {
		rows = append(rows, sc.statusRows(l)...)
	}
	return rows
}

// listed reports whether options stand one under the other.
func (sc scene) listed() bool {
	return sc.job.sheet.ID == sheet.Stop || sc.job.sheet.ID == sheet.Verdict
}

func (sc scene) confirmRows(l sheet.Line, on bool, f fit) []string {
	t := sc.theme
	box, style, at := "[ ]", t.Text, ""
	switch {
	case l.Standing == sheet.Said:
		box, at = "[x]", l.At.In(sc.now.Location()).Format("15:04")
	case on:
		style = t.Strong
	}
	var rows []string
	for n, s := range sc.wrap(l.Ask, confirmAt, timeCells, f.short && !on) {
		if n > 0 {
			rows = append(rows, strings.Repeat(" ", confirmAt)+style.Render(s))
			continue
		}
		row := " " + t.Key.Render(string(l.Key)) + " " + style.Render(box) + " " + style.Render(s)
		if at != "" {
			row = text.PadRight(row, sc.width-timeCells) + t.Dim.Render(at)
		}
		rows = append(rows, row)
	}
	if on && f.hints > 0 && l.Why != "" && l.Standing == sheet.Open {
		rows = append(rows, sc.paragraph(t.Dim, confirmAt, l.Why)...)
	}
	return rows
}

// wrap breaks a text that begins at a column, all of it or one row.
func (sc scene) wrap(s string, from, after int, one bool) []string {
	s = text.Visible(s)
	room := sc.width - from - after - 1
	if one {
		return []string{text.Cut(s, room, "…")}
	}
	return text.Wrap(s, room)
}

// paragraph is a text in rows that begin at a column.
func (sc scene) paragraph(style lipgloss.Style, from int, s string) []string {
	var rows []string
	for _, l := range text.Wrap(text.Visible(s), sc.width-from-1) {
		rows = append(rows, strings.Repeat(" ", from)+style.Render(l))
	}
	return rows
}

// besides puts answers beside the text of a line, or under it where that takes fewer
// rows or the text has no room there, and a hint after them where it has room.
func (sc scene) besides(ask string, cells []string, hint string, on bool) []string {
	style := sc.theme.Text
	if on {
		style = sc.theme.Strong
	}
	at := sc.answerAt()
	ask = text.Visible(ask)
	head := strings.Repeat(" ", textAt) + style.Render(ask)
	var rows []string
	switch {
	case len(cells) == 1 && text.Width(ask) >= at-textAt && text.Width(head)+text.Width(cells[0])+3 < sc.width:
		rows = []string{head + "  " + cells[0]}
	case text.Width(ask) >= at-textAt || len(sc.flow(cells, at)) > 1+len(sc.flow(cells, underAt)):
		rows = append(sc.paragraph(style, textAt, ask), sc.flow(cells, underAt)...)
	default:
		rows = sc.flow(cells, at)
		rows[0] = text.PadRight(head, at) + strings.TrimPrefix(rows[0], strings.Repeat(" ", at))
	}
	if last := len(rows) - 1; hint != "" && text.Width(rows[last])+text.Width(hint)+4 < sc.width {
		rows[last] += "   " + sc.theme.Dim.Render(hint)
	}
	return rows
}

// flow puts cells beside each other from a column on, and under each other where they
// have no room.
func (sc scene) flow(cells []string, at int) []string {
	indent := strings.Repeat(" ", at)
	var rows []string
	row := ""
	for _, c := range cells {
		if row != "" && at+text.Width(row)+2+text.Width(c) < sc.width {
			row += "  " + c
			continue
		}
		if row != "" {
			rows = append(rows, indent+row)
		}
		row = c
		if text.Width(c) >= sc.width-at { // a long one goes on below
			broken := strings.Split(ansi.Wrap(c, sc.width-at-3, ""), "\n")
			rows, row = append(rows, indent+broken[0]), ""
			for _, l := range broken[1:] {
				rows = append(rows, indent+"  "+l)
			}
		}
	}
	if row != "" || len(rows) == 0 {
		rows = append(rows, indent+row)
	}
	return rows
}

// optionCells are the options of a choice, each with its digit.
func (sc scene) optionCells(l sheet.Line, f fit) []string {
	t := sc.theme
	var cells []string
	for _, o := range l.Options {
		c := t.Key.Render(string(o.Key)) + " " + t.Text.Render(text.Visible(o.Label))
		if f.hints > 1 && o.Hint != "" {
			c += t.Dim.Render(" (" + text.Visible(o.Hint) + ")")
		}
		cells = append(cells, c)
	}
	if l.Standing == sheet.Said && l.Value != "" {
		cells = append([]string{t.Strong.Render(text.Visible(l.Value)) + t.Dim.Render("; or")}, cells...)
	}
	return cells
}

// listRows are options one under the other.
func (sc scene) listRows(l sheet.Line, f fit) []string {
	t := sc.theme
	var rows []string
	for _, o := range l.Options {
		for n, s := range text.Wrap(text.Visible(o.Label), sc.width-5) {
			head := "    "
			if n == 0 {
				head = " " + t.Key.Render(string(o.Key)) + "  "
			}
			rows = append(rows, head+t.Text.Render(s))
		}
		hint := text.Visible(o.Hint)
		last := len(rows) - 1
		if f.hints > 0 && hint != "" && text.Width(rows[last])+text.Width(hint)+3 < sc.width {
			rows[last] += "  " + t.Dim.Render(hint)
		} else if f.hints > 1 && hint != "" {
			rows = append(rows, sc.paragraph(t.Dim, 4, hint)...)
		}
	}
	return rows
}

// valueCell is the answer that stands, or is on offer.
func (sc scene) valueCell(l sheet.Line, f fit) string {
	value := text.Visible(l.Value)
	switch {
	case l.Kind == sheet.Moment:
		value = status.Ago(sc.now.Sub(l.At)) + " ago (" + l.At.In(sc.now.Location()).Format("15:04") + ")"
	case l.Standing == sheet.Said:
	case l.Standing == sheet.Open || isRun(l):
		value = strings.TrimSpace("[" + strings.Repeat(" ", fieldCells) + "] " + l.Unit)
	case value == "":
		value = "(none)"
	default:
		value = "(" + value + ")"
	}
	if f.short {
		value = text.Cut(value, sc.width-sc.answerAt()-1, "…")
	}
	return sc.theme.Text.Render(value)
}

// fieldCell is the field that is typed into, with what is understood of it or what can
// be typed.
func (sc scene) fieldCell(l sheet.Line, f fit) string {
	t, g := sc.theme, sc.job
	after := ""
	if l.Unit != "" {
		after = " " + l.Unit
	}
	room := sc.width - sc.answerAt() - 4 - text.Width(after)
	cells := fieldCells
	if l.Kind == sheet.Reading && l.Prompt().Kind == job.Free {
		cells = min(nameCells, room)
	}
	cells = min(max(cells, text.Width(text.Visible(g.field.Text))+1), room)
	style := t.Field
	if g.field.Stood {
		style = t.Dim
	}
	row := "[" + style.Render(g.field.Shown(cells)) + "]" + t.Text.Render(after)
	hint := l.Hint
	switch {
	case g.field.Typing():
		hint = "" // what is understood of it stands below
	case l.Standing == sheet.Offered && l.Value != "" && !isRun(l):
		hint = strings.TrimSpace("(" + l.Value + ")  " + hint)
	case f.hints == 0:
		hint = ""
	}
	if hint = text.Visible(hint); hint != "" && text.Width(hint)+text.Width(row)+sc.answerAt()+3 < sc.width {
		row += "  " + t.Dim.Render(hint)
	}
	return row
}

// echo is what the program understands of what is typed.
func (sc scene) echo(l sheet.Line) string {
	if l.Kind != sheet.Reading || l.Prompt().Kind == job.Free || !sc.job.field.Typing() || sc.job.field.Text == guide.UnknownLine {
		return ""
	}
	p := l.Prompt()
	v, err := p.Parse(sc.state, sc.job.field.Text)
	if err != nil {
		return ""
	}
	echo := p.Echo(sc.state, v)
	if echo == strings.TrimSpace(sc.job.field.Text+" "+l.Unit) {
		return ""
	}
	return sc.theme.Glyphs.ArrowRight + " " + echo
}

// statusRows say under the line what is asked or wrong of it.
func (sc scene) statusRows(l sheet.Line) []string {
	t, g := sc.theme, sc.job
	var rows []string
	if n := len(g.asked); n > 0 {
		own := g.asked[n-1]
		size := "so little?"
		if own.Value.Number > g.asked[0].Value.Number {
			size = "so much?"
		}
		cells := []string{t.Caution.Render(own.Label + ", " + size)}
		for i, r := range g.asked[:n-1] {
			same, _, _ := strings.Cut(l.Prompt().Echo(sc.state, r.Value), " (") // without its temperature
			cells = append(cells, t.Key.Render(strconv.Itoa(i+1))+" "+t.Text.Render("no: "+r.Label+" = "+same))
		}
		cells = append(cells, t.Key.Render(strconv.Itoa(n))+" "+t.Text.Render("yes, "+own.Label))
		rows = append(rows, sc.flow(cells, underAt)...)
	}
	if echo := sc.echo(l); echo != "" && len(rows) == 0 {
		rows = append(rows, sc.paragraph(t.Good, sc.answerAt(), echo)...)
	}
	if words, style := sc.status(); words != "" {
		rows = append(rows, sc.paragraph(style, underAt, words)...)
	}
	return rows
}

// status is what has just happened, or is wrong.
func (sc scene) status() (string, lipgloss.Style) {
	t, g := sc.theme, sc.job
	switch {
	case g.failure != "":
		return g.failure, t.FieldError
	case g.saving && sc.quitting:
		return "storing, then leaving…", t.Caution
	case g.refused:
		return g.notice, t.FieldError
	}
	return g.notice, t.Accent
}
