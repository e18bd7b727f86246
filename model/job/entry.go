package job

// This file holds the entry, the only thing that a job is made of, and the
// value that an entry carries. What entries mean together is state.go's.

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"time"
	"unicode/utf8"
)

// Value is what an entry says: a number with its unit, a choice, a text, or
// that the owner does not know. An acknowledgement has no value at all, or the
// number that was acknowledged.
type Value struct {
	Number  float64   `json:"number,omitempty"`
	High    float64   `json:"high,omitempty"`  // upper end of a range; the plus side of a tolerance
	Unit    Dim       `json:"unit,omitempty"`  // unit of Number, High and Parts
	Parts   []float64 `json:"parts,omitempty"` // the terms of a sum: each is a reading of its own
	AtC     *float64  `json:"at_c,omitempty"`  // temperature of a volume, °C, where it was typed with it
	Choice  string    `json:"choice,omitempty"`
	Text    string    `json:"text,omitempty"`
	Unknown bool      `json:"unknown,omitempty"` // "don't know" or "none"
}

// Entry is one line of a job's ledger. Entries are only ever added.
type Entry struct {
	Seq     int       `json:"seq"`               // place in the job: 1, 2, 3, …
	At      time.Time `json:"at"`                // when it was accepted, UTC
	Topic   Topic     `json:"topic"`             // what it speaks of
	Round   int       `json:"round,omitempty"`   // 0 the first fill, 1… each correction
	Item    int       `json:"item,omitempty"`    // 0… where a topic is asked more than once
	Strikes int       `json:"strikes,omitempty"` // Seq of the entry that this one strikes out, 0 none
	Asked   string    `json:"asked,omitempty"`   // the question as it was shown, where its wording goes by the state
	Typed   string    `json:"typed,omitempty"`   // what was typed, to the letter
	Label   string    `json:"label,omitempty"`   // the chosen option as it was shown, where its label goes by the state
	Value   Value     `json:"value,omitzero"`
}

// Happened is when what an event speaks of took place, UTC: the time that was given
// for it, else that of the entry.
func (e Entry) Happened() time.Time {
	if e.Topic.Info().Kind == Event && e.Value.Text != "" {
		if at, err := time.Parse(time.RFC3339, e.Value.Text); err == nil && !at.After(e.At) {
			return at.UTC()
		}
	}
	return e.At
}

// AtMoment is the value of an event that took place at a moment before its entry.
func AtMoment(at time.Time) Value {
	return Value{Text: at.UTC().Truncate(time.Second).Format(time.RFC3339)}
}

// Job is one oil change of one unit: its entries in order, and nothing else
// that counts.
type Job struct {
	ID      string    `json:"id"`
	Started time.Time `json:"started"`
	Entries []Entry   `json:"entries"`
}

// Limits of what a job may hold, so that a file from a stranger cannot do harm.
const (
	MaxEntries   = 5000 // entries in a job
	MaxTextBytes = 2000 // bytes of a typed line, a text or a choice
	MaxIndex     = 500  // rounds, items, terms of a sum
	maxNumber    = 1e9  // any number in an entry
)

// errEntry is the cause of every error that says an entry cannot be part of a
// job.
var errEntry = errors.New("not a valid entry")

// Check reports whether the entry could stand in any job: sequence, sizes, finite
// numbers, a known topic. It does not know what came before it.
func (e Entry) Check() error {
	bad := func(format string, a ...any) error {
		return fmt.Errorf("%w %d: %s", errEntry, e.Seq, fmt.Sprintf(format, a...))
	}
	switch {
	case e.Seq < 1 || e.Seq > MaxEntries:
		return bad("seq must be 1 to %d", MaxEntries)
	case e.Topic == NoTopic || e.Topic >= NumTopics:
		return bad("topic is missing")
	case !plausibleTime(e.At):
		return bad("at must be a time between the years 1970 and 9000")
	case e.Round < 0 || e.Round > MaxIndex:
		return bad("round must be 0 to %d", MaxIndex)
	case e.Item < 0 || e.Item > MaxIndex:
		return bad("item must be 0 to %d", MaxIndex)
	case e.Strikes < 0 || e.Strikes >= e.Seq:
		return bad("strikes must name an earlier entry")
	case e.Topic == Undo && e.Strikes == 0:
		return bad("undo must name the entry it strikes out")
	case len(e.Value.Parts) > MaxIndex:
		return bad("parts must be %d at most", MaxIndex)
	case e.Value.Unit >= NumDims:
		return bad("unit is not one that is known")
	}
	for _, text := range [...]string{e.Asked, e.Typed, e.Label, e.Value.Text, e.Value.Choice} {
		if len(text) > MaxTextBytes || !utf8.ValidString(text) {
			return bad("texts must be UTF-8 of %d bytes at most", MaxTextBytes)
		}
	}
	odd := func(x float64) bool { return math.IsNaN(x) || math.Abs(x) > maxNumber }
	v := e.Value
	if odd(v.Number) || odd(v.High) || slices.ContainsFunc(v.Parts, odd) || v.AtC != nil && odd(*v.AtC) {
		return bad("numbers must be finite and below %.0g", maxNumber)
	}
	return nil
}

// plausibleTime leaves room for a date of the next change, which must not pass the
// year 9999 or it cannot be written.
func plausibleTime(t time.Time) bool { return t.Year() >= 1970 && t.Year() <= 9000 }

// Check reports whether the job is whole: an id, and entries numbered 1, 2, 3, …
// each valid by itself.
func (j Job) Check() error {
	if err := CheckID(j.ID); err != nil {
		return err
	}
	if !plausibleTime(j.Started) {
		return errors.New("job has no start time, or none between the years 1970 and 9000")
	}
	if len(j.Entries) > MaxEntries {
		return fmt.Errorf("job has %d entries; %d are allowed", len(j.Entries), MaxEntries)
	}
	for i, e := range j.Entries {
		if e.Seq != i+1 {
			return fmt.Errorf("%w: entry %d of the job has seq %d", errEntry, i+1, e.Seq)
		}
		if err := e.Check(); err != nil {
			return err
		}
	}
	return nil
}

// CheckID reports whether a job's id can be used: 1 to 64 letters, digits, "-",
// "_" and "~", so that it is safe as a file name and on a command line.
func CheckID(id string) error {
	forbidden := func(r rune) bool {
		return !(r >= 'a' && r <= 'z' || r >= 'A' && r <= 'Z' || r >= '0' && r <= '9' || r == '-' || r == '_' || r == '~')
	}
	if id == "" || len(id) > 64 || id[0] == '-' || strings.ContainsFunc(id, forbidden) {
		return fmt.Errorf("job id %q must be 1 to 64 letters, digits, '-', '_' or '~'", id)
	}
	return nil
}

// Place is where in a job an answer belongs.
type Place struct {
	Topic Topic
	Round int // 0 the first fill, 1… each correction
	Item  int // 0… where the topic is asked more than once
}

// key is a place in one word, which a map finds sooner than a struct. Rounds and items are
// at most MaxIndex.
type key uint64

func (p Place) key() key { return key(p.Topic)<<32 | key(uint16(p.Round))<<16 | key(uint16(p.Item)) }

// Of is the place of another topic beside this one: same round, same item.
func (p Place) Of(t Topic) Place { return At(t, p.Round, p.Item) }

// Ends are the lowest and the highest that a value stands for, the same twice
// where it is no range.
func (v Value) Ends() (low, high float64) { return v.Number, math.Max(v.Number, v.High) }

// At is a place by its parts.
func At(t Topic, round, item int) Place { return Place{t, round, item} }
