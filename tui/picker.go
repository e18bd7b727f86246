package tui

// This file lets the owner choose a job: one that is not finished, a new one
// of a known unit, or a new one of a new unit.

import (
	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model"
)

type pick struct {
	label, hint string
	want        intent
}

type picker struct {
	picks  []pick
	chosen int
}

// maxPicks keeps the list on one screen; older units are found by name in a
// new job.
const maxPicks = 14

func newPicker(unfinished, units []model.Head) picker {
	var picks []pick
	for _, h := range unfinished {
		picks = append(picks, pick{"Go on: " + jobName(h.Vehicle, h.UnitName), h.Phase.String() + " · " + h.UnitState.String() + " · begun " + h.Started.Local().Format("2 Jan 2006"), wantJob{h.ID}})
	}
	picks = append(picks, pick{"New job, a new unit", "", wantNew{nil}})
	for i := range units {
		h := units[i]
		picks = append(picks, pick{"New job: " + jobName(h.Vehicle, h.UnitName), "last " + h.Started.Local().Format("2 Jan 2006"), wantNew{&h}})
	}
	return picker{picks: picks[:min(len(picks), maxPicks)]}
}

func listForPicking(j Journal) tea.Cmd {
	list := listJobs(j)
	return func() tea.Msg {
		msg, ok := list().(listedMsg)
		if !ok {
			return nil
		}
		return pickMsg{msg}
	}
}

// pickMsg: jobs were listed because the owner asked for the list; handled by
// App, which shows it even where there is only one thing to choose.
type pickMsg struct{ listedMsg }

func (p picker) key(msg tea.KeyMsg, k keymap) (picker, intent) {
	if msg.Type == tea.KeyEsc {
		return p, wantQuit{}
	}
	if matches(msg, k.Accept) && len(p.picks) > 0 {
		return p, p.picks[p.chosen].want
	}
	p.chosen = pointed(p.chosen, len(p.picks), msg, k)
	return p, nil
}

func (p picker) lines(sc scene) []string {
	t := sc.app.theme
	lines := []string{" " + t.Strong.Render("Which job?"), ""}
	for i, c := range p.picks {
		lines = append(lines, itemLines(sc, i, i == p.chosen, c.label, c.hint)...)
	}
	return lines
}

func (p picker) hints() []hint {
	return []hint{{"1-9", "choose"}, {"Enter", "open"}, {"Esc", "leave"}}
}
