package main

// This file lists the jobs.

import (
	"cmp"
	"errors"
	"strings"
	"sync"
	"time"

	"garage/tundish/model/agenda"
	"garage/tundish/model/guide"
	"garage/tundish/model/text"
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

// Run prints the list, newest first. Where no store was made yet there are no jobs.
func (c *jobsCommand) Run(o *outside) error {
	s, err := o.readStore()
	if o.noneYet(err) {
		return o.show(c.jsonFlag, []jobResult{}, jobSheet(nil, 0))
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
	if c.JSON {
		unread := j.current(heads)
		results := make([]jobResult, len(heads))
		for i, h := range heads {
			results[i] = jobResult{h, agenda.StateOf(h)}
		}
		return errors.Join(o.printJSON(results), unread)
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
		jobs[i], failed = listedJob{h, words}, cmp.Or(failed, err)
	})
	return errors.Join(jobSheet(jobs, hidden).Write(o.out), cmp.Or(unread, failed))
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

func jobSheet(jobs []listedJob, hidden int) *sheet {
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
