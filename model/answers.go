package model

// This file reads the answers that stand, each as what it is, with what counts
// as long as there is none.

import (
	"time"

	"garage/tundish/model/quantity"
)

// Vehicle and UnitName are the names given, "" until then.
func (s *State) Vehicle() string { return s.Text(Vehicle) }

func (s *State) UnitName() string { return s.Text(UnitName) }

// Path is the fill path; drain port only until it is chosen.
func (s *State) Path() Path { p, _ := choiceAt[Path](s, Place{Topic: FillPath}, pathTokens); return p }

// Drivetrain is what drives the car.
func (s *State) Drivetrain() Drivetrain {
	d, _ := choiceAt[Drivetrain](s, Place{Topic: DriveKind}, driveTokens)
	return d
}

// FillerKind is what pushes the oil in.
func (s *State) FillerKind() FillerKind {
	k, _ := choiceAt[FillerKind](s, Place{Topic: Filler}, fillerTokens)
	return k
}

// DryStart says whether the unit held nothing when the job began: new, rebuilt
// or overhauled. Then nothing is drained, and nothing has stayed behind.
func (s *State) DryStart() bool { return s.choice(Place{Topic: DryStart}) == dryUnit }

// MagnetLook and OilLook are what came out with the oil.
func (s *State) MagnetLook() Magnet {
	m, _ := choiceAt[Magnet](s, Place{Topic: MagnetLook}, magnetTokens)
	return m
}

func (s *State) OilLook() Look {
	l, _ := choiceAt[Look](s, Place{Topic: OilLook}, lookTokens)
	return l
}

// Past is what happened to the oil since the last fill.
func (s *State) Past() Past {
	p, _ := choiceAt[Past](s, Place{Topic: OilHistory}, pastTokens)
	return p
}

func (s *State) hoseBefore(round int) Hose {
	h, _ := choiceAt[Hose](s, at(HoseBefore, round, 0), hoseTokens)
	return h
}

func (s *State) hoseAfter(round int) HoseEnd {
	h, _ := choiceAt[HoseEnd](s, at(HoseAfter, round, 0), hoseEndTokens)
	return h
}

// Decision is what the owner decided after a round.
func (s *State) Decision(round int) Decided {
	d, _ := choiceAt[Decided](s, at(Decision, round, 0), decisionTokens)
	return d
}

// emptied says whether the unit holds nothing but what this job put in: its
// plug has been out, or it was dry from the start.
func (s *State) emptied() bool { return s.has(PlugOut) || s.DryStart() }

// Units are the units chosen for this job; metric until then.
func (s *State) Units() quantity.Units {
	switch s.choice(Place{Topic: DisplayUnits}) {
	case unitsUS:
		return quantity.US()
	case unitsImperial:
		return quantity.Imperial()
	}
	return quantity.Metric()
}

// TorqueNm is the maker's torque figure as the owner noted it, N·m.
func (s *State) TorqueNm() (float64, bool) { return s.num(Place{Topic: TorqueFigure}) }

// When is the time of a topic's standing answer in a round.
func (s *State) When(t Topic, round int) (time.Time, bool) {
	e, ok := s.Answer(at(t, round, 0))
	return e.At, ok
}

// Measured says whether all that came out has been measured.
func (s *State) Measured() bool { return s.has(DrainedAmount) && s.has(DrainedMore) }
