package store

// This file stops what takes long at one step after the other, and looks at what is left.

import (
	"context"
	"errors"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"garage/tundish/store/fault"
	"garage/tundish/store/steps"
)

// folder is what the files of a folder hold.
func folder(t *testing.T, path string) map[string]string {
	t.Helper()
	all := map[string]string{}
	names, err := os.ReadDir(path)
	must(t, err)
	for _, e := range names {
		all[e.Name()] = string(read(t, filepath.Join(path, e.Name())))
	}
	return all
}

// stopAt ends work at its step n, and notes what the steps before it were of.
func stopAt(n int, seen map[steps.Kind]bool) steps.Func {
	return func(k steps.Kind, done, total int) error {
		if seen[k] = true; n == 0 {
			return context.Canceled
		}
		n--
		return nil
	}
}

// opens opens a store, and closes it again.
func opens(path string, step steps.Func) error {
	s, err := Open(path, Options{Step: step})
	if err != nil {
		return err
	}
	return s.Close()
}

// Wherever it is stopped, all files are as they were before.
func TestWhatIsStoppedChangesNothing(t *testing.T) {
	for name, c := range map[string]struct {
		spoil func(t *testing.T, path string)
		do    func(path string, step steps.Func) error
		kinds []steps.Kind
	}{
		"backup": {nil, func(path string, step steps.Func) error {
			s, err := Open(path, Options{ReadOnly: true})
			if err != nil {
				return err
			}
			return errors.Join(s.Backup(path+".copy", false, nil, step), s.Close())
		}, []steps.Kind{steps.Copying, steps.Looking}},
		"verify": {nil, func(path string, step steps.Func) error {
			_, err := Verify(path, step)
			return err
		}, []steps.Kind{steps.Verifying}},
		"repair": {nil, func(path string, step steps.Func) error {
			_, err := Repair(path, path+".new", headFor, step)
			return err
		}, []steps.Kind{steps.Reading, steps.Writing}},
		"opening without the journal": {func(t *testing.T, path string) { must(t, os.Remove(path+journalSuffix)) }, opens,
			[]steps.Kind{steps.Journaling}},
		"opening a damaged one": {func(t *testing.T, path string) {
			b := read(t, path)
			clearBytes(b[len(b)/2:])
			write(t, path, b)
		}, opens, []steps.Kind{steps.Reading, steps.Writing}},
	} {
		path, _ := storeWith(t, 3, 40, 0, 7)
		if c.spoil != nil {
			c.spoil(t, path)
		}
		before, seen := folder(t, filepath.Dir(path)), map[steps.Kind]bool{}
		for n := 0; ; n += 1 + n/4 {
			err := c.do(path, stopAt(n, seen))
			if err == nil {
				break // it came to its end
			}
			if !errors.Is(err, context.Canceled) {
				t.Fatalf("%s, stopped at step %d: %v", name, n, err)
			}
			if after := folder(t, filepath.Dir(path)); !maps.Equal(before, after) {
				t.Fatalf("%s, stopped at step %d: there are %v, before there were %v", name, n, slices.Sorted(maps.Keys(after)),
					slices.Sorted(maps.Keys(before)))
			}
		}
		if got := slices.Sorted(maps.Keys(seen)); !slices.Equal(got, c.kinds) {
			t.Errorf("%s: steps of %v, want %v", name, got, c.kinds)
		}
		if err := opens(path, nil); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Lines of the journal that were taken up stay so, and the next opening goes on.
func TestStoppedWhileLinesAreTakenUp(t *testing.T) {
	path, j := behind(t, 20)
	const taken = 5
	seen := map[steps.Kind]bool{}
	looked := 0
	stop := func(k steps.Kind, done, total int) error {
		if seen[k] = true; k != steps.TakingUp {
			return nil
		}
		if looked++; done == taken {
			return context.Canceled
		}
		if total != 21 {
			t.Errorf("%d lines in all", total)
		}
		return nil
	}
	if _, err := Open(path, Options{Step: stop}); !errors.Is(err, context.Canceled) || looked != taken+1 {
		t.Fatalf("%v after %d", err, looked)
	}
	s := open(t, path, Options{})
	if s.Opening() != (Opening{Replayed: 21 - taken}) {
		t.Errorf("%+v", s.Opening())
	}
	if got, err := s.Load(j.ID); err != nil || !sameJob(got, j) {
		t.Errorf("%+v, %v", got, err)
	}
}

// What reads beside another window does not try again where it is stopped.
func TestStoppedBesideAWriter(t *testing.T) {
	path, _ := storeWith(t, 3)
	open(t, path, Options{})
	times := 0
	_, err := Open(path, Options{ReadOnly: true, Step: func(steps.Kind, int, int) error { times++; return context.Canceled }})
	if !errors.Is(err, context.Canceled) || errors.Is(err, fault.ErrLocked) || times != 1 {
		t.Errorf("%v after %d", err, times)
	}
}
