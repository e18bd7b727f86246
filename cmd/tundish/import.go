package main

// This file merges exported jobs into the store.

import (
	"errors"
	"fmt"
	"maps"
	"os"
	"slices"

	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/model/job"
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
// changes nothing, and then reads them again, so that however many they are
// only a few are in memory. Importing the same job or card again adds nothing.
func (c *importCommand) Run(o *outside) error {
	err := c.all(o)
	if c.JSON && (err == nil || len(c.done) > 0) {
		err = errors.Join(o.printJSON(append([]importResult{}, c.done...)), err)
	}
	return err
}

func (c *importCommand) all(o *outside) error {
	cards, jobs, err := takeCards(c.Files)
	if err != nil {
		return err
	}
	if c.Files = jobs; len(jobs) > 0 {
		if err := c.jobs(o); err != nil {
			return err
		}
	}
	return c.keepCards(o, cards)
}

func (c *importCommand) jobs(o *outside) error {
	held := map[int]job.Job{} // jobs of what cannot be read twice: standard input, a pipe
	for i, read := range o.readJobs(c.Files) {
		if read.err != nil {
			return read.err
		}
		read.tell(o)
		if info, err := os.Stat(c.Files[i]); c.Files[i] == cli.StandardInput || err != nil || !info.Mode().IsRegular() {
			held[i] = read.job
		}
	}
	s, err := o.writeStore()
	if err != nil {
		return err
	}
	defer s.Close()
	units, err := c.letIn(o, s, held)
	for _, key := range slices.Sorted(maps.Keys(units)) {
		err = errors.Join(err, storeJournal{s}.reindex(key))
	}
	return err
}

// groupFiles is how many files are read together, while those before them are
// stored together: enough for one wait for the disk.
const groupFiles = 32

// group is the jobs of some files, in order, up to one that could not be read.
type group struct {
	jobs []store.Incoming
	err  error
}

// letIn reads the files in groups and stores their jobs, the heads of which leave
// out the unit's earlier jobs: some of them may be in a later file. It returns the
// units of which there is something new.
func (c *importCommand) letIn(o *outside, s *store.Store, held map[int]job.Job) (units map[string]bool, err error) {
	units = map[string]bool{}
	in := 0
	for _, g := range inOrder((len(c.Files)+groupFiles-1)/groupFiles, func(k int) group {
		return c.group(o, k*groupFiles, held)
	}) {
		done, err := s.ImportAll(g.jobs)
		for i, d := range done {
			if key := unitOf(g.jobs[i].Head); key != "" && d.Outcome != store.Unchanged && d.Outcome != store.Discarded {
				units[key] = true
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
	}
	return units, nil
}

// group reads the files from one on.
func (c *importCommand) group(o *outside, from int, held map[int]job.Job) (g group) {
	for i := from; i < min(from+groupFiles, len(c.Files)); i++ {
		job, ok := held[i]
		if !ok {
			read := o.readJob(c.Files[i])
			if read.err != nil {
				g.err = read.err
				return g
			}
			job = read.job
		}
		g.jobs = append(g.jobs, store.Incoming{Job: job, Head: headOf(job)})
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
