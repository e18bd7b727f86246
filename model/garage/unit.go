package garage

// This file makes the unit and the tools of a car, which stay the same over the
// years, and what is so on the day of one oil change.

import (
	"math"

	"garage/tundish/model/estimate"
)

// Kind is a kind of unit, as it is at its first oil change.
type Kind uint8

// The kinds.
const (
	AnyKind   Kind = iota // level ports too, and now and then a dry start
	DrainOnly             // the drain is the only port; it holds oil
	DryFirst              // the same, and it starts dry
	LevelHole
)

var kindNames = []string{"any", "drain only", "dry start", "level port"}

// String is the kind in words.
func (k Kind) String() string { return kindNames[k] }

// Unit is what is really so, ml at 20 °C.
type Unit struct {
	LevelPort              bool
	StartsDry              bool    // at the next oil change
	RightML                float64 // belongs in it, all told
	UsualML                float64 // its usual drain leaves behind
	HeldML                 float64 // is in it now
	LossML                 float64 // from one change to the next
	OdometerKm, IntervalKm float64
	Figure                 float64 // in the manual, as it is typed
	Means                  estimate.Meaning
	Said                   estimate.Meaning // what the figure is said to mean
	Prior                  estimate.Trust   // said of the level before
}

// Day is what is so at one oil change.
type Day struct {
	StaysML float64 // this drain leaves behind, warm and long enough
	LipML   float64 // is in the unit when oil weeps from the level hole
	HeelML  float64
	OutC    float64 // the old oil
	NewC    float64
	OldOil  float64 // its density, of the new oil's
	Primed  bool
}

// jug is a container, or the marks of the fill vessel.
type jug struct{ mark, claimed, off float64 }

// Tools are what measures and fills, and how.
type Tools struct {
	Jug, Vessel   jug
	EyeML         float64
	ScaleStepG    float64 // 0 without a scale
	ScaleOff      float64
	DensityKgM3   float64 // at 15 °C
	SheetKgM3     float64 // of the data sheet, 0 none
	HoldUpML      float64
	HoseKnown     bool
	HeelML        float64 // usual
	HeelKnown     bool
	EscapeML      float64 // median at a swap
	BottleML      float64
	BottlesNoted  bool
	VesselWeighed bool
	KmNoted       bool
	LoadedBy      string // token of the device
	OutBy         string
	OutTwice      bool // measured with jug and scale
	Units         string
	BareOunces    bool   // types US ounces without their name
	Tolerance     string // "" as usual
	bore, length  float64
}

// newUnit makes a unit as c has it.
func newUnit(d dice, c Config) *Unit {
	w, kind, slips := d.world, c.Kind, c.Slips
	u := &Unit{LevelPort: d.chance(0.35) || slips.Has(LevelLies), StartsDry: d.chance(0.06)}
	if kind != AnyKind {
		u.LevelPort, u.StartsDry = kind == LevelHole, kind == DryFirst
	}
	u.RightML = math.Exp(d.between(math.Log(w.LowestML), math.Log(w.HighestML)))
	u.UsualML = u.RightML * w.residual(d)
	u.LossML = u.RightML * math.Abs(d.near(w.LossU))
	u.IntervalKm = pickOf(d, 20000.0, 30000, 40000)
	u.OdometerKm = math.Round(d.between(30000, 150000))
	u.Prior = pickOf(d, estimate.Verified, estimate.Believed, estimate.Believed, estimate.TrustNobodyKnows)
	u.HeldML = u.RightML * (1 + d.near(w.LevelU[u.Prior]))
	if slips.Has(PriorWrong) {
		u.Prior = pickOf(d, estimate.Verified, estimate.Believed)
		u.HeldML = u.RightML * (1 + d.sign()*d.between(0.15, 0.4))
	}
	if u.StartsDry {
		u.HeldML = 0
	}
	if c.Careful && d.chance(0.5) { // in a second place stands the right figure, of the right meaning
		slips &^= Of(WrongFigure, WrongMeaning)
	}
	u.setFigure(d, slips)
	return u
}

// How far units of one kind are apart, as shares of what belongs in (judgement): the
// same casting, drained at the same place.
const (
	alikeRightU = 0.005
	alikeUsualU = 0.01
)

// alike makes the unit one of the same kind as another: its manual has the same figure.
func (u *Unit) alike(d dice, kind *Unit) {
	right := kind.RightML * (1 + d.near(alikeRightU))
	u.HeldML, u.LossML = u.HeldML*right/u.RightML, u.LossML*right/u.RightML
	u.RightML, u.UsualML = right, max(kind.UsualML+d.near(alikeUsualU)*right, 0)
	u.Figure, u.Means = kind.Figure, kind.Means
	if u.Said != estimate.MeansUnknown {
		u.Said = kind.Means
	}
}

// residual is what stays behind at the usual drain of a unit, a share.
func (w *World) residual(d dice) float64 {
	x := w.Residual + d.near(w.ResidualU)
	if w.Lopsided {
		ln := math.Sqrt(math.Log1p(w.ResidualU * w.ResidualU / (w.Residual * w.Residual)))
		x = w.Residual * d.lopsided(ln) * math.Exp(-ln*ln/2)
	}
	return min(max(x, 0.005), 0.35)
}

func (u *Unit) setFigure(d dice, slips Slips) {
	u.Means = pickOf(d, estimate.MeansDry, estimate.MeansRefill, estimate.MeansRefill)
	if u.LevelPort && u.Means == estimate.MeansRefill {
		u.Means = estimate.MeansLevel
	}
	u.Figure = u.RightML * (1 + d.near(d.world.DryU))
	if u.Means != estimate.MeansDry && !(u.StartsDry && u.LevelPort) { // up to the hole a dry unit takes all of it
		u.Figure = (u.RightML - u.UsualML) * (1 + d.near(d.world.RefillU))
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

// goOn is the time from one oil change to the next.
func (u *Unit) goOn(d dice) {
	km := u.IntervalKm * d.between(0.8, 1.2)
	u.OdometerKm = math.Round(u.OdometerKm + km)
	lost := max(u.LossML*km/u.IntervalKm+d.near(d.world.LossOwnU)*u.RightML, 0)
	u.HeldML = max(u.HeldML-lost, 0)
	u.StartsDry, u.Prior = false, estimate.Believed
}

// newDay is the day of an oil change of the unit.
func (u *Unit) newDay(d dice, t *Tools, slips Slips) Day {
	w := d.world
	day := Day{
		StaysML: max(u.UsualML+u.RightML*d.near(w.DrainU), 0.005*u.RightML), HeelML: max(t.HeelML+d.near(w.HeelOwnU), 0),
		LipML: u.RightML + d.near(max(w.LipML, w.LipShare*u.RightML)), OutC: d.between(35, 48), NewC: d.between(12, 25),
		OldOil: 1 + d.near(w.OldOilU)/t.DensityKgM3, Primed: d.chance(0.3),
	}
	if u.StartsDry {
		day.StaysML = 0
	}
	if slips.Has(LevelLies) {
		day.LipML = u.RightML * (1 + d.sign()*d.between(0.2, 0.4))
	}
	if slips.Has(DrainCold) {
		day.OutC = d.between(0, 18)
	}
	return day
}

// newTools takes tools that fit the unit: no mark is more than a tenth of it.
func newTools(d dice, slips Slips, rightML float64) *Tools {
	w := d.world
	marks := func(claimed float64) jug {
		return jug{min(pickOf(d, w.Marks...), 10*math.Floor(rightML/100)), claimed, w.MarksOff * d.within(claimed)}
	}
	t := &Tools{
		Jug: marks(pickOf(d, 0.02, 0.05)), Vessel: marks(0.03), EyeML: d.near(w.EyeU),
		HoseKnown: d.chance(0.8), HeelML: max(w.HeelML+d.near(w.HeelU), 0), HeelKnown: d.chance(0.5),
		EscapeML: w.EscapeML * max(1+d.near(w.EscapeRigU), 0.2),
		BottleML: pickOf(d, 500.0, 1000), BottlesNoted: d.chance(0.4), KmNoted: d.chance(0.5),
		LoadedBy: pickOf(d, "c0", "vessel"), OutBy: "c0", Units: pickOf(d, "metric", "metric", "metric", "us", "imperial"),
		bore: pickOf(d, 6.0, 8, 10), length: pickOf(d, 1.0, 1.5, 2), Tolerance: pickOf(d, w.Tolerances...),
	}
	t.BareOunces = t.Units == "us" && d.chance(0.5)
	if d.chance(0.35) {
		t.ScaleStepG, t.ScaleOff = pickOf(d, 1.0, 2, 5), d.within(w.ScaleHalf)
		t.VesselWeighed, t.OutTwice = d.chance(0.5), d.chance(0.4)
		if d.chance(0.5) {
			t.LoadedBy, t.OutBy = "scale", "scale"
		}
	}
	t.DensityKgM3 = unknownKgM3 + d.near(w.DensityU)
	if d.chance(0.6) {
		t.DensityKgM3 = d.between(860, 905)
		t.SheetKgM3 = math.Round(t.DensityKgM3 + d.near(w.SheetU))
	}
	t.HoldUpML = math.Pi / 4 * t.bore * t.bore * t.length * (1 + d.near(w.HoseU))
	if !t.HoseKnown {
		t.HoldUpML = max(25+d.near(w.HoseByEyeU), 3)
	}
	if slips.Has(ToleranceWide) {
		t.Tolerance = pickOf(d, "49 %", "40 %", "50", "30", "+100 ml -10 ml", "20 fl oz")
	}
	return t
}
