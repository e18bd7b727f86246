package main

// This file lists the jobs.

import (
	"cmp"
	"errors"
	"strings"
	"time"

	"garage/tundish/model"
	"garage/tundish/model/quantity"
	"garage/tundish/model/summary"
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
	return o.show(c.jsonFlag, results, c.sheet(heads, o.now()))
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

func (c *jobsCommand) sheet(heads []model.Head, now time.Time) *sheet {
	s := new(sheet)
	if len(heads) == 0 {
		s.note("no jobs yet; run: tundish")
		return s
	}
	hidden, stands := 0, standing(heads)
	for i, h := range heads {
		if unfinished := h.Phase == model.Open || h.Phase == model.ToRecheck; !c.All && i >= shortList && !unfinished {
			hidden++
			continue
		}
		text := names(h)
		if due := dueWords(h, now); stands[h.ID] && due != "" {
			text += "; " + due
		}
		s.add(h.ID, stateOf(h), "%s", text)
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

// standing names the jobs that tell how their unit stands: of each unit the
// newest at which the plug came out. Jobs that others have shared are of no
// unit here. The heads are newest first.
func standing(heads []model.Head) map[string]bool {
	ids, told := map[string]bool{}, map[string]bool{}
	for _, h := range heads {
		unit := cmp.Or(h.UnitKey(), h.ID)
		if h.UnitState == model.AsFound || told[unit] || summary.IsShared(h.ID) {
			continue
		}
		ids[h.ID], told[unit] = true, true
	}
	return ids
}

// dueWords say what a job leaves to do; "" where that is nothing, or its state
// says it already.
func dueWords(h model.Head, now time.Time) string {
	var due []string
	if h.Phase == model.ToRecheck {
		due = append(due, "re-check due")
	}
	if h.UnitState == model.Proven {
		due = append(due, changeWords(h, now)...)
	}
	return strings.Join(due, ", ")
}

// changeWords say when the oil is to be changed next; none where that is not
// known.
func changeWords(h model.Head, now time.Time) []string {
	var when []string
	if h.Due != nil && !h.Due.After(now) {
		return []string{"next change overdue since " + dayText(*h.Due)}
	}
	if h.Due != nil {
		when = append(when, dayText(*h.Due))
	}
	if h.DueKm > 0 {
		when = append(when, quantity.Metric().FormatDistance(h.DueKm))
	}
	if len(when) == 0 {
		return nil
	}
	return []string{"next change " + strings.Join(when, " or ")}
}

// dayForm is how a day is written.
const dayForm = "2 Jan 2006"

func dayText(t time.Time) string { return t.In(time.Local).Format(dayForm) }
