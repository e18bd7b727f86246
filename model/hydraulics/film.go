package hydraulics

// This file holds the film of oil that clings to a wall, how it drains off, and what a hose
// keeps by itself.

import "math"

// Wall is a draining wall: how much of it is wetted, and how high it is.
type Wall struct{ AreaM2, HeightM float64 }

// bottleHeightM is the height of a bottle of 1 L, m; others are taken as of the same shape
// (common practice, no source).
const bottleHeightM = 0.22

// Bottle is the wall of a bottle, as a cylinder.
func Bottle(volumeML float64) Wall {
	heightM := bottleHeightM * math.Cbrt(volumeML/1000)
	return Wall{AreaM2: 2 * math.Sqrt(math.Pi*volumeML*1e-6*heightM), HeightM: heightM}
}

// Case is the wall of an axle, transfer case or gearbox that holds volumeML: about half a square
// metre of case and gears, 0.1 m high, at 1 L (common practice, no source).
func Case(volumeML float64) Wall {
	scale := math.Cbrt(volumeML / 1000)
	return Wall{AreaM2: 0.5 * scale * scale, HeightM: 0.1 * scale}
}

// Inside is the wall of a hose that hangs straight down.
func Inside(pieces []Piece) (w Wall) {
	for _, p := range pieces {
		w.AreaM2 += math.Pi * p.BoreMM / 1000 * p.LengthM
		w.HeightM += p.LengthM
	}
	return w
}

// FilmML is what clings to the wall once the bulk has gone for so long, in ml: the area times
// the mean over the height H of the local thickness √(ν z/(g t)),
//
//	h = (2/3) √(ν H/(g t))
//
// The wall is smooth and upright; puddles at rims and corners add as much again (common practice,
// no source). 0 where an argument is not positive. Source: H. Jeffreys, The draining of a vertical plate,
// Proc. Camb. Phil. Soc. 26 (1930) 204 (from memory; the mean is computed here).
func (w Wall) FilmML(kvCSt, minutes float64) float64 {
	if !(kvCSt > 0 && minutes > 0 && w.AreaM2 > 0) {
		return 0
	}
	return w.AreaM2 * 2 / 3 * math.Sqrt(kvCSt*1e-6*w.HeightM/(gravityMS2*minutes*60)) * 1e6
}

// MinutesTo is FilmML solved for the time: how long until no more than ml clings; 0 where an
// argument is not positive.
//
//	t = (2A/(3x))² ν H/g
func (w Wall) MinutesTo(ml, kvCSt float64) float64 {
	if !(ml > 0 && kvCSt > 0) {
		return 0
	}
	thickM := 1.5 * ml * 1e-6 / w.AreaM2
	return kvCSt * 1e-6 * w.HeightM / (gravityMS2 * thickM * thickM) / 60
}

// DropML is the volume of a drop of oil (common practice, no source).
const DropML = 0.04

// ToComeML is what a film that drips at ratePerMin ml a minute, so many minutes after the bulk has
// gone, still gives, if it is waited for without end: a film that goes by 1/√t loses
// half of itself in 2t at its present rate.
func ToComeML(minutes, ratePerMin float64) float64 { return 2 * minutes * ratePerMin }

// LaterML is what of it is still to come at a later time.
func LaterML(toComeML, minutes, laterMin float64) float64 {
	return toComeML * math.Sqrt(minutes/laterMin)
}

// Holding says whether a hose that hangs open below, shut above, keeps its oil.
type Holding uint8

const (
	StaysFull   Holding = iota + 1 // the surface holds it: a few drops only
	ShakenEmpty                    // empties when it is shaken or laid flat
	RunsEmpty                      // empties by itself, in seconds to a minute
)

// Surface of a mineral oil, N/m, and its density, kg/m³, for criticalBoreMM (common handbook
// figures, from memory); wideBoreMM is the bore from which a hose empties by itself (common practice, no source).
const (
	oilSurfaceNM = 0.030
	oilKgM3      = 880.0
	wideBoreMM   = 10.0
)

// criticalBoreMM is the widest bore, in mm, of which a column of liquid with this surface tension
// does not fall out by itself:
//
//	d = 2 · 1.84 √(γ/(ρ g))
//
// where 1.84 is the first zero of J₁′. About 7 mm for oil, 10 mm for water; tests with water found 10 to 15 mm
// (C. W. Extrand, Langmuir 33 (2017), abstract seen).
func criticalBoreMM(surfaceNM, rhoKgM3 float64) float64 {
	return 2 * 1.84 * math.Sqrt(surfaceNM/(rhoKgM3*gravityMS2)) * 1000
}

// Holds says what a hose of this bore does with its oil.
func Holds(boreMM float64) Holding {
	switch {
	case boreMM <= criticalBoreMM(oilSurfaceNM, oilKgM3):
		return StaysFull
	case boreMM < wideBoreMM:
		return ShakenEmpty
	}
	return RunsEmpty
}

// TiltML is how far a level is off where the case leans: the oil's surface, times the distance from
// its middle to where the level is seen, along the lean, times the tangent. Of a case with
// straight walls; another is within half of it.
func TiltML(surfaceCM2, distanceMM, degrees float64) float64 {
	return surfaceCM2 * distanceMM / 10 * math.Tan(degrees*math.Pi/180)
}
