// Package vessel calibrates a graduated container with water on a scale: the true volume of a
// fill from its mass, the container's scale error from one or more fills, and both that and the
// claimed error together.
//
// Units inside: masses in g, volumes in ml, temperatures in °C, densities in kg/m³; errors are
// fractions of a reading.
package vessel

// This file holds the volume of water from its mass, as weighed in air.

import "math"

const (
	minWaterC = 0.0 // the range of waterKgM3
	maxWaterC = 40.0

	standardAirKPa = 101.325 // 1500 m up, Z is 2e-4 less
	weightsKgM3    = 8000.0  // density of the weights that scales are adjusted with, by convention
	humidity       = 50.0    // % relative, of the air; it moves Z by less than 1e-5
)

// waterKgM3 is the density in kg/m³ of pure, air-free water at tempC and 1 atmosphere:
//
//	ρ = a₅ (1 − (t + a₁)² (t + a₂) / (a₃ (t + a₄)))
//
// from 0 to 40 °C. Tap water differs by 0.1 kg/m³ or so. Source: M. Tanaka and others,
// Recommended table for the density of water, Metrologia 38 (2001) 301.
func waterKgM3(tempC float64) float64 {
	const a1, a2, a3, a4, a5 = -3.983035, 301.797, 522528.9, 69.34881, 999.974950
	return a5 * (1 - (tempC+a1)*(tempC+a1)*(tempC+a2)/(a3*(tempC+a4)))
}

// airKgM3 is the density of air by the simplified formula of the CIPM, with p in hPa:
//
//	ρ = (0.34848 p − 0.009 h e^(0.061 t)) / (273.15 + t)
//
// Source: OIML R 111-1 (2004), annex E.
func airKgM3(tempC, airKPa float64) float64 {
	return (0.34848*airKPa*10 - 0.009*humidity*math.Exp(0.061*tempC)) / (273.15 + tempC)
}

// zMLPerG is the volume in ml of what a scale in air shows as 1 g of water at tempC:
//
//	Z = (1 − ρa/ρb) / (ρw − ρa)
//
// with the air as warm as the water, at airKPa absolute. Source: ISO 8655-6, ISO 4787.
func zMLPerG(tempC, airKPa float64) float64 {
	air := airKgM3(tempC, airKPa)
	return 1000 * (1 - air/weightsKgM3) / (waterKgM3(tempC) - air)
}

// zPerC is d ln Z/dT in 1/°C.
func zPerC(tempC float64) float64 {
	const step = 0.1
	return math.Log(zMLPerG(tempC+step, standardAirKPa)/zMLPerG(tempC-step, standardAirKPa)) / (2 * step)
}
