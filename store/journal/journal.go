package journal

// This file writes a journal: adding lines, taking the last ones back, writing all
// of it anew. Behind the last line the file is filled with empty lines, so that
// most syncs need not write the file's size, and a line can be taken back without
// asking a full disk for room. And it reads a journal: its lines from a place on.

import (
	"bufio"
	"bytes"
	"errors"
	"io"
	"iter"
	"os"

	"garage/tundish/store/disk"
)

// Suffix makes the journal's name from the store's.
const Suffix = ".journal"

const fillBytes = 16 << 10 // the file grows by so much

// ErrNotFile is the error of a journal that is a folder, or no ordinary file.
var ErrNotFile = errors.New("not a file")

// Journal is an open journal.
type Journal struct {
	Place
	Path  string
	Flush func(*os.File) error // makes what was written durable; disk.SyncData as a rule
	file  *os.File
}

// Place is where the journal stands: what TakeBack goes back to.
type Place struct {
	Mark      Mark
	sizeBytes int64
}

// Open opens the file and gives its first line; a first line that
// cannot be read is given as none.
func Open(path string, writable bool) (j *Journal, first Line, err error) {
	how := os.O_RDONLY
	if writable {
		how = os.O_RDWR
	}
	info, err := os.Stat(path)
	if err != nil {
		return nil, Line{}, err
	}
	if !info.Mode().IsRegular() {
		return nil, Line{}, ErrNotFile
	}
	f, err := os.OpenFile(path, how, 0)
	if err != nil {
		return nil, Line{}, err
	}
	j = &Journal{Path: path, Flush: disk.SyncData, file: f, Place: Place{sizeBytes: info.Size()}}
	for l, err := range j.Lines(0) {
		if err != nil {
			f.Close()
			return nil, Line{}, err
		}
		if l.Bad == nil && l.N == 0 {
			first = l.Line
		}
		break
	}
	return j, first, nil
}

// Moved reports whether the file at the journal's path is no longer this one.
func (j *Journal) Moved() bool { return !disk.IsAt(j.Path, j.file) }

// Close closes the file.
func (j *Journal) Close() error { return j.file.Close() }

// Sync makes durable what was added.
func (j *Journal) Sync() error { return j.Flush(j.file) }

// Add writes the text of the next lines behind the last one, up to a mark, and
// fills the file up where it has to grow; Sync makes them durable. Where there is
// no room for the filling the lines alone may still go in. On an error the caller
// takes back what may be there of them.
func (j *Journal) Add(text []byte, to Mark) error {
	at, end := j.Mark.End, j.Mark.End+int64(len(text))
	j.Mark = to
	if end <= j.sizeBytes {
		_, err := j.file.WriteAt(text, at)
		return err
	}
	grown := (end/fillBytes + 1) * fillBytes
	filled := append(append(make([]byte, 0, grown-at), text...), emptyLines(grown-end)...)
	n, err := j.file.WriteAt(filled, at)
	if err != nil && disk.IsFull(err) && n >= len(text) {
		err = nil
	}
	j.sizeBytes = max(j.sizeBytes, at+int64(n))
	return err
}

func emptyLines(n int64) []byte { return bytes.Repeat([]byte{'\n'}, int(max(n, 0))) }

// TakeBack takes out all that was added since.
func (j *Journal) TakeBack(to Place) error {
	if j.sizeBytes > to.sizeBytes {
		if err := j.file.Truncate(to.sizeBytes); err != nil {
			return err
		}
	}
	end := min(j.Mark.End, to.sizeBytes)
	j.Place = to
	return j.clean(end)
}

// Clean takes out all that lies behind the mark.
func (j *Journal) Clean() error { return j.clean(j.sizeBytes) }

// clean makes the file from the mark up to an end empty lines.
func (j *Journal) clean(end int64) error {
	if _, err := j.file.WriteAt(emptyLines(end-j.Mark.End), j.Mark.End); err != nil {
		return err
	}
	return j.Sync()
}

// Write writes a journal of lines anew and puts it in its place whole. It returns
// the mark behind the last line.
func Write(path string, lines iter.Seq2[Line, error]) (m Mark, err error) {
	err = disk.WriteWhole(path, disk.Replace, func(f *os.File) error {
		j := &Journal{Path: path, file: f, Place: Place{Mark: Mark{N: -1}}}
		for l, err := range lines {
			if err != nil {
				return err
			}
			text, to, err := j.Mark.Next(&l)
			if err == nil {
				err = j.Add(text, to)
			}
			if err != nil {
				return err
			}
		}
		m = j.Mark
		return nil
	})
	return m, err
}

// ReadLine is a line as it stands in a journal's file.
type ReadLine struct {
	Line
	At, end int64
	Sum     string // empty where the checksum does not fit
	Bad     error  // why it cannot stand in a journal
}

// Lines returns the lines from an offset on; empty ones are left out. An error of
// the disk ends it.
func (j *Journal) Lines(from int64) iter.Seq2[ReadLine, error] {
	return func(yield func(ReadLine, error) bool) {
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
				yield(ReadLine{}, err)
				return
			}
			if len(bytes.TrimRight(text, "\n")) > 0 {
				l := ReadLine{At: at - int64(len(text)), end: at}
				if l.Line, l.Sum, l.Bad = decodeLine(text); l.Bad == nil {
					l.Bad = l.Check()
				}
				if !yield(l, nil) {
					return
				}
			}
			if err != nil {
				return
			}
			text = text[:0]
		}
	}
}

// UpTo returns the journal as if it ended at an offset.
func (j *Journal) UpTo(end int64) *Journal {
	cut := *j
	cut.sizeBytes = min(j.sizeBytes, end)
	return &cut
}

// Tail is what lies behind a mark.
type Tail struct {
	Lines []Line
	Marks []Mark // place behind each of the lines
	Torn  bool   // behind them lie pieces of what was not accepted
	Alien bool   // behind them lie whole lines that do not go on from there
}

// Behind reads what lies behind a mark, after it has made sure that the line
// before is the one that the mark speaks of.
func (j *Journal) Behind(m Mark) (t Tail, fits bool, err error) {
	if m.Start < 0 || m.End <= m.Start || m.End > j.sizeBytes {
		return Tail{}, false, nil
	}
	for l, err := range j.Lines(m.Start) {
		switch {
		case err != nil:
			return Tail{}, false, err
		case !fits:
			if fits = l.IsAt(m); !fits {
				return Tail{}, false, nil
			}
		case l.Sum == "":
			t.Torn = true
		case !t.Torn && l.At == m.End && m.Follows(l.Line) && l.Bad == nil:
			m = m.after(l.end, l.Sum, l.Line)
			t.Lines, t.Marks = append(t.Lines, l.Line), append(t.Marks, m)
		case m.together(l.Line) && l.Bad == nil:
			t.Torn = true // a line of theirs was never written, so they were not accepted
		default:
			t.Alien = true
		}
	}
	return t, fits, nil
}

// IsAt reports whether a line is the one that a mark speaks of.
func (l ReadLine) IsAt(m Mark) bool {
	return l.At == m.Start && l.end == m.End && l.N == m.N && l.Sum == m.Sum
}

// State is what lies beside a store.
type State uint8

// The states.
const (
	None State = iota
	Bare       // a first line and nothing else
	Held       // lines, or what may have been lines
)

// Beside reports whether the journal of the store at a path is there and holds
// anything.
func Beside(path string) State {
	j, first, err := Open(path+Suffix, false)
	if err != nil {
		return None
	}
	defer j.file.Close()
	count := 0
	for _, err := range j.Lines(0) {
		if count++; err != nil || count == 2 {
			return Held
		}
	}
	switch {
	case count == 0:
		return None
	case first.Journal > 0:
		return Bare
	}
	return Held
}
