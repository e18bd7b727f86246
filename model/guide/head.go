package guide

// This file holds what a list of jobs shows of each job: an index, worked out
// from the entries by Fold and kept beside them so that a list need not fold.

import (
	"fmt"
	"time"

	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// Phase reports whether a job still wants something.
type Phase uint8

const (
	Open      Phase = iota // steps are left
	ToRecheck              // done but for the look after a drive
	Done                   // nothing left
	Stopped                // stopped by the owner before the end, with a reason
	phaseCount
)

var phaseTokens = [phaseCount]string{"open", "to_recheck", "done", "stopped"}
var phaseWords = [phaseCount]string{"OPEN", "TO RE-CHECK", "DONE", "STOPPED"}

// String is the phase in the words that every screen and list uses.
func (p Phase) String() string {
	return job.TokenOf(phaseWords[:], p)
}

// MarshalText writes the phase's name in files.
func (p Phase) MarshalText() ([]byte, error) {
	if p >= phaseCount {
		return nil, fmt.Errorf("phase %d has no name", uint8(p))
	}
	return []byte(phaseTokens[p]), nil
}

// UnmarshalText reads a phase's name.
func (p *Phase) UnmarshalText(text []byte) error {
	return job.UnmarshalToken(p, phaseTokens[:], text, "phase")
}

// Head is one line of the list of jobs.
type Head struct {
	ID        string             `json:"id"`
	Started   time.Time          `json:"started"`
	Updated   time.Time          `json:"updated"` // time of the last entry
	Entries   int                `json:"entries"`
	Vehicle   string             `json:"vehicle,omitempty"`
	UnitName  string             `json:"unit,omitempty"`
	Phase     Phase              `json:"phase"`
	UnitState verdict.UnitState  `json:"unit_state"`
	Odds      int                `json:"odds,omitempty"`    // in 100, of an accepted fill; 0 not known
	Left      verdict.Conformity `json:"left,omitempty"`    // of a fill that was left: low or high; else not proven
	Due       *time.Time         `json:"due,omitempty"`     // next change by date
	DueKm     float64            `json:"due_km,omitempty"`  // next change by odometer, km; 0 not known
	Session   string             `json:"session,omitempty"` // the units of the car that are done in one go
}

// StateWords is the state of the unit in words, with the odds where it is
// accepted, and the side where it was left too low or too high.
func (h Head) StateWords() string { return h.UnitState.Words(h.Odds, h.Left) }

// UnitKey is what ties the jobs of one unit together: vehicle and unit name,
// case and outer space ignored. It is empty until both are known.
func (h Head) UnitKey() string { return job.UnitKey(h.Vehicle, h.UnitName) }

// Phase reports whether the job still wants something.
func (s *Guide) Phase() Phase {
	if s.StoppedByOwner() {
		return Stopped
	}
	p, more := s.Next()
	switch {
	case !more:
		return Done
	case p.Topic == job.LeakCheck || p.Topic == job.WasherRecheck:
		return ToRecheck
	}
	return Open
}

// Head is the job's line in a list.
func (s *Guide) Head() Head {
	h := Head{
		ID: s.ID, Started: s.Started, Updated: s.Updated, Entries: s.Count,
		Vehicle: s.Vehicle(), UnitName: s.UnitName(), Phase: s.Phase(), UnitState: s.UnitState(), Odds: s.Odds(), Left: s.LeftAs(),
		Session: s.Text(job.Session),
	}
	at, km := s.Due()
	if !at.IsZero() {
		h.Due = &at
	}
	h.DueKm = km
	return h
}
