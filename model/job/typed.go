package job

// This file reads what was typed in answer to a topic. What a value must be as
// things stand is the guide's to check.

import (
	"errors"
	"fmt"
	"strings"
	"unicode/utf8"

	"garage/tundish/model/quantity"
)

// Parse reads what was typed in answer to a topic that is not chosen from a list.
// What has no unit is in those of bare; weighs says that a scale measures it.
func (i TopicInfo) Parse(typed string, bare quantity.Units, weighs bool) (Value, error) {
	switch i.Kind {
	case Free:
		return parseFree(typed)
	case Amount:
		return i.parseAmount(typed, bare, weighs)
	case Range:
		return i.parseRange(typed, bare)
	case Bounds:
		return parseBounds(typed, bare)
	case Number:
		x, err := i.Dim.parse(typed, bare)
		return Value{Number: x, Unit: i.Dim}, err
	}
	return Value{}, errors.New("nothing is typed here: press the key shown")
}

func parseFree(typed string) (Value, error) {
	if utf8.RuneCountInString(typed) > 300 {
		return Value{}, errors.New("300 letters at most")
	}
	for _, r := range typed {
		if r < ' ' || r == 0x7f || r == utf8.RuneError {
			return Value{}, fmt.Errorf("letters and signs only, without %q", r)
		}
	}
	return Value{Text: typed}, nil
}

func (i TopicInfo) parseAmount(typed string, bare quantity.Units, weighs bool) (Value, error) {
	parse := quantity.ParseVolume
	if weighs {
		parse = quantity.ParseMass
	} else if i.With != NoTopic {
		parse = quantity.ParseAmount
	}
	a, err := parse(typed, bare)
	if err != nil {
		return Value{}, err
	}
	v := Value{Number: a.Total, Unit: DimML}
	if a.Kind == quantity.Mass {
		v.Unit = DimG
	}
	if len(a.Parts) > 1 {
		v.Parts = a.Parts
	}
	if a.HasTemp {
		if v.Unit == DimG {
			return Value{}, errors.New("a mass needs no temperature: type it without @")
		}
		v.AtC = &a.AtC
	}
	return v, nil
}

// RangeDim is the dimension of a Range.
func (i TopicInfo) RangeDim() Dim {
	if i.Dim == NoDim {
		return DimML
	}
	return i.Dim
}

// parseRange reads one figure, or a lowest and a highest with "-" or "to" between
// them; a unit behind the second is that of both.
func (i TopicInfo) parseRange(typed string, bare quantity.Units) (Value, error) {
	d := i.RangeDim()
	if d == DimML {
		low, high, err := quantity.ParseRange(typed, bare)
		return Value{Number: low, High: high, Unit: d}, err
	}
	first, second := typed, typed
	for _, join := range []string{"..", "…", "to", "–", "-"} {
		if k := strings.LastIndex(typed, join); k > 0 {
			first, second = strings.Trim(typed[:k], " ."), strings.TrimSpace(typed[k+len(join):])
			if digits := "0123456789.,"; first == strings.TrimRight(first, "°CFcfm²") {
				first += strings.TrimLeft(second, "-+ "+digits)
			}
			break
		}
	}
	high, err := d.parse(second, bare)
	if err != nil {
		return Value{}, err
	}
	low, err := d.parse(first, bare)
	switch {
	case err != nil:
		return Value{}, err
	case low > high:
		return Value{}, fmt.Errorf("the lowest comes first: %s-%s", second, first)
	}
	return Value{Number: low, High: high, Unit: d}, nil
}

func parseBounds(typed string, bare quantity.Units) (Value, error) {
	t, err := quantity.ParseTolerance(typed, bare)
	if err != nil {
		return Value{}, err
	}
	if t.MinusFraction+t.PlusFraction > 0 {
		if t.MinusML+t.PlusML > 0 {
			return Value{}, fmt.Errorf("either a volume or a percentage, such as %s or 5 %%", bare.BareVolume(50))
		}
		return Value{Number: t.MinusFraction, High: t.PlusFraction, Unit: DimShare}, nil
	}
	return Value{Number: t.MinusML, High: t.PlusML, Unit: DimML}, nil
}

func (d Dim) parse(typed string, u quantity.Units) (float64, error) {
	switch d {
	case DimC:
		return quantity.ParseTemperature(typed, u.Temperature)
	case DimKm:
		return quantity.ParseDistance(typed, u.Distance)
	case DimKPa:
		return quantity.ParsePressure(typed, u.Pressure)
	case DimNm:
		return quantity.ParseTorque(typed, u.Torque)
	case DimShare:
		return quantity.ParsePercent(typed)
	case DimOver:
		return quantity.ParseSigned(typed, "mm")
	case DimCM2:
		return quantity.ParsePlain(typed, "cm²", "cm2")
	case DimDeg:
		return quantity.ParseTilt(typed)
	case DimMM:
		return quantity.ParseLength(typed, quantity.Millimetre)
	case DimM:
		mm, err := quantity.ParseLength(typed, quantity.Metre)
		return mm / 1000, err
	case DimG:
		a, err := quantity.ParseMass(typed, u)
		return a.Total, err
	case DimSeconds:
		return quantity.ParsePlain(typed, "s", "sec")
	case DimCount, DimMonths:
		n, err := quantity.ParseCount(typed)
		return float64(n), err
	}
	x, err := quantity.ParsePlain(typed)
	if d == DimKgM3 && x > 0 && x < 2 {
		x *= 1000 // 0.885 on a data sheet is kg/L
	}
	return x, err
}

// BareUnit is the unit that a bare number is taken to be in, "" where it has none
// or no number is typed.
func (i TopicInfo) BareUnit(u quantity.Units, weighs bool) string {
	switch {
	case i.Kind == Amount && weighs:
		return u.Mass.String()
	case i.Kind == Amount, i.Kind == Range && i.RangeDim() == DimML, i.Kind == Bounds:
		return u.Volume.String()
	case i.Kind == Number, i.Kind == Range:
		return i.Dim.bareUnit(u)
	}
	return ""
}

func (d Dim) bareUnit(u quantity.Units) string {
	switch d {
	case DimC:
		return u.Temperature.String()
	case DimKm:
		return u.Distance.String()
	case DimKPa:
		return u.Pressure.String()
	case DimNm:
		return u.Torque.String()
	case DimG:
		return u.Mass.String()
	}
	return fixedUnits[d]
}
