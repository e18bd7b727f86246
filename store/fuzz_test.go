package store

// This file feeds anything to what reads files: nothing may panic, and what is
// read must be what would be written.

import (
	"bytes"
	"encoding/json"
	"errors"
	"os"
	"path/filepath"
	"slices"
	"testing"

	"garage/tundish/store/fault"
	"garage/tundish/store/record"
)

// FuzzRecord: a payload that is accepted as an entry is a valid entry.
func FuzzRecord(f *testing.F) {
	for seq := 1; seq < 5; seq++ {
		payload, err := json.Marshal(reading(1, seq))
		must(f, err)
		f.Add(record.Seal(record.Entries, record.EntryKey(jobID(1), seq), payload), jobID(1), seq)
	}
	f.Add([]byte{}, "", 0)
	f.Add([]byte{1, 2, 3, 4, '{', '}'}, "x", 1)
	f.Fuzz(func(t *testing.T, value []byte, id string, seq int) {
		key := record.EntryKey(id, seq)
		payload, err := record.Unseal(record.Entries, key, value)
		if err != nil {
			payload = value // as if the checksum had been forged
		} else if !bytes.Equal(record.Seal(record.Entries, key, payload), value) {
			t.Fatal("sealed differently")
		}
		if e, err := record.DecodeEntry(seq, payload); err == nil && (e.Check() != nil || e.Seq != seq) {
			t.Fatalf("accepted %+v", e)
		}
	})
}

// FuzzFile: a store with any bytes changed, and cut anywhere, opens or is
// refused with one of the errors of opening, and a refused one stays as it was.
// Each four bytes of edits are a page, a place in it and a value.
func FuzzFile(f *testing.F) {
	path, _ := storeWith(f, 3, 30)
	whole := read(f, path)
	f.Add([]byte{}, len(whole))
	f.Add([]byte{0, 0, 16, 0, 1, 0, 16, 0}, len(whole))
	f.Add([]byte{3, 0, 8, 1, 4, 0, 10, 255}, len(whole))
	f.Add([]byte{5, 0, 12, 255}, 3*pageBytes)
	f.Fuzz(func(t *testing.T, edits []byte, length int) {
		file := bytes.Clone(whole[:max(0, min(length, len(whole)))])
		for e := range slices.Chunk(edits, 4) {
			if len(e) < 4 {
				break
			}
			if at := int(e[0])%16*pageBytes + (int(e[1])<<8+int(e[2]))%pageBytes; at < len(file) {
				file[at] = e[3]
			}
		}
		name := filepath.Join(memory(t), "any.db")
		write(t, name, file)
		s, err := Open(name, Options{noSync: true, noSurvey: len(edits)%8 == 0})
		if err != nil {
			known := errors.Is(err, fault.ErrDamaged) || errors.Is(err, fault.ErrForeign) || errors.Is(err, fault.ErrNewer) ||
				errors.Is(err, fault.ErrOlder)
			if now, _ := os.ReadFile(name); !known || !bytes.Equal(now, file) {
				t.Fatalf("refused with %v", err)
			}
			return
		}
		defer s.Close()
		useAll(t, s)
	})
}

// useAll lists, loads and appends: each must work or say that it is damaged.
func useAll(t *testing.T, s *Store) {
	t.Helper()
	heads, _, err := s.List(ListOptions{})
	if err != nil && !errors.Is(err, fault.ErrDamaged) {
		t.Fatal(err)
	}
	for _, h := range heads {
		if _, err := s.Load(h.ID); err != nil && !errors.Is(err, fault.ErrDamaged) {
			t.Fatal(err)
		}
	}
	err = s.Append(jobID(0), headFor(jobOf(0, 4)), reading(0, 4))
	if err != nil && !errors.Is(err, fault.ErrDamaged) && !errors.Is(err, fault.ErrNoJob) {
		t.Fatal(err)
	}
}
