package tui

// This file lets the owner choose a job: one that is not finished, a new one
// of a known unit, or a new one of a new unit.

import (
	"cmp"
	"slices"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/guide"
	"garage/tundish/model/verdict"
	"garage/tundish/tui/input"
	"garage/tundish/tui/status"
)

type picker struct {
	list
	unfinished []guide.Head
}

func newPicker(unfinished, units []guide.Head) picker {
	picks := carItems(unfinished, units)
	worst := func(a, b guide.Head) int { return cmp.Compare(urgency(a), urgency(b)) }
	for _, h := range slices.SortedStableFunc(slices.Values(unfinished), worst) { // what holds no oil is said first
		picks = append(picks, item{"Go on, " + h.StateWords() + ": " + status.JobName(h.Vehicle, h.UnitName),
			h.Phase.String() + ", begun " +
				h.Started.Local().Format("2 Jan 2006"), wantJob{h.ID}})
	}
	picks = append(picks, item{"New job, a new unit", "", wantNew{nil}})
	for i := range units {
		h := units[i]
		last := "last " + h.Started.Local().Format("2 Jan 2006")
		picks = append(picks, item{"New job: " + status.JobName(h.Vehicle, h.UnitName), last, wantNew{&h}})
	}
	return picker{list{items: picks}, unfinished}
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

func (p picker) key(msg tea.KeyMsg, k input.Keys) (picker, intent) {
	now, want, left := p.list.key(msg, k)
	if left {
		return p, wantQuit{}
	}
	p.list = now
	return p, want
}

func (p picker) lines(sc scene) ([]string, []hint) {
	return p.under([]string{" " + sc.theme.Strong.Render("Which job?"), ""}, sc), []hint{{"its number", "choose"}, {"Enter", "open"},
		{"0", "leave"}}
}
