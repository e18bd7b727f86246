package tui

// This file lists the standing answers, newest first, to turn to its line or take
// it back. Those that a finding is about are marked.

import (
	"fmt"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/job"
	"garage/tundish/model/text"
	"garage/tundish/tui/input"
	"garage/tundish/tui/status"
)

type corrections struct {
	entries []job.Entry  // standing, newest first
	doubted map[int]bool // by Seq
	chosen  input.Pointer
}

func newCorrections(g jobScreen) corrections {
	c := corrections{entries: g.state().Standing(), doubted: map[int]bool{}}
	for _, f := range g.state().Findings() {
		c.doubted[f.Seq] = true
	}
	return c
}

func (c corrections) key(msg tea.KeyMsg, k input.Keys) (overlay, intent) {
	n := len(c.entries)
	if n == 0 || c.left(msg, k) {
		return nil, nil
	}
	switch {
	case msg.Type == tea.KeyEnter:
		return c, wantCorrect{job.At(c.entries[c.chosen.At].Topic, c.entries[c.chosen.At].Round, c.entries[c.chosen.At].Item)}
	case msg.Type == tea.KeyDelete:
		return c, wantStrike{c.entries[c.chosen.At].Seq}
	case input.Matches(msg, k.PageUp):
		c.chosen = input.Pointer{At: max(c.chosen.At-pageRows, 0)}
	case input.Matches(msg, k.PageDown):
		c.chosen = input.Pointer{At: min(c.chosen.At+pageRows, n-1)}
	default:
		c.chosen = c.chosen.Among(msg, k, n, c.entries[0].Seq, c.index)
	}
	return c, nil
}

// left reports whether a key leaves the list: the usual ones, and the one that
// opened it, while nothing else has been done. A presenter has no other.
func (c corrections) left(msg tea.KeyMsg, k input.Keys) bool {
	if input.Matches(msg, k.Earlier) && c.chosen.At == 0 {
		return true
	}
	return leaves(msg, k) && !c.chosen.Awaits(msg, c.entries[0].Seq)
}

// index is where the entry of a number stands in the list, -1 nowhere.
func (c corrections) index(seq int) int {
	return slices.IndexFunc(c.entries, func(e job.Entry) bool { return e.Seq == seq })
}

func (c corrections) lines(sc scene) ([]string, []hint) {
	t := sc.theme
	lines := []string{" " + t.Strong.Render("Which answer is wrong?") + t.Dim.Render("  newest first; the old is struck out"), ""}
	room := max(sc.height-len(lines), 1)
	top := max(c.chosen.At-room+1, 0) // so that the one pointed at is seen
	for i := top; i < len(c.entries) && i < top+room; i++ {
		lines = append(lines, c.line(sc, i))
	}
	return lines, []hint{{"Enter", "to its line"}, {"Del", "take it back"}, {"0", "back"}, {"+ -", "page"}, {"its number", "choose"}}
}

// line is one entry, marked where a finding is about it.
func (c corrections) line(sc scene, i int) string {
	t, e := sc.theme, c.entries[i]
	mark, style := "  ", t.Text
	if i == c.chosen.At {
		mark, style = t.Glyphs.ArrowRight+" ", t.Strong
	}
	doubt := " "
	if c.doubted[e.Seq] {
		doubt = "!"
	}
	name, echo := status.EntryWords(sc.state, e)
	line := fmt.Sprintf("%3d %s %s  %s  %s", e.Seq, doubt, e.At.Local().Format("15:04"), text.PadRight(name, nameColumns), echo)
	return " " + mark + style.Render(text.Cut(line, sc.width-4, "…"))
}

// nameColumns has room for the name of nearly every answer.
const nameColumns = 24
