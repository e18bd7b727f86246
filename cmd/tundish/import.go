package main

// This file merges exported jobs into the store.

import (
	"fmt"
	"os"

	"garage/tundish/model"
	"garage/tundish/store"
)

type importCommand struct {
	Files []string `arg:"" name:"file" help:"Jobs as JSON, from: tundish summary JOB --format json. - is standard input."`
}

// Run reads all files before it lets the first job in, so that a bad file
// changes nothing, and then reads them again, so that however many they are
// only a few are in memory. Importing the same job again adds nothing.
func (c *importCommand) Run(o *outside) error {
	held := map[int]model.Job{} // jobs of what cannot be read twice: standard input, a pipe
	for i, read := range o.readJobs(c.Files) {
		if read.err != nil {
			return read.err
		}
		read.tell(o)
		if info, err := os.Stat(c.Files[i]); c.Files[i] == standardInput || err != nil || !info.Mode().IsRegular() {
			held[i] = read.job
		}
	}
	s, err := o.writeStore()
	if err != nil {
		return err
	}
	defer s.Close()
	return c.letIn(o, s, held)
}

// incoming is a job on its way into the store.
type incoming struct {
	store.Incoming
	err error
}

// groupEntries is how many entries are stored at once: some hundred kilobytes
// are worth a wait for the disk.
const groupEntries = 4000

// letIn reads the files and stores their jobs, as many at once as make a group.
func (c *importCommand) letIn(o *outside, s *store.Store, held map[int]model.Job) error {
	var group []store.Incoming
	in, entries := 0, 0
	for i, next := range inOrder(len(c.Files), func(i int) incoming {
		job, ok := held[i]
		if ok {
			return incoming{Incoming: store.Incoming{Job: job, Head: headOf(job)}}
		}
		read := o.readJob(c.Files[i])
		return incoming{store.Incoming{Job: read.job, Head: headOf(read.job)}, read.err}
	}) {
		if next.err == nil {
			group, entries = append(group, next.Incoming), entries+len(next.Job.Entries)
			if entries < groupEntries && i < len(c.Files)-1 {
				continue
			}
		}
		done, err := s.ImportAll(group)
		for k, d := range done {
			fmt.Fprintf(o.out, "%s: %v: job %s, %d new entries\n", visible(c.Files[in+k]), d.Outcome, visible(d.ID), d.Entries)
		}
		if in += len(done); err != nil {
			return cutOff(fmt.Errorf("%s: %w", c.Files[in], err), in)
		}
		if next.err != nil {
			return cutOff(next.err, in)
		}
		group, entries = group[:0], 0
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
