package garage

// This file makes the unit, the tools and the habits of one job. Spreads are
// those that the model takes for granted, cut off at twice the standard
// uncertainty: what is asked of a verdict holds for what the trade calls usual.

import (
	"math"
	"math/rand/v2"

	"garage/tundish/model/estimate"
)

// Unit is what is really so, ml at 20 °C.
type Unit struct {
	LevelPort bool
	StartsDry bool
	RightML   float64 // belongs in it, all told
	StaysML   float64 // an ordinary warm drain leaves behind
	HeldML    float64 // is in it now
	LipML     float64 // is in it when oil weeps from the level hole
	Figure    float64 // in the manual, as it is typed
	Means     estimate.Meaning
	Said      estimate.Meaning // what the figure is said to mean
	Prior     estimate.Trust   // said of the level before
}

// jug is a container, or the marks of the fill vessel.
type jug struct{ mark, claimed, off float64 }

// Tools is what measures and fills.
type Tools struct {
	Jug, Vessel   jug
	ScaleStepG    float64 // 0 without a scale
	ScaleOff      float64
	DensityKgM3   float64 // at 15 °C
	DensityKnown  bool
	HoldUpML      float64
	HoseKnown     bool
	HeelML        float64
	BottleML      float64
	BottlesNoted  bool
	VesselWeighed bool
	LoadedBy      string // token of the device
	OutBy         string
	OutTwice      bool // measured with jug and scale
	Units         string
	BareOunces    bool   // types US ounces without their name
	Tolerance     string // "" as usual
	OutTempC      float64
	NewTempC      float64
	bore, length  float64
}

type dice struct{ *rand.Rand }

func (d dice) between(low, high float64) float64 { return low + (high-low)*d.Float64() }
func (d dice) chance(p float64) bool             { return d.Float64() < p }
func (d dice) sign() float64                     { return float64(2*d.IntN(2) - 1) }

// near is a normal deviate of a standard deviation, cut off at twice that.
func (d dice) near(sd float64) float64 {
	for {
		if x := d.NormFloat64(); math.Abs(x) <= 2 {
			return x * sd
		}
	}
}

func pickOf[T any](d dice, list ...T) T { return list[d.IntN(len(list))] }

func newUnit(d dice, slips Slips) Unit {
	u := Unit{LevelPort: d.chance(0.35) || slips.Has(LevelLies), StartsDry: d.chance(0.06)}
	u.RightML = math.Exp(d.between(math.Log(300), math.Log(3000)))
	usual := u.RightML * (0.08 + d.near(0.035))
	u.StaysML = usual + u.RightML*d.near(0.015)
	u.StaysML = max(u.StaysML, 0.005*u.RightML)
	u.LipML = u.RightML + d.near(max(10, 0.015*u.RightML))
	if slips.Has(LevelLies) {
		u.LipML = u.RightML * (1 + d.sign()*d.between(0.2, 0.4))
	}
	u.Prior = pickOf(d, estimate.Verified, estimate.Believed, estimate.Believed, estimate.TrustNobodyKnows)
	u.HeldML = u.RightML * (1 + d.near(u.Prior.Share()))
	if slips.Has(PriorWrong) {
		u.Prior = pickOf(d, estimate.Verified, estimate.Believed)
		u.HeldML = u.RightML * (1 + d.sign()*d.between(0.15, 0.4))
	}
	if u.StartsDry {
		u.HeldML, u.StaysML = 0, 0
	}
	u.setFigure(d, slips, usual)
	return u
}

func (u *Unit) setFigure(d dice, slips Slips, usual float64) {
	u.Means = pickOf(d, estimate.MeansDry, estimate.MeansRefill, estimate.MeansRefill)
	if u.LevelPort && u.Means == estimate.MeansRefill {
		u.Means = estimate.MeansLevel
	}
	u.Figure = u.RightML * (1 + d.near(0.005))
	if u.Means != estimate.MeansDry && !(u.StartsDry && u.LevelPort) { // up to the hole a dry unit takes all of it
		u.Figure = (u.RightML - usual) * (1 + d.near(0.02))
	}
	u.Said = u.Means
	switch {
	case slips.Has(WrongMeaning) && u.Means == estimate.MeansDry:
		u.Said = estimate.MeansRefill
	case slips.Has(WrongMeaning):
		u.Said = estimate.MeansDry
	case d.chance(0.08):
		u.Said = estimate.MeansUnknown
	}
	if slips.Has(WrongFigure) {
		u.Figure *= 1 + d.sign()*d.between(0.1, 0.4)
	}
	u.Figure = math.Round(u.Figure/10) * 10
}

// newTools takes tools that fit the unit: no mark is more than a tenth of it.
func newTools(d dice, slips Slips, rightML float64) Tools {
	marks := func(claimed float64) jug {
		return jug{min(pickOf(d, 10.0, 10, 20, 50, 100), 10*math.Floor(rightML/100)), claimed, d.between(-claimed, claimed)}
	}
	t := Tools{
		Jug: marks(pickOf(d, 0.02, 0.05)), Vessel: marks(0.03), DensityKgM3: d.between(860, 905), DensityKnown: d.chance(0.6),
		HoseKnown: d.chance(0.8), HeelML: pickOf(d, 0.0, 20, 40), BottleML: pickOf(d, 500.0, 1000), BottlesNoted: d.chance(0.4),
		LoadedBy: pickOf(d, "c0", "vessel"), OutBy: "c0", Units: pickOf(d, "metric", "metric", "metric", "us", "imperial"),
		OutTempC: d.between(35, 48), NewTempC: d.between(12, 25), bore: pickOf(d, 6.0, 8, 10), length: pickOf(d, 1.0, 1.5, 2),
	}
	t.BareOunces = t.Units == "us" && d.chance(0.5)
	if slips.Has(DrainCold) {
		t.OutTempC = d.between(0, 18)
	}
	if d.chance(0.35) {
		t.ScaleStepG, t.ScaleOff = pickOf(d, 1.0, 2, 5), d.between(-0.002, 0.002)
		t.VesselWeighed, t.OutTwice = d.chance(0.5), d.chance(0.4)
		if d.chance(0.5) {
			t.LoadedBy, t.OutBy = "scale", "scale"
		}
	}
	if !t.DensityKnown {
		t.DensityKgM3 = 870 + d.near(20)
	}
	t.HoldUpML = math.Pi / 4 * t.bore * t.bore * t.length * (1 + d.near(0.05))
	if !t.HoseKnown {
		t.HoldUpML = d.between(5, 45)
	}
	if slips.Has(ToleranceWide) {
		t.Tolerance = pickOf(d, "49 %", "40 %", "50", "30", "+100 ml -10 ml", "20 fl oz")
	} else {
		t.Tolerance = pickOf(d, "", "", "5 %", "50 ml", "10 %")
	}
	return t
}
