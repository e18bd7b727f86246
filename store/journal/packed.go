package journal

// This file holds entries as they are stored: as their texts, which many jobs at once
// can be made into side by side.

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"

	jsonv2 "github.com/go-json-experiment/json"

	"garage/tundish/model/job"
)

// Packed is entries of a job as they are stored. The zero value is none.
type Packed struct {
	text  []byte // of all of them
	ends  []int  // of each within text
	first int    // number of the first
}

// Pack makes entries, numbered one after the other, into texts, and reads them back. It is
// an error if one is not valid.
func Pack(entries []job.Entry) (p Packed, err error) {
	p.ends = make([]int, 0, len(entries))
	for i, e := range entries {
		text, err := json.Marshal(e)
		if err != nil {
			return Packed{}, err
		}
		var back job.Entry
		if err := jsonv2.Unmarshal(text, &back); err != nil {
			return Packed{}, err
		}
		if err := back.Check(); err != nil {
			return Packed{}, err
		}
		if p.first == 0 {
			p.first = back.Seq
		}
		if back.Seq != p.first+i {
			return Packed{}, fmt.Errorf("entry %d follows entry %d", back.Seq, p.first+i-1)
		}
		p.text = append(p.text, text...)
		p.ends = append(p.ends, len(p.text))
	}
	p.text = p.text[:len(p.text):len(p.text)]
	return p, nil
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
