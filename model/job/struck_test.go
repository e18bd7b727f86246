package job

import (
	"slices"
	"testing"
)

// What stands after corrections and undoes: S says which entry each strikes
// out, U which of them are undoes.
func TestStruckOut(t *testing.T) {
	undo := func(n int) Entry { return Entry{Topic: Undo, Strikes: n} }
	read := func(n int) Entry { return Entry{Topic: DrainedAmount, Strikes: n} }
	for _, c := range []struct {
		name    string
		entries []Entry
		stands  []int // seq
	}{
		{"a reading", []Entry{read(0)}, []int{1}},
		{"corrected", []Entry{read(0), read(1)}, []int{2}},
		{"corrected twice", []Entry{read(0), read(1), read(2)}, []int{3}},
		{"corrected twice, undone once", []Entry{read(0), read(1), read(2), undo(3)}, []int{2, 4}},
		{"corrected twice, undone twice", []Entry{read(0), read(1), read(2), undo(3), undo(2)}, []int{1, 4, 5}},
		{"undone", []Entry{read(0), undo(1)}, []int{2}},
		{"undone, and that undone", []Entry{read(0), undo(1), undo(2)}, []int{1, 3}},
	} {
		var stands []int
		for i, stood := range standing(c.entries) {
			if stood {
				stands = append(stands, i+1)
			}
		}
		if !slices.Equal(stands, c.stands) {
			t.Errorf("%s: %v stand, want %v", c.name, stands, c.stands)
		}
	}
}
