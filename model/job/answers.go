package job

// This file reads the answers that stand, each as what it is, with what counts
// as long as there is none.

import (
	"time"

	"garage/tundish/model/quantity"
)

// Vehicle and UnitName are the names given, "" until then.
func (s *State) Vehicle() string { return s.Text(Vehicle) }

func (s *State) UnitName() string { return s.Text(UnitName) }

// UnitKey ties the jobs of one unit together; empty until both names are known.
func (s *State) UnitKey() string { return UnitKey(s.Vehicle(), s.UnitName()) }

// Path is the fill path; drain port only until it is chosen.
func (s *State) Path() Path { p, _ := ChoiceAt[Path](s, Place{Topic: FillPath}, pathTokens); return p }

// Drivetrain is what drives the car.
func (s *State) Drivetrain() Drivetrain {
	d, _ := ChoiceAt[Drivetrain](s, Place{Topic: DriveKind}, driveTokens)
	return d
}

// FillerKind is what pushes the oil in.
func (s *State) FillerKind() FillerKind {
	k, _ := ChoiceAt[FillerKind](s, Place{Topic: Filler}, fillerTokens)
	return k
}

// DryStart reports whether the unit held nothing when the job began: new, rebuilt
// or overhauled. Then nothing is drained, and nothing has stayed behind.
func (s *State) DryStart() bool { return s.Choice(Place{Topic: DryStart}) == DryUnit }

// MagnetLook and OilLook are what came out with the oil.
func (s *State) MagnetLook() Magnet {
	m, _ := ChoiceAt[Magnet](s, Place{Topic: MagnetLook}, magnetTokens)
	return m
}

func (s *State) OilLook() Look {
	l, _ := ChoiceAt[Look](s, Place{Topic: OilLook}, lookTokens)
	return l
}

// Past is what happened to the oil since the last fill.
func (s *State) Past() Past {
	p, _ := ChoiceAt[Past](s, Place{Topic: OilHistory}, pastTokens)
	return p
}

func (s *State) HoseBefore(round int) Hose {
	h, _ := ChoiceAt[Hose](s, At(HoseBefore, round, 0), hoseTokens)
	return h
}

func (s *State) HoseAfter(round int) HoseEnd {
	h, _ := ChoiceAt[HoseEnd](s, At(HoseAfter, round, 0), hoseEndTokens)
	return h
}

// Decision is what the owner decided after a round.
func (s *State) Decision(round int) Decided {
	d, _ := ChoiceAt[Decided](s, At(Decision, round, 0), decisionTokens)
	return d
}

// Emptied reports whether the unit holds nothing but what this job put in: its
// plug has been out, or it was dry from the start.
func (s *State) Emptied() bool { return s.Has(PlugOut) || s.DryStart() }

// Units are the units chosen for this job; metric until then.
func (s *State) Units() quantity.Units {
	switch s.Choice(Place{Topic: DisplayUnits}) {
	case UnitsUS:
		return quantity.US()
	case UnitsImperial:
		return quantity.Imperial()
	}
	return quantity.Metric()
}

// TorqueNm is the maker's torque figure as the owner noted it, N·m.
func (s *State) TorqueNm() (float64, bool) { return s.Num(Place{Topic: TorqueFigure}) }

// When is the time of a topic's standing answer in a round.
func (s *State) When(t Topic, round int) (time.Time, bool) {
	e, ok := s.Answer(At(t, round, 0))
	return e.At, ok
}

// Measured reports whether all that came out has been measured.
func (s *State) Measured() bool { return s.Has(DrainedAmount) && s.Has(DrainedMore) }
