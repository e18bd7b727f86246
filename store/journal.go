package store

// This file holds the journal's file: adding a line, taking the last one back,
// reading what lies behind a mark. Behind the last line the file is filled
// with empty lines, so that most syncs need not write the file's size, and a
// line can be taken back without asking a full disk for room.

import (
	"bytes"
	"errors"
	"io"
	"io/fs"
	"os"
	"strconv"
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
	noSync    bool // only while a new file is filled
}

// openJournal opens the file and gives its first line.
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
	text, err := j.lineAt(0)
	if err == nil {
		first, _, err = decodeLine(text)
	}
	if err == nil {
		err = first.check()
	}
	if err != nil {
		first = line{}
	}
	return j, first, nil
}

// lineAt reads the line that begins at an offset, with its newline.
func (j *journal) lineAt(at int64) ([]byte, error) {
	var text []byte
	buf := make([]byte, 4096)
	for len(text) < maxLineBytes {
		n, err := j.file.ReadAt(buf, at+int64(len(text)))
		if i := bytes.IndexByte(buf[:n], '\n'); i >= 0 {
			return append(text, buf[:i+1]...), nil
		}
		text = append(text, buf[:n]...)
		if err != nil {
			return text, err
		}
	}
	return nil, errLine
}

// tail is what lies behind a mark.
type tail struct {
	lines []line
	marks []mark // place behind each of the lines
	torn  bool   // behind them lies a piece of a line
	alien bool   // behind them lie whole lines that do not go on from there
}

// behind reads what lies behind a mark, after it has made sure that the line
// before is the one that the mark speaks of.
func (j *journal) behind(m mark) (t tail, fits bool, err error) {
	if m.Start < 0 || m.End <= m.Start || m.End > j.sizeBytes {
		return tail{}, false, nil
	}
	text, err := j.lineAt(m.Start)
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, errLine) {
		return tail{}, false, err
	}
	if l, sum, err := decodeLine(text); err != nil || m.Start+int64(len(text)) != m.End || l.N != m.N || sum != m.Sum {
		return tail{}, false, nil
	}
	rest := make([]byte, j.sizeBytes-m.End)
	if _, err := j.file.ReadAt(rest, m.End); err != nil && !errors.Is(err, io.EOF) {
		return tail{}, false, err
	}
	for len(rest) > 0 {
		text := rest[:bytes.IndexByte(rest, '\n')+1]
		l, sum, err := decodeLine(text)
		if err != nil || !m.follows(l) || l.check() != nil {
			break
		}
		m = m.after(len(text), sum)
		t.lines, t.marks = append(t.lines, l), append(t.marks, m)
		rest = rest[len(text):]
	}
	for text := range bytes.Lines(rest) {
		_, _, err := decodeLine(text)
		t.alien = t.alien || err == nil
		t.torn = t.torn || len(bytes.Trim(text, "\n")) > 0
	}
	return t, true, nil
}

// clean makes the rest of the file behind the mark empty lines.
func (j *journal) clean() error {
	if _, err := j.file.WriteAt(emptyLines(j.sizeBytes-j.mark.End), j.mark.End); err != nil {
		return err
	}
	return j.sync()
}

func emptyLines(n int64) []byte { return bytes.Repeat([]byte{'\n'}, int(max(n, 0))) }

func (j *journal) sync() error {
	if j.noSync {
		return nil
	}
	return syncData(j.file)
}

// place is where the journal stands: what takeBack goes back to.
type place struct {
	mark      mark
	sizeBytes int64
}

func (j *journal) place() place { return place{j.mark, j.sizeBytes} }

// add writes a line behind the last one and makes it durable. On an error the
// caller takes back what may be there of it.
func (j *journal) add(l line) error {
	l.N, l.Prev = j.mark.N+1, j.mark.Sum
	text, sum, err := l.encode()
	if err != nil {
		return err
	}
	at := j.mark.End
	j.mark = j.mark.after(len(text), sum)
	if err := j.write(text, at); err != nil {
		return err
	}
	return j.sync()
}

// write puts a line in its place, and fills the file up where it has to grow.
// Where there is no room for the filling the line alone may still go in.
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
