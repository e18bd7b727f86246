package journal

// This file follows the chain of lines, for whoever must say what is missing of it.

import (
	"bytes"
	"fmt"
	"slices"
	"strings"

	"garage/tundish/model/job"
)

// maxNamed is how many jobs of a gap are named.
const maxNamed = 5

// Chain follows lines in the order in which they are read. The zero value is before the
// first line.
type Chain struct {
	last   Mark
	begun  bool
	lastOf string // job of the last line
	pieces pieces // what could not be read since
}

// pieces is what stands in the place of lines.
type pieces struct {
	count int
	at    int64 // of the first, byte
	bad   error // why it is not a line
	jobs  []string
}

// Gap is a place at which lines are missing or cannot be read.
type Gap struct {
	After  int      // number of the line before it, -1 none
	Before int      // number of the line after it, 0 none: the journal ends there
	Jobs   []string // that its lines may have been of, as far as can be told
	pieces pieces
}

// Last returns the number of the last line that was read, -1 none.
func (c *Chain) Last() int {
	if !c.begun {
		return -1
	}
	return c.last.N
}

// Add takes the next line. It returns the gap between that and the line before; found
// is false if there is none, or the line cannot be read: then the gap goes on.
func (c *Chain) Add(l ReadLine) (g Gap, found bool) {
	if l.Bad != nil {
		c.pieces.add(l)
		return Gap{}, false
	}
	found = c.pieces.count > 0 || l.N != c.Last()+1 || l.N > 0 && l.Prev != c.last.Sum
	g = Gap{After: c.Last(), Before: l.N, pieces: c.pieces, Jobs: c.pieces.jobs}
	for _, id := range []string{c.lastOf, l.Job} {
		if id != "" && !slices.Contains(g.Jobs, id) && len(c.pieces.jobs) == 0 {
			g.Jobs = append(g.Jobs, id)
		}
	}
	c.last, c.lastOf, c.begun, c.pieces = Mark{N: l.N, Sum: l.Sum}, l.Job, true, pieces{}
	return g, found
}

// End returns what follows the last line and cannot be read; found is false if nothing.
func (c *Chain) End() (g Gap, found bool) {
	return Gap{After: c.Last(), pieces: c.pieces, Jobs: c.pieces.jobs}, c.pieces.count > 0
}

func (p *pieces) add(l ReadLine) {
	if p.count++; p.count == 1 {
		p.at, p.bad = l.At, l.Bad
	}
	if l.About != "" && len(p.jobs) < maxNamed && !slices.Contains(p.jobs, l.About) {
		p.jobs = append(p.jobs, l.About)
	}
}

// String says what is missing, and whom it may concern.
func (g Gap) String() string {
	what := ""
	switch missing := g.Before - g.After - 1; {
	case g.Before == 0:
		what = fmt.Sprintf("it is cut off after line %d", g.After)
	case missing == 1:
		what = fmt.Sprintf("line %d is missing", g.After+1)
	case missing > 1:
		what = fmt.Sprintf("lines %d to %d are missing", g.After+1, g.Before-1)
	default:
		what = fmt.Sprintf("line %d does not follow line %d", g.Before, g.After)
	}
	if p := g.pieces; p.count > 0 {
		what += fmt.Sprintf("; what stands there at byte %d cannot be read: %v", p.at, p.bad)
	}
	switch {
	case g.Before == 0 && len(g.Jobs) == 0:
		return what + "; of which job it was cannot be told"
	case len(g.pieces.jobs) > 0:
		return what + "; it may be of job " + strings.Join(g.Jobs, ", ")
	case len(g.Jobs) > 0:
		return what + "; it may be of job " + strings.Join(g.Jobs, ", ") + ", or of a job that is missing altogether"
	}
	return what
}

// about finds the job that a line which cannot be read seems to speak of.
func about(text []byte) string {
	_, after, _ := bytes.Cut(text, []byte(`"job":"`))
	id, _, _ := bytes.Cut(after, []byte(`"`))
	if job.CheckID(string(id)) != nil {
		return ""
	}
	return string(id)
}
