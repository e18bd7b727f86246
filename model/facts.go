package model

// This file reads the facts of the first step out of the entries, with the
// defaults that stand in where nothing is known.

import (
	"math"

	"garage/tundish/model/hydraulics"
	"garage/tundish/model/measure"
	"garage/tundish/model/oil"
	"garage/tundish/model/quantity"
)

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

// Vehicle and UnitName are the names given, "" until then.
func (s *State) Vehicle() string  { return s.text(Vehicle) }
func (s *State) UnitName() string { return s.text(UnitName) }

// Text is the line of text of a topic, "" where unknown or not given.
func (s *State) Text(t Topic) string { return s.text(t) }

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

// capacity is the stated quantity, ml; of a range, its middle. How far apart its
// ends are is the window, and counts there alone.
func (s *State) capacity() (ml20, bool) {
	e, ok := s.at(Place{Topic: Capacity})
	if !ok {
		return measure.Exact(0), false
	}
	low, high := e.Value.ends()
	return measure.Exact((low + high) / 2), true
}

// ends are the lowest and the highest that a value stands for, the same twice
// where it is no range.
func (v Value) ends() (low, high float64) { return v.Number, math.Max(v.Number, v.High) }

// CapacityML is the stated quantity, ml; 0 until it is known.
func (s *State) CapacityML() float64 { c, _ := s.capacity(); return c.Nominal }

// Meaning is what the stated quantity means; as long as nobody has said it,
// that is not known.
func (s *State) Meaning() Meaning {
	m, ok := choiceAt[Meaning](s, Place{Topic: CapacityMeans}, meaningTokens)
	if !ok {
		return MeansUnknown
	}
	return m
}

// DryStart says whether the unit held nothing when the job began: new, rebuilt
// or overhauled. Then nothing is drained, and nothing has stayed behind.
func (s *State) DryStart() bool { return s.choice(Place{Topic: DryStart}) == dryUnit }

// emptied says whether the unit holds nothing but what this job put in: its
// plug has been out, or it was dry from the start.
func (s *State) emptied() bool { return s.has(PlugOut) || s.DryStart() }

// ResidualMatters says whether what belongs in rests on what an ordinary drain
// leaves behind.
func (s *State) ResidualMatters() bool { return s.Meaning().needsResidual(s.DryStart()) }

// Prior says how far the level before the job is trusted.
func (s *State) Prior() Trust {
	t, ok := choiceAt[Trust](s, Place{Topic: PriorLevel}, trustTokens)
	if !ok {
		return Believed
	}
	return t
}

// expected is what an answer expects of a quantity: a range as learned or known
// covers it 19 times in 20, one figure alone is off by a share of itself.
func (s *State) expected(t Topic, source string, shareU float64) (ml20, bool) {
	e, ok := s.at(Place{Topic: t})
	if !ok || e.Value.Unknown {
		return ml20{}, false
	}
	low, high := e.Value.Number, e.Value.High
	if high <= low {
		return measure.Gaussian(source, low, shareU*low), true
	}
	return measure.Gaussian(source, (low+high)/2, (high-low)/2/Coverage), true
}

// residual is what an ordinary drain leaves behind.
func (s *State) residual() ml20 {
	if v, ok := s.expected(ResidualExpected, staysBehind, ResidualShareU/ResidualShare); ok {
		return v
	}
	return DefaultResidual(s.CapacityML())
}

// Oil is the new oil as its data sheet has it.
func (s *State) Oil() oil.Oil {
	return oil.Oil{Rho15KgM3: s.numOr(OilDensity, oil.DefaultRho15KgM3), KV40CSt: s.numOr(OilKV40, 0), KV100CSt: s.numOr(OilKV100, 0)}
}

// densityU is the standard uncertainty of the density at 15 °C, kg/m³: that of
// the default, or the last digit of a data sheet.
func (s *State) densityU() float64 {
	if _, ok := s.num(Place{Topic: OilDensity}); ok {
		return 1
	}
	return oil.DefaultRho15UKgM3
}

// HoseKnown says whether the hose's size is known.
func (s *State) HoseKnown() bool { return len(s.hosePieces()) > 0 }

func (s *State) hosePieces() []hydraulics.Piece {
	var pieces []hydraulics.Piece
	for i := range s.items(HoseBore, 0) {
		bore, ok1 := s.num(Place{HoseBore, 0, i})
		length, ok2 := s.num(Place{HoseLength, 0, i})
		if ok1 && ok2 {
			pieces = append(pieces, hydraulics.Piece{BoreMM: bore, LengthM: length})
		}
	}
	return pieces
}

// HoldUp is what hose and adapter hold when full, ml. The bore of a hose is
// known to about 2.5 %, its fill so to about 5 %.
func (s *State) HoldUp() ml20 {
	if s.Path() == LevelPort {
		return measure.Exact(0)
	}
	if ml, err := hydraulics.HoldUpML(s.hosePieces()); err == nil && ml > 0 {
		return measure.Gaussian(aboutHose, ml, 0.05*ml)
	}
	return measure.Gaussian(aboutHose, defaultHoldUpML, defaultHoldUpUML)
}

// What a hose holds that nobody has measured, ml, and its standard uncertainty
// (common practice, no source).
const (
	defaultHoldUpML  = 25.0
	defaultHoldUpUML = 15.0
)

// heel is what the vessel cannot push out, ml.
func (s *State) heel() ml20 { return measure.Exact(s.numOr(VesselHeel, 0)) }

// escapeExpected is what is expected to escape at one swap, ml.
func (s *State) escapeExpected() ml20 {
	if s.Path() == LevelPort {
		return measure.Exact(0)
	}
	if v, ok := s.expected(EscapeExpected, "what will escape", EscapeUML/EscapeML); ok {
		return v
	}
	return measure.Gaussian("what will escape", EscapeML, EscapeUML)
}

// escapeIn is what is expected to escape in a round.
func (s *State) escapeIn(round int) ml20 { return s.escapeExpected().Scale(swapsIn(round)) }

// swapsIn is how many swaps let oil escape in a round: once the unit holds oil
// there are two, plug to adapter and adapter to plug.
func swapsIn(round int) float64 {
	if round == 0 {
		return 1
	}
	return 2
}

// additiveML is the part of the fill that is an additive, ml.
func (s *State) additiveML() float64 { return s.numOr(AdditiveVolume, 0) }

// oilTempC is the temperature of the drained oil last taken, °C; 20 where none
// was.
func (s *State) oilTempC() float64 {
	n := s.items(OilTemperature, 0)
	if t, ok := s.num(Place{OilTemperature, 0, n - 1}); ok {
		return t
	}
	return 20
}

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
