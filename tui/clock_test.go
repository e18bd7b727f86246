package tui

// This file tests the clocks: when they ring, and that breaks and sleep do not
// stop them.

import (
	"bytes"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/job"
)

// waits are where a clock runs, in the small job and in the one with a level
// port. The lengths are common practice, no source.
func waits() []struct {
	topic   job.Topic
	answers map[job.Topic]string
	counts  string
	long    time.Duration
	says    string
} {
	type row = struct {
		topic   job.Topic
		answers map[job.Topic]string
		counts  string
		long    time.Duration
		says    string
	}
	return []row{
		{job.DripReading, nil, "plug out, draining for", 15 * time.Minute, "15 min are over: slow drops by now?"},
		{job.PlugSeated, nil, "capped for", 10 * time.Minute, "10 min are over: the swap can begin"},
		{job.LevelWeeps, levelPort, "settling for", 10 * time.Minute, "10 min are over: look again"},
		{job.LeakCheck, nil, "tag off for", 30 * time.Minute, "30 min are over: driven?"},
		{job.WasherRecheck, nil, "found dry, and cooling for", 12 * time.Hour, "12 h are over: cold"},
	}
}

// until moves the clock to a moment.
func (st *stage) until(at time.Time) { st.clock(at.Sub(st.now)) }

// Each clock rings once, at its mark and not before, with the bell and a
// notification, and says so on the screen, whatever is typed by then.
func TestEachWaitRingsOnce(t *testing.T) {
	for _, w := range waits() {
		t.Run(w.topic.String(), func(t *testing.T) {
			st := newStage(t, newMemory(), 120, 40)
			var bell bytes.Buffer
			st.app.cfg.Bell, st.answers = &bell, w.answers
			st.upTo(w.topic)
			st.sees(w.counts)
			bell.Reset()
			ends := st.app.guide.wait.Since.Add(w.long)
			st.until(ends.Add(-time.Second))
			if bell.Len() != 0 || strings.Contains(st.screen(), "are over") {
				t.Fatalf("rings before its time: %q\n%s", bell.String(), st.screen())
			}
			st.until(ends)
			st.sees(w.says)
			for range 100 {
				st.clock(time.Second)
			}
			if rung := bell.String(); strings.Count(rung, "\a") != 1 || strings.Count(rung, "\x1b]9;tundish: "+w.says) != 1 {
				t.Errorf("rang %q, want one bell and one notification that says %q", rung, w.says)
			}
			st.sees(w.says)
		})
	}
}

// A machine that slept through the mark rings on waking.
func TestSleepDoesNotLoseTheRing(t *testing.T) {
	for _, w := range waits() {
		st := newStage(t, newMemory(), 120, 40)
		var bell bytes.Buffer
		st.app.cfg.Bell, st.answers = &bell, w.answers
		st.upTo(w.topic)
		bell.Reset()
		st.clock(w.long + 5*time.Hour)
		if strings.Count(bell.String(), "\a") != 1 {
			t.Errorf("%v: after sleep it rang %q, want once", w.topic, bell.String())
		}
		st.sees(w.says)
	}
}

// A clock counts from the answer that began it, whatever breaks there were, and
// says at once when it is over.
func TestClocksRunOnThroughABreak(t *testing.T) {
	for _, w := range waits() {
		mem := newMemory()
		st := newStage(t, mem, 120, 40)
		st.answers = w.answers
		st.upTo(w.topic)
		since := st.app.guide.wait.Since
		st.now = since.Add(w.long + 83*time.Second)

		later := newStage(t, mem, 120, 40)
		later.now = st.now
		later.clock(0)
		if later.app.screen == screenPicking {
			later.press(tea.KeyEnter)
		}
		later.sees(w.counts, w.says)
		if figure, _ := figureOf(later.app.scene(120, 40)); figure != clockWords(w.long+83*time.Second) {
			t.Errorf("%v: the clock shows %s after a break, want %s", w.topic, figure, clockWords(w.long+83*time.Second))
		}
	}
}

// Where the readings tell when the drips are done, the bell rings then.
// By hand: of 600(1 − e^(−t/2)) less than 5 ml is to come after 9.575 min.
func TestDripWaitRingsWhenTheReadingsSaySo(t *testing.T) {
	st := newStage(t, newMemory(), 80, 24)
	var bell bytes.Buffer
	st.app.cfg.Bell = &bell
	st.upTo(job.DripReading)
	out := st.app.guide.wait.Since
	for i, typed := range []string{"236", "379.3", "466.1", "518.8", "550.7", "570.1"} {
		st.until(out.Add(time.Duration(i+1) * time.Minute))
		st.typed(typed)
		st.press(tea.KeyEnter)
	}
	st.until(out.Add(9 * time.Minute))
	if bell.Len() != 0 {
		t.Fatalf("rang at 9 min: %q", bell.String())
	}
	st.until(out.Add(10 * time.Minute))
	if !strings.Contains(bell.String(), "still to come") {
		t.Errorf("at 10 min it rang %q, want that less than 5 ml is still to come", bell.String())
	}
	st.sees("not worth waiting longer")
}

// Without a bell nothing is written, and the screen says it all the same.
func TestWithoutABellTheScreenSaysIt(t *testing.T) {
	st := newStage(t, newMemory(), 80, 24)
	st.upTo(job.DripReading)
	st.clock(20 * time.Minute)
	st.sees("15 min are over")
}
