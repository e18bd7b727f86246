package guide

// This file folds jobs that nobody was led through: entries in any order, with
// anything in them.

import (
	"encoding/json"
	"slices"
	"testing"

	"pgregory.net/rapid"

	"garage/tundish/model/ask"
	"garage/tundish/model/job"
)

// stranger is an entry that nobody was asked for, with anything in it.
func stranger(t *rapid.T, seq int) job.Entry {
	number := rapid.SampledFrom([]float64{0, 1, -1, 20, 600, 625, 1e9, -1e9, 1e-300, 0.02})
	e := job.Entry{
		Seq: seq, At: start, Topic: job.Topic(rapid.IntRange(int(job.Undo), int(job.NumTopics)-1).Draw(t, "topic")),
		Round: rapid.SampledFrom([]int{0, 0, 0, 1, 2, 500}).Draw(t, "round"),
		Item:  rapid.SampledFrom([]int{0, 0, 0, 1, 2, 500}).Draw(t, "item"),
		Value: job.Value{
			Number: number.Draw(t, "number"), High: number.Draw(t, "high"),
			Unit:  job.Dim(rapid.IntRange(0, int(job.NumDims)-1).Draw(t, "unit")),
			Parts: rapid.SliceOfN(number, 0, 3).Draw(t, "parts"), Unknown: rapid.IntRange(0, 5).Draw(t, "unknown") == 0,
			Text: rapid.SampledFrom([]string{"", "jug", "scale"}).Draw(t, "text"),
		},
	}
	if sp := ask.SpecOf(e.Topic); sp != nil && len(sp.Options) > 0 && rapid.Bool().Draw(t, "known") {
		e.Value.Choice = rapid.SampledFrom(sp.Options).Draw(t, "choice").Token
	} else {
		e.Value.Choice = rapid.SampledFrom([]string{"", "c0", "scale", "vessel", "add", "accept", "let_out", "leave", "more", "another",
			"again", "?"}).Draw(t, "token")
	}
	if e.Topic == job.Undo || rapid.IntRange(0, 9).Draw(t, "strikes") == 0 {
		e.Strikes = rapid.IntRange(0, seq-1).Draw(t, "struck")
	}
	return e
}

// A job from a stranger may hold anything that passes Check. It must not stop
// the program, nor hang it.
func TestAnyEntriesFold(t *testing.T) {
	d := newDrive(t, twoLoads.with(script{job.BalanceSuspect: {"stands"}, job.Decision: {"leave"}, job.LeftWhy: {"doubt"}}))
	d.until(job.NoTopic)
	rapid.Check(t, func(t *rapid.T) {
		j := job.Job{ID: job.NewID(start, 3), Started: start}
		if rapid.IntRange(0, 4).Draw(t, "on top of a job") > 0 {
			j.Entries = slices.Clone(d.job.Entries)
		}
		for range rapid.IntRange(0, 80).Draw(t, "entries") {
			if e := stranger(t, len(j.Entries)+1); e.Check() == nil {
				j.Entries = append(j.Entries, e)
			}
		}
		if j.Check() != nil {
			t.Skip("no job")
		}
		s := Fold(j, Offers{})
		look(s)
		if p, ok := s.Next(); ok {
			p.AskText(s)
			p.WhyText(s)
			p.Choices(s)
			p.DefaultValue(s)
		}
		for _, e := range s.Standing() {
			if p, ok := PromptOf(e); ok {
				p.Echo(s, e.Value)
				p.AskText(s)
			}
		}
		s.SharedJugNote()
		s.AtHandList()
		s.ResumePrompts()
		if _, err := json.Marshal(s.Head()); err != nil {
			t.Fatal(err)
		}
	})
}
