package store

// This file tests lists that several goroutines read.

import (
	"errors"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"go.etcd.io/bbolt"

	"garage/tundish/store/fault"
	"garage/tundish/store/record"
)

func TestLongListsAreInOrderAndTellOfDamage(t *testing.T) {
	const count = 2*headsAtOnce + 100
	path := filepath.Join(memory(t), "jobs.db")
	s, err := Open(path, Options{noSync: true})
	must(t, err)
	var in []Incoming
	for n := range count {
		j := jobOf(n, 1)
		in = append(in, Incoming{Job: j, Head: headFor(j)})
	}
	slices.Reverse(in) // they are let in in another order than their ids
	_, err = s.ImportAll(in)
	must(t, err)
	heads, _, err := s.List(ListOptions{})
	must(t, err)
	if len(heads) != count {
		t.Fatalf("%d jobs are listed, want %d", len(heads), count)
	}
	for i, h := range heads {
		if want := jobID(count - 1 - i); h.ID != want {
			t.Fatalf("job %d of the list is %s, want %s", i, h.ID, want)
		}
	}
	must(t, s.Close())

	for _, n := range []int{0, count / 2, count - 1} { // of the first goroutine, in the middle, of the last
		flip := func(tx *bbolt.Tx) error {
			b := tx.Bucket([]byte(record.Jobs))
			r := slices.Clone(b.Get([]byte(jobID(n))))
			r[len(r)/2] ^= 1
			return b.Put([]byte(jobID(n)), r)
		}
		edited(t, path, flip)
		if err := readHeads(t, path); !errors.Is(err, fault.ErrDamaged) {
			t.Errorf("job %d is damaged, and the list says %v", n, err)
		}
		edited(t, path, flip)
		must(t, readHeads(t, path))
	}
}

// readHeads reads the heads of all jobs, as List does of a store that an opening did not
// look through.
func readHeads(t *testing.T, path string) error {
	t.Helper()
	f, err := os.Open(path)
	must(t, err)
	defer f.Close()
	state, err := snap(path, f)
	must(t, err)
	var keys [][]byte
	for e, err := range state.Records(record.Started, nil, true) {
		must(t, err)
		keys = append(keys, e.Key)
	}
	_, err = state.headsAt(record.Started, keys, 0)
	return err
}
