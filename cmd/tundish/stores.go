package main

// This file finds and opens the store for the commands that need it.

import (
	"context"
	"errors"
	"fmt"
	"os"

	"github.com/alecthomas/kong"

	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/cmd/tundish/internal/rows"
	"garage/tundish/model/car"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/text"
	"garage/tundish/store"
	"garage/tundish/store/fault"
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
// to be repaired for that. One that is not there is made.
func (o *outside) writeStore() (*store.Store, error) {
	path, err := o.storePath()
	if err != nil {
		return nil, err
	}
	step, end := o.steps("")
	s, err := store.Open(path, store.Options{Step: step})
	if end(); err != nil {
		return nil, err
	}
	o.tell(s.Path(), s.Opening())
	if s.Opening().Rebuilt != "" {
		if err := o.jobRows(s).Complete(false); err != nil {
			return nil, errors.Join(err, s.Close())
		}
	}
	return s, nil
}

// repairMeanwhile has the journal verified while the store is in use. end ends that,
// and says what had to be repaired.
func (o *outside) repairMeanwhile(s *store.Store) (end func()) {
	did, looked := s.Opening(), make(chan struct{})
	ctx, stop := context.WithCancel(context.Background())
	go func() {
		defer close(looked)
		s.MendJournal(ctx)
	}()
	return func() {
		stop()
		<-looked
		if now := s.Opening(); now != did {
			o.tell(s.Path(), store.Opening{JournalMade: now.JournalMade, JournalAside: now.JournalAside, JournalBad: now.JournalBad})
		}
	}
}

// tell says on standard error what opening a store had to do beside opening it.
func (o *outside) tell(path string, did store.Opening) {
	for _, line := range did.Notes() {
		fmt.Fprintf(o.err, "tundish: %s: %s\n", text.Visible(path), text.Visible(line))
	}
}

// readStore opens the store to look into it; while the guide is open on it, what
// it had stored by now. One that must be brought up to date or repaired first is opened
// for writing.
func (o *outside) readStore() (*store.Store, error) {
	path, err := o.storePath()
	if err != nil {
		return nil, err
	}
	step, end := o.steps("")
	s, err := store.Open(path, store.Options{ReadOnly: true, Step: step})
	switch end(); {
	case errors.Is(err, fault.ErrOlder), errors.Is(err, fault.ErrReadOnly), errors.Is(err, fault.ErrDamaged):
		return o.writeStore()
	case err != nil:
		return nil, absentHint(err)
	case s.Opening().JournalBad != "": // opened for writing it is repaired, if it can be
		if err := s.Close(); err != nil {
			return nil, err
		}
		if repaired, err := o.writeStore(); err == nil || errors.Is(err, context.Canceled) {
			return repaired, err
		}
		if s, err = store.Open(path, store.Options{ReadOnly: true}); err != nil {
			return nil, err
		}
	}
	o.tell(s.Path(), s.Opening())
	return s, nil
}

// jobRows is a store with what lists show of its jobs.
func jobRows(s *store.Store) rows.Jobs {
	j := storeJournal{s}
	return rows.Jobs{Store: s, Fold: func(of rows.Key) ([]*guide.Guide, error) {
		if of.Unit != "" {
			return j.unit(of.Unit)
		}
		one, err := j.loaded(of.Job)
		if err != nil {
			return nil, err
		}
		return []*guide.Guide{one}, nil
	}}
}

// jobRows is as the function, and shows how far it has come.
func (o *outside) jobRows(s *store.Store) rows.Jobs {
	j := jobRows(s)
	j.Bar = o.progress
	return j
}

// noneYet reports whether an error means that there is no store because nobody has made
// one yet: nobody has named it either.
func (o *outside) noneYet(err error) bool {
	return errors.Is(err, fault.ErrAbsent) && o.storeFlag == "" && o.getenv(store.PathVariable) == ""
}

// absentHint adds what to do where there is no store.
func absentHint(err error) error {
	if errors.Is(err, fault.ErrAbsent) {
		return fmt.Errorf("%w, or start a job with: tundish", err)
	}
	return err
}

// headOf is the line in the list of a job that is the first of its unit, or whose
// unit is reindexed afterwards.
func headOf(job job.Job) guide.Head { return guide.Fold(job, guide.Offers{}).Head() }

// jobFlag names one job.
type jobFlag struct {
	Job string `arg:"" complete:"job" help:"Id of the job, the beginning of it, or last for the one last worked in the guide here."`
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

// jobOrCarFlag names one job, or the units of a car that are done in one go.
type jobOrCarFlag struct {
	Job string `arg:"" optional:"" complete:"job" help:"Id of the job, the beginning of it, or last for the one last worked in the guide here."`
	Car string `placeholder:"CAR" help:"All units that are done in one go: ${help_car}"`
}

// find opens the store and finds the job, or the units, of which there are none where a
// job is named. The caller closes the store.
func (f jobOrCarFlag) find(o *outside, k *kong.Context) (s *store.Store, id string, units car.Session, err error) {
	if (f.Job == "") == (f.Car == "") {
		return nil, "", car.Session{}, cli.Usage(k, errors.New("name a job, or a car with --car"))
	}
	if f.Car == "" {
		s, id, err = jobFlag{f.Job}.find(o)
		return s, id, car.Session{}, err
	}
	if s, err = o.readStore(); err != nil {
		return nil, "", car.Session{}, err
	}
	units, err = storeJournal{s}.carOf(f.Car)
	if err == nil && units.ID == "" {
		err = errNoUnits
	}
	if err != nil {
		return nil, "", car.Session{}, errors.Join(err, s.Close())
	}
	return s, "", units, nil
}
