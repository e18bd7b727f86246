package main

// This file lists the jobs.

import (
	"bytes"
	"context"
	"errors"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/cmd/tundish/internal/rows"
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
	var list jobList
	s, kept, err := rows.List(o.readStore, o.jobRows, func(j rows.Jobs, kept []store.Made) (_ []store.Made, err error) {
		if list, err = c.list(j.Store); err != nil || c.CSV {
			return nil, err
		}
		return rows.Of(list.heads, kept), nil
	})
	if o.noneYet(err) && c.CSV {
		return report.JobsCSV(o.out, nil, time.Local)
	}
	if o.noneYet(err) {
		return o.show(c.jsonFlag, []jobResult{}, jobSheet(nil, rows.NoneYet, 0, o.dates()))
	}
	if err != nil {
		return err
	}
	defer s.Close()
	switch {
	case len(list.heads) == 0 && c.Car+c.Unit != "" && !c.JSON && !c.CSV:
		return errors.New("no job is of a car and a unit of these names; see: tundish jobs")
	case c.CSV:
		return printCSV(o, storeJournal{s.Store}, list.heads)
	}
	all, unread := s.Rows(kept)
	if c.JSON {
		results := make([]jobResult, len(list.heads))
		for i, h := range list.heads {
			row := all[rows.KeyOf(h)]
			h = row.Head(h)
			results[i] = jobResult{h, agenda.StateOf(h), row.Lines[h.ID].Brief}
		}
		return errors.Join(o.printJSON(results), unread)
	}
	due := agenda.New(rows.Units(all), o.now().In(time.Local))
	jobs := make([]listedJob, len(list.heads))
	for i, h := range list.heads {
		row := all[rows.KeyOf(h)]
		jobs[i] = listedJob{row.Head(h), row.Lines[h.ID].Words, due.Words(row.Unit, h.ID)}
	}
	none := ""
	if len(jobs) == 0 {
		none = s.None()
	}
	return errors.Join(jobSheet(jobs, none, list.hidden, o.dates()).Write(o.out), unread)
}

// jobList is the heads of the jobs that are listed, newest first, and how many are not.
type jobList struct {
	heads  []guide.Head
	hidden int
}

// list lists the jobs that are asked for.
func (c *jobsCommand) list(j *store.Store) (l jobList, err error) {
	if c.All || c.JSON || c.CSV || c.Car+c.Unit != "" {
		heads, _, err := j.List(store.ListOptions{})
		heads = slices.DeleteFunc(heads, func(h guide.Head) bool { return !c.wants(h) })
		l.heads, l.hidden = c.listed(heads)
		return l, err
	}
	newest, _, err := j.List(store.ListOptions{Limit: shortList})
	if err != nil {
		return l, err
	}
	open, _, err := j.List(store.ListOptions{OnlyOpen: true})
	if err != nil {
		return l, err
	}
	open = slices.DeleteFunc(open, func(h guide.Head) bool {
		return slices.ContainsFunc(newest, func(n guide.Head) bool { return n.ID == h.ID })
	})
	all, err := j.Count()
	l.heads = slices.Concat(newest, open)
	return jobList{l.heads, all - len(l.heads)}, err
}

// wants reports whether a job is of the car and the unit that are asked for.
func (c *jobsCommand) wants(h guide.Head) bool {
	is := func(asked, name string) bool { return asked == "" || strings.EqualFold(asked, strings.TrimSpace(name)) }
	return is(c.Car, h.Vehicle) && is(c.Unit, h.UnitName)
}

// printCSV prints jobs for a spreadsheet.
func printCSV(o *outside, j storeJournal, heads []guide.Head) error {
	jobs := make([]*guide.Guide, len(heads))
	bar := o.progress("working out", "units", "nothing was written")
	unread := j.each(heads, bar, func(i int, s *guide.Guide) { jobs[i] = s })
	if bar.End(); errors.Is(unread, context.Canceled) {
		return unread
	}
	read := slices.DeleteFunc(jobs, func(s *guide.Guide) bool { return s == nil })
	return errors.Join(report.JobsCSV(o.out, read, time.Local), unread)
}

// listed leaves out old jobs that are finished, and counts them.
func (c *jobsCommand) listed(heads []guide.Head) (listed []guide.Head, hidden int) {
	for i, h := range heads {
		whole := c.All || c.JSON || c.CSV
		if unfinished := h.Phase == guide.Open || h.Phase == guide.ToRecheck; !whole && i >= shortList && !unfinished {
			hidden++
			continue
		}
		listed = append(listed, h)
	}
	return listed, hidden
}

func jobSheet(jobs []listedJob, none string, hidden int, form dates.Language) *sheet {
	s := new(sheet)
	if len(jobs) == 0 {
		s.Note("%s", none)
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
