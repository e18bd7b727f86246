package main

// This file finds and opens the store for the commands that need it.

import (
	"errors"
	"fmt"
	"os"

	"garage/tundish/model"
	"garage/tundish/store"
)

// storePath is the file that holds the jobs: --store, else as package store
// says.
func (o *outside) storePath() (string, error) {
	if o.storeFlag != "" {
		return o.storeFlag, nil
	}
	home, err := os.UserHomeDir()
	if err != nil {
		home = "" // DefaultPath says what to do without
	}
	return store.DefaultPath(o.getenv, home)
}

// writeStore opens the store for writing, and says on standard error what had
// to be mended for that. One that is not there is made.
func (o *outside) writeStore() (*store.Store, error) {
	path, err := o.storePath()
	if err != nil {
		return nil, err
	}
	s, err := store.Open(path, store.Options{})
	if err != nil {
		return nil, err
	}
	for _, line := range openingNotes(s.Opening()) {
		fmt.Fprintf(o.err, "tundish: %s: %s\n", visible(s.Path()), visible(line))
	}
	return s, nil
}

// readStore opens the store to look into it. One that must be brought up to
// date first is opened for writing.
func (o *outside) readStore() (*store.Store, error) {
	path, err := o.storePath()
	if err != nil {
		return nil, err
	}
	s, err := store.Open(path, store.Options{ReadOnly: true})
	if errors.Is(err, store.ErrOlder) || errors.Is(err, store.ErrReadOnly) {
		return o.writeStore()
	}
	return s, absentHint(err)
}

// absentHint adds what to do where there is no store.
func absentHint(err error) error {
	if errors.Is(err, store.ErrAbsent) {
		return fmt.Errorf("%w, or start a job with: tundish", err)
	}
	return err
}

// openingNotes are what opening a store had to do beside opening it.
func openingNotes(did store.Opening) []string {
	var notes []string
	if did.Replayed > 0 {
		notes = append(notes, fmt.Sprintf("%d line(s) of the journal had not reached the store when the program was cut off; they are in it now", did.Replayed))
	}
	if did.TornTailTaken {
		notes = append(notes, "a line that was cut off in the writing was taken out of the journal; it had not been accepted")
	}
	if did.JournalMade != "" {
		note := "the journal was written anew: " + did.JournalMade
		if did.JournalAside != "" {
			note += "; the old one is " + did.JournalAside
		}
		notes = append(notes, note)
	}
	if did.SchemaBackup != "" {
		notes = append(notes, fmt.Sprintf("brought up to date from schema %d; the file as it was is %s", did.MigratedFrom, did.SchemaBackup))
	}
	return notes
}

// headOf is a job's line in the list.
func headOf(job model.Job) model.Head { return model.Fold(job, model.Offers{}).Head() }

// jobFlag names one job.
type jobFlag struct {
	Job string `arg:"" help:"Id of the job, the beginning of it, or last for the one changed last."`
}

// find opens the store and finds the job. The caller closes the store.
func (f jobFlag) find(o *outside) (s *store.Store, id string, err error) {
	if s, err = o.readStore(); err != nil {
		return nil, "", err
	}
	if id, err = s.Find(f.Job); err != nil {
		return nil, "", errors.Join(err, s.Close())
	}
	return s, id, nil
}
