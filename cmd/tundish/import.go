package main

// This file merges exported jobs into the store.

import (
	"errors"
	"fmt"
	"io"
	"os"
	"runtime/debug"

	"garage/tundish/cmd/tundish/internal/ahead"
	"garage/tundish/cmd/tundish/internal/cards"
	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/cmd/tundish/internal/incoming"
	"garage/tundish/cmd/tundish/internal/look"
	"garage/tundish/model/text"
	"garage/tundish/store"
)

type importCommand struct {
	Files []string `arg:"" name:"file" complete:"file" help:"Jobs as JSON, from: tundish summary JOB --format json; unit cards, from: tundish pool --card. - is standard input, for jobs."`
	jsonFlag
	done []importResult
}

// importResult is what became of a file, in JSON.
type importResult struct {
	File    string `json:"file"`
	Outcome string `json:"outcome"`
	Job     string `json:"job,omitempty"`
	Entries int    `json:"new_entries"`
	Card    string `json:"card,omitempty"`
}

// say tells what became of a file, at once in words, in the end as JSON.
func (c *importCommand) say(o *outside, done importResult, words string) {
	if c.done = append(c.done, done); !c.JSON {
		fmt.Fprintf(o.out, "%s: %s: %s\n", text.Visible(done.File), done.Outcome, words)
	}
}

// Run reads all files before it lets the first job in, so that a bad file
// changes nothing, and keeps what they hold as it is stored; what is more than
// mostHeld it reads once more. Importing the same job or card again adds nothing.
func (c *importCommand) Run(o *outside) error {
	err := c.all(o)
	if c.JSON && (err == nil || len(c.done) > 0) {
		err = errors.Join(o.printJSON(append([]importResult{}, c.done...)), err)
	}
	return err
}

func (c *importCommand) all(o *outside) error {
	defer debug.SetGCPercent(debug.SetGCPercent(150)) // above, the room costs as much time as collecting saves
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(4 * mostHeld))
	files, known, err := c.readAll(o)
	if err == nil && len(files) > 0 {
		err = c.jobs(o, files)
	}
	if err != nil {
		return err
	}
	return c.keepCards(o, known)
}

func (c *importCommand) jobs(o *outside, files []incoming.Job) error {
	s, err := o.writeStore()
	if err != nil {
		return err
	}
	defer s.Close()
	all := jobRows(s)
	all.Begin()
	units, err := incoming.New(all, files)
	if err != nil {
		return err
	}
	return errors.Join(c.letIn(o, s, files, units), units.Close())
}

// mostHeld is how much of what was read is kept in memory: some twenty thousand jobs.
const mostHeld = 256 << 20 // bytes

// readAll reads all files, and leaves those of the jobs in Files; the first that is
// neither a job nor a card is the error.
func (c *importCommand) readAll(o *outside) (files []incoming.Job, known []cards.Named, err error) {
	held, jobs := 0, make([]string, 0, len(c.Files))
	bar := o.progress("reading", "files", "nothing was stored")
	defer bar.End()
	for i, f := range o.readJobs(c.Files, packed) {
		if err := bar.Step(i, len(c.Files)); err != nil {
			return nil, nil, err
		}
		if f.err != nil && cards.Is(c.Files[i]) {
			one, err := cards.Take(c.Files[i])
			if err != nil {
				return nil, nil, err
			}
			known = append(known, one)
			continue
		}
		if f.err != nil {
			return nil, nil, f.err
		}
		if f.notes.Unknowns > 0 {
			bar.Wipe()
		}
		f.tell(o)
		if held+f.in.Bytes <= mostHeld || !readable(c.Files[i]) {
			held += f.in.Bytes
		} else {
			f.in.Held = nil
		}
		files, jobs = append(files, f.in), append(jobs, c.Files[i])
	}
	c.Files = jobs
	return files, known, nil
}

// readable reports whether a file can be read twice: not standard input, nor a pipe.
func readable(file string) bool {
	info, err := os.Stat(file)
	return file != cli.StandardInput && err == nil && info.Mode().IsRegular()
}

// packed makes a job ready to be stored.
func packed(f *jobFile) (err error) {
	f.in, err = incoming.Take(f.job)
	return err
}

// groupFiles and groupBytes are what is stored together at most: one wait for the disk.
const (
	groupFiles = 256
	groupBytes = 4 << 20
)

// group is the jobs of some files, in order, up to one that could not be read.
type group struct {
	jobs []*store.Incoming
	err  error
}

// letIn stores the jobs of the files group by group.
func (c *importCommand) letIn(o *outside, s *store.Store, files []incoming.Job, units *incoming.Units) error {
	from, in := ahead.Groups(len(files), groupFiles, groupBytes, func(i int) int { return files[i].Bytes }), 0
	bars := *o
	if !c.JSON && look.IsTerminal(o.out) {
		bars.err = io.Discard // what became of each file is said there
	}
	bar := bars.progress("storing", "files", "those are stored; run it again to go on")
	defer bar.End()
	for k, g := range ahead.InOrder(len(from)-1, func(k int) group { return c.group(o, files, from[k], from[k+1]) }) {
		if err := units.Ready(from[k] + len(g.jobs)); err != nil {
			return cutOff(err, in)
		}
		jobs := make([]store.Incoming, len(g.jobs))
		for i, in := range g.jobs {
			jobs[i] = *in
		}
		done, err := s.ImportAll(jobs)
		for i, d := range done {
			words := fmt.Sprintf("job %s, %d new entries", text.Visible(d.ID), d.Entries)
			if d.Outcome == store.Discarded {
				words = fmt.Sprintf("job %s; to have it again: tundish discard --undo %s", text.Visible(d.ID), text.Visible(d.ID))
			}
			c.say(o, importResult{File: c.Files[in+i], Outcome: fmt.Sprint(d.Outcome), Job: d.ID, Entries: d.Entries}, words)
			units.Stored(in+i, d)
		}
		if in += len(done); err != nil {
			return cutOff(fmt.Errorf("%s: %w", c.Files[in], err), in)
		}
		if g.err != nil {
			return cutOff(g.err, in)
		}
		if err := bar.Step(in, len(c.Files)); err != nil && in < len(c.Files) {
			return err
		}
	}
	return nil
}

// group is the jobs of the files from one on and before another.
func (c *importCommand) group(o *outside, files []incoming.Job, from, to int) (g group) {
	for i := from; i < to; i++ {
		in := files[i].Held
		if in == nil {
			f := o.readJob(c.Files[i])
			if f.err == nil {
				f.err = packed(&f)
			}
			if f.err != nil {
				g.err = f.err
				return g
			}
			in = f.in.Held
			in.Head = headOf(f.job)
		}
		g.jobs = append(g.jobs, in)
	}
	return g
}

// cutOff is an error that came after a number of files had been imported.
func cutOff(err error, in int) error {
	if in == 0 {
		return err
	}
	return fmt.Errorf("%w; the %d files before it are in, and importing them again adds nothing", err, in)
}
