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
	"garage/tundish/cmd/tundish/internal/look"
	"garage/tundish/cmd/tundish/internal/rows"
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
	known, jobs, err := cards.Take(c.Files)
	if err != nil {
		return err
	}
	if c.Files = jobs; len(jobs) > 0 {
		if err := c.jobs(o); err != nil {
			return err
		}
	}
	return c.keepCards(o, known)
}

func (c *importCommand) jobs(o *outside) error {
	defer debug.SetGCPercent(debug.SetGCPercent(400)) // collecting takes a quarter of the time else
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(4 * mostHeld))
	files, err := c.readAll(o)
	if err != nil {
		return err
	}
	s, err := o.writeStore()
	if err != nil {
		return err
	}
	defer s.Close()
	all := jobRows(s)
	all.Begin()
	units, err := c.letIn(o, s, files)
	return errors.Join(err, all.Remake(units.Sorted()))
}

// toLetIn is a file whose job is to be let in.
type toLetIn struct {
	held  *store.Incoming // nil: it is read once more
	bytes int             // of the job as it is stored
}

// mostHeld is how much of what was read is kept in memory: some twenty thousand jobs.
const mostHeld = 256 << 20 // bytes

// readAll reads all files; the first that is no job is the error.
func (c *importCommand) readAll(o *outside) (files []toLetIn, err error) {
	held := 0
	bar := o.progress("reading", "files", "nothing was stored")
	defer bar.End()
	for i, f := range o.readJobs(c.Files, packed) {
		if err := bar.Step(i, len(c.Files)); err != nil {
			return nil, err
		}
		if f.err != nil {
			return nil, f.err
		}
		if f.err != nil || f.notes.Unknowns > 0 {
			bar.Wipe()
		}
		f.tell(o)
		in := f.in
		files = append(files, toLetIn{bytes: in.Bytes()})
		if held+in.Bytes() <= mostHeld || !readable(c.Files[i]) {
			held += in.Bytes()
			files[i].held = &in
		}
	}
	return files, nil
}

// readable reports whether a file can be read twice: not standard input, nor a pipe.
func readable(file string) bool {
	info, err := os.Stat(file)
	return file != cli.StandardInput && err == nil && info.Mode().IsRegular()
}

// packed makes a job ready to be stored. Its head leaves out the unit's earlier jobs: some
// of them may be in a later file.
func packed(f *jobFile) error {
	f.in = store.Incoming{Job: f.job, Head: headOf(f.job)}
	return f.in.Pack()
}

// groupFiles and groupBytes are what is stored together at most: one wait for the disk.
const (
	groupFiles = 256
	groupBytes = 4 << 20
)

// group is the jobs of some files, in order, up to one that could not be read.
type group struct {
	jobs []store.Incoming
	err  error
}

// letIn stores the jobs of the files group by group. It returns the units of which there
// is something new.
func (c *importCommand) letIn(o *outside, s *store.Store, files []toLetIn) (units rows.Set, err error) {
	units = rows.Set{}
	from, in := ahead.Groups(len(files), groupFiles, groupBytes, func(i int) int { return files[i].bytes }), 0
	bars := *o
	if !c.JSON && look.IsTerminal(o.out) {
		bars.err = io.Discard // what became of each file is said there
	}
	bar := bars.progress("storing", "files", "those are stored; run it again to go on")
	defer bar.End()
	for k, g := range ahead.InOrder(len(from)-1, func(k int) group { return c.group(o, files, from[k], from[k+1]) }) {
		done, err := s.ImportAll(g.jobs)
		for i, d := range done {
			if d.Outcome != store.Unchanged && d.Outcome != store.Discarded {
				h := g.jobs[i].Head
				h.ID = d.ID
				units[rows.KeyOf(h)] = true
				if d.WasOf != "" {
					units[rows.Key{Unit: d.WasOf}] = true
				}
			}
			words := fmt.Sprintf("job %s, %d new entries", text.Visible(d.ID), d.Entries)
			if d.Outcome == store.Discarded {
				words = fmt.Sprintf("job %s; to have it again: tundish discard --undo %s", text.Visible(d.ID), text.Visible(d.ID))
			}
			c.say(o, importResult{File: c.Files[in+i], Outcome: fmt.Sprint(d.Outcome), Job: d.ID, Entries: d.Entries}, words)
		}
		if in += len(done); err != nil {
			return units, cutOff(fmt.Errorf("%s: %w", c.Files[in], err), in)
		}
		if g.err != nil {
			return units, cutOff(g.err, in)
		}
		for i := from[k]; i < from[k+1]; i++ {
			files[i].held = nil
		}
		if err := bar.Step(in, len(c.Files)); err != nil && in < len(c.Files) {
			return units, err
		}
	}
	return units, nil
}

// group is the jobs of the files from one on and before another.
func (c *importCommand) group(o *outside, files []toLetIn, from, to int) (g group) {
	for i := from; i < to; i++ {
		in := files[i].held
		if in == nil {
			f := o.readJob(c.Files[i])
			if f.err == nil {
				f.err = packed(&f)
			}
			if f.err != nil {
				g.err = f.err
				return g
			}
			in = &f.in
		}
		g.jobs = append(g.jobs, *in)
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
