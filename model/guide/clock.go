package guide

// This file holds a computer's clock against the times of a job. Where it does
// not go with them, nothing that is counted by it can be told.

import (
	"slices"
	"time"

	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// Clock says how a clock goes with the times of a job.
type Clock uint8

const (
	ClockFits   Clock = iota
	ClockBehind       // before an entry that something is counted from
	ClockAhead        // longer after one than a job under way is left lying
)

// Trade judgement, no source: a clock that is set by the network moves by seconds.
// A part is waited for some weeks; a clock that lost its time is off by years.
const (
	clockSlack = time.Minute
	clockFar   = 60 * 24 * time.Hour
)

// ClockAt says how a clock that shows now goes with a job under way, and the time
// of the entry that speaks against it. In a job that is closed nothing is counted.
func (s *Guide) ClockAt(now time.Time) (Clock, time.Time) {
	if p := s.Phase(); p != Open && p != ToRecheck {
		return ClockFits, time.Time{}
	}
	counted := []time.Time{s.Updated}
	if w, ok := s.Wait(); ok {
		counted = append(counted, w.Since)
	}
	if out, ok := s.When(job.PlugOut, 0); ok && s.UnitState() == verdict.Empty {
		counted = append(counted, out)
	}
	first, last := slices.MinFunc(counted, time.Time.Compare), slices.MaxFunc(counted, time.Time.Compare)
	switch {
	case now.Before(last.Add(-clockSlack)):
		return ClockBehind, last
	case now.Sub(first) > clockFar:
		return ClockAhead, first
	}
	return ClockFits, time.Time{}
}
