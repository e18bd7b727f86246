package model

// This file says what the gauge shows while the work goes on: the best figure
// of each quantity as things stand, not only once a step is complete.

import (
	"time"

	"garage/tundish/model/measure"
)

// DrainedNow is the best figure of what came out so far: what was measured,
// else the last look at the pan.
func (s *State) DrainedNow() (measure.Value, bool) {
	if s.has(DrainedAmount) {
		return s.Drained().Total, true
	}
	n := s.items(DripReading, 0)
	if n == 0 {
		return measure.Value{}, false
	}
	e, _ := s.at(Place{DripReading, 0, n - 1})
	return s.EntryAt20(e)
}

// InUnitNow is the best figure of what is in the unit by the ledger; false
// before anything was put in.
func (s *State) InUnitNow() (measure.Value, bool) {
	r := s.lastRound()
	if s.hasIn(LeftInVessel, r) || s.hasIn(LetOutAmount, r) {
		return s.NetFill(r), true
	}
	var before measure.Value
	if r > 0 {
		before = s.NetFill(r - 1)
	}
	left, ok := s.lastLook(r)
	if !ok {
		return before, r > 0
	}
	in := s.Loaded(r).Sub(left).Sub(s.hoseWillTake(r))
	if in.Nominal < 0 { // the hose is not full yet
		return before, true
	}
	return before.Add(in), true
}

// lastLook is what was left in the vessel at the last look of a push.
func (s *State) lastLook(round int) (measure.Value, bool) {
	e, ok := s.at(Place{FillReading, round, s.items(FillReading, round) - 1})
	if !ok {
		return measure.Value{}, false
	}
	return s.EntryAt20(e)
}

// ToPushML is what is still to leave the vessel in a round, ml: the plan's
// charge less the heel, less what has left already; never more than is in it.
func (s *State) ToPushML(round int) float64 {
	plan, err := s.Plan(round)
	if err != nil || plan.Undecided {
		return 0
	}
	left := s.Loaded(round).Nominal
	toLeave := plan.Charge.Nominal - s.heel().Nominal - left
	if look, ok := s.lastLook(round); ok {
		left = look.Nominal
	}
	return min(toLeave+left, left)
}

func (s *State) vesselDevice() Device {
	for _, d := range s.LoadDevices() {
		if d.Token == vesselToken {
			return d
		}
	}
	return Device{Name: "vessel", GraduationML: 10, ErrorShare: vesselErrorShare}
}

// When is the time of a topic's standing answer in a round.
func (s *State) When(t Topic, round int) (time.Time, bool) {
	e, ok := s.at(Place{t, round, 0})
	return e.At, ok
}

// ResumePrompts are asked again when a job is taken up with the car in the
// air: the stands, and what is in the drain port.
func (s *State) ResumePrompts() []Prompt {
	if !s.has(GroundAndChocks) || s.Phase() != Open || s.UnitState().Settled() {
		return nil
	}
	stands := Prompt{Spec: specs[ResumedStands], Place: Place{ResumedStands, 0, s.items(ResumedStands, 0)}}
	if !s.emptied() {
		return []Prompt{stands}
	}
	return []Prompt{stands, {Spec: specs[ResumedPlug], Place: Place{ResumedPlug, 0, s.items(ResumedPlug, 0)}}}
}

// EndReadingML is what should be left in the vessel when the plan's charge has
// gone in, ml; not below nothing.
func (s *State) EndReadingML(round int) float64 {
	plan, err := s.Plan(round)
	if err != nil || plan.Undecided {
		return 0
	}
	return max(s.Loaded(round).Nominal-(plan.Charge.Nominal-s.heel().Nominal), 0)
}

// NewOilTempC is the temperature of the new oil in a round, °C; 20 where it
// was not taken.
func (s *State) NewOilTempC(round int) float64 {
	if t, ok := s.num(Place{FillOilTemperature, round, 0}); ok {
		return t
	}
	if t, ok := s.num(Place{LoadedTemperature, round, 0}); ok {
		return t
	}
	return 20
}

// TorqueNm is the maker's torque figure as the owner noted it, N·m.
func (s *State) TorqueNm() (float64, bool) { return s.num(Place{Topic: TorqueFigure}) }
