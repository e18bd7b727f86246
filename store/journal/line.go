// Package journal keeps the second copy of a store: a file of lines in which each
// says what was accepted, carries a checksum and names that of the line before.
package journal

// This file holds one line: what was accepted, its number, the checksum of the line
// before, and its own. A line can be checked by itself, and a chain of lines shows
// that none is missing.

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"strconv"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// Version is that of the lines' form, in the first line.
const Version = 1

// Line is one step: a new job with its entries, or entries added to a job. The
// first line of a journal says which store it belongs to instead.
type Line struct {
	N       int         `json:"n"`                 // 0 the first line, then 1, 2, 3, …
	Prev    string      `json:"prev,omitempty"`    // checksum of the line before
	First   int         `json:"first,omitempty"`   // first of the lines that were accepted together; 0: it alone
	Journal int         `json:"journal,omitempty"` // first line: version of the form
	Store   string      `json:"store,omitempty"`   // first line: id of the store
	Job     string      `json:"job,omitempty"`
	Started *time.Time  `json:"started,omitempty"` // only where the line begins the job
	Entries []job.Entry `json:"entries,omitempty"`
	Head    *guide.Head `json:"head,omitempty"`   // line of the list, with these entries
	Merged  bool        `json:"merged,omitempty"` // came in from a file, not worked here
}

// The fixed parts of a line: {"sum":"89abcdef","rec":…}.
const (
	lineOpen  = `{"sum":"`
	lineMid   = `","rec":`
	lineClose = "}\n"
	sumDigits = 8
	recAt     = len(lineOpen) + sumDigits + len(lineMid)
)

// maxUnitBytes is the longest key of a unit: two texts and what is between.
const maxUnitBytes = 3 * job.MaxTextBytes

// maxLineBytes is more than the longest line that a valid job can make.
const maxLineBytes = 64 << 20

var (
	errLine = errors.New("not a whole line of the journal")
	errSum  = errors.New("checksum does not fit")
)

// lineSum is the CRC-32C of a line (RFC 3720, section 12.1), in hexadecimal.
func lineSum(rec []byte) string {
	return fmt.Sprintf("%08x", crc32.Checksum(rec, crc32.MakeTable(crc32.Castagnoli)))
}

// encode is the line's bytes, with its newline.
func (l Line) encode() ([]byte, error) {
	rec, err := json.Marshal(l)
	if err != nil {
		return nil, err
	}
	text := make([]byte, 0, recAt+len(rec)+len(lineClose))
	text = append(text, lineOpen...)
	text = append(text, lineSum(rec)...)
	text = append(text, lineMid...)
	text = append(text, rec...)
	return append(text, lineClose...), nil
}

// textSum is the checksum that a line carries.
func textSum(text []byte) string { return string(text[len(lineOpen) : len(lineOpen)+sumDigits]) }

// decodeLine reads one line with its newline. A line that was torn, cut short
// or changed is an error.
func decodeLine(text []byte) (l Line, sum string, err error) {
	if len(text) < recAt+len(lineClose) || len(text) > maxLineBytes || !bytes.HasPrefix(text, []byte(lineOpen)) ||
		string(text[recAt-len(lineMid):recAt]) != lineMid || !bytes.HasSuffix(text, []byte(lineClose)) {
		return Line{}, "", errLine
	}
	sum = textSum(text)
	rec := text[recAt : len(text)-len(lineClose)]
	if sum != lineSum(rec) {
		return Line{}, "", errSum
	}
	if err := json.Unmarshal(rec, &l); err != nil {
		return Line{}, "", fmt.Errorf("%w: %w", errLine, err)
	}
	return l, sum, nil
}

// Check returns why the line cannot stand in a journal.
func (l Line) Check() error {
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
	case l.Started != nil:
		return job.Job{ID: l.Job, Started: *l.Started, Entries: l.Entries}.Check()
	case len(l.Entries) == 0:
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

// Worked reports whether the line shows that its job is worked in the guide.
func (l Line) Worked() bool { return l.N > 0 && l.Started == nil && l.First == 0 && !l.Merged }

// Mark is a place in the journal: the last line and where it ends.
type Mark struct {
	Start int64  `json:"start"` // where the last line begins
	End   int64  `json:"end"`   // where the next one will
	N     int    `json:"n"`     // number of the last line
	Sum   string `json:"sum"`   // its checksum

	Worked string `json:"worked,omitempty"` // job that was last worked in the guide of this store
}

// Follows reports whether a line goes on from the mark.
func (m Mark) Follows(l Line) bool { return l.N == m.N+1 && l.Prev == m.Sum }

// together reports whether a line was to be accepted together with the one that
// comes behind the mark.
func (m Mark) together(l Line) bool { return 0 < l.First && l.First <= m.N+1 && m.N+1 < l.N }

// Next makes the text of the line that comes next, and the mark behind it, and
// makes the line what it will be when that text is read again.
func (m Mark) Next(l *Line) (text []byte, after Mark, err error) {
	l.N, l.Prev = m.N+1, m.Sum
	if text, err = l.encode(); err != nil {
		return nil, Mark{}, err
	}
	if *l, _, err = decodeLine(text); err != nil {
		return nil, Mark{}, err
	}
	return text, m.after(m.End+int64(len(text)), textSum(text), *l), l.Check()
}

// after is the mark behind a line that begins at the mark.
func (m Mark) after(end int64, sum string, l Line) Mark {
	after := Mark{Start: m.End, End: end, N: m.N + 1, Sum: sum, Worked: l.Job}
	if l.Merged {
		after.Worked = m.Worked
	}
	return after
}

func (m Mark) String() string { return "line " + strconv.Itoa(m.N) }
