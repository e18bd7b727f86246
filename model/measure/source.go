// This file holds the identity of an error source.

package measure

import (
	"cmp"
	"strings"
)

// Kind classifies sources for the caller, who defines the kinds; 0 where the
// name is enough.
type Kind uint8

// Source is one independent source of error. Two are the same where all fields
// are equal. No meaning is parsed out of the name, which a person may have typed.
type Source struct {
	Kind    Kind
	Name    string // of the device or quantity
	Job     string // of several jobs, the one it belongs to
	Round   int    // of a job, the one it belongs to
	Reading int    // the reading it belongs to
	Part    int    // the part of the reading, from 1
}

func sourceOf[S string | Source](source S) Source {
	if s, ok := any(source).(Source); ok {
		return s
	}
	name, _ := any(source).(string)
	return Source{Name: name}
}

// Compare orders sources, by all of their fields.
func (s Source) Compare(t Source) int {
	if s.Kind != t.Kind {
		return int(s.Kind) - int(t.Kind)
	}
	if c := strings.Compare(s.Name, t.Name); c != 0 {
		return c
	}
	if c := strings.Compare(s.Job, t.Job); c != 0 {
		return c
	}
	return cmp.Or(s.Round-t.Round, s.Reading-t.Reading, s.Part-t.Part)
}
