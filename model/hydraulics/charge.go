package hydraulics

// This file holds the pressure between two restorings, and the laws of flow.

import "math"

// charge is the pressure over the oil, built up once. airML is 0 where the pressure is kept
// constant.
type charge struct {
	startKPa float64 // gauge
	liftKPa  float64 // of the column of oil
	airML    float64
}

// pressureKPa is the gauge pressure after outML of oil have left: (p + pₐ)(V + x) is constant.
func (c charge) pressureKPa(outML float64) float64 {
	if c.airML == 0 {
		return c.startKPa
	}
	return (c.startKPa+atmosphereKPa)*c.airML/(c.airML+outML) - atmosphereKPa
}

// reachML is the volume after which the pressure no longer lifts the oil: infinite where the
// pressure is constant, 0 where it does not lift it even at the start.
func (c charge) reachML() float64 {
	driveKPa := c.startKPa - c.liftKPa
	switch {
	case driveKPa <= 0:
		return 0
	case c.airML == 0:
		return math.Inf(1)
	}
	return c.airML * driveKPa / (atmosphereKPa + c.liftKPa)
}

// integral is the time to push outML over the resistance, in ml/kPa. With V the air,
// b = pₐ + ρgh, a = (pₐ + p₀)V and y = V + x it is
//
//	∫ dx/(p(x) − ρgh) = ∫ y dy/(a − b y) = (a/b²) ln((a − bV)/(a − b(V + x))) − x/b,
//
// where the logarithm is −ln(1 − x/reach). outML must be below the reach.
func (c charge) integral(outML float64) float64 {
	if c.airML == 0 {
		return outML / (c.startKPa - c.liftKPa)
	}
	a, b := (atmosphereKPa+c.startKPa)*c.airML, atmosphereKPa+c.liftKPa
	return -a/(b*b)*math.Log1p(-outML/c.reachML()) - outML/b
}

// resistancePaSM3 is the pressure per flow of pieces in series, in Pa·s/m³, for a dynamic
// viscosity in Pa·s.
func resistancePaSM3(pieces []Piece, dynamicPaS float64) float64 {
	var sum float64
	for _, p := range pieces {
		sum += 128 * dynamicPaS * p.LengthM / (math.Pi * math.Pow(p.BoreMM/1000, 4))
	}
	return sum
}

func reynolds(flowM3S, boreM, kvM2S float64) float64 { return 4 * flowM3S / (math.Pi * boreM * kvM2S) }

// speedPa is the pressure that gives oil at rest the speed of a laminar flow, whose mean
// kinetic energy is twice that of its mean speed: ρ v².
func speedPa(flowM3S, boreM, rhoKgM3 float64) float64 {
	speedMS := flowM3S / (math.Pi / 4 * boreM * boreM)
	return rhoKgM3 * speedMS * speedMS
}
