package model

import (
	"testing"
	"time"
)

// A clock is held against the last entry, and against what is counted from. The
// limits are the tool's own, no source.
func TestFalseWord20AClockAgainstTheJob(t *testing.T) {
	const day = 24 * time.Hour
	for _, c := range []struct {
		at    Topic
		after time.Duration // of the last entry
		want  Clock
	}{
		{DripReading, 0, ClockFits},
		{DripReading, -30 * time.Second, ClockFits}, // set by the network
		{DripReading, -2 * time.Minute, ClockBehind},
		{DripReading, -6 * 365 * day, ClockBehind},
		{DripReading, 59 * day, ClockFits},
		{DripReading, 61 * day, ClockAhead},
		{DrainedAmount, -time.Hour, ClockBehind},
		{DrainedAmount, 10 * 365 * day, ClockAhead},
		{Vehicle, -time.Hour, ClockBehind}, // before the first answer too
		{LeakCheck, -time.Hour, ClockBehind},
		{LeakCheck, 61 * day, ClockAhead},
		{NoTopic, -time.Hour, ClockFits}, // closed
		{NoTopic, 61 * day, ClockFits},
	} {
		s := newDrive(t, small).until(c.at)
		got, against := s.ClockAt(s.Updated.Add(c.after))
		if got != c.want || against.After(s.Updated) || against.IsZero() != (got == ClockFits) {
			t.Errorf("at %v, %v after the last entry of %v: %v against %v, want %v", c.at, c.after, s.Updated, got, against, c.want)
		}
	}
}

// An answer that came by the wrong clock does not make it right, as long as
// something is counted from before it.
func TestFalseWord20AnAnswerDoesNotMakeAClockRight(t *testing.T) {
	for _, c := range []struct {
		at    Topic
		moved time.Duration
		want  Clock
	}{
		{DripReading, -6 * 365 * 24 * time.Hour, ClockBehind}, // the drain is timed
		{DrainedAmount, -time.Hour, ClockBehind},              // it is said how long the unit is empty
		{DripReading, 6 * 365 * 24 * time.Hour, ClockAhead},
		{DrainedAmount, 6 * 365 * 24 * time.Hour, ClockAhead},
	} {
		d := newDrive(t, small)
		s := d.until(c.at)
		out, _ := s.When(PlugOut, 0)
		p := s.ResumePrompts()[0]
		d.add(p.Entry(s, p.AckValue(s), "", s.Updated.Add(c.moved)))
		s = d.state()
		if got, against := s.ClockAt(s.Updated.Add(time.Minute)); got != c.want || !against.Equal(out) {
			t.Errorf("at %v, moved by %v: %v against %v, want %v against %v", c.at, c.moved, got, against, c.want, out)
		}
	}
}

// Wherever in a job the clock is set back, no duration is negative, and none is
// longer than it was.
func TestFalseWord20ATimeThatGoesBackBreaksNothing(t *testing.T) {
	for name, lines := range map[string]script{
		"drain port": small.with(script{DripReading: {"300", "420", "480", "510", "525", ""}}),
		"level port": level,
	} {
		d := newDrive(t, lines)
		whole := d.until(NoTopic).waits()
		for back := range len(d.job.Entries) {
			job := Job{ID: d.job.ID, Started: d.job.Started}
			for i, e := range d.job.Entries {
				if i >= back {
					e.At = e.At.AddDate(-6, 0, 0)
				}
				job.Entries = append(job.Entries, e)
				s := Fold(job, Offers{})
				if w, ok := s.Wait(); ok && w.For < 0 {
					t.Errorf("%s, set back before line %d, line %d: waits %v", name, back+1, i+1, w.For)
				}
				if d := s.Drips(s.Updated); d.Minutes < 0 || d.WaitMin < 0 {
					t.Errorf("%s, set back before line %d, line %d: drips %+v", name, back+1, i+1, d)
				}
			}
			s := Fold(job, Offers{})
			if err := job.Check(); err != nil || s.Phase() != Done {
				t.Errorf("%s, set back before line %d: %v, %v", name, back+1, s.Phase(), err)
			}
			for i, w := range s.waits() {
				if w.took < 0 || w.took > whole[i].took {
					t.Errorf("%s, set back before line %d: %v waited %v", name, back+1, w.place, w.took)
				}
			}
		}
	}
}
