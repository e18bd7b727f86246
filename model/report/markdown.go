package report

// This file prints a record as Markdown for a forum: headings, lists and
// tables of GitHub's flavour, and nothing of what was typed read as markup.

import (
	"bytes"
	"io"
	"slices"
	"strings"
	"unicode"

	"garage/tundish/model/text"
)

func writeMarkdown(w io.Writer, r record) error {
	var b bytes.Buffer
	b.WriteString("# " + mdText(r.Title) + "\n\n")
	state, lines := r.leadLines()
	b.WriteString("**" + mdText(state) + "**\n\n")
	for _, l := range lines {
		b.WriteString("- " + mdLine(l) + "\n")
	}
	for _, bl := range r.blocks() {
		b.WriteString("\n## " + mdText(bl.title) + "\n\n")
		if bl.list {
			for _, row := range bl.rows {
				b.WriteString("- " + mdLine(row.cells[0]) + "\n")
			}
			continue
		}
		mdTable(&b, bl)
		if len(bl.after) > 0 {
			b.WriteString("\n" + mdLine(strings.Join(bl.after, " ")) + "\n")
		}
	}
	b.WriteString("\n" + mdLine(r.foot()) + "\n")
	_, err := w.Write(b.Bytes())
	return err
}

// mdTable prints rows; facts have no head of their own.
func mdTable(b *bytes.Buffer, bl block) {
	head := bl.head
	if head == nil {
		head = []string{"what", ""}
	}
	cells := func(texts []string) { b.WriteString("| " + strings.Join(texts, " | ") + " |\n") }
	cells(head)
	b.WriteString(strings.Repeat("|---", len(head)) + "|\n")
	for _, row := range bl.rows {
		texts := make([]string, len(row.cells))
		for i, c := range row.cells {
			texts[i] = mdText(c)
			switch {
			case slices.Contains(row.struck, i):
				texts[i] = mdWrap("~~", texts[i])
			case row.strong:
				texts[i] = mdWrap("**", texts[i])
			}
		}
		cells(texts)
	}
}

// mdWrap puts signs round a text that begins and ends with a letter or digit;
// round another they might not be read as signs, and the words say it too.
func mdWrap(signs, text string) string {
	runes := []rune(text)
	plain := func(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }
	if len(runes) == 0 || !plain(runes[0]) || !plain(runes[len(runes)-1]) {
		return text
	}
	return signs + text + signs
}

// mdLine is a text at the beginning of a line, where more signs mean something.
func mdLine(text string) string {
	out := mdText(text)
	digits := strings.TrimLeft(out, "0123456789")
	switch {
	case out == "":
	case strings.HasPrefix(digits, ".") || strings.HasPrefix(digits, ")"):
		at := len(out) - len(digits)
		out = out[:at] + `\` + digits
	case strings.ContainsRune("+-=#:", rune(out[0])):
		out = `\` + out
	}
	return out
}

// mdSigns mean something anywhere in a line of Markdown.
const mdSigns = "\\`*_[]<>|~&$!{}"

// mdText is a text that Markdown shows as it is. Whatever a forum would make a
// link or a call of by itself, such as an address or @name, stands as code.
func mdText(s string) string {
	s = strings.TrimSpace(text.Visible(s))
	if mdLinks(s) {
		return mdCode(s)
	}
	var b strings.Builder
	for _, r := range s {
		if strings.ContainsRune(mdSigns, r) {
			b.WriteByte('\\')
		}
		b.WriteRune(r)
	}
	return b.String()
}

// mdLinks reports whether forums would make a link of part of a text.
func mdLinks(text string) bool {
	lower := strings.ToLower(text)
	for _, sign := range []string{"@", "://", "www.", "#", "mailto:", "xmpp:"} {
		if strings.Contains(lower, sign) {
			return true
		}
	}
	return false
}

// mdCode is a text as code, fenced by more backticks than stand in it
// (CommonMark 0.31, 6.1). A table takes \| for | within code too.
func mdCode(text string) string {
	fence, run := 0, 0
	for _, r := range text {
		if r != '`' {
			run = 0
			continue
		}
		run++
		fence = max(fence, run)
	}
	ticks := strings.Repeat("`", fence+1)
	if fence > 0 {
		text = " " + text + " "
	}
	return ticks + strings.ReplaceAll(text, "|", `\|`) + ticks
}
