// Package oil knows what a lubricating oil does with temperature: how its volume and
// density change, how its viscosity changes, what its viscosity index is, and what an SAE
// grade alone says about its viscosity.
//
// Units inside: temperatures in °C, densities in kg/m³, kinematic viscosities in cSt
// (1 cSt = 1 mm²/s), volumes in ml, masses in g. Everything is pure: no I/O, no clock.
package oil

// This file holds the Oil itself and the checks of what may be said about one.

import (
	"errors"
	"fmt"
	"math"
)

// Limits of what is taken for a lubricating oil and for a reading of its temperature.
const (
	MinRho15KgM3 = 600.0
	MaxRho15KgM3 = 1200.0
	MinTempC     = -60.0
	MaxTempC     = 250.0
	MinKVCSt     = 0.21 // where the D341 equation ends
	MaxKVCSt     = 2e7  // the upper end of the D341 charts
	MaxVolumeML  = 1e6
	MaxMassG     = 1e6
)

// DefaultRho15KgM3 is used where the density of an oil is not known; common practice for
// gear oils, no source. DefaultRho15UKgM3 is the standard uncertainty it then carries.
const (
	DefaultRho15KgM3  = 870.0
	DefaultRho15UKgM3 = 20.0
)

// ErrViscosityNotKnown says that an oil has no KV40 and KV100 to compute from.
var ErrViscosityNotKnown = errors.New("viscosity not known: give kv40 and kv100 from the data sheet, or a grade such as 75W-90")

// Oil is what a data sheet says about an oil.
type Oil struct {
	Rho15KgM3 float64 `json:"rho15_kg_m3"`         // density at 15 °C
	KV40CSt   float64 `json:"kv40_cst,omitempty"`  // kinematic viscosity at 40 °C; 0 is not known
	KV100CSt  float64 `json:"kv100_cst,omitempty"` // kinematic viscosity at 100 °C; 0 is not known
}

// KnowsViscosity reports whether both viscosities are given.
func (o Oil) KnowsViscosity() bool { return o.KV40CSt != 0 && o.KV100CSt != 0 }

// Validate checks every field and the two viscosities against each other. The error names
// the field and what is allowed.
func (o Oil) Validate() error {
	if err := within("rho15", o.Rho15KgM3, MinRho15KgM3, MaxRho15KgM3, "kg/m³"); err != nil {
		return err
	}
	if o.KV40CSt == 0 && o.KV100CSt == 0 {
		return nil
	}
	return checkViscosities(o.KV40CSt, o.KV100CSt)
}

func checkViscosities(kv40CSt, kv100CSt float64) error {
	if err := within("kv40", kv40CSt, MinKVCSt, MaxKVCSt, "cSt"); err != nil {
		return err
	}
	if err := within("kv100", kv100CSt, MinKVCSt, MaxKVCSt, "cSt"); err != nil {
		return err
	}
	if kv40CSt <= kv100CSt {
		return fmt.Errorf("kv40 %g cSt must be above kv100 %g cSt: oil is thicker when colder", kv40CSt, kv100CSt)
	}
	return nil
}

func checkTemp(tempC float64) error { return within("temperature", tempC, MinTempC, MaxTempC, "°C") }

// within refuses a value outside low to high, and anything that is not a number.
func within(field string, value, low, high float64, unit string) error {
	if math.IsNaN(value) || value < low || value > high {
		return fmt.Errorf("%s %g %s is not allowed: give %g to %g %s", field, value, unit, low, high, unit)
	}
	return nil
}
