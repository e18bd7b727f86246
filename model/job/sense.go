package job

// This file says which values can mean anything at all, whatever the state of
// the job: what a file that a stranger may have written is held to. What an
// answer must be as things stand is the prompt's (Accept).

import (
	"fmt"
	"math"
	"slices"
)

// bounds are the lowest and the highest sensible number of a dimension.
type bounds struct{ low, high float64 }

// sensible is what each dimension can be. Only a temperature can be below
// nothing; no oil or air met here is beyond these (common practice, no source).
var sensible = [NumDims]bounds{
	DimML: {0, maxNumber}, DimG: {0, maxNumber}, DimC: {-60, 300}, DimMM: {0, maxNumber}, DimM: {0, maxNumber},
	DimKm: {0, maxNumber}, DimKPa: {0, maxNumber}, DimNm: {0, maxNumber}, DimShare: {0, 1}, DimKgM3: {0, maxNumber},
	DimCSt: {0, maxNumber}, DimCount: {0, maxNumber}, DimMonths: {0, maxNumber}, DimOver: {-500, 500}, DimCM2: {0, maxNumber},
	DimDeg: {0, 90}, DimSeconds: {0, maxNumber},
}

// unitsOf are the units that a kind of answer can be in. A choice and a
// confirmation carry the difference that they were made for, of either sign.
func (i TopicInfo) unitsOf() []Dim {
	switch i.Kind {
	case Amount:
		if i.With != NoTopic {
			return []Dim{DimML, DimG}
		}
		return []Dim{DimML}
	case Range:
		return []Dim{i.RangeDim()}
	case Bounds:
		return []Dim{DimML, DimShare}
	case Number:
		return []Dim{i.Dim}
	}
	return nil
}

// CheckSense reports whether the entry's value can mean what its topic asks for;
// the error names the field. Check says whether it could stand in a job at all.
func (e Entry) CheckSense() error {
	info, v := e.Topic.Info(), e.Value
	// A topic that asks for a figure may have been answered by a choice in another version.
	hasNumbers := v.Number != 0 || v.High != 0 || v.Unit != NoDim || len(v.Parts) > 0 || v.AtC != nil
	if v.Unknown || !hasNumbers {
		return nil
	}
	units := info.unitsOf()
	if units == nil {
		return nil
	}
	bad := func(field, format string, a ...any) error {
		return fmt.Errorf("%v: value.%s %s", e.Topic, field, fmt.Sprintf(format, a...))
	}
	if !slices.Contains(units, v.Unit) {
		return bad("unit", "must be %s, not %q", names(units), v.Unit)
	}
	limits := sensible[v.Unit]
	for _, n := range []struct {
		field string
		x     float64
	}{{"number", v.Number}, {"high", v.High}} {
		if n.x < 0 && limits.low == 0 {
			return bad(n.field, "must not be below 0, but is %g", n.x)
		}
		if n.x < limits.low || n.x > limits.high {
			return bad(n.field, "must be %g to %g %s, not %g", limits.low, limits.high, v.Unit, n.x)
		}
	}
	switch {
	case info.Kind == Range && v.High != 0 && v.High < v.Number:
		return bad("high", "must not be below number, %g, but is %g", v.Number, v.High)
	case len(v.Parts) > 0 && !sumsTo(v.Parts, v.Number):
		return bad("number", "must be the sum of its parts, %g, not %g", sum(v.Parts), v.Number)
	case v.AtC != nil && v.Unit != DimML:
		return bad("at_c", "belongs to a volume, not to one in %q", v.Unit)
	case v.AtC != nil && (*v.AtC < sensible[DimC].low || *v.AtC > sensible[DimC].high):
		return bad("at_c", "must be %g to %g °C, not %g", sensible[DimC].low, sensible[DimC].high, *v.AtC)
	}
	return nil
}

// sumsTo allows for the rounding of a sum that was added up in another order.
func sumsTo(parts []float64, total float64) bool {
	const rounding = 1e-9
	size := 1.0
	for _, x := range parts {
		size += math.Abs(x)
	}
	return math.Abs(sum(parts)-total) <= rounding*size
}

func sum(parts []float64) float64 {
	total := 0.0
	for _, x := range parts {
		total += x
	}
	return total
}

func names(units []Dim) string {
	text := units[0].String()
	for _, d := range units[1:] {
		text += " or " + d.String()
	}
	return text
}
