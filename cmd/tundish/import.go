package main

// This file merges exported jobs into the store.

import (
	"fmt"
	"io"
	"os"
	"strings"

	"garage/tundish/model"
	"garage/tundish/model/summary"
	"garage/tundish/store"
)

type importCommand struct {
	Files []string `arg:"" name:"file" help:"Jobs as JSON, from: tundish summary JOB --format json. - is standard input."`
}

// Run reads all files before it lets the first job in, so that a bad file
// changes nothing, and then reads them again one by one, so that however many
// they are only one is in memory. Importing the same job again adds nothing.
func (c *importCommand) Run(o *outside) error {
	held := map[int]model.Job{} // jobs of what cannot be read twice: standard input, a pipe
	for i, file := range c.Files {
		job, err := o.readJob(file)
		if err != nil {
			return err
		}
		if info, err := os.Stat(file); file == standardInput || err != nil || !info.Mode().IsRegular() {
			held[i] = job
		}
	}
	s, err := o.writeStore()
	if err != nil {
		return err
	}
	defer s.Close()
	quiet := *o
	quiet.err = io.Discard // what was left out of a file is said once
	for i, file := range c.Files {
		job, ok := held[i]
		if !ok {
			if job, err = quiet.readJob(file); err != nil {
				return cutOff(err, i)
			}
		}
		if err := o.letIn(s, file, job); err != nil {
			return cutOff(err, i)
		}
	}
	return nil
}

// cutOff is an error that came after so many files were in.
func cutOff(err error, in int) error {
	if in == 0 {
		return err
	}
	return fmt.Errorf("%w; the %d files before it are in, and importing them again adds nothing", err, in)
}

func (o *outside) letIn(s *store.Store, file string, job model.Job) error {
	done, err := s.Import(job, headOf(job))
	if err != nil {
		return fmt.Errorf("%s: %w", file, err)
	}
	fmt.Fprintf(o.out, "%s: %v: job %s, %d new entries\n", visible(file), done.Outcome, visible(done.ID), done.Entries)
	return nil
}

// readJob reads a job that a stranger may have written, and says on standard
// error what was left out of it.
func (o *outside) readJob(file string) (model.Job, error) {
	f, name, err := o.open(file)
	if err != nil {
		return model.Job{}, err
	}
	defer f.Close()
	job, notes, err := summary.ReadJSON(f)
	if err != nil {
		return model.Job{}, fmt.Errorf("%s: %w", name, err)
	}
	if notes.Unknowns > 0 {
		fmt.Fprintf(o.err, "tundish: %s: %d fields that this version does not know were left out: %s\n",
			visible(name), notes.Unknowns, visible(strings.Join(notes.UnknownFields, ", ")))
	}
	return job, nil
}
