package sheet

// This file answers sheets at random, the way nobody sensible does, and holds what must be
// so whatever is pressed and typed.

import (
	"cmp"
	"slices"
	"testing"
	"time"

	"pgregory.net/rapid"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/testdata/runs"
)

// scribbles are odd things to type.
var scribbles = []string{"", "0", "-5", "14.05", "600-680", "6*1.5", "M18, hex, copper", "0.588", "588 g", "588", "2 bar",
	"nonsense", "-", "1e9 ml",
	"500+88@40C", "5%", "35, manual", "a b", "99:99"}

// anyAnswer is an answer to a line: one that fits, or anything.
func (h *honest) anyAnswer(t *rapid.T, s Sheet, l Line) Answer {
	if fits := h.answers(s, l); rapid.IntRange(0, 3).Draw(t, "fits") > 0 {
		return rapid.SampledFrom(fits).Draw(t, "answer")
	}
	switch rapid.IntRange(0, 2).Draw(t, "odd") {
	case 0:
		return Answer{Key: rapid.SampledFrom([]rune("0123456789\r")).Draw(t, "key")}
	case 1:
		return Answer{Unknown: true}
	}
	return Answer{Typed: rapid.SampledFrom(scribbles).Draw(t, "typed")}
}

// holds reports what is wrong with the entries of an answer; a caution needs the digit of
// its line.
func (h *honest) wrongWith(t *rapid.T, entries []job.Entry, key rune) {
	if len(entries) == 0 {
		t.Fatal("taken, and nothing to store")
	}
	for i, e := range entries {
		if err := cmp.Or(e.Check(), e.CheckSense()); err != nil {
			t.Fatalf("%+v: %v", e, err)
		}
		if e.Seq != len(h.job.Entries)+i+1 {
			t.Fatalf("seq %d after %d entries", e.Seq, len(h.job.Entries)+i)
		}
		p, _ := guide.PromptOf(e)
		if e.Topic != job.Undo && p.Safety && p.Kind == job.Acknowledge && (key == 0 || string(key) != e.Typed) {
			t.Fatalf("%v is confirmed by %q, typed %q", e.Topic, key, e.Typed)
		}
	}
}

// step presses or types something.
func (h *honest) step(t *rapid.T) bool {
	g := h.guide()
	s, more := Now(g, h.now)
	if !more {
		return false
	}
	var entries []job.Entry
	var err error
	var key rune
	switch what := rapid.IntRange(0, 9).Draw(t, "what"); {
	case what == 0 && len(h.job.Entries) > 0:
		entries, _ = Undo(g, h.now)
	case what == 1 || len(s.Lines) == 0 || s.FirstOpen() < 0 && what < 6:
		entries, err = s.Complete(g, h.now)
		if open := s.FirstOpen() >= 0; open != (err != nil) {
			t.Fatalf("%v: open %v, complete: %v", s.At, open, err)
		}
		if err == nil {
			h.complete(t, s, g.With(entries...))
		}
	default:
		i := s.FirstOpen()
		if i < 0 || what > 7 {
			i = rapid.IntRange(0, len(s.Lines)-1).Draw(t, "line")
		}
		a := h.anyAnswer(t, s, s.Lines[i])
		if entries, err = s.Take(g, i, a, h.now); s.Lines[i].Kind == Confirm && a.Key == s.Lines[i].Key {
			key = a.Key
		}
	}
	if err == nil && len(entries) > 0 {
		h.wrongWith(t, entries, key)
		h.job.Entries = append(h.job.Entries, entries...)
		h.now = h.now.Add(time.Duration(rapid.SampledFrom([]int{1, 5, 60}).Draw(t, "minutes")) * time.Minute)
	}
	return true
}

// complete holds a sheet that is complete to what it must not leave open, and to saying
// nothing that only a person can tell.
func (h *honest) complete(t *rapid.T, s Sheet, g *guide.Guide) {
	for p, open := range g.Prompts() {
		if open && p.Asked(g) && !p.Stop && home(g, p) == s.At {
			t.Fatalf("%v is complete, and %v is open", s.At, p.Place)
		}
	}
	entries, _ := g.Ledger()
	for _, e := range entries[len(h.job.Entries):] {
		if p, _ := guide.PromptOf(e); p.Observed || p.Kind == job.Acknowledge && p.Safety {
			t.Fatalf("%v is said by the sheet being complete", e.Topic)
		}
	}
}

// Whatever was pressed, what is stored is sound, and the job can be finished from there.
func TestAnythingPressedIsSoundAndCanBeFinished(t *testing.T) {
	runs.Check(t, 35, func(t *rapid.T) {
		h := fitting(rapid.SampledFrom([]string{"a1", "b2", "c3", "d4", "e5", "f6", "g7"}).Draw(t, "job"))
		if rapid.Bool().Draw(t, "level port") {
			h.says[job.FillPath] = []string{job.LevelPort.String()}
		}
		if until := rapid.SampledFrom([]ID{Prepare1, Isolate, Measure, Preload, Fill, Seat, Verdict}).Draw(t, "until"); until != Prepare1 {
			if err := h.finish(until); err != nil {
				t.Fatal(err)
			}
		}
		for range rapid.IntRange(1, 25).Draw(t, "steps") {
			if !h.step(t) {
				break
			}
		}
		before := slices.Clone(h.job.Entries)
		if err := h.finish(numIDs); err != nil {
			t.Fatalf("after %d entries: %v", len(before), err)
		}
	})
}
