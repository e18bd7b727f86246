package calc

import (
	"math"
	"testing"
)

func TestLiftsMayBeBelowZero(t *testing.T) {
	for typed, want := range map[string]float64{"0.8m": 0.8, "-0.8m": -0.8, "-80 cm": -0.8, "1": 1, "0": 0} {
		if m, err := signedLength(typed); err != nil || math.Abs(m-want) > 1e-12 {
			t.Errorf("%q is %v m, %v; want %v", typed, m, err, want)
		}
	}
	if m, err := signedLength("--1"); err == nil {
		t.Errorf("--1 is taken for %v m", m)
	}
}
