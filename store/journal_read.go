package store

// This file reads a journal: its first line, the line at a place, what lies
// behind a place, and all of it.

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
)

// openJournal opens the file and gives its first line; a first line that
// cannot be read is given as none.
func openJournal(path string, writable bool) (j *journal, first line, err error) {
	how := os.O_RDONLY
	if writable {
		how = os.O_RDWR
	}
	info, err := os.Stat(path)
	if err != nil {
		return nil, line{}, err
	}
	if !info.Mode().IsRegular() {
		return nil, line{}, &Error{Kind: ErrNotFile, Path: path, Fact: "not a file", Next: "move it out of the way"}
	}
	f, err := os.OpenFile(path, how, 0)
	if err != nil {
		return nil, line{}, err
	}
	j = &journal{path: path, file: f, sizeBytes: info.Size()}
	err = j.scan(0, func(_ int64, text []byte) bool {
		if l, _, err := decodeLine(text); err == nil && l.N == 0 && l.check() == nil {
			first = l
		}
		return false
	})
	if err != nil {
		f.Close()
		return nil, line{}, err
	}
	return j, first, nil
}

// scan calls each for every line from an offset on, with its newline, until it
// says enough. Empty lines are left out; what is no line is given as it is.
func (j *journal) scan(from int64, each func(at int64, text []byte) (more bool)) error {
	r := bufio.NewReaderSize(io.NewSectionReader(j.file, from, j.sizeBytes-from), fillBytes)
	var text []byte
	for at := from; ; {
		piece, err := r.ReadSlice('\n')
		if len(text) < maxLineBytes { // more than that is no line; its rest need not be kept
			text = append(text, piece...)
		}
		at += int64(len(piece))
		switch {
		case errors.Is(err, bufio.ErrBufferFull):
			continue
		case err != nil && !errors.Is(err, io.EOF):
			return err
		}
		if len(bytes.TrimRight(text, "\n")) > 0 && !each(at-int64(len(text)), text) {
			return nil
		}
		if err != nil {
			return nil
		}
		text = text[:0]
	}
}

// tail is what lies behind a mark.
type tail struct {
	lines []line
	marks []mark // place behind each of the lines
	torn  bool   // behind them lie pieces of what was not accepted
	alien bool   // behind them lie whole lines that do not go on from there
}

// behind reads what lies behind a mark, after it has made sure that the line
// before is the one that the mark speaks of.
func (j *journal) behind(m mark) (t tail, fits bool, err error) {
	if m.Start < 0 || m.End <= m.Start || m.End > j.sizeBytes {
		return tail{}, false, nil
	}
	err = j.scan(m.Start, func(at int64, text []byte) bool {
		l, sum, err := decodeLine(text)
		switch {
		case !fits:
			fits = err == nil && at == m.Start && at+int64(len(text)) == m.End && l.N == m.N && sum == m.Sum
			return fits
		case err != nil:
			t.torn = true
		case !t.torn && at == m.End && m.follows(l) && l.check() == nil:
			m = m.after(text, l)
			t.lines, t.marks = append(t.lines, l), append(t.marks, m)
		case m.together(l) && l.check() == nil:
			t.torn = true // a line of theirs was never written, so they were not accepted
		default:
			t.alien = true
		}
		return true
	})
	return t, fits, err
}

// workedIn is the job that a journal last saw worked in the guide, line by line;
// empty where it saw none, or is not there.
func workedIn(path string) (id string, err error) {
	j, _, err := openJournal(path, false)
	if errors.Is(err, fs.ErrNotExist) {
		return "", nil
	}
	if err != nil {
		return "", err
	}
	defer j.file.Close()
	err = j.scan(0, func(_ int64, text []byte) bool {
		if l, _, err := decodeLine(text); err == nil && l.worked() {
			id = l.Job
		}
		return true
	})
	return id, err
}

// worked says whether a line shows that its job is worked in the guide.
func (l line) worked() bool {
	return l.N > 0 && l.Started == nil && l.First == 0 && !l.Merged
}

// journalState says what lies beside a store.
type journalState uint8

const (
	noJournal   journalState = iota
	bareJournal              // a first line and nothing else
	heldJournal              // lines, or what may have been lines
)

// journalBeside says whether a store's journal is there and holds anything.
func journalBeside(path string) journalState {
	j, first, err := openJournal(path+journalSuffix, false)
	if err != nil {
		return noJournal
	}
	defer j.file.Close()
	count := 0
	if err := j.scan(0, func(int64, []byte) bool { count++; return count < 2 }); err != nil {
		return heldJournal
	}
	switch {
	case count == 0:
		return noJournal
	case count == 1 && first.Journal > 0:
		return bareJournal
	}
	return heldJournal
}
