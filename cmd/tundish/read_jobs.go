package main

// This file reads files of exported jobs, however many.

import (
	"errors"
	"fmt"
	"iter"
	"runtime"
	"slices"
	"strings"

	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/model/job"
	"garage/tundish/model/report"
	"garage/tundish/model/text"
)

// jobFile is what was read of a file, which may be by anybody.
type jobFile struct {
	name  string
	job   job.Job
	notes report.Notes
	err   error
}

// tell says on standard error what was left out of the file.
func (f jobFile) tell(o *outside) {
	if f.notes.Unknowns > 0 {
		fmt.Fprintf(o.err, "tundish: %s: %d fields that this version does not know were left out: %s\n",
			text.Visible(f.name), f.notes.Unknowns, text.Visible(strings.Join(f.notes.UnknownFields, ", ")))
	}
}

// readJobs reads files in order.
func (o *outside) readJobs(files []string) iter.Seq2[int, jobFile] {
	return inOrder(len(files), func(i int) jobFile {
		if files[i] == cli.StandardInput && slices.Index(files, cli.StandardInput) < i {
			return jobFile{err: errors.New("standard input can be read only once; name - once")}
		}
		return o.readJob(files[i])
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
	return jobFile{name, job, notes, err}
}

// inOrder runs fn count times on all processors, results in order. Only a few
// results wait to be taken.
func inOrder[T any](count int, fn func(i int) T) iter.Seq2[int, T] {
	return func(yield func(int, T) bool) {
		ahead := make(chan chan T, runtime.GOMAXPROCS(0)-1)
		stop := make(chan struct{})
		defer close(stop)
		go func() {
			defer close(ahead)
			for i := range count {
				result := make(chan T, 1)
				select {
				case ahead <- result:
				case <-stop:
					return
				}
				go func() { result <- fn(i) }()
			}
		}()
		i := 0
		for result := range ahead {
			if !yield(i, <-result) {
				return
			}
			i++
		}
	}
}
