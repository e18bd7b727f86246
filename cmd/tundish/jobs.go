package main

// This file lists the jobs.

import (
	"bytes"
	"cmp"
	"errors"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"

	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/model/agenda"
	"garage/tundish/model/dates"
	"garage/tundish/model/guide"
	"garage/tundish/model/report"
	"garage/tundish/model/text"
	"garage/tundish/store"
)

type jobsCommand struct {
	All bool `help:"All of them; without it the newest 20, and every older one that is not finished."`
	jsonFlag
	CSV  bool   `name:"csv" help:"Print CSV, one line a job, all of them; the ending .csv of --output does the same."`
	Car  string `placeholder:"NAME" complete:"car" help:"Only jobs of this car."`
	Unit string `placeholder:"NAME" complete:"unit" help:"Only jobs of units of this name."`
	outputFlag
}

// shortList is how many jobs are listed without --all.
const shortList = 20

// jobResult is a line of the list in JSON. JSON always has all jobs.
type jobResult struct {
	guide.Head
	State string `json:"state"`
	report.Brief
}

// listedJob is a job with the figures of it and what it leaves to do, in words.
type listedJob struct {
	guide.Head
	figures, due string
}

// Run prints the list, newest first. Where no store was made yet there are no jobs.
func (c *jobsCommand) Run(o *outside) error {
	if c.CSV = c.CSV || strings.EqualFold(filepath.Ext(c.Output), ".csv"); c.CSV && c.JSON {
		return cli.UsageError{Cause: errors.New("JSON or CSV: leave one out"), Command: "tundish jobs"}
	}
	var list bytes.Buffer
	to := *o
	to.out = &list
	err := c.print(&to)
	if list.Len() == 0 {
		return err
	}
	return errors.Join(c.put(o, list.Bytes()), err) // what can be read is listed
}

func (c *jobsCommand) print(o *outside) error {
	s, err := o.readStore()
	if o.noneYet(err) && c.CSV {
		return report.JobsCSV(o.out, nil, time.Local)
	}
	if o.noneYet(err) {
		return o.show(c.jsonFlag, []jobResult{}, jobSheet(nil, 0, o.dates()))
	}
	if err != nil {
		return err
	}
	defer s.Close()
	j := storeJournal{s}
	heads, _, err := j.List(store.ListOptions{})
	if err != nil {
		return err
	}
	heads = slices.DeleteFunc(heads, func(h guide.Head) bool { return !c.wants(h) })
	if len(heads) == 0 && c.Car+c.Unit != "" && !c.JSON && !c.CSV {
		return errors.New("no job is of a car and a unit of these names; see: tundish jobs")
	}
	if c.JSON || c.CSV {
		return c.printData(o, j, heads)
	}
	listed, hidden := c.listed(heads)
	due := agenda.New(heads, o.now().In(time.Local), j.loaded)
	jobs := make([]listedJob, len(listed))
	for i, h := range listed {
		jobs[i].Head = h // one that cannot be read is in the list all the same
	}
	var one sync.Mutex // the agenda is for one at a time
	var failed error
	unread := j.each(listed, func(i int, s *guide.Guide) {
		h := s.Head()
		one.Lock()
		defer one.Unlock()
		words, err := due.Words(s)
		jobs[i], failed = listedJob{h, report.BriefOf(s).Text(s.Units()), words}, cmp.Or(failed, err)
	})
	return errors.Join(jobSheet(jobs, hidden, o.dates()).Write(o.out), cmp.Or(unread, failed))
}

// wants reports whether a job is of the car and the unit that are asked for.
func (c *jobsCommand) wants(h guide.Head) bool {
	is := func(asked, name string) bool { return asked == "" || strings.EqualFold(asked, strings.TrimSpace(name)) }
	return is(c.Car, h.Vehicle) && is(c.Unit, h.UnitName)
}

// printData prints all jobs for another program.
func (c *jobsCommand) printData(o *outside, j storeJournal, heads []guide.Head) error {
	results, jobs := make([]jobResult, len(heads)), make([]*guide.Guide, len(heads))
	for i, h := range heads {
		results[i] = jobResult{Head: h, State: agenda.StateOf(h)} // one that cannot be read is in the list all the same
	}
	unread := j.each(heads, func(i int, s *guide.Guide) {
		h := s.Head()
		results[i], jobs[i] = jobResult{h, agenda.StateOf(h), report.BriefOf(s)}, s
	})
	if c.JSON {
		return errors.Join(o.printJSON(results), unread)
	}
	read := slices.DeleteFunc(jobs, func(s *guide.Guide) bool { return s == nil })
	return errors.Join(report.JobsCSV(o.out, read, time.Local), unread)
}

// listed leaves out old jobs that are finished, and counts them.
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

func jobSheet(jobs []listedJob, hidden int, form dates.Language) *sheet {
	s := new(sheet)
	if len(jobs) == 0 {
		s.Note("no jobs yet; run: tundish")
	}
	for _, j := range jobs {
		text := names(j.Head)
		if j.due != "" {
			text += "; " + j.due
		}
		s.Add(j.ID, agenda.StateOf(j.Head), "%s", text)
		s.Under("  %s%s", form.Short(j.Started.Local()), j.figures)
	}
	if hidden > 0 {
		s.Note("%d older ones that are finished; run: tundish jobs --all", hidden)
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
