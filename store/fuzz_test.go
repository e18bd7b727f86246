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
)

// TestChecksum: 32 bytes of zeros have the CRC-32C 8a9136aa (RFC 3720, appendix
// B.4; from memory).
func TestChecksum(t *testing.T) {
	if got := lineSum(make([]byte, 32)); got != "8a9136aa" {
		t.Errorf("%s", got)
	}
}

// FuzzLine: a line that is accepted is written again as the same line.
func FuzzLine(f *testing.F) {
	job, head := jobOf(1, 3), headFor(jobOf(1, 3))
	for _, l := range []line{
		{Journal: journalVersion, Store: "a store"},
		{N: 1, Prev: "89abcdef", Job: job.ID, Started: &job.Started, Entries: job.Entries, Head: &head},
		{N: 2, Prev: "00000000", Job: job.ID, Entries: job.Entries[1:], Head: &head},
		{N: 4, Prev: "00000000", First: 3, Job: job.ID, Started: &job.Started, Head: &head},
	} {
		text, err := l.encode()
		must(f, err)
		f.Add(text)
		f.Add(text[:len(text)-1])
		f.Add(append(text, text...))
	}
	f.Add([]byte("{\"sum\":\"00000000\",\"rec\":}\n"))
	f.Fuzz(func(t *testing.T, text []byte) {
		l, sum, err := decodeLine(text)
		if err != nil {
			return
		}
		if l.check() != nil {
			return
		}
		again, err := l.encode()
		if err != nil {
			t.Fatalf("cannot be written: %v", err)
		}
		read, _, err := decodeLine(again)
		if err != nil || read.check() != nil || sum != textSum(text) {
			t.Fatalf("reads differently: %v", err)
		}
		if third, err := read.encode(); err != nil || !bytes.Equal(third, again) {
			t.Fatalf("is not stable:\n%s\n%s", again, third)
		}
	})
}

// FuzzRecord: a payload that is accepted as an entry is a valid entry.
func FuzzRecord(f *testing.F) {
	for seq := 1; seq < 5; seq++ {
		payload, err := json.Marshal(reading(1, seq))
		must(f, err)
		f.Add(seal(entriesBucket, entryKey(jobID(1), seq), payload), jobID(1), seq)
	}
	f.Add([]byte{}, "", 0)
	f.Add([]byte{1, 2, 3, 4, '{', '}'}, "x", 1)
	f.Fuzz(func(t *testing.T, value []byte, id string, seq int) {
		key := entryKey(id, seq)
		payload, err := unseal(entriesBucket, key, value)
		if err != nil {
			payload = value // as if the checksum had been forged
		} else if !bytes.Equal(seal(entriesBucket, key, payload), value) {
			t.Fatal("sealed differently")
		}
		if e, err := decodeEntry(seq, payload); err == nil && (e.Check() != nil || e.Seq != seq) {
			t.Fatalf("accepted %+v", e)
		}
	})
}

// FuzzPage: a page that is accepted has its elements in order and in itself.
func FuzzPage(f *testing.F) {
	path, _ := storeWith(f, 3, 40)
	file := read(f, path)
	for at := 2 * pageBytes; at < len(file); at += pageBytes {
		f.Add(file[at:at+pageBytes], uint64(at/pageBytes))
	}
	f.Fuzz(func(t *testing.T, buf []byte, id uint64) {
		p, used, err := parsePage(buf, id)
		if err != nil {
			return
		}
		if used > uint64(len(buf)) || p.id != id {
			t.Fatalf("uses %d of %d bytes", used, len(buf))
		}
		for i, e := range p.items {
			if len(e.key) == 0 || i > 0 && bytes.Compare(p.items[i-1].key, e.key) >= 0 {
				t.Fatalf("element %d is out of order", i)
			}
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
			known := errors.Is(err, ErrDamaged) || errors.Is(err, ErrForeign) || errors.Is(err, ErrNewer) || errors.Is(err, ErrOlder)
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
	if err != nil && !errors.Is(err, ErrDamaged) {
		t.Fatal(err)
	}
	for _, h := range heads {
		if _, err := s.Load(h.ID); err != nil && !errors.Is(err, ErrDamaged) {
			t.Fatal(err)
		}
	}
	err = s.Append(jobID(0), headFor(jobOf(0, 4)), reading(0, 4))
	if err != nil && !errors.Is(err, ErrDamaged) && !errors.Is(err, ErrNoJob) {
		t.Fatal(err)
	}
}
