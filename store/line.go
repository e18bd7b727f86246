package store

// This file holds one line of the journal: what was accepted, its number, the
// checksum of the line before, and its own. A line can be checked by itself,
// and a chain of lines shows that none is missing.

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

const journalVersion = 1

// line is one step: a new job with its entries, or entries added to a job. The
// first line of a journal says which store it belongs to instead.
type line struct {
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

var errLine = errors.New("not a whole line of the journal")

func lineSum(rec []byte) string {
	return fmt.Sprintf("%08x", crc32.Checksum(rec, castagnoli()))
}

// encode is the line's bytes, with its newline.
func (l line) encode() ([]byte, error) {
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
func decodeLine(text []byte) (l line, sum string, err error) {
	if len(text) < recAt+len(lineClose) || len(text) > maxLineBytes || !bytes.HasPrefix(text, []byte(lineOpen)) ||
		string(text[recAt-len(lineMid):recAt]) != lineMid || !bytes.HasSuffix(text, []byte(lineClose)) {
		return line{}, "", errLine
	}
	sum = textSum(text)
	rec := text[recAt : len(text)-len(lineClose)]
	if sum != lineSum(rec) {
		return line{}, "", errSum
	}
	if err := json.Unmarshal(rec, &l); err != nil {
		return line{}, "", fmt.Errorf("%w: %w", errLine, err)
	}
	return l, sum, nil
}

// check says whether the line could stand in a journal.
func (l line) check() error {
	if l.N == 0 {
		if l.Journal < 1 || l.Store == "" {
			return fmt.Errorf("%w: the first line names no store", errLine)
		}
		return nil
	}
	if l.N < 0 || l.Head == nil {
		return fmt.Errorf("%w: number or head is missing", errLine)
	}
	if l.First < 0 || l.First > l.N {
		return fmt.Errorf("%w: line %d cannot begin with line %d", errLine, l.N, l.First)
	}
	if err := job.CheckID(l.Job); err != nil {
		return err
	}
	if l.Head.ID != l.Job {
		return fmt.Errorf("%w: the head is of job %q", errLine, l.Head.ID)
	}
	if len(l.Head.UnitKey()) > maxUnitBytes {
		return fmt.Errorf("%w: the names of vehicle and unit must be %d bytes at most", errLine, maxUnitBytes)
	}
	if l.Started != nil {
		return job.Job{ID: l.Job, Started: *l.Started, Entries: l.Entries}.Check()
	}
	if len(l.Entries) == 0 {
		return fmt.Errorf("%w: no entries", errLine)
	}
	for i, e := range l.Entries {
		if err := e.Check(); err != nil {
			return err
		}
		if e.Seq != l.Entries[0].Seq+i {
			return fmt.Errorf("%w: entry %d follows entry %d", errLine, e.Seq, l.Entries[0].Seq+i-1)
		}
	}
	return nil
}

// mark is a place in the journal: the last line and where it ends.
type mark struct {
	Start int64  `json:"start"` // where the last line begins
	End   int64  `json:"end"`   // where the next one will
	N     int    `json:"n"`     // number of the last line
	Sum   string `json:"sum"`   // its checksum

	Worked string `json:"worked,omitempty"` // job that was last worked in the guide of this store
}

// follows says whether a line goes on from the mark.
func (m mark) follows(l line) bool { return l.N == m.N+1 && l.Prev == m.Sum }

// together says whether a line was to be accepted together with the one that
// comes behind the mark.
func (m mark) together(l line) bool { return 0 < l.First && l.First <= m.N+1 && m.N+1 < l.N }

// next makes the text of the line that comes next, and the mark behind it, and
// makes the line what it will be when that text is read again.
func (m mark) next(l *line) (text []byte, after mark, err error) {
	l.N, l.Prev = m.N+1, m.Sum
	if text, err = l.encode(); err != nil {
		return nil, mark{}, err
	}
	if *l, _, err = decodeLine(text); err != nil {
		return nil, mark{}, err
	}
	return text, m.after(text, *l), l.check()
}

// after is the mark behind a line that begins at the mark.
func (m mark) after(text []byte, l line) mark {
	after := mark{Start: m.End, End: m.End + int64(len(text)), N: m.N + 1, Sum: textSum(text), Worked: l.Job}
	if l.Merged {
		after.Worked = m.Worked
	}
	return after
}

func (m mark) String() string { return "line " + strconv.Itoa(m.N) }
