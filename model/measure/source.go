// This file holds what tells one error source from another.

package measure

import "cmp"

// Kind is what a source is to the caller, who defines the kinds; 0 where its
// name says it all.
type Kind uint8

// Source is one independent error. Two are the same error where all of this is
// equal. Nothing is read out of the name, which may be somebody's own word for a
// thing.
type Source struct {
	Kind    Kind
	Name    string // of the thing that it lies in
	Job     string // where it belongs to one job of several
	Round   int    // where it is one a round
	Reading int    // the reading that it belongs to
	Part    int    // the part of that, from 1
}

func inFull[S string | Source](source S) Source {
	if s, ok := any(source).(Source); ok {
		return s
	}
	name, _ := any(source).(string)
	return Source{Name: name}
}

func (s Source) compare(t Source) int {
	if s == t {
		return 0
	}
	return cmp.Or(cmp.Compare(s.Kind, t.Kind), cmp.Compare(s.Name, t.Name), cmp.Compare(s.Job, t.Job),
		cmp.Compare(s.Round, t.Round), cmp.Compare(s.Reading, t.Reading), cmp.Compare(s.Part, t.Part))
}
