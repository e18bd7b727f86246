package main

// This file reads files of exported jobs, however many.

import (
	"errors"
	"fmt"
	"iter"
	"slices"
	"strings"

	"garage/tundish/cmd/tundish/internal/ahead"
	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/cmd/tundish/internal/incoming"
	"garage/tundish/model/job"
	"garage/tundish/model/pool"
	"garage/tundish/model/report"
	"garage/tundish/model/text"
)

// jobFile is what was read of a file, which may be by anybody, and what was made of it.
type jobFile struct {
	name  string
	job   job.Job
	notes report.Notes
	err   error
	told  *pool.Told
	in    incoming.Job
}

// tell says on standard error what was left out of the file.
func (f jobFile) tell(o *outside) {
	if f.notes.Unknowns > 0 {
		fmt.Fprintf(o.err, "tundish: %s: %d fields that this version does not know were left out: %s\n",
			text.Visible(f.name), f.notes.Unknowns, text.Visible(strings.Join(f.notes.UnknownFields, ", ")))
	}
}

// readJobs reads files in order, and makes of each that is a job what is wanted, several
// side by side.
func (o *outside) readJobs(files []string, use func(*jobFile) error) iter.Seq2[int, jobFile] {
	first := slices.Index(files, cli.StandardInput)
	return ahead.InOrder(len(files), func(i int) jobFile {
		if files[i] == cli.StandardInput && first < i {
			return jobFile{err: errors.New("standard input can be read only once; name - once")}
		}
		f := o.readJob(files[i])
		if f.err == nil {
			if err := use(&f); err != nil {
				f.err = fmt.Errorf("%s: %w", f.name, err)
			}
		}
		return f
	})
}

func (o *outside) readJob(file string) jobFile {
	f, name, err := o.streams().Open(file)
	if err != nil {
		return jobFile{name: name, err: err}
	}
	defer f.Close()
	job, notes, err := report.ReadJSON(f)
	if err != nil {
		err = fmt.Errorf("%s: %w", name, err)
	}
	return jobFile{name: name, job: job, notes: notes, err: err}
}
