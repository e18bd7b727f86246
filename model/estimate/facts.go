package estimate

// This file reads the facts of the first step out of the entries, with the
// defaults that stand in where nothing is known.

import (
	"math"

	"garage/tundish/model/hydraulics"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
	"garage/tundish/model/oil"
)

// Capacity is the stated quantity, ml; of a range, its middle. How far apart its
// ends are is the window, and counts there alone.
func (s *Figures) Capacity() (measure.Value, bool) {
	e, ok := s.Answer(job.Place{Topic: job.Capacity})
	if !ok {
		return measure.Exact(0), false
	}
	low, high := e.Value.Ends()
	return measure.Exact((low + high) / 2), true
}

// wholeML is all that belongs in by the stated quantity: a refill is less by what
// usually stays behind.
func (s *Figures) wholeML() float64 {
	c := s.CapacityML()
	stays, _ := s.UsualShare()
	switch m := s.Meaning(); {
	case m == MeansRefill, m == MeansLevel && !s.DryStart():
		return c / (1 - stays)
	case m == MeansUnknown:
		return c / (1 - stays/2)
	}
	return c
}

// Left behind by an ordinary drain, a share of all that belongs in with its standard
// uncertainty: 25 to 60 % in an automatic gearbox with a converter, 15 to 35 % in a wet
// twin-clutch one (common practice, no source).
const (
	converterShare   = 0.425
	converterShareU  = 0.0875
	twinClutchShare  = 0.25
	twinClutchShareU = 0.05
)

// UsualShare is what an ordinary drain leaves behind in a unit of this kind, a share of
// all that belongs in, with its standard uncertainty.
func (s *Figures) UsualShare() (share, u float64) {
	switch s.Choice(job.Place{Topic: job.UnitKind}) {
	case job.AutomaticBox, job.BeltBox:
		return converterShare, converterShareU
	case job.TwinClutchBox:
		return twinClutchShare, twinClutchShareU
	}
	return ResidualShare, ResidualShareU
}

// CapacityML is the stated quantity, ml; 0 until it is known.
func (s *Figures) CapacityML() float64 { c, _ := s.Capacity(); return c.Nominal }

// Meaning is what the stated quantity means; as long as nobody has said it,
// that is not known.
func (s *Figures) Meaning() Meaning {
	m, ok := job.ChoiceAt[Meaning](s.State, job.Place{Topic: job.CapacityMeans}, meaningTokens)
	if !ok {
		return MeansUnknown
	}
	return m
}

// ResidualMatters reports whether what belongs in rests on what an ordinary drain
// leaves behind.
func (s *Figures) ResidualMatters() bool { return s.Meaning().needsResidual(s.DryStart()) }

// Prior says how far the level before the job is trusted.
func (s *Figures) Prior() Trust {
	t, ok := job.ChoiceAt[Trust](s.State, job.Place{Topic: job.PriorLevel}, trustTokens)
	if !ok {
		return Believed
	}
	return t
}

// expected is what an answer expects of a quantity: a range as learned or known
// covers it 19 times in 20, one figure alone is off by a share of itself.
func (s *Figures) expected(t job.Topic, source string, shareU float64) (measure.Value, bool) {
	e, ok := s.Answer(job.Place{Topic: t})
	if !ok || e.Value.Unknown {
		return measure.Value{}, false
	}
	low, high := e.Value.Number, e.Value.High
	if high <= low {
		return measure.Gaussian(source, low, shareU*low), true
	}
	return measure.Gaussian(source, (low+high)/2, (high-low)/2/Coverage), true
}

// residual is what an ordinary drain leaves behind, as the unit's first job that
// is known states it: what the jobs since show of it is in the adjustment.
func (s *Figures) residual() measure.Value {
	share, u := s.UsualShare()
	if v, ok := s.root().expected(job.ResidualExpected, StaysBehind, u/share); ok {
		return v
	}
	return measure.Gaussian(StaysBehind, share*s.wholeML(), u*s.wholeML())
}

// Oil is the new oil as its data sheet has it.
func (s *Figures) Oil() oil.Oil {
	return oil.Oil{Rho15KgM3: s.NumOr(job.OilDensity, oil.DefaultRho15KgM3), KV40CSt: s.NumOr(job.OilKV40, 0),
		KV100CSt: s.NumOr(job.OilKV100, 0)}
}

// sheetUKgM3 is how far a batch is from the typical density of its data sheet
// (common practice, no source).
const sheetUKgM3 = 3.0

// densityU is the standard uncertainty of the density at 15 °C, kg/m³.
func (s *Figures) densityU() float64 {
	if _, ok := s.Num(job.Place{Topic: job.OilDensity}); ok {
		return sheetUKgM3
	}
	return oil.DefaultRho15UKgM3
}

// HoseKnown reports whether the hose's size is known.
func (s *Figures) HoseKnown() bool { return len(s.HosePieces()) > 0 }

// HosePieces are the parts of the hose whose sizes are known.
func (s *Figures) HosePieces() []hydraulics.Piece {
	var pieces []hydraulics.Piece
	for i := range s.Items(job.HoseBore, 0) {
		bore, ok1 := s.Num(job.At(job.HoseBore, 0, i))
		length, ok2 := s.Num(job.At(job.HoseLength, 0, i))
		if ok1 && ok2 {
			pieces = append(pieces, hydraulics.Piece{BoreMM: bore, LengthM: length})
		}
	}
	return pieces
}

// HoseBySize reports whether what was said of the hose last is its size, and not what it
// holds.
func (s *Figures) HoseBySize() bool {
	return s.SeqOf(job.Place{Topic: job.HoseBore}) > s.SeqOf(job.Place{Topic: job.HoseHolds})
}

// HoldUp is what hose and adapter hold when full, ml. The bore of a hose is
// known to about 2.5 %, its fill so to about 5 %; one that was filled and poured out,
// or read off somewhere, to about 15 % (trade judgement).
func (s *Figures) HoldUp() measure.Value {
	if s.Path().PouredIn() {
		return measure.Exact(0)
	}
	if ml, err := hydraulics.HoldUpML(s.HosePieces()); err == nil && ml > 0 && s.HoseBySize() {
		return measure.Gaussian(AboutHose, ml, 0.05*ml)
	}
	if ml, ok := s.Num(job.Place{Topic: job.HoseHolds}); ok {
		return measure.Gaussian(AboutHose, ml, max(0.15*ml, 1))
	}
	return measure.Gaussian(AboutHose, DefaultHoldUpML, DefaultHoldUpUML)
}

// What a hose holds that nobody has measured, ml, and its standard uncertainty
// (common practice, no source).
const (
	DefaultHoldUpML  = 25.0
	DefaultHoldUpUML = 15.0
)

// What the vessel cannot push out where nobody has measured it, ml, and how much
// that differs from push to push (common practice, no source).
const (
	HeelML    = 30.0
	HeelUML   = 20.0
	heelOwnML = 6.5
)

// heelOf is what the vessel keeps of a push.
func (s *Figures) heelOf(round int) measure.Value {
	heel := measure.Gaussian(HeelKept, HeelML, HeelUML)
	if ml, ok := s.Num(job.Place{Topic: job.VesselHeel}); ok {
		heel = measure.Exact(ml)
	}
	return heel.Add(measure.Gaussian(measure.Source{Name: HeelKept, Job: s.ID, Round: round, Part: 1}, 0, heelOwnML))
}

// Heel is what the vessel cannot push out, by all pushes that came to its end
// before this job.
func (s *Figures) Heel() measure.Value { return s.knownBefore().Of(s.heelOf(0)) }

// What escapes at a swap where nobody says, ml: what is the rig's and the
// person's, the same each time, and what is the swap's own (common practice, no
// source; 24 covers a lognormal of median 45 and σ 0.5).
const (
	escapeRigUML = 8.0
	EscapeOwnUML = 24.0
)

// escapeOf is what escapes at the swaps of a round by what is usual.
func (s *Figures) escapeOf(round int) measure.Value {
	if s.Path().PouredIn() {
		return measure.Exact(0)
	}
	ml, scale := EscapeML, 1.0
	if v, ok := s.root().expected(job.EscapeExpected, WillEscape, EscapeUML/EscapeML); ok {
		ml, scale = v.Nominal, v.U()/math.Hypot(escapeRigUML, EscapeOwnUML)
	}
	n := 1.0 // swaps: once the unit holds oil there are two, plug to adapter and adapter to plug
	if round > 0 {
		n = 2
	}
	own := measure.Source{Name: WillEscape, Job: s.ID, Round: round, Part: 1}
	return measure.Gaussian(WillEscape, n*ml, n*scale*escapeRigUML).Add(measure.Gaussian(own, 0, math.Sqrt(n)*scale*EscapeOwnUML))
}

// EscapeIn is what is expected to escape in a round, by all swaps before this
// job.
func (s *Figures) EscapeIn(round int) measure.Value { return s.knownBefore().Of(s.escapeOf(round)) }

// knownBefore is what the jobs before this one tell.
func (s *Figures) knownBefore() known {
	return s.memo.before.Get(func() known {
		if last := s.earlier(); last != nil {
			return last.left().known
		}
		return known{}
	})
}

// AdditiveML is the part of the fill that is an additive, ml.
func (s *Figures) AdditiveML() float64 { return s.NumOr(job.AdditiveVolume, 0) }
