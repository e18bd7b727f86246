// Package garage simulates oil changes, for tests: units of which it is known
// what is really in them, over years; tools with errors of their own, and a
// person who goes through the guide and gets some things wrong. Nothing in the
// program imports it.
package garage

import (
	"math"
	"math/rand/v2"
)

// World says how far the things of a garage are spread. U is a standard
// deviation, Half the half-width of an even spread; shares are of what belongs in
// the unit, but for those of a reading.
type World struct {
	Name       string
	LowestML   float64 // belongs in the smallest unit, and in the largest: even in the logarithm between
	HighestML  float64
	Tolerances []string // as typed; "" none is given

	Residual  float64    // stays behind at the usual drain of the mean unit
	ResidualU float64    // from unit to unit
	Lopsided  bool       // that is lognormal
	DrainU    float64    // of one drain of a unit about its usual
	LevelU    [3]float64 // of the level before the first job, by what is said of it: verified, believed, unknown
	LossU     float64    // lost from one change to the next: half of a normal distribution, the same at every change
	LossOwnU  float64    // beside it, at one change
	DryU      float64    // of a stated dry quantity, a share of it
	RefillU   float64    // of a stated refill

	EscapeML, EscapeLn float64   // at one swap: median, and standard deviation of the logarithm
	EscapeRigU         float64   // of one rig's habit about that, a share of it
	HeelML, HeelU      float64   // stays in the vessel, from rig to rig
	HeelOwnU           float64   // at one push, ml
	HoseU              float64   // of what a measured hose holds, a share of it
	HoseByEyeU         float64   // of one that is not measured, about 25 ml, ml
	Marks              []float64 // of jug and vessel, ml
	MarksOff           float64   // half-width of the error of marks, in claimed ones
	EyeU               float64   // ml, by which a person reads every mark of a container wrong
	ScaleHalf          float64   // share
	SheetU, DensityU   float64   // of the new oil: of a sheet's figure, of an oil without one, kg/m³
	OldOilU            float64   // of the old oil about the new, kg/m³
	BottleHalf         float64   // filling, a share of the label
	FilmML, FilmHalfML float64   // kept in an emptied bottle
	CatchML            float64   // most that clings to the catch
	PanML              float64   // most that clings to the pan
	LipML, LipShare    float64   // standard deviation of the level at the lip, from job to job: the larger of the two
	TempU              float64   // of a thermometer, °C

	Cut   float64 // no deviate is further out than so many U; 0 any
	Tails int     // degrees of freedom of Student's t, of the same U; 0 normal
}

// Matched is spread as the model takes for granted.
var Matched = World{
	Name: "matched", LowestML: 500, HighestML: 1500, Tolerances: []string{""},
	Residual: 0.08, ResidualU: 0.035, DrainU: 0.02, LevelU: [3]float64{0.02, 0.05, 0.12}, LossU: 0.02, LossOwnU: 0.002,
	DryU: 0.005, RefillU: 0.022, EscapeML: 45, EscapeLn: 0.5, EscapeRigU: 0.16, HeelML: 30, HeelU: 20, HeelOwnU: 6.5,
	HoseU: 0.05, HoseByEyeU: 12, Marks: []float64{10, 10, 20}, MarksOff: 1, EyeU: 1.5, ScaleHalf: 0.002,
	SheetU: 3, DensityU: 20, OldOilU: 5, BottleHalf: 0.015, FilmML: 8, FilmHalfML: 5, CatchML: 4, PanML: 0,
	LipML: 30, LipShare: 0.015, TempU: 1,
}

// Rough is about 1.4 times as far spread in everything, with far outliers, and not
// normal where nature is not.
var Rough = World{
	Name: "rough", LowestML: 500, HighestML: 1500, Tolerances: []string{""},
	Residual: 0.08, ResidualU: 0.045, Lopsided: true, DrainU: 0.028, LevelU: [3]float64{0.028, 0.07, 0.16}, LossU: 0.025, LossOwnU: 0.004,
	DryU: 0.008, RefillU: 0.03, EscapeML: 50, EscapeLn: 0.65, EscapeRigU: 0.25, HeelML: 35, HeelU: 25, HeelOwnU: 9,
	HoseU: 0.08, HoseByEyeU: 16, Marks: []float64{10, 20, 50}, MarksOff: 1.3, EyeU: 2.5, ScaleHalf: 0.003,
	SheetU: 4, DensityU: 25, OldOilU: 8, BottleHalf: 0.02, FilmML: 10, FilmHalfML: 8, CatchML: 6, PanML: 5,
	LipML: 40, LipShare: 0.02, TempU: 1.5, Tails: 5,
}

// Uneven has the tools and habits of Rough, and units about as far spread as the
// model takes for granted, but with far outliers and not normal where nature is
// not. It was made after the figures of Rough were seen: it is printed beside it,
// and no figure is held to it.
var Uneven = uneven()

func uneven() World {
	w := Rough
	w.Name, w.ResidualU, w.DrainU, w.LevelU = "uneven", 0.036, 0.021, [3]float64{0.02, 0.05, 0.12}
	w.LossU, w.LossOwnU, w.DryU, w.RefillU = 0.02, 0.003, 0.006, 0.023
	return w
}

// Third has all of it 1.3 to 2 times as far spread, and off to one side. It is for
// the last look alone: never tune a figure of the model, or of this simulation,
// by what it shows.
var Third = World{
	Name: "third", LowestML: 500, HighestML: 1500, Tolerances: []string{""},
	Residual: 0.09, ResidualU: 0.05, Lopsided: true, DrainU: 0.03, LevelU: [3]float64{0.03, 0.075, 0.18}, LossU: 0.03, LossOwnU: 0.005,
	DryU: 0.01, RefillU: 0.033, EscapeML: 55, EscapeLn: 0.7, EscapeRigU: 0.3, HeelML: 40, HeelU: 30, HeelOwnU: 10,
	HoseU: 0.1, HoseByEyeU: 20, Marks: []float64{20, 20, 50}, MarksOff: 1.5, EyeU: 3, ScaleHalf: 0.004,
	SheetU: 5, DensityU: 30, OldOilU: 10, BottleHalf: 0.025, FilmML: 12, FilmHalfML: 10, CatchML: 8, PanML: 8,
	LipML: 45, LipShare: 0.025, TempU: 2, Tails: 4,
}

// Usual is Matched with nothing beyond twice the standard uncertainty, and with
// units and tolerances of all sizes: what is asked of a verdict whatever slips
// are made holds for what the trade calls usual.
var Usual = usual()

func usual() World {
	w := Matched
	w.Name, w.LowestML, w.HighestML, w.Cut = "usual", 300, 3000, 2
	w.Tolerances = []string{"", "", "5 %", "50 ml", "10 %"}
	w.Marks = []float64{10, 10, 20, 50, 100}
	w.LossU, w.LipML = 0, 10
	return w
}

// dice are the chances of one thing: each thing has its own, so that it falls
// out the same whatever was asked before it.
type dice struct {
	*rand.Rand
	world *World
}

func (d dice) between(low, high float64) float64 { return low + (high-low)*d.Float64() }
func (d dice) within(half float64) float64       { return d.between(-half, half) }
func (d dice) chance(p float64) bool             { return d.Float64() < p }
func (d dice) sign() float64                     { return float64(2*d.IntN(2) - 1) }

// near is a deviate of a standard deviation.
func (d dice) near(sd float64) float64 {
	for {
		if x := d.deviate(); d.world.Cut == 0 || math.Abs(x) <= d.world.Cut {
			return x * sd
		}
	}
}

// lopsided is a lognormal deviate of the median 1; ln is the standard deviation of
// its logarithm.
func (d dice) lopsided(ln float64) float64 {
	normal := *d.world
	normal.Tails = 0 // it is far out as it is
	return math.Exp(dice{d.Rand, &normal}.near(ln))
}

func (d dice) deviate() float64 {
	x, n := d.NormFloat64(), float64(d.world.Tails)
	if n == 0 {
		return x
	}
	chi2 := 0.0
	for range d.world.Tails {
		y := d.NormFloat64()
		chi2 += y * y
	}
	return x * math.Sqrt((n-2)/chi2) // Student's t, of the variance 1
}

func pickOf[T any](d dice, list ...T) T { return list[d.IntN(len(list))] }
