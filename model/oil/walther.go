package oil

// This file holds the change of viscosity with temperature.

import (
	"fmt"
	"math"
)

const zeroCInK = 273.15

// walther is the straight line of the D341 chart:
//
//	log10 log10 Z = A − B log10 T,  T in K
//	Z = ν + 0.7 + exp(−1.47 − 1.84 ν − 0.51 ν²)
//
// The exponential term matters below 2 cSt only (7e-4 cSt there, and falling). The line
// holds for ν from 0.21 to 2e7 cSt while the oil is Newtonian: below its cloud or pour point an
// oil is thicker than by the line. Source: ASTM D341.
type walther struct{ a, b float64 }

// fitWalther passes the line through two points, temperatures in K.
func fitWalther(temp1K, kv1CSt, temp2K, kv2CSt float64) walther {
	w1, w2 := loglog(zOf(kv1CSt)), loglog(zOf(kv2CSt))
	b := (w1 - w2) / (math.Log10(temp2K) - math.Log10(temp1K))
	return walther{a: w1 + b*math.Log10(temp1K), b: b}
}

// viscosityAt is the viscosity in cSt at tempC; an error where the line leaves the range of the
// chart.
func (w walther) viscosityAt(tempC float64) (float64, error) {
	if err := CheckWithin("temperature", tempC, minTempC, maxTempC, "°C"); err != nil {
		return 0, err
	}
	z := math.Pow(10, math.Pow(10, w.a-w.b*math.Log10(tempC+zeroCInK)))
	kvCSt := kvOf(z)
	if !(kvCSt >= MinKVCSt && kvCSt <= MaxKVCSt) {
		return 0, fmt.Errorf("temperature %g °C: viscosity outside %g to %g cSt cannot be computed", tempC, MinKVCSt, MaxKVCSt)
	}
	return kvCSt, nil
}

// ViscosityAt is the viscosity in cSt at tempC by the line through KV40 and KV100; an error where
// they are not known, and where the line leaves the range of the chart.
func (o Oil) ViscosityAt(tempC float64) (float64, error) {
	if err := o.Validate(); err != nil {
		return 0, err
	}
	if !o.KnowsViscosity() {
		return 0, errViscosityNotKnown
	}
	return fitWalther(40+zeroCInK, o.KV40CSt, 100+zeroCInK, o.KV100CSt).viscosityAt(tempC)
}

func loglog(z float64) float64 { return math.Log10(math.Log10(z)) }

func lowTerm(kvCSt float64) float64 { return math.Exp(-1.47 - 1.84*kvCSt - 0.51*kvCSt*kvCSt) }

func zOf(kvCSt float64) float64 { return kvCSt + 0.7 + lowTerm(kvCSt) }

// kvOf inverts zOf. It starts from the closed form of D341, which is within about 0.5 %, and
// refines it by Newton's method, so that the line passes through its own two points.
func kvOf(z float64) float64 {
	y := z - 0.7
	kvCSt := y
	if y < 4 {
		kvCSt = y - math.Exp(-0.7487-3.295*y+0.6119*y*y-0.3193*y*y*y)
	}
	for range 4 {
		slope := 1 - (1.84+1.02*kvCSt)*lowTerm(kvCSt)
		kvCSt -= (zOf(kvCSt) - z) / slope
	}
	return kvCSt
}
