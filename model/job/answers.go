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
func (s *State) Path() Path { return choiceOf[Path](s, Place{Topic: FillPath}, pathTokens) }

// choiceOf is ChoiceAt with the first of the tokens where there is no choice.
func choiceOf[T ~uint8](s *State, p Place, tokens []string) T {
	choice, _ := ChoiceAt[T](s, p, tokens)
	return choice
}

// Drivetrain is what drives the car.
func (s *State) Drivetrain() Drivetrain {
	return choiceOf[Drivetrain](s, Place{Topic: DriveKind}, driveTokens)
}

// FillerKind is what pushes the oil in.
func (s *State) FillerKind() FillerKind {
	return choiceOf[FillerKind](s, Place{Topic: Filler}, fillerTokens)
}

// DryStart reports whether the unit held nothing when the job began: new, rebuilt
// or overhauled. Then nothing is drained, and nothing has stayed behind.
func (s *State) DryStart() bool { return s.Choice(Place{Topic: DryStart}) == DryUnit }

// MagnetLook and OilLook are what came out with the oil.
func (s *State) MagnetLook() Magnet {
	return choiceOf[Magnet](s, Place{Topic: MagnetLook}, magnetTokens)
}

func (s *State) OilLook() Look { return choiceOf[Look](s, Place{Topic: OilLook}, lookTokens) }

// Past is what happened to the oil since the last fill.
func (s *State) Past() Past { return choiceOf[Past](s, Place{Topic: OilHistory}, pastTokens) }

func (s *State) HoseBefore(round int) Hose {
	return choiceOf[Hose](s, At(HoseBefore, round, 0), hoseTokens)
}

// HoseAfter is where the hose's oil is after a push: by a second look, where one was asked for, else as it was
// said. SaidHoseAfter is that alone.
func (s *State) HoseAfter(round int) HoseEnd {
	if again := At(HoseLooked, round, 0); s.SeqOf(again) > s.SeqOf(At(HoseAfter, round, 0)) {
		if s.Choice(again) == HoseRan {
			return HoseRanToPan
		}
		return HoseLeftFull
	}
	return s.SaidHoseAfter(round)
}

func (s *State) SaidHoseAfter(round int) HoseEnd {
	return choiceOf[HoseEnd](s, At(HoseAfter, round, 0), hoseEndTokens)
}

// TubeLook is what came out of the overflow tube at the end of a round; false where
// nobody has said.
func (s *State) TubeLook(round int) (TubeLook, bool) {
	return ChoiceAt[TubeLook](s, At(TubeSaid, round, 0), tubeTokens)
}

// Automatic reports whether the unit is a gearbox that changes gear by itself.
func (s *State) Automatic() bool {
	switch s.Choice(Place{Topic: UnitKind}) {
	case AutomaticBox, TwinClutchBox, BeltBox:
		return true
	}
	return false
}

// Decision is what the owner decided after a round.
func (s *State) Decision(round int) OwnerDecision {
	return choiceOf[OwnerDecision](s, At(Decision, round, 0), decisionTokens)
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

// When is the time of a topic's standing answer in a round.
func (s *State) When(t Topic, round int) (time.Time, bool) {
	e, ok := s.Answer(At(t, round, 0))
	return e.Happened(), ok
}

// Measured reports whether all that came out has been measured.
func (s *State) Measured() bool { return s.Has(DrainedAmount) && s.Has(DrainedMore) }
