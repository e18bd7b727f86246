package hydraulics

// This file holds the push: how long pressure takes to drive a volume of oil through the pieces
// and up to the port, or where it stalls.

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"garage/tundish/model/oil"
)

// Limits of what is accepted as a push.
const (
	MinPushML = 1.0
	MinAirML  = 10.0

	maxPushML      = 1e5
	minLiftM       = -5.0
	maxLiftM       = 10.0
	maxPressureKPa = 1000.0
	maxAirML       = 1e6
	maxRestores    = 200
)

const (
	atmosphereKPa = 101.325 // standard atmosphere
	gravityMS2    = 9.80665 // standard acceleration of free fall
)

// LaminarBelow is the Reynolds number below which the flow is taken as laminar. Handbooks print
// 2100 or 2300 for a smooth straight pipe; hoses bend, so this is lower.
const LaminarBelow = 2000.0

// PushPlan is what is known before the push.
type PushPlan struct {
	Pieces      []Piece // in series; the order does not matter
	Oil         oil.Oil // viscosities must be known
	TempC       float64 // of the oil
	VolumeML    float64 // to push, as it reads at TempC
	LiftM       float64 // from the oil in the vessel up to the port; below 0 where the vessel is higher
	PressureKPa float64 // gauge, at the start and after each restoring
	AirML       float64 // of air over the oil at the start; 0 where a pump or a regulator holds the pressure
	Restores    int     // how often the pressure is brought back, spread evenly over the volume
}

// Outcome says whether all of the volume passes.
type Outcome uint8

const (
	Finishes Outcome = iota + 1 // all of it passes
	Stalls                      // the air has expanded until it no longer lifts the oil
)

func (o Outcome) String() string {
	switch o {
	case Finishes:
		return "finishes"
	case Stalls:
		return "stalls"
	}
	return "not reckoned"
}

// PushResult is the outcome of a plan.
type PushResult struct {
	Outcome        Outcome
	Minutes        float64 // to push all of it; 0 where it stalls
	StallsAfterML  float64 // what has passed when it stalls; 0 where it finishes
	EndPressureKPa float64 // gauge, in the vessel at the end or at the stall
	LiftKPa        float64 // what the column of oil takes of the pressure
	StartMLPerMin  float64 // flow at full pressure
	Reynolds       float64 // at that flow, in the narrowest piece: the largest there is
	speedShare     float64 // share of the driving pressure that accelerating the oil would take, at that flow
	ViscosityCSt   float64 // at the plan's temperature
	densityKgM3    float64

	// RestoresToFinish is the least number of restorings with which a push that stalls finishes;
	// 0 where it finishes as planned, or where no number is enough.
	RestoresToFinish int
}

// maxSpeedShare is the speedShare up to which leaving it out is a small error.
const maxSpeedShare = 0.1

// IsLowerBound reports whether the flow is turbulent or too fast for the law, so that the push
// takes longer than Minutes.
func (r PushResult) IsLowerBound() bool {
	return r.Reynolds >= LaminarBelow || r.speedShare > maxSpeedShare
}

// Push computes the time by the law of Hagen and Poiseuille for pieces in series,
//
//	Q = (p − ρgh)/R,  R = Σ 128 μ L/(π d⁴),  Re = 4 Q/(π d ν),
//
// with the pressure constant, or falling as the air over the oil expands isothermally (Boyle's
// law). The lift is taken as constant; the pressure that accelerates the oil, ρv² in a parabolic
// profile, is left out, and speedShare states it. Errors name the field and what is allowed.
// Source: any handbook, for instance OpenStax College Physics, section 12.4.
func Push(p PushPlan) (PushResult, error) {
	if err := p.validate(); err != nil {
		return PushResult{}, err
	}
	kvCSt, err := p.Oil.ViscosityAt(p.TempC)
	if err != nil {
		return PushResult{}, err
	}
	rhoKgM3, err := p.Oil.DensityAt(p.TempC)
	if err != nil {
		return PushResult{}, err
	}
	resistance := resistancePaSM3(p.Pieces, kvCSt*1e-6*rhoKgM3)
	liftKPa := rhoKgM3 * gravityMS2 * p.LiftM / 1000
	startM3S := max(0, p.PressureKPa-liftKPa) * 1000 / resistance

	r := run(p, liftKPa)
	r.Minutes *= resistance * 1e-9 / 60 // from ml/kPa to m³/Pa, and s to min
	r.LiftKPa = liftKPa
	r.StartMLPerMin = startM3S * 1e6 * 60
	narrowestM := slices.MinFunc(p.Pieces, func(p, q Piece) int { return cmp.Compare(p.BoreMM, q.BoreMM) }).BoreMM / 1000
	r.Reynolds = reynolds(startM3S, narrowestM, kvCSt*1e-6)
	if startM3S > 0 {
		r.speedShare = speedPa(startM3S, narrowestM, rhoKgM3) / (startM3S * resistance)
	}
	r.ViscosityCSt, r.densityKgM3 = kvCSt, rhoKgM3
	return r, nil
}

// run pushes the parts between the restorings one by one. The air space grows with each part, and
// the reach with it, so only the first part can stall. Its Minutes are the integral of dV/p in
// ml/kPa, which the caller multiplies by the resistance.
func run(p PushPlan, liftKPa float64) PushResult {
	c := charge{startKPa: p.PressureKPa, liftKPa: liftKPa, airML: p.AirML}
	partML, reachML := p.VolumeML/float64(p.Restores+1), c.reachML()
	if partML >= reachML {
		return PushResult{
			Outcome: Stalls, StallsAfterML: reachML, EndPressureKPa: c.pressureKPa(reachML),
			RestoresToFinish: restoresToFinish(p.VolumeML, reachML),
		}
	}
	r := PushResult{Outcome: Finishes}
	for range p.Restores + 1 {
		r.Minutes += c.integral(partML)
		r.EndPressureKPa = c.pressureKPa(partML)
		if c.airML > 0 {
			c.airML += partML
		}
	}
	return r
}

// usableReach is the share of its reach that one charge of air is planned for: the last tenth
// comes ever more slowly.
const usableReach = 0.9

func restoresToFinish(volumeML, reachML float64) int {
	parts := math.Ceil(volumeML / (usableReach * reachML))
	if !(parts <= maxRestores+1) {
		return 0
	}
	return int(parts) - 1
}

func (p PushPlan) validate() error {
	if len(p.Pieces) == 0 {
		return fmt.Errorf("no hose is given: give at least one bore and length")
	}
	if err := checkPieces(p.Pieces); err != nil {
		return err
	}
	var air error
	if p.AirML != 0 {
		air = oil.CheckWithin("air", p.AirML, MinAirML, maxAirML, "ml")
	}
	err := cmp.Or(
		oil.CheckWithin("volume", p.VolumeML, MinPushML, maxPushML, "ml"),
		oil.CheckWithin("lift", p.LiftM, minLiftM, maxLiftM, "m"),
		oil.CheckWithin("pressure", p.PressureKPa, 0, maxPressureKPa, "kPa"),
		air)
	switch {
	case err != nil:
		return err
	case p.Restores < 0 || p.Restores > maxRestores:
		return fmt.Errorf("restoring the pressure %d times is not allowed: give 0 to %d", p.Restores, maxRestores)
	case p.Restores > 0 && p.AirML == 0:
		return fmt.Errorf("restoring the pressure %d times needs the air over the oil: give the air in ml", p.Restores)
	}
	return nil
}
