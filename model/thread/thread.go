// Package thread holds what torque a plug of a thread is tightened with, and which figure cannot be
// one: typed in another unit, or of another screw.
//
// Torques are in N·m, sizes in mm.
package thread

import (
	"regexp"
	"strconv"
	"sync"
)

// Range is what is asked of the torque of a plug of a thread, N·m. The limits that are asked at are judgement, round what makers publish
// for plugs; above RefuseAboveNm is more than the general table of a maker gives for a steel bolt of the size.
type Range struct {
	AskBelowNm, AskAboveNm       float64
	RefuseBelowNm, RefuseAboveNm float64
}

// ranges are those of metric threads, up to a diameter.
var ranges = []struct {
	uptoMM float64
	Range
}{
	{10, Range{8, 25, 3, 34}},
	{12, Range{10, 45, 4, 61}},
	{14, Range{12, 55, 5, 98}},
	{16, Range{14, 65, 6, 155}},
	{18, Range{16, 85, 6, 225}},
	{22, Range{20, 110, 8, 325}},
	{30, Range{25, 180, 8, 325}},
}

var unknown = Range{8, 100, 3, 325}

// smallestMM is the smallest plug of the table.
const smallestMM = 8.0

var metricPattern = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`(?i)\bM ?(\d{1,2})(?:[ x×*/,;]|$)`)
})

// MetricMM finds the diameter of a metric thread in what a person wrote: "M18x1.5", "m 20 x 1,5"; 0
// where there is none, as of a pipe thread.
func MetricMM(text string) float64 {
	found := metricPattern().FindStringSubmatch(text)
	if found == nil {
		return 0
	}
	mm, _ := strconv.ParseFloat(found[1], 64)
	return mm
}

// RangeOf is what is met of a thread as a person wrote it; what is met of any where the thread is
// not told, or is none of the table.
func RangeOf(text string) Range {
	mm := MetricMM(text)
	for _, r := range ranges {
		if mm >= smallestMM && mm <= r.uptoMM {
			return r.Range
		}
	}
	return unknown
}

// Finding says what is to be thought of a torque.
type Finding uint8

const (
	Usual   Finding = iota + 1 // or at least possible: nothing is asked
	Doubted                    // asked: unit, thread, where it stands
	Refused                    // cannot be a plug
)

// Judge says what is to be thought of a torque. One in lbf·ft that was typed as N·m lies within the
// scatter of what is published: no range finds it.
func (r Range) Judge(nm float64) Finding {
	switch {
	case !(nm >= r.RefuseBelowNm && nm <= r.RefuseAboveNm):
		return Refused
	case nm < r.AskBelowNm || nm > r.AskAboveNm:
		return Doubted
	}
	return Usual
}

// Slip is a unit that a figure may have been meant in, and what it is then.
type Slip struct {
	Unit string
	Nm   float64
}

// Units that are mistaken for N·m, with their size in it. Source: NIST SP 811, appendix B.8.
var slipUnits = []Slip{{"kgf·m", 9.80665}, {"kgf·cm", 0.0980665}, {"lbf·in", 0.1129848290}}

// Slips are the units in which a doubted figure would be a usual torque: often two, which the figure
// alone does not tell apart.
func (r Range) Slips(nm float64) (slips []Slip) {
	if r.Judge(nm) == Usual {
		return nil
	}
	for _, u := range slipUnits {
		if s := (Slip{u.Unit, nm * u.Nm}); r.Judge(s.Nm) == Usual {
			slips = append(slips, s)
		}
	}
	return slips
}
