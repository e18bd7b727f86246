package guide

import (
	"testing"
	"time"

	"garage/tundish/model/job"
)

// A clock is held against the last entry, and against what is counted from. The
// limits are the tool's own, no source.
func TestFalseWord20AClockAgainstTheJob(t *testing.T) {
	const day = 24 * time.Hour
	for _, c := range []struct {
		at    job.Topic
		after time.Duration // of the last entry
		want  Clock
	}{
		{job.DripReading, 0, ClockFits},
		{job.DripReading, -30 * time.Second, ClockFits}, // set by the network
		{job.DripReading, -2 * time.Minute, ClockBehind},
		{job.DripReading, -6 * 365 * day, ClockBehind},
		{job.DripReading, 59 * day, ClockFits},
		{job.DripReading, 61 * day, ClockAhead},
		{job.DrainedAmount, -time.Hour, ClockBehind},
		{job.DrainedAmount, 10 * 365 * day, ClockAhead},
		{job.Vehicle, -time.Hour, ClockBehind}, // before the first answer too
		{job.LeakCheck, -time.Hour, ClockBehind},
		{job.LeakCheck, 61 * day, ClockAhead},
		{job.NoTopic, -time.Hour, ClockFits}, // closed
		{job.NoTopic, 61 * day, ClockFits},
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
		at    job.Topic
		moved time.Duration
		want  Clock
	}{
		{job.DripReading, -6 * 365 * 24 * time.Hour, ClockBehind}, // the drain is timed
		{job.DrainedAmount, -time.Hour, ClockBehind},              // it is said how long the unit is empty
		{job.DripReading, 6 * 365 * 24 * time.Hour, ClockAhead},
		{job.DrainedAmount, 6 * 365 * 24 * time.Hour, ClockAhead},
	} {
		d := newDrive(t, small)
		s := d.until(c.at)
		out, _ := s.When(job.PlugOut, 0)
		p := s.ResumePrompts()[0]
		d.add(answered(s, p, "", s.Updated.Add(c.moved)))
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
		"drain port": small.with(script{job.DripReading: {"300", "420", "480", "510", "525", ""}}),
		"level port": level,
	} {
		d := newDrive(t, lines)
		whole := d.until(job.NoTopic).Waits()
		for back := range len(d.job.Entries) {
			job := job.Job{ID: d.job.ID, Started: d.job.Started}
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
			for i, w := range s.Waits() {
				if w.Took < 0 || w.Took > whole[i].Took {
					t.Errorf("%s, set back before line %d: %v waited %v", name, back+1, w.Place, w.Took)
				}
			}
		}
	}
}
