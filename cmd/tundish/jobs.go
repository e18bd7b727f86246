package main

// This file lists the jobs.

import (
	"cmp"
	"errors"
	"strings"

	"garage/tundish/model/guide"
	"garage/tundish/model/quantity"
	"garage/tundish/model/report"
	"garage/tundish/model/text"
	"garage/tundish/model/verdict"
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
	guide.Head
	State string `json:"state"`
}

// listedJob is a job with what it leaves to do, in words.
type listedJob struct {
	guide.Head
	due string
}

// Run prints the list, newest first. A store that is not there yet holds no
// jobs.
func (c *jobsCommand) Run(o *outside) error {
	s, err := o.readStore()
	if errors.Is(err, store.ErrAbsent) {
		return o.show(c.jsonFlag, []jobResult{}, jobSheet(nil, 0))
	}
	if err != nil {
		return err
	}
	defer s.Close()
	d, err := newDueFinder(storeJournal{s}, o.now())
	if err != nil {
		return err
	}
	if c.JSON {
		results := make([]jobResult, len(d.heads))
		for i, h := range d.heads {
			results[i] = jobResult{h, stateOf(h)}
		}
		return o.printJSON(results)
	}
	listed, hidden := c.listed(d.heads)
	jobs := make([]listedJob, len(listed))
	var unread error // a job that cannot be read is in the list all the same
	for i, h := range listed {
		words, err := d.words(h)
		jobs[i], unread = listedJob{h, words}, cmp.Or(unread, err)
	}
	return errors.Join(jobSheet(jobs, hidden).write(o.out), unread)
}

// stateOf is a job's state in the words that every list uses.
func stateOf(h guide.Head) string { return h.Phase.String() + " · " + h.StateWords() }

// listed leaves out old jobs that are finished, and says how many.
func (c *jobsCommand) listed(heads []guide.Head) (listed []guide.Head, hidden int) {
	for i, h := range heads {
		if unfinished := h.Phase == guide.Open || h.Phase == guide.ToRecheck; !c.All && i >= shortList && !unfinished {
			hidden++
			continue
		}
		listed = append(listed, h)
	}
	return listed, hidden
}

func jobSheet(jobs []listedJob, hidden int) *sheet {
	s := new(sheet)
	if len(jobs) == 0 {
		s.note("no jobs yet; run: tundish")
	}
	for _, j := range jobs {
		text := names(j.Head)
		if j.due != "" {
			text += "; " + j.due
		}
		s.add(j.ID, stateOf(j.Head), "%s", text)
	}
	if hidden > 0 {
		s.note("%d older ones that are finished; run: tundish jobs --all", hidden)
	}
	return s
}

// names are those of car and unit.
func names(h guide.Head) string {
	var known []string
	for _, name := range []string{h.Vehicle, h.UnitName} {
		if name != "" {
			known = append(known, text.Visible(name))
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
func standing(heads []guide.Head) map[string]bool {
	ids, told := map[string]bool{}, map[string]bool{}
	for _, h := range heads {
		unit := cmp.Or(h.UnitKey(), h.ID)
		if h.UnitState == verdict.AsFound || told[unit] || report.IsShared(h.ID) {
			continue
		}
		ids[h.ID], told[unit] = true, true
	}
	return ids
}

// words say what a job leaves to do on its unit; "" where that is nothing, or
// its state says it already.
func (d *dueFinder) words(h guide.Head) (string, error) {
	if !d.stands[h.ID] || !h.UnitState.Settled() && h.Phase != guide.ToRecheck {
		return "", nil
	}
	state, err := d.journal.state(h.ID)
	if err != nil {
		return "", err
	}
	items, err := d.ofUnit(h, state)
	if err != nil {
		return "", err
	}
	return dueWords(items, state.Units()), nil
}

func dueWords(items []dueItem, u quantity.Units) string {
	var words []string
	for _, i := range items {
		switch {
		case i.due.Name == report.NextChange:
			words = append(words, "next change "+i.changeWords(u))
		case i.due.Name != "" && len(words) == 0:
			words = append(words, "re-check due")
		}
	}
	return strings.Join(words, ", ")
}

// changeWords say when the oil is to be changed next.
func (i dueItem) changeWords(u quantity.Units) string {
	day, km := i.due.Day.Format(dayForm), u.FormatDistance(i.due.Km)
	switch {
	case i.InDays != nil && *i.InDays < 0:
		return "overdue since " + day
	case i.Overdue:
		return "overdue since " + km
	case i.Day == nil:
		return km
	case i.AtKm == nil:
		return day
	}
	return day + " or " + km
}

// dayForm is how a day is written.
const dayForm = "2 Jan 2006"
