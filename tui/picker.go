package tui

// This file lets the owner choose a job: one that is not finished, a new one
// of a known unit, or a new one of a new unit.

import (
	"cmp"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/guide"
	"garage/tundish/model/verdict"
)

type picker struct {
	unfinished []guide.Head
	picks      []item
	chosen     pointer
}

func newPicker(unfinished, units []guide.Head) picker {
	picks := carItems(unfinished, units)
	worst := func(a, b guide.Head) int { return cmp.Compare(urgency(a), urgency(b)) }
	for _, h := range slices.SortedStableFunc(slices.Values(unfinished), worst) { // what holds no oil is said first
		picks = append(picks, item{"Go on, " + h.StateWords() + ": " + JobName(h.Vehicle, h.UnitName), h.Phase.String() + ", begun " +
			h.Started.Local().Format("2 Jan 2006"), wantJob{h.ID}})
	}
	picks = append(picks, item{"New job, a new unit", "", wantNew{nil}})
	for i := range units {
		h := units[i]
		last := "last " + h.Started.Local().Format("2 Jan 2006")
		picks = append(picks, item{"New job: " + JobName(h.Vehicle, h.UnitName), last, wantNew{&h}})
	}
	return picker{unfinished: unfinished, picks: picks}
}

// urgency is how urgent a job is: below others first.
func urgency(h guide.Head) int {
	switch h.UnitState {
	case verdict.Empty:
		return 0
	case verdict.Unproven:
		return 1
	}
	return 2
}

func (p picker) key(msg tea.KeyMsg, k keymap) (picker, intent) {
	if leaves(msg, k) && !p.chosen.awaits(msg, len(p.picks)) {
		return p, wantQuit{}
	}
	if matches(msg, k.Enter) && len(p.picks) > 0 {
		return p, p.picks[p.chosen.at].want
	}
	p.chosen = p.chosen.key(msg, k, len(p.picks))
	return p, nil
}

func (p picker) lines(sc scene) []string {
	lines := []string{" " + sc.theme.Strong.Render("Which job?"), ""}
	var items []string
	end := 0 // of the one pointed at, which may take several lines
	for i, it := range p.picks {
		items = append(items, it.lines(sc, i, i == p.chosen.at)...)
		if i == p.chosen.at {
			end = len(items)
		}
	}
	room := max(sc.height-len(lines), 1)
	return append(lines, page{top: max(end-room, 0)}.cut(items, room)...)
}

func (p picker) hints() []hint {
	return []hint{{"its number", "choose"}, {"Enter", "open"}, {"0", "leave"}}
}
