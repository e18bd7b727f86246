package tui

// This file tests what is said and done where this computer's clock does not go
// with the times of the job.

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// words are the screen without its line breaks.
func (st *stage) words() string { return strings.Join(strings.Fields(st.screen()), " ") }

// reopened opens a job again, at a clock that is moved.
func reopened(t *testing.T, mem *memory, by time.Duration) *stage {
	t.Helper()
	st := newStage(t, mem, minWidth, minHeight)
	st.now = st.app.guide.state.Updated.Add(by)
	st.app = Open(st.app.cfg, st.app.theme, minWidth, minHeight)
	return st
}

const minuteForm = "2 Jan 2006 15:04"

// On the smallest screen it is said at once, at every question under way, with
// both times and what to do. No time is shown that such a clock cannot tell.
func TestFalseWord20AWrongClockIsSaidAtOnce(t *testing.T) {
	const year = 365 * 24 * time.Hour
	for _, answers := range []map[job.Topic]string{typedFor, levelPort} {
		mem := newMemory()
		job := newStage(t, mem, minWidth, minHeight)
		job.answers = answers
		for job.answerOne(); !job.app.guide.finished; job.answerOne() {
			if job.app.guide.state.Phase() != guide.Open {
				continue // which is chosen from the list
			}
			for by, todo := range map[time.Duration]string{
				-6 * year: "Set it right; no wait is timed by it.", 6 * year: "Set it right if it is wrong; no wait",
			} {
				st := reopened(t, mem, by)
				last := st.app.guide.state.Updated
				against := "the last answer is of " + last.Local().Format(minuteForm)
				if _, of := st.app.guide.state.ClockAt(st.now); of.Before(last) {
					against = "an earlier answer is of " + of.Local().Format(minuteForm)
				}
				for _, want := range []string{"This computer's clock says " + st.now.Local().Format(minuteForm), against, todo} {
					if !strings.Contains(st.words(), want) {
						t.Fatalf("%v, moved by %v: not said: %s\n%s", job.app.guide.answer.prompt.Topic, by, want, st.screen())
					}
				}
				for _, not := range []string{"a moment", "over:", " ago", " days"} {
					if strings.Contains(st.words(), not) {
						t.Errorf("%v, moved by %v: says %q\n%s", job.app.guide.answer.prompt.Topic, by, not, st.screen())
					}
				}
				if figure, caption, ok := clockFigure(st.app.scene(minWidth, minHeight)); ok {
					t.Errorf("%v, moved by %v: a clock shows %s %s", job.app.guide.answer.prompt.Topic, by, caption, figure)
				}
			}
		}
	}
}

// By a clock that is behind or far ahead nothing rings, however long it runs;
// once it is set right, it does.
func TestFalseWord20NoWaitEndsByAWrongClock(t *testing.T) {
	for _, by := range []time.Duration{-48 * time.Hour, 90 * 24 * time.Hour} {
		for _, w := range waits() {
			if w.topic == job.LeakCheck || w.topic == job.WasherRecheck {
				continue // which is chosen from the list
			}
			mem := newMemory()
			first := newStage(t, mem, 120, 40)
			first.answers = w.answers
			first.upTo(w.topic)
			ends := first.app.guide.wait.Ends()

			st := reopened(t, mem, by)
			var bell bytes.Buffer
			st.app.cfg.Bell = &bell
			for range 30 {
				st.clock(time.Hour)
			}
			if bell.Len() != 0 || strings.Contains(st.words(), "are over") {
				t.Errorf("%v, moved by %v: rang %q\n%s", w.topic, by, bell.String(), st.screen())
			}
			st.until(ends.Add(-time.Second))
			st.until(ends)
			if strings.Contains(st.words(), "This computer's clock") || strings.Count(bell.String(), "\a") != 1 {
				t.Errorf("%v, set right: rang %q\n%s", w.topic, bell.String(), st.screen())
			}
		}
	}
}

// The line mode says the same, before it asks.
func TestFalseWord20TheLineModeSaysIt(t *testing.T) {
	for by, says := range map[time.Duration]string{
		-time.Hour:          "Set it right; no wait is timed by it.\nafter 15 min: slow drops by now?",
		61 * 24 * time.Hour: "Set it right if it is wrong; no wait is timed by it.\nafter 15 min: slow drops by now?",
	} {
		mem := newMemory()
		st := newStage(t, mem, minWidth, minHeight)
		st.upTo(job.DripReading)
		l := listeningAt(t, mem, st.app.guide.state.Updated.Add(by).Sub(morning))
		said := l.hear()
		clock := "This computer's clock says " + l.clock().Local().Format(minuteForm) + "; the last answer is of"
		if !strings.Contains(said, clock) || !strings.Contains(said, says) {
			t.Errorf("moved by %v, it says:\n%s", by, said)
		}
		if strings.Contains(said, "ago") || strings.Contains(said, "over:") {
			t.Errorf("moved by %v, it tells a time:\n%s", by, said)
		}
		l.types("*quit")
	}
}
