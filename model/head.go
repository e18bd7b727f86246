package model

// This file holds what a list of jobs shows of each job: an index, worked out
// from the entries by Fold and kept beside them so that a list need not fold.

import (
	"fmt"
	"time"
)

// UnitState says what is known of the oil in the unit.
type UnitState uint8

// The states of a unit, as a job leaves it.
const (
	AsFound  UnitState = iota // the drain plug has not been out
	Empty                     // plug out, or in again, with nothing put back
	Unproven                  // oil put in, amount not accepted yet
	Proven                    // plug seated and net fill accepted: within, and nothing against it
	LeftOff                   // left unproven, with the owner's reason
	Accepted                  // plug seated and net fill accepted, likely right but not proven
	unitStateCount
)

var unitStateTokens = [unitStateCount]string{"as_found", "empty", "unproven", "proven", "left_unproven", "accepted"}
var unitStateWords = [unitStateCount]string{"UNIT AS FOUND", "UNIT EMPTY", "UNIT UNPROVEN", "FILL PROVEN", "LEFT UNPROVEN", "ACCEPTED"}

// String is the state in the words that every screen and list uses; of a fill
// that was accepted, Words has the odds too.
func (s UnitState) String() string {
	if s < unitStateCount {
		return unitStateWords[s]
	}
	return fmt.Sprintf("unit state %d", uint8(s))
}

// Words is the state with the odds, in 100, that a fill which is accepted but
// not proven is right; 0 where they are not known.
func (s UnitState) Words(odds int) string {
	if s != Accepted || odds == 0 {
		return s.String()
	}
	return fmt.Sprintf("%s, LIKELY %d in 100", s, odds)
}

// Settled reports whether the fill was accepted, proven or not.
func (s UnitState) Settled() bool { return s == Proven || s == Accepted }

// MarshalText writes the state's name in files.
func (s UnitState) MarshalText() ([]byte, error) {
	if s >= unitStateCount {
		return nil, fmt.Errorf("unit state %d has no name", uint8(s))
	}
	return []byte(unitStateTokens[s]), nil
}

// UnmarshalText reads a state's name.
func (s *UnitState) UnmarshalText(text []byte) error {
	return unmarshalToken(s, unitStateTokens[:], text, "unit state")
}

// Phase says whether a job still wants something.
type Phase uint8

// The phases of a job.
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
	if p < phaseCount {
		return phaseWords[p]
	}
	return fmt.Sprintf("phase %d", uint8(p))
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
	return unmarshalToken(p, phaseTokens[:], text, "phase")
}

func unmarshalToken[T ~uint8](into *T, tokens []string, text []byte, what string) error {
	for i, token := range tokens {
		if token == string(text) {
			*into = T(i)
			return nil
		}
	}
	return fmt.Errorf("%s %q is not one this program knows", what, text)
}

// Head is one line of the list of jobs.
type Head struct {
	ID        string     `json:"id"`
	Started   time.Time  `json:"started"`
	Updated   time.Time  `json:"updated"` // time of the last entry
	Entries   int        `json:"entries"`
	Vehicle   string     `json:"vehicle,omitempty"`
	UnitName  string     `json:"unit,omitempty"`
	Phase     Phase      `json:"phase"`
	UnitState UnitState  `json:"unit_state"`
	Odds      int        `json:"odds,omitempty"`   // in 100, of an accepted fill; 0 not known
	Due       *time.Time `json:"due,omitempty"`    // next change by date
	DueKm     float64    `json:"due_km,omitempty"` // next change by odometer, km; 0 not known
}

// StateWords is the state of the unit in words, with the odds where it is
// accepted.
func (h Head) StateWords() string { return h.UnitState.Words(h.Odds) }

// UnitKey is what ties the jobs of one unit together: vehicle and unit name,
// case and outer space ignored. It is empty until both are known.
func (h Head) UnitKey() string { return UnitKey(h.Vehicle, h.UnitName) }
