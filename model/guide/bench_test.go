package guide

// This file times what a key press costs: the fold and what is asked of it.

import (
	"strconv"
	"testing"

	"garage/tundish/model/job"
)

// long is a job of some 300 entries: many looks at pan and vessel, two rounds,
// bottles, strokes and scale.
func long(tb testing.TB) job.Job {
	tb.Helper()
	drips, pushes := []string{}, []string{}
	for i := range 90 {
		drips = append(drips, strconv.Itoa(300+3*i))
		pushes = append(pushes, strconv.Itoa(620-6*i))
	}
	t, ok := tb.(*testing.T)
	if !ok {
		t = new(testing.T)
	}
	d := newDrive(t, small.with(script{
		job.DripReading: append(drips, ""), job.FillReading: append(pushes, "", ""), job.StrokeVolume: {"25"},
		job.StrokesCounted: {"22", "6"},
		job.LoadedAmount:   {"560", "165"}, job.LeftInVessel: {"0", "5"}, job.EscapedAtCap: {"0", "0"}, job.EscapedAmount: {"60", "80"},
		job.BottlesOpened: {"560"}, job.BottlesLeft: {"0"}, job.Decision: {"add", "accept"},
	}))
	d.until(job.NoTopic)
	return d.job
}

func TestLongJobIsLong(t *testing.T) {
	if n := len(long(t).Entries); n < 270 || n > 330 {
		t.Errorf("%d entries, want about 300", n)
	}
}

func BenchmarkFold(b *testing.B) {
	job := long(b)
	for b.Loop() {
		Fold(job, Offers{})
	}
}

func BenchmarkNext(b *testing.B)     { benchmark(b, func(s *Guide) { s.Next() }) }
func BenchmarkPlan(b *testing.B)     { benchmark(b, func(s *Guide) { s.Plan(0) }) }
func BenchmarkVerdict(b *testing.B)  { benchmark(b, func(s *Guide) { s.Verdict(s.Round()) }) }
func BenchmarkHead(b *testing.B)     { benchmark(b, func(s *Guide) { s.Head() }) }
func BenchmarkFindings(b *testing.B) { benchmark(b, func(s *Guide) { s.Findings() }) }

// BenchmarkKeyPress is all that one accepted answer asks for.
func BenchmarkKeyPress(b *testing.B) {
	benchmark(b, func(s *Guide) {
		s.Next()
		s.Head()
		s.Plan(s.Round())
		s.Verdict(s.Round())
		s.Findings()
	})
}

// benchmark times one question to a job that was folded for it.
func benchmark(b *testing.B, ask func(*Guide)) {
	job := long(b)
	for b.Loop() {
		ask(Fold(job, Offers{}))
	}
}
