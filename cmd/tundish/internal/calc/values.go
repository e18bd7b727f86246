package calc

// This file holds the values of flags: amounts, temperatures and so on as a
// person types them. A number without unit is in the unit named by the type.

import (
	"errors"
	"reflect"
	"strconv"
	"strings"

	"github.com/alecthomas/kong"

	"garage/tundish/model/oil"
	"garage/tundish/model/quantity"
)

// volume is an amount of oil by volume, bare numbers in ml.
type volume struct{ quantity.Amount }

func (v *volume) UnmarshalText(text []byte) (err error) {
	v.Amount, err = quantity.ParseVolume(string(text), quantity.Metric())
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

// grade is an SAE grade as it stands on a bottle.
type grade struct{ oil.Grade }

func (g *grade) UnmarshalText(text []byte) (err error) {
	g.Grade, err = oil.ParseGrade(string(text))
	return err
}

// Numbers read the flags that are one number, by the name in their type tag;
// a flag of a list is given once a number.
func Numbers() []kong.Option {
	var all []kong.Option
	for name, parse := range map[string]func(string) (float64, error){
		"ml": volumeAt20, "g": massOf, "share": quantity.ParsePercent, "m": signedLength,
		"celsius": func(typed string) (float64, error) { return quantity.ParseTemperature(typed, quantity.Celsius) },
		"mm":      func(typed string) (float64, error) { return quantity.ParseLength(typed, quantity.Millimetre) },
		"kpa":     func(typed string) (float64, error) { return quantity.ParsePressure(typed, quantity.Kilopascal) },
		"density": func(typed string) (float64, error) {
			x, err := quantity.ParsePlain(typed, "kg/m3", "kg/m³")
			return within(x, err, oil.MinRho15KgM3, oil.MaxRho15KgM3, "kg/m³")
		},
		"cst": func(typed string) (float64, error) {
			x, err := quantity.ParsePlain(typed, "cSt", "mm2/s", "mm²/s")
			return within(x, err, oil.MinKVCSt, oil.MaxKVCSt, "cSt")
		},
	} {
		all = append(all, kong.NamedMapper(name, kong.MapperFunc(func(ctx *kong.DecodeContext, target reflect.Value) error {
			var typed string
			if err := ctx.Scan.PopValueInto("value", &typed); err != nil {
				return err
			}
			x, err := parse(typed)
			if err != nil {
				return err
			}
			switch target.Kind() {
			case reflect.Pointer:
				target.Set(reflect.ValueOf(&x))
			case reflect.Slice:
				target.Set(reflect.Append(target, reflect.ValueOf(x)))
			default:
				target.SetFloat(x)
			}
			return nil
		})))
	}
	return all
}

// volumeAt20 is a volume that is meant at 20 °C, bare numbers in ml.
func volumeAt20(typed string) (float64, error) {
	a, err := quantity.ParseVolume(typed, quantity.Metric())
	if err == nil && a.HasTemp {
		return 0, errors.New("a volume at 20 °C is wanted: leave @ and the temperature out")
	}
	return a.Total, err
}

func massOf(typed string) (float64, error) {
	a, err := quantity.ParseMass(typed, quantity.Metric())
	return a.Total, err
}

// signedLength is a length in m, bare numbers in m, with a sign where one is
// typed.
func signedLength(typed string) (float64, error) {
	typed, sign := strings.TrimSpace(typed), 1.0
	if rest, below := strings.CutPrefix(typed, "-"); below {
		typed, sign = rest, -1
	}
	x, err := quantity.ParseLength(typed, quantity.Metre)
	return sign * x / quantity.Metre.Factor(), err
}

// within refuses a number that is not in a range.
func within(x float64, err error, low, high float64, unit string) (float64, error) {
	if err == nil && !(x >= low && x <= high) {
		plain := func(x float64) string { return strconv.FormatFloat(x, 'f', -1, 64) }
		return 0, errors.New("must be " + plain(low) + " to " + plain(high) + " " + unit)
	}
	return x, err
}
