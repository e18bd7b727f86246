package main

// This file lists the jobs.

import (
	"errors"
	"strings"

	"garage/tundish/model"
	"garage/tundish/model/quantity"
	"garage/tundish/store"
)

type jobsCommand struct {
	All bool `help:"All of them; without it the newest 20, and every older one that is not finished."`
	jsonFlag
}

// shortList is how many jobs are listed without --all.
const shortList = 20

// jobResult is a line of the list in JSON. JSON always has all jobs.
type jobResult struct {
	model.Head
	State string `json:"state"`
}

// Run prints the list, newest first. A store that is not there yet holds no
// jobs.
func (c *jobsCommand) Run(o *outside) error {
	heads, err := listed(o)
	if err != nil {
		return err
	}
	results := make([]jobResult, 0, len(heads))
	for _, h := range heads {
		results = append(results, jobResult{h, stateOf(h)})
	}
	return o.show(c.jsonFlag, results, c.sheet(heads))
}

func listed(o *outside) ([]model.Head, error) {
	s, err := o.readStore()
	if errors.Is(err, store.ErrAbsent) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	defer s.Close()
	heads, _, err := s.List(store.ListOptions{})
	return heads, err
}

// stateOf is a job's state in the words that every list uses.
func stateOf(h model.Head) string { return h.Phase.String() + " · " + h.UnitState.String() }

func (c *jobsCommand) sheet(heads []model.Head) *sheet {
	s := new(sheet)
	if len(heads) == 0 {
		s.note("no jobs yet; run: tundish")
		return s
	}
	hidden := 0
	newest := map[string]bool{} // units whose newest job has been listed
	for i, h := range heads {
		due := ""
		if key := h.UnitKey(); key != "" && !newest[key] {
			newest[key] = true
			due = dueWords(h)
		}
		if unfinished := h.Phase == model.Open || h.Phase == model.ToRecheck; !c.All && i >= shortList && !unfinished {
			hidden++
			continue
		}
		s.add(h.ID, stateOf(h), "%s", strings.TrimRight(names(h)+due, " "))
	}
	if hidden > 0 {
		s.note("%d older ones that are finished; run: tundish jobs --all", hidden)
	}
	return s
}

// names are those of car and unit.
func names(h model.Head) string {
	var known []string
	for _, name := range []string{h.Vehicle, h.UnitName} {
		if name != "" {
			known = append(known, visible(name))
		}
	}
	if len(known) == 0 {
		return "(no name yet)"
	}
	return strings.Join(known, ", ")
}

// dueWords say when the unit's oil is due again; "" where that is not known, or
// the job is not done.
func dueWords(h model.Head) string {
	if h.Phase != model.Done && h.Phase != model.ToRecheck {
		return ""
	}
	var due []string
	if h.Due != nil {
		due = append(due, h.Due.Format("2006-01-02"))
	}
	if h.DueKm > 0 {
		due = append(due, quantity.Metric().FormatDistance(h.DueKm))
	}
	if len(due) == 0 {
		return ""
	}
	return "; next change: " + strings.Join(due, " or ")
}
