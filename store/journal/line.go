// Package journal keeps the second copy of a store: a file of lines in which each
// says what was accepted, carries a checksum and names that of the line before.
package journal

// This file holds one line. A line can be checked by itself, and a chain of lines
// shows that none is missing.

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// Version is that of the lines' form, in the first line.
//
//	1  the first
//	2  a line can discard a job
const Version = 2

// Line is a new job with its entries, entries added to a job, or a job that is discarded
// or taken back. The first line of a journal names the store it belongs to instead.
type Line struct {
	N       int         `json:"n"`                 // 0 the first line, then 1, 2, 3, …
	Prev    string      `json:"prev,omitempty"`    // checksum of the line before
	First   int         `json:"first,omitempty"`   // first line of its group, accepted together; 0: it is alone
	Journal int         `json:"journal,omitempty"` // first line: version of the format
	Store   string      `json:"store,omitempty"`   // first line: id of the store
	Job     string      `json:"job,omitempty"`
	Started *time.Time  `json:"started,omitempty"` // only if the line begins the job
	Entries []job.Entry `json:"entries,omitempty"`
	Head    *guide.Head `json:"head,omitempty"`   // of the job with these entries
	Merged  bool        `json:"merged,omitempty"` // imported, not worked here

	// Discard counts how often the job was discarded and taken back: odd, it is discarded
	// from here on; even, it is there again. 0: the line is of neither.
	Discard int `json:"discard,omitempty"`

	Packed Packed `json:"-"` // in the place of Entries of a line that is to be stored
}

// Count returns the number of entries.
func (l Line) Count() int { return len(l.Entries) + l.Packed.Len() }

// FirstSeq returns the number of the first entry, 0 if there is none.
func (l Line) FirstSeq() int {
	if len(l.Entries) > 0 {
		return l.Entries[0].Seq
	}
	return l.Packed.first
}

// The fixed parts of a line: {"sum":"89abcdef","rec":…}.
const (
	lineOpen  = `{"sum":"`
	lineMid   = `","rec":`
	lineClose = "}\n"
	sumDigits = 8
	recAt     = len(lineOpen) + sumDigits + len(lineMid)
)

// maxUnitBytes is the longest key of a unit: two texts and a separator.
const maxUnitBytes = 3 * job.MaxTextBytes

// maxLineBytes is more than any line of a valid job.
const maxLineBytes = 64 << 20

var (
	errLine  = errors.New("not a whole line of the journal")
	errChain = errors.New("it does not follow the line before")
	errSum   = errors.New("checksum does not fit")
)

// lineSum is the CRC-32C of a line (RFC 3720, section 12.1), in hexadecimal.
func lineSum(rec []byte) string {
	return fmt.Sprintf("%08x", crc32.Checksum(rec, crc32.MakeTable(crc32.Castagnoli)))
}

// wrap returns a line's bytes, with its newline, from what JSON has of it without what is
// packed.
func (l Line) wrap(rest []byte) []byte {
	const name = `,"entries":`
	text := make([]byte, recAt, recAt+len(rest)+len(name+"[]}")+len(l.Packed.text)+l.Packed.Len()+len(lineClose))
	text = append(text, rest...)
	if l.Packed.Len() > 0 {
		text = append(l.Packed.appendTo(append(text[:len(text)-1], name...)), '}')
	}
	copy(text, lineOpen+lineSum(text[recAt:])+lineMid)
	return append(text, lineClose...)
}

// unwrap returns the checksum of a line and what it covers, an error if the line is
// incomplete or changed.
func unwrap(text []byte) (sum string, rec []byte, err error) {
	if len(text) < recAt+len(lineClose) || len(text) > maxLineBytes || !bytes.HasPrefix(text, []byte(lineOpen)) ||
		string(text[recAt-len(lineMid):recAt]) != lineMid || !bytes.HasSuffix(text, []byte(lineClose)) {
		return "", nil, errLine
	}
	sum = string(text[len(lineOpen) : len(lineOpen)+sumDigits])
	if rec = text[recAt : len(text)-len(lineClose)]; sum != lineSum(rec) {
		return "", nil, errSum
	}
	return sum, rec, nil
}

// sumOfNext returns the checksum of the line after the mark, an error if the text is of
// another line or of none. It does not look into the line beyond its beginning.
func (m Mark) sumOfNext(text []byte) (string, error) {
	sum, rec, err := unwrap(text)
	if err != nil {
		return "", err
	}
	begins := fmt.Appendf(nil, `{"n":%d,`, m.N+1)
	if m.N >= 0 {
		begins = fmt.Appendf(begins, `"prev":"%s",`, m.Sum)
	}
	if !bytes.HasPrefix(rec, begins) {
		return "", errChain
	}
	return sum, nil
}

// decodeLine reads one line with its newline. A line that is incomplete or changed is
// an error.
func decodeLine(text []byte) (l Line, sum string, err error) {
	sum, rec, err := unwrap(text)
	if err != nil {
		return Line{}, "", err
	}
	if err := json.Unmarshal(rec, &l); err != nil {
		return Line{}, "", fmt.Errorf("%w: %w", errLine, err)
	}
	return l, sum, nil
}

// check returns why the line is not valid, nil if it is.
func (l Line) check() error {
	wrong := func(format string, a ...any) error { return fmt.Errorf("%w: "+format, append([]any{errLine}, a...)...) }
	switch {
	case l.N == 0 && (l.Journal < 1 || l.Store == ""):
		return wrong("the first line names no store")
	case l.N == 0:
		return nil
	case l.N < 0 || l.Head == nil:
		return wrong("number or head is missing")
	case l.First < 0 || l.First > l.N:
		return wrong("line %d cannot begin with line %d", l.N, l.First)
	}
	if err := job.CheckID(l.Job); err != nil {
		return err
	}
	switch {
	case l.Head.ID != l.Job:
		return wrong("the head is of job %q", l.Head.ID)
	case len(l.Head.UnitKey()) > maxUnitBytes:
		return wrong("the names of vehicle and unit must be %d bytes at most", maxUnitBytes)
	case l.Discard < 0 || l.Discard > 0 && (l.Started != nil || l.Count() > 0):
		return wrong("a job that is discarded gets no entries")
	case l.Discard > 0:
		return nil
	case l.Started != nil && l.Packed.Len() > 0 && (l.Packed.first != 1 || l.Packed.Len() > job.MaxEntries):
		return wrong("its entries are not those that a job begins with")
	case l.Started != nil:
		return job.Job{ID: l.Job, Started: *l.Started, Entries: l.Entries}.Check()
	case l.Count() == 0:
		return wrong("no entries")
	}
	for i, e := range l.Entries {
		if err := e.Check(); err != nil {
			return err
		}
		if e.Seq != l.Entries[0].Seq+i {
			return wrong("entry %d follows entry %d", e.Seq, l.Entries[0].Seq+i-1)
		}
	}
	return nil
}

// Worked reports whether the line was added by the guide.
func (l Line) Worked() bool {
	return l.N > 0 && l.Started == nil && l.First == 0 && !l.Merged && l.Discard == 0
}

// Mark is a place in the journal: the last line and where it ends.
type Mark struct {
	Start int64  `json:"start"` // start of the last line
	End   int64  `json:"end"`   // start of the next one
	N     int    `json:"n"`     // number of the last line
	Sum   string `json:"sum"`   // its checksum

	Worked string `json:"worked,omitempty"` // job last worked in the guide of this store
	Made   string `json:"made,omitempty"`   // which program made what the store keeps of units; one that does not know of it drops it
}

// Follows reports whether a line is the next after the mark.
func (m Mark) Follows(l Line) bool { return l.N == m.N+1 && l.Prev == m.Sum }

// Next returns the text of the next line, and the mark after it, and sets the line to
// what is read back from that text; packed entries are as they were packed.
func (m Mark) Next(l *Line) (text []byte, after Mark, err error) {
	l.N, l.Prev = m.N+1, m.Sum
	rest, err := json.Marshal(l)
	if err != nil {
		return nil, Mark{}, err
	}
	text = l.wrap(rest)
	back := Line{Packed: l.Packed}
	if err := json.Unmarshal(rest, &back); err != nil {
		return nil, Mark{}, fmt.Errorf("%w: %w", errLine, err)
	}
	*l = back
	sum := string(text[len(lineOpen) : len(lineOpen)+sumDigits])
	return text, m.after(m.End+int64(len(text)), sum, *l), l.check()
}

// after returns the mark after a line that begins at the mark.
func (m Mark) after(end int64, sum string, l Line) Mark {
	after := Mark{Start: m.End, End: end, N: m.N + 1, Sum: sum, Worked: l.Job, Made: m.Made}
	if l.Merged || l.Discard > 0 {
		after.Worked = m.Worked
	}
	return after
}
