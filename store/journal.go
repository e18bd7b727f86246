package store

// This file writes the journal: adding a line, taking the last one back,
// writing all of it anew. Behind the last line the file is filled with empty
// lines, so that most syncs need not write the file's size, and a line can be
// taken back without asking a full disk for room.

import (
	"bytes"
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strconv"

	"garage/tundish/model/job"
)

// journalSuffix makes the journal's name from the store's.
const journalSuffix = ".journal"

const fillBytes = 16 << 10 // the file grows by so much

// journal is an open journal.
type journal struct {
	path      string
	file      *os.File
	mark      mark
	sizeBytes int64
	flush     func(*os.File) error // makes what was written durable
}

// clean makes the rest of the file behind the mark empty lines.
func (j *journal) clean() error {
	if _, err := j.file.WriteAt(emptyLines(j.sizeBytes-j.mark.End), j.mark.End); err != nil {
		return err
	}
	return j.sync()
}

func emptyLines(n int64) []byte { return bytes.Repeat([]byte{'\n'}, int(max(n, 0))) }

func (j *journal) sync() error { return j.flush(j.file) }

// flushFor is syncData, or nothing while a new file is filled.
func flushFor(noSync bool) func(*os.File) error {
	if noSync {
		return func(*os.File) error { return nil }
	}
	return syncData
}

// place is where the journal stands: what takeBack goes back to.
type place struct {
	mark      mark
	sizeBytes int64
}

func (j *journal) place() place { return place{j.mark, j.sizeBytes} }

// add writes the text of the next lines behind the last one, up to a mark; sync
// makes them durable. On an error the caller takes back what may be there of it.
func (j *journal) add(text []byte, to mark) error {
	at := j.mark.End
	j.mark = to
	return j.write(text, at)
}

// write puts lines in their place, and fills the file up where it has to grow.
// Where there is no room for the filling the lines alone may still go in.
func (j *journal) write(text []byte, at int64) error {
	end := at + int64(len(text))
	if end <= j.sizeBytes {
		_, err := j.file.WriteAt(text, at)
		return err
	}
	grown := (end/fillBytes + 1) * fillBytes
	filled := append(append(make([]byte, 0, grown-at), text...), emptyLines(grown-end)...)
	n, err := j.file.WriteAt(filled, at)
	if err != nil && outOfRoom(err) && n >= len(text) {
		err = nil
	}
	j.sizeBytes = max(j.sizeBytes, at+int64(n))
	return err
}

// takeBack takes out all that was added since.
func (j *journal) takeBack(to place) error {
	if j.sizeBytes > to.sizeBytes {
		if err := j.file.Truncate(to.sizeBytes); err != nil {
			return err
		}
	}
	end := min(j.mark.End, to.sizeBytes)
	if _, err := j.file.WriteAt(emptyLines(end-to.mark.End), to.mark.End); err != nil {
		return err
	}
	j.mark, j.sizeBytes = to.mark, to.sizeBytes
	return j.sync()
}

// writeJournal writes the journal of a state: a first line and one for each
// job. It is made under another name and put in its place whole. It gives the
// place behind the last line.
func writeJournal(path string, state snapshot) (m mark, err error) {
	f, err := os.OpenFile(path+".new", os.O_RDWR|os.O_CREATE|os.O_TRUNC, fileMode)
	if err != nil {
		return mark{}, err
	}
	defer os.Remove(f.Name())
	j := &journal{path: path, file: f}
	if err = j.fill(state); err == nil {
		err = f.Sync()
	}
	if err = errors.Join(err, f.Close()); err != nil {
		return mark{}, err
	}
	if err := os.Rename(f.Name(), path); err != nil {
		return mark{}, err
	}
	return j.mark, syncFolder(filepath.Dir(path))
}

func (j *journal) fill(state snapshot) error {
	id, err := state.storeID()
	if err != nil {
		return err
	}
	j.mark.N = -1
	if err := j.addLine(line{Journal: journalVersion, Store: id}); err != nil {
		return err
	}
	worked, err := state.worked()
	if err != nil {
		return err
	}
	return state.eachJob(func(job job.Job, r jobRecord) error {
		return j.addLine(line{Job: job.ID, Started: &job.Started, Entries: job.Entries, Head: &r.Head, Merged: job.ID != worked})
	})
}

func (j *journal) addLine(l line) error {
	text, m, err := j.mark.next(&l)
	if err != nil {
		return err
	}
	return j.add(text, m)
}

// still says whether the file at the journal's path is still this one.
func (j *journal) still() bool { return sameFile(j.path, j.file) }

func sameFile(path string, f *os.File) bool {
	there, err := os.Stat(path)
	if err != nil {
		return false
	}
	here, err := f.Stat()
	return err == nil && os.SameFile(there, here)
}

// setAside gives the file another name, beside its own, and tells it.
func setAside(path string) (aside string, err error) {
	for k := 1; ; k++ {
		aside = path + ".aside-" + strconv.Itoa(k)
		if _, err := os.Lstat(aside); errors.Is(err, fs.ErrNotExist) {
			return aside, os.Rename(path, aside)
		} else if err != nil {
			return "", err
		}
	}
}
