package journal

// This file holds entries as they are stored: as their texts, which many jobs at once
// can be made into side by side.

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"sync"

	jsonv2 "github.com/go-json-experiment/json"

	"garage/tundish/model/job"
)

// Packed is entries of a job as they are stored. The zero value is none.
type Packed struct {
	text  []byte // of all of them
	ends  []int  // of each within text
	first int    // number of the first
}

// texts are of jobs that were packed.
var texts = sync.Pool{New: func() any { return new(bytes.Buffer) }}

// Pack makes entries, numbered one after the other, into texts. It is an error if one is
// not valid.
func Pack(entries []job.Entry) (p Packed, err error) {
	p.ends = make([]int, len(entries))
	text, _ := texts.Get().(*bytes.Buffer)
	defer texts.Put(text)
	text.Reset()
	one := json.NewEncoder(text)
	for i := range entries {
		e := &entries[i]
		if err := e.Check(); err != nil {
			return Packed{}, err
		}
		if p.first == 0 {
			p.first = e.Seq
		}
		if e.Seq != p.first+i {
			return Packed{}, fmt.Errorf("entry %d follows entry %d", e.Seq, p.first+i-1)
		}
		if err := one.Encode(e); err != nil {
			return Packed{}, err
		}
		text.Truncate(text.Len() - len("\n"))
		p.ends[i] = text.Len()
	}
	p.text = slices.Clone(text.Bytes())
	return p, nil
}

// Entries returns the entries.
func (p Packed) Entries() ([]job.Entry, error) {
	entries := make([]job.Entry, p.Len())
	for i := range entries {
		if err := jsonv2.Unmarshal(p.Text(i), &entries[i]); err != nil {
			return nil, err
		}
	}
	return entries, nil
}

// Len returns the number of entries.
func (p Packed) Len() int { return len(p.ends) }

// Bytes returns how long the texts are together.
func (p Packed) Bytes() int { return len(p.text) }

// Seq returns the number of the entry at an index.
func (p Packed) Seq(i int) int { return p.first + i }

// Text returns the entry at an index.
func (p Packed) Text(i int) []byte { return p.text[p.begin(i):p.ends[i]] }

// From returns the entries from an index on.
func (p Packed) From(i int) Packed {
	if i == 0 {
		return p
	}
	return Packed{p.text[p.begin(i):], shifted(p.ends[i:], p.begin(i)), p.first + i}
}

// BeginsWith reports whether other entries are the first of these.
func (p Packed) BeginsWith(others Packed) bool {
	return slices.Equal(p.ends[:min(others.Len(), p.Len())], others.ends) && bytes.HasPrefix(p.text, others.text)
}

func (p Packed) begin(i int) int {
	if i == 0 {
		return 0
	}
	return p.ends[i-1]
}

func shifted(ends []int, by int) []int {
	out := make([]int, len(ends))
	for i, end := range ends {
		out[i] = end - by
	}
	return out
}

// appendTo appends the entries as a list.
func (p Packed) appendTo(b []byte) []byte {
	b = append(b, '[')
	for i := range p.ends {
		if i > 0 {
			b = append(b, ',')
		}
		b = append(b, p.Text(i)...)
	}
	return append(b, ']')
}

// Same reports whether two entries are stored alike.
func Same(a, b job.Entry) bool {
	one, err := json.Marshal(a)
	other, otherErr := json.Marshal(b)
	return err == nil && otherErr == nil && bytes.Equal(one, other)
}
