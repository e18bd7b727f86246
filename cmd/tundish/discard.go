package main

// This file takes a job out of all lists and back, and purges those that are out.

import (
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"

	"github.com/alecthomas/kong"

	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/model/agenda"
	"garage/tundish/model/guide"
	"garage/tundish/model/report"
	"garage/tundish/model/text"
	"garage/tundish/model/verdict"
	"garage/tundish/store"
	"garage/tundish/store/journal"
)

type discardCommand struct {
	Job  string `arg:"" optional:"" complete:"job" help:"Id of the job, or the beginning of it. Without one: list what is discarded."`
	Undo string `placeholder:"JOB" complete:"discarded" help:"Have a discarded job again, as it was."`
	cli.AskFlag
}

// discardDone is what became of a job, in JSON.
type discardDone struct {
	Job       string     `json:"job"`
	State     string     `json:"state"`
	Discarded bool       `json:"discarded"`
	Warnings  []string   `json:"warnings"`
	Later     []laterJob `json:"later"`
}

// laterJob is what is said of a later job of the unit with the job, and without it.
type laterJob struct {
	Job     string `json:"job"`
	With    string `json:"with"`
	Without string `json:"without"`
}

// Run discards a job or takes it back; without one it lists those that are discarded.
func (c *discardCommand) Run(o *outside, k *kong.Context) error {
	switch {
	case c.Job != "" && c.Undo != "":
		return cli.Usage(k, errors.New("discard a job or take one back: leave one out"))
	case c.Undo != "":
		return c.undo(o)
	case c.Job == "":
		return c.list(o)
	}
	if err := c.AsksInJSON(k); err != nil {
		return err
	}
	read, id, err := jobFlag{c.Job}.find(o)
	if err != nil {
		return err
	}
	if err := read.Close(); err != nil {
		return err
	}
	s, err := o.writeStore() // and not only to read: while it asks, no other window goes on with the job
	if err != nil {
		return err
	}
	defer s.Close()
	j := storeJournal{s}
	g, err := j.state(id)
	if err != nil {
		return err
	}
	done, err := j.discarding(g)
	if err != nil {
		return err
	}
	said := done.sheet(g, o)
	if !c.JSON {
		if err := said.Write(o.out); err != nil {
			return err
		}
	}
	if err := c.Agreed(o.in, o.err, "Discard it?"); err != nil {
		return err
	}
	if err := s.Discard(id); err != nil {
		return err
	}
	j.follow(guide.Head{}, unitOf(g.Head()))
	return o.streams().ShowText(c.JSONFlag, done, fmt.Sprintf("job %s is discarded\n", text.Visible(id)))
}

// discarding says what it changes that a job is discarded.
func (j storeJournal) discarding(g *guide.Guide) (done discardDone, err error) {
	h := g.Head()
	done = discardDone{Job: h.ID, State: agenda.StateOf(h), Discarded: true, Warnings: []string{}}
	if done.Later, err = j.withAndWithout(h); err != nil {
		return done, err
	}
	stands, off, err := j.stands(h)
	if err != nil {
		return done, err
	}
	warn := func(format string, a ...any) { done.Warnings = append(done.Warnings, fmt.Sprintf(format, a...)) }
	if off && stands.ID == h.ID {
		warn("the unit stands %s by this job, and no other says so: leave the tag on the wheel, the car is not to be driven",
			h.StateWords())
	}
	switch h.Phase {
	case guide.Open:
		warn("the job is not finished")
	case guide.ToRecheck:
		warn("the looks after a drive are still due; they leave the list with it")
	}
	var w verdict.Waste
	if w.Add(g.Assessment); w.ML > 0 {
		warn("its waste oil, %s, still waits to be handed in; it leaves the list with it", g.Units().FormatVolume(w.ML))
	}
	return done, nil
}

// stands is the job by which a job's unit stands, and whether it must not be turned.
func (j storeJournal) stands(h guide.Head) (by guide.Head, off bool, err error) {
	if key := unitOf(h); key != "" {
		newest, _, err := j.List(store.ListOptions{Unit: key, Limit: 1})
		if err != nil || len(newest) == 0 {
			return guide.Head{}, false, err
		}
		return j.lastDone(newest[0])
	}
	off, err = j.keepsOff(h)
	return h, off, err
}

// withAndWithout folds the later jobs of a job's unit with it and without it.
func (j storeJournal) withAndWithout(of guide.Head) (later []laterJob, err error) {
	later = []laterJob{}
	key := unitOf(of)
	if key == "" {
		return later, nil
	}
	heads, _, err := j.List(store.ListOptions{Unit: key})
	if err != nil {
		return nil, err
	}
	var with, without guide.Chain
	after := false
	for _, h := range slices.Backward(own(heads)) {
		one, err := j.Load(h.ID)
		if err != nil {
			return nil, err
		}
		s := with.Fold(one)
		if after = after || h.ID == of.ID; h.ID == of.ID {
			continue
		}
		if t := without.Fold(one); after {
			later = append(later, laterJob{h.ID, agenda.StateOf(s.Head()), agenda.StateOf(t.Head())})
		}
	}
	return later, nil
}

// sheet says in words what it changes.
func (d discardDone) sheet(g *guide.Guide, o *outside) *sheet {
	s := jobSheet([]listedJob{{g.Head(), report.BriefOf(g).Text(g.Units()), ""}}, "", 0, o.dates())
	for _, w := range d.Warnings {
		s.Note("warning: %s", text.Visible(w))
	}
	for _, l := range d.Later {
		if l.With == l.Without {
			s.Note("job %s, later, goes on without what this one found: %s as before", text.Visible(l.Job), l.With)
		} else {
			s.Note("job %s, later, goes on without what this one found: %s, then %s", text.Visible(l.Job), l.With, l.Without)
		}
	}
	s.Note("it leaves all lists; its entries stay until: tundish purge; to have it again: tundish discard --undo %s", text.Visible(d.Job))
	return s
}

// undo takes a job back. That needs no question: it can be discarded again.
func (c *discardCommand) undo(o *outside) error {
	read, err := o.readStore()
	if err != nil {
		return err
	}
	id, err := read.FindDiscarded(c.Undo)
	if err := errors.Join(err, read.Close()); err != nil {
		return err
	}
	s, err := o.writeStore()
	if err != nil {
		return err
	}
	defer s.Close()
	if err := s.TakeBack(id); err != nil {
		return err
	}
	j := storeJournal{s}
	g, err := j.state(id)
	if err != nil {
		return err
	}
	j.follow(g.Head(), "")
	done := discardDone{Job: id, State: agenda.StateOf(g.Head()), Warnings: []string{}}
	if done.Later, err = j.withAndWithout(g.Head()); err != nil {
		return err
	}
	return o.streams().ShowText(c.JSONFlag, done, fmt.Sprintf("job %s is there again: %s\n", text.Visible(id), done.State))
}

// discardedJob is a line of the list in JSON.
type discardedJob struct {
	guide.Head
	State string `json:"state"`
}

// list prints the discarded jobs.
func (c *discardCommand) list(o *outside) error {
	s, err := o.readStore()
	if o.noneYet(err) {
		return o.show(c.JSONFlag, []discardedJob{}, discardedSheet(nil, o))
	}
	if err != nil {
		return err
	}
	defer s.Close()
	heads, err := s.Discarded()
	if err != nil {
		return err
	}
	list := make([]discardedJob, len(heads))
	for i, h := range heads {
		list[i] = discardedJob{h, agenda.StateOf(h)}
	}
	return o.show(c.JSONFlag, list, discardedSheet(heads, o))
}

func discardedSheet(heads []guide.Head, o *outside) *sheet {
	if len(heads) == 0 {
		s := new(sheet)
		s.Note("nothing is discarded")
		return s
	}
	jobs := make([]listedJob, len(heads))
	for i, h := range heads {
		jobs[i] = listedJob{Head: h, figures: fmt.Sprintf(" · %d entries", h.Entries)}
	}
	return jobSheet(jobs, "", 0, o.dates())
}

type purgeCommand struct{ cli.AskFlag }

// purgeDone is what was purged, in JSON.
type purgeDone struct {
	Jobs         []string `json:"jobs"`
	Entries      int      `json:"entries"`
	MayStillHold []string `json:"may_still_hold"` // files beside the store
}

// Run removes what is discarded for good, after it has said what that is.
func (c *purgeCommand) Run(o *outside, k *kong.Context) error {
	if err := c.AsksInJSON(k); err != nil {
		return err
	}
	done := purgeDone{Jobs: []string{}, MayStillHold: []string{}}
	s, err := o.readStore()
	if o.noneYet(err) {
		return o.show(c.JSONFlag, done, discardedSheet(nil, o))
	}
	if err != nil {
		return err
	}
	path := s.Path()
	heads, err := s.Discarded()
	if err := errors.Join(err, s.Close()); err != nil {
		return err
	}
	said := discardedSheet(heads, o)
	if len(heads) == 0 {
		return o.show(c.JSONFlag, done, said)
	}
	for _, h := range heads {
		done.Jobs, done.Entries = append(done.Jobs, h.ID), done.Entries+h.Entries
	}
	done.MayStillHold = copiesBeside(path)
	said.Note("gone for good from the store and its journal: %d job(s), %d entries", len(done.Jobs), done.Entries)
	said.Note("backups, exports and records of them are left alone, and importing one takes the job in again")
	for _, name := range done.MayStillHold {
		said.Note("this one beside the store may hold them too: %s", text.Visible(name))
	}
	if !c.JSON {
		if err := said.Write(o.out); err != nil {
			return err
		}
	}
	if err := c.Agreed(o.in, o.err, "Purge them?"); err != nil {
		return err
	}
	if err := store.Purge(path, done.Jobs...); err != nil {
		return err
	}
	return o.streams().ShowText(c.JSONFlag, done, fmt.Sprintf("purged: %d job(s), %d entries\n", len(done.Jobs), done.Entries))
}

// copiesBeside are the files that mending and bringing up to date have left beside a store.
func copiesBeside(path string) []string {
	onlyIt := strings.NewReplacer(`*`, `[*]`, `?`, `[?]`, `[`, `[[]`).Replace(path)
	found, _ := filepath.Glob(onlyIt + ".*") // the pattern is sound
	return append([]string{}, slices.DeleteFunc(found, func(name string) bool { return name == path+journal.Suffix })...)
}
