package verdict

// This file decides whether what is in the unit is right, and what to do.

import (
	"math"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
)

// Conformity is what a verdict says of the fill.
type Conformity uint8

// The conformities that a verdict can state.
const (
	NotProven Conformity = iota
	Within
	LikelyWithin
	Low
	High
	Disputed // readings and level hole contradict each other
)

var conformityTokens = []string{"not proven", "within", "likely within", "low", "high", "disputed"}

// String is the conformity as it is stored; what is shown is a Headword.
func (c Conformity) String() string { return job.TokenOf(conformityTokens, c) }

// MarshalText writes the conformity.
func (c Conformity) MarshalText() ([]byte, error) { return []byte(c.String()), nil }

// UnmarshalText reads the conformity.
func (c *Conformity) UnmarshalText(text []byte) error {
	return job.UnmarshalToken(c, conformityTokens, text, "verdict")
}

// Act is what a verdict asks for.
type Act uint8

// The actions that a verdict can ask for.
const (
	Nothing Act = iota
	AddOil
	LetOut
	Remeasure // the reading that most of the uncertainty comes from
)

var actTokens = []string{"nothing", "add", "let out", "re-measure"}

// String is the action as it is shown and stored.
func (a Act) String() string { return job.TokenOf(actTokens, a) }

// MarshalText writes the action.
func (a Act) MarshalText() ([]byte, error) { return []byte(a.String()), nil }

// UnmarshalText reads the action.
func (a *Act) UnmarshalText(text []byte) error {
	return job.UnmarshalToken(a, actTokens, text, "action")
}

// Limits of the conformities (design of this tool; JCGM 106:2012 leaves the
// probability to the user), and of what must not be driven (trade judgement,
// common practice, no source).
const (
	probablyWithin  = 0.95
	probablyLikely  = 0.80
	DoNotDriveShort = 0.20 // of the target
	DoNotDriveOver  = 0.20
)

// Verdict says how what is in the unit compares with what it needs.
type Verdict struct {
	Error      measure.Value // how far it is off, ml at 20 °C, by everything that is known, as it is said
	BySums     measure.Value // the same without what the level hole says, and without what judgement may leave out
	known      measure.Value // the same with the level hole
	PLow       float64
	PWithin    float64
	PHigh      float64
	Conformity Conformity
	Act        Act
	ActML      float64 // ml to add or let out; 0 else
	PBest      float64 // PWithin once it is put right, measured
	PFixed     float64 // PWithin if all that can be measured again were exact
	MayDrive   bool    // false: not to be driven before it is put right
	Doubt      []measure.Contribution
	LevelZ     float64 // how far sums and a seen level are apart, in standard uncertainties; 0 where no level was seen
}

// judgeOff judges a fill that is off by so much from a target, where anything
// off by low to high is right, all ml (JCGM 106:2012, 7.2, with a normal
// distribution).
func judgeOff(off measure.Value, targetML, lowML, highML float64) Verdict {
	v := Verdict{Error: off, BySums: off, known: off, Doubt: off.Contributions()}
	v.PLow, v.PWithin, v.PHigh = measure.Probability(off, lowML, highML)
	put := off.Add(measure.Gaussian("correction", -off.Nominal, correctionUML))
	_, v.PBest, _ = measure.Probability(put, lowML, highML)
	fixed := measure.Exact(off.Nominal)
	for _, c := range v.Doubt {
		if !remeasurable(ThingOf(c.Source)) {
			fixed = fixed.Add(measure.Gaussian(c.Source, 0, c.C))
		}
	}
	_, v.PFixed, _ = measure.Probability(fixed, lowML, highML)
	v.Conformity = conformityOf(v)
	v.Act, v.ActML = actOf(v)
	v.MayDrive = mayDrive(v, targetML)
	return v
}

// levelContradicts reports whether the level hole and the sums contradict each
// other.
func (v Verdict) levelContradicts() bool { return v.LevelZ > estimate.ConflictZ }

// mayDrive reports whether a car may be driven although its fill is off: short by less than a
// tenth and, at worst, by less than a fifth, or over by less than a fifth.
func mayDrive(v Verdict, targetML float64) bool {
	if v.Conformity == Within || v.Conformity == LikelyWithin {
		return true
	}
	off := v.Error.Nominal / math.Max(targetML, 1)
	worst := off - estimate.Coverage*v.Error.U()/math.Max(targetML, 1)
	return off > -estimate.CorrectSoonShort && worst > -DoNotDriveShort && off < DoNotDriveOver
}

func conformityOf(v Verdict) Conformity {
	switch {
	case v.PWithin >= probablyWithin:
		return Within
	case v.PWithin >= probablyLikely:
		return LikelyWithin
	case v.PLow >= probablyLikely:
		return Low
	case v.PHigh >= probablyLikely:
		return High
	}
	return NotProven
}

// Limits of what is worth doing (trade judgement, no source).
const (
	correctionUML = 7.0  // standard uncertainty that a measured correction adds, ml
	leastGain     = 0.05 // in the probability, that is worth a correction
	leastCorrect  = 5.0  // ml
)

// actOf corrects towards the target where that gains something; else it asks for
// a better reading where one can make it likely right, and for nothing where
// none can.
func actOf(v Verdict) (Act, float64) {
	off := v.Error.Nominal
	switch {
	case v.Conformity == Within || v.Conformity == LikelyWithin:
		return Nothing, 0
	case v.Conformity == Low, v.Conformity == High, math.Abs(off) > leastCorrect && v.PBest-v.PWithin > leastGain:
		return correction(off)
	}
	if v.PFixed < probablyLikely {
		return Nothing, 0
	}
	return Remeasure, 0
}

// BestOdds is PBest in 100: never certain.
func (v Verdict) BestOdds() int { return oddsOf(v.PBest) }

// oddsOf is a probability in 100, cut so that it claims nothing that it has not
// reached: never certain, never impossible.
func oddsOf(p float64) int { return min(max(int(100*p+1e-9), 1), 99) }

// correction is what puts right a fill that is off by so many ml.
func correction(offML float64) (Act, float64) {
	if offML < 0 {
		return AddOil, math.Round(-offML)
	}
	return LetOut, math.Round(offML)
}
