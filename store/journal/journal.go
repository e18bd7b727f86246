package journal

// This file writes a journal: it adds lines, takes the last ones back, writes a whole
// one; and reads its lines from a place on. After the last line the file is filled
// with empty lines, so that most syncs need not write the file's size, and a line can
// be taken back on a full disk.

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"iter"
	"os"

	"garage/tundish/store/disk"
)

// Suffix makes the journal's name from the store's.
const Suffix = ".journal"

const fillBytes = 16 << 10 // the file grows by this much

// ErrNotFile is the error of a journal that is a folder, or no ordinary file.
var ErrNotFile = errors.New("not a file")

// Journal is an open journal.
type Journal struct {
	Place
	Path  string
	Form  int                  // version in the first line, 0 if it cannot be read
	Flush func(*os.File) error // makes what was written durable; disk.SyncData as a rule
	file  *os.File
}

// Place is the end of the journal's lines, for TakeBack.
type Place struct {
	Mark      Mark
	sizeBytes int64
}

// Open opens a journal and returns its first line, empty if it cannot be read.
func Open(path string, writable bool) (j *Journal, first Line, err error) {
	info, err := os.Stat(path)
	if err != nil {
		return nil, Line{}, err
	}
	if !info.Mode().IsRegular() {
		return nil, Line{}, ErrNotFile
	}
	f, err := disk.Open(path, writable)
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
			first, j.Form = l.Line, l.Journal
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

// Add writes the text of the next lines, up to a mark, and fills the file up if it has
// to grow; Sync makes them durable. If there is no room for the filling, the lines
// alone may still fit. After an error the caller takes back what may be written.
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

// TakeBack removes all that was added since.
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

// Clean removes all that follows the mark.
func (j *Journal) Clean() error { return j.clean(j.sizeBytes) }

// clean writes empty lines from the mark up to an end, and cuts off what is longer than
// any filling.
func (j *Journal) clean(end int64) error {
	if most := j.Mark.End + 2*fillBytes; end > most {
		if err := j.file.Truncate(most); err != nil {
			return err
		}
		end, j.sizeBytes = most, most
	}
	if _, err := j.file.WriteAt(emptyLines(end-j.Mark.End), j.Mark.End); err != nil {
		return err
	}
	return j.Sync()
}

// Write writes a new journal of lines and then gives it its name; one that has it gets
// another. It returns the mark after the last line, and that other name.
func Write(path string, lines iter.Seq2[Line, error]) (m Mark, aside string, err error) {
	m, err = write(path, lines, func(temp, path string) (err error) {
		if aside, err = disk.SetAside(path); err != nil {
			return err
		}
		return disk.Replace(temp, path)
	})
	return m, aside, err
}

// WriteOver writes a new journal of lines in the place of one, of which nothing stays.
func WriteOver(path string, lines iter.Seq2[Line, error]) (m Mark, err error) {
	return write(path, lines, disk.Replace)
}

func write(path string, lines iter.Seq2[Line, error], place func(temp, path string) error) (m Mark, err error) {
	err = disk.WriteWhole(path, place, func(f *os.File) error {
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

// ReadLine is a line read from a journal.
type ReadLine struct {
	Line
	At, end int64
	Sum     string // empty if the line cannot be decoded
	Bad     error  // why it is not a valid line
	About   string // job of a line that is not valid, as far as can be told
}

// Lines returns the lines from an offset on, without empty ones. It ends after an error
// of the disk.
func (j *Journal) Lines(from int64) iter.Seq2[ReadLine, error] {
	return func(yield func(ReadLine, error) bool) {
		for t, err := range j.texts(from) {
			if err != nil {
				yield(ReadLine{}, err)
				return
			}
			if !yield(t.read(), nil) {
				return
			}
		}
	}
}

// LastWorked returns the job last worked in the guide, empty if there is none.
func (j *Journal) LastWorked() (id string, err error) {
	for l, err := range j.Lines(0) {
		if err != nil {
			return "", err
		}
		if l.Worked() {
			id = l.Job
		}
	}
	return id, nil
}

// lineText is the text of a line, valid until the next one is read, and where it stands.
type lineText struct {
	text    []byte
	at, end int64
}

// Mark returns the place of the line.
func (l ReadLine) Mark() Mark { return Mark{Start: l.At, End: l.end, N: l.N, Sum: l.Sum} }

// texts returns what stands in lines, without empty ones. Of what cannot be a line only
// the beginning is kept in memory.
func (j *Journal) texts(from int64) iter.Seq2[lineText, error] {
	return func(yield func(lineText, error) bool) {
		r := bufio.NewReaderSize(io.NewSectionReader(disk.Reader{File: j.file}, from, j.sizeBytes-from), fillBytes)
		var text []byte
		for at, start := from, from; ; {
			piece, err := r.ReadSlice('\n')
			// What was read of a line may be of one with the next piece.
			if len(text) == 0 || len(text) < maxLineBytes && bytes.HasPrefix(text, []byte(lineOpen)) && bytes.IndexByte(piece, 0) < 0 {
				text = append(text, piece...)
			}
			at += int64(len(piece))
			switch {
			case errors.Is(err, bufio.ErrBufferFull):
				continue
			case err != nil && !errors.Is(err, io.EOF):
				yield(lineText{}, err)
				return
			}
			if len(bytes.TrimRight(text, "\n")) > 0 && !yield(lineText{text, start, at}, nil) || err != nil {
				return
			}
			text, start = text[:0], at
		}
	}
}

func (t lineText) read() ReadLine {
	l := ReadLine{At: t.at, end: t.end}
	if l.Line, l.Sum, l.Bad = decodeLine(t.text); l.Bad == nil {
		l.Bad = l.check()
	}
	if l.Bad != nil {
		l.About = about(t.text)
	}
	return l
}

// Sound returns what is wrong with a line up to the mark, by the chain of checksums
// alone; nil if nothing is, or the context has ended before.
func (j *Journal) Sound(ctx context.Context) error {
	last := Mark{N: -1}
	for t, err := range j.UpTo(j.Mark.End).texts(0) {
		if ctx.Err() != nil {
			return nil
		}
		sum := ""
		if err == nil {
			sum, err = last.sumOfNext(t.text)
		}
		if err != nil {
			return fmt.Errorf("line %d: %w", last.N+1, err)
		}
		last = Mark{N: last.N + 1, Sum: sum}
	}
	if last.N != j.Mark.N || last.Sum != j.Mark.Sum {
		return fmt.Errorf("line %d: %w", last.N+1, errLine)
	}
	return nil
}

// UpTo returns the journal as if it ended at an offset.
func (j *Journal) UpTo(end int64) *Journal {
	cut := *j
	cut.sizeBytes = min(j.sizeBytes, end)
	return &cut
}

// Tail is what follows a mark.
type Tail struct {
	Lines     []Line
	Marks     []Mark // place after each of the lines
	Torn      bool   // parts of lines that were not accepted follow
	Unrelated bool   // complete lines follow that do not continue the chain
}

// Behind reads what follows a mark, if the line before it is the one that the mark
// names.
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
		case l.Bad == nil && 0 < l.First && l.First <= m.N+1 && m.N+1 < l.N:
			t.Torn = true // the next line, of its group, was never written, so none was accepted
		default:
			t.Unrelated = true
		}
	}
	return t, fits, nil
}

// IsAt reports whether a line is the one that a mark names.
func (l ReadLine) IsAt(m Mark) bool {
	return l.At == m.Start && l.end == m.End && l.N == m.N && l.Sum == m.Sum
}

// State is what there is of a store's journal.
type State uint8

// The states.
const (
	None State = iota
	Bare       // a first line and nothing else
	Held       // lines, or what may once have been lines
)

// Beside returns what there is of the journal of the store at a path.
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
