package main

// This file holds the values of flags: amounts, temperatures and so on as a
// person types them. A number without unit is in the unit named by the type.

import (
	"errors"
	"strconv"
	"strings"

	"garage/tundish/model/oil"
	"garage/tundish/model/quantity"
)

// volume is an amount of oil by volume, bare numbers in ml.
type volume struct{ quantity.Amount }

func (v *volume) UnmarshalText(text []byte) (err error) {
	v.Amount, err = quantity.ParseVolume(string(text), quantity.Metric())
	return err
}

// plainVolume is a volume that is meant at 20 °C, bare numbers in ml.
type plainVolume float64

func (v *plainVolume) UnmarshalText(text []byte) error {
	a, err := quantity.ParseVolume(string(text), quantity.Metric())
	if err == nil && a.HasTemp {
		return errors.New("a volume at 20 °C is wanted: leave @ and the temperature out")
	}
	*v = plainVolume(a.Total)
	return err
}

// mass is a weight, bare numbers in g.
type mass float64

func (m *mass) UnmarshalText(text []byte) error {
	a, err := quantity.ParseMass(string(text), quantity.Metric())
	*m = mass(a.Total)
	return err
}

// volumeRange is a stated quantity, bare numbers in ml.
type volumeRange struct{ lowML, highML float64 }

func (r *volumeRange) UnmarshalText(text []byte) (err error) {
	r.lowML, r.highML, err = quantity.ParseRange(string(text), quantity.Metric())
	if err == nil && r.lowML <= 0 {
		return errors.New("must be above 0 ml")
	}
	return err
}

// tolerance is a volume or a percentage, perhaps lopsided, bare numbers in ml.
type tolerance struct{ quantity.Tolerance }

func (t *tolerance) UnmarshalText(text []byte) (err error) {
	t.Tolerance, err = quantity.ParseTolerance(string(text), quantity.Metric())
	return err
}

// share is a percentage, kept as a fraction.
type share float64

func (s *share) UnmarshalText(text []byte) error {
	x, err := quantity.ParsePercent(string(text))
	*s = share(x)
	return err
}

// tempC is a temperature, bare numbers in °C.
type tempC float64

func (t *tempC) UnmarshalText(text []byte) error {
	x, err := quantity.ParseTemperature(string(text), quantity.Celsius)
	*t = tempC(x)
	return err
}

// boreMM is a bore, bare numbers in mm.
type boreMM float64

func (b *boreMM) UnmarshalText(text []byte) error {
	x, err := quantity.ParseLength(string(text), quantity.Millimetre)
	*b = boreMM(x)
	return err
}

// lengthM is a length, bare numbers in m, with a sign where one is typed.
type lengthM float64

func (l *lengthM) UnmarshalText(text []byte) error {
	typed, sign := strings.TrimSpace(string(text)), 1.0
	if rest, below := strings.CutPrefix(typed, "-"); below {
		typed, sign = rest, -1
	}
	x, err := quantity.ParseLength(typed, quantity.Metre)
	*l = lengthM(sign * x / quantity.Metre.Factor())
	return err
}

// pressureKPa is a gauge pressure, bare numbers in kPa.
type pressureKPa float64

func (p *pressureKPa) UnmarshalText(text []byte) error {
	x, err := quantity.ParsePressure(string(text), quantity.Kilopascal)
	*p = pressureKPa(x)
	return err
}

// densityKgM3 is a density at 15 °C.
type densityKgM3 float64

func (d *densityKgM3) UnmarshalText(text []byte) error {
	x, err := quantity.ParsePlain(string(text), "kg/m3", "kg/m³")
	if err == nil && !(x >= oil.MinRho15KgM3 && x <= oil.MaxRho15KgM3) {
		return errors.New("must be " + between(oil.MinRho15KgM3, oil.MaxRho15KgM3, "kg/m³"))
	}
	*d = densityKgM3(x)
	return err
}

// viscosityCSt is a kinematic viscosity.
type viscosityCSt float64

func (v *viscosityCSt) UnmarshalText(text []byte) error {
	x, err := quantity.ParsePlain(string(text), "cSt", "mm2/s", "mm²/s")
	if err == nil && !(x >= oil.MinKVCSt && x <= oil.MaxKVCSt) {
		return errors.New("must be " + between(oil.MinKVCSt, oil.MaxKVCSt, "cSt"))
	}
	*v = viscosityCSt(x)
	return err
}

// grade is an SAE grade as it stands on a bottle.
type grade struct{ oil.Grade }

func (g *grade) UnmarshalText(text []byte) (err error) {
	g.Grade, err = oil.ParseGrade(string(text))
	return err
}

func between(low, high float64, unit string) string {
	return strconv.FormatFloat(low, 'f', -1, 64) + " to " + strconv.FormatFloat(high, 'f', -1, 64) + " " + unit
}
