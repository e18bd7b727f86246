package quantity

import (
	"math"
	"testing"
)

// Centilitres and decilitres stand on kitchen jugs; SI brochure, 9th edition,
// tables 7 and 8 (prefixes c and d, the litre).
func TestCentilitresAndDecilitres(t *testing.T) {
	for typed, want := range map[string]float64{"83 cl": 830, "8.3dl": 830, "5 dl + 33 cl": 830} {
		a, err := ParseVolume(typed, US())
		if err != nil || math.Abs(a.Total-want) > 1e-9 {
			t.Errorf("%q: %v ml, %v; want %v", typed, a.Total, err, want)
		}
	}
}
