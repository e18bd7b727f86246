package main

// This file merges exported jobs into the store.

import (
	"fmt"
	"strings"

	"garage/tundish/model"
	"garage/tundish/model/summary"
)

type importCommand struct {
	Files []string `arg:"" name:"file" help:"Jobs as JSON, from: tundish summary JOB --format json. - is standard input."`
}

// Run reads all files before it lets the first job in, so that a bad file
// changes nothing. Importing the same job again adds nothing.
func (c *importCommand) Run(o *outside) error {
	var jobs []model.Job
	for _, file := range c.Files {
		job, err := o.readJob(file)
		if err != nil {
			return err
		}
		jobs = append(jobs, job)
	}
	s, err := o.writeStore()
	if err != nil {
		return err
	}
	defer s.Close()
	for i, job := range jobs {
		done, err := s.Import(job, headOf(job))
		if err != nil {
			return fmt.Errorf("%s: %w", c.Files[i], err)
		}
		fmt.Fprintf(o.out, "%s: %v: job %s, %d new entries\n", visible(c.Files[i]), done.Outcome, visible(done.ID), done.Entries)
	}
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
