// Package oil computes how the volume, density and viscosity of a lubricating oil change with
// temperature, its viscosity index, and what an SAE grade alone says about its viscosity.
//
// Units inside: temperatures in °C, densities in kg/m³, kinematic viscosities in cSt
// (1 cSt = 1 mm²/s), volumes in ml, masses in g.
package oil

// This file holds the Oil and the checks of its data.

import (
	"cmp"
	"errors"
	"fmt"
	"math"
)

// Limits of what is accepted as a lubricating oil.
const (
	MinRho15KgM3 = 600.0
	MaxRho15KgM3 = 1200.0
	MinKVCSt     = 0.21 // lower end of the D341 equation
	MaxKVCSt     = 2e7  // upper end of the D341 charts

	minTempC    = -60.0
	maxTempC    = 250.0
	maxVolumeML = 1e6
	maxMassG    = 1e6
)

// DefaultRho15KgM3 is taken where the density of an oil is not known; common practice for
// gear oils, no source. DefaultRho15UKgM3 is the standard uncertainty it then carries.
const (
	DefaultRho15KgM3  = 870.0
	DefaultRho15UKgM3 = 20.0
)

// errViscosityNotKnown says that an oil has no KV40 and KV100 to compute from.
var errViscosityNotKnown = errors.New("viscosity not known: give kv40 and kv100 from the data sheet, or a grade such as 75W-90")

// Oil is an oil by its data sheet.
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
	err := CheckWithin("rho15", o.Rho15KgM3, MinRho15KgM3, MaxRho15KgM3, "kg/m³")
	if err != nil || o.KV40CSt == 0 && o.KV100CSt == 0 {
		return err
	}
	return checkViscosities(o.KV40CSt, o.KV100CSt)
}

func checkViscosities(kv40CSt, kv100CSt float64) error {
	err := cmp.Or(
		CheckWithin("kv40", kv40CSt, MinKVCSt, MaxKVCSt, "cSt"),
		CheckWithin("kv100", kv100CSt, MinKVCSt, MaxKVCSt, "cSt"))
	if err == nil && kv40CSt <= kv100CSt {
		err = fmt.Errorf("kv40 %g cSt must be above kv100 %g cSt: oil is thicker when colder", kv40CSt, kv100CSt)
	}
	return err
}

// CheckWithin refuses a value outside low to high, and one that is not a number.
func CheckWithin(field string, value, low, high float64, unit string) error {
	if math.IsNaN(value) || value < low || value > high {
		return fmt.Errorf("%s %g %s is not allowed: give %g to %g %s", field, value, unit, low, high, unit)
	}
	return nil
}
