package verdict

import (
	"fmt"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// Shares of one whole that are shown together add up to it.
func TestFalseWord13PercentagesAddUp(t *testing.T) {
	t.Parallel()
	for _, tt := range []struct {
		shares []float64
		want   []int
	}{
		{[]float64{0.335, 0.335, 0.33}, []int{34, 33, 33}},
		{[]float64{0.005, 0.99, 0.005}, []int{1, 99, 0}},
		{[]float64{1. / 3, 1. / 3, 1. / 3}, []int{34, 33, 33}},
		{[]float64{1.25, -0.25}, []int{125, -25}},
		{nil, []int{}},
	} {
		if got := wholePercents(tt.shares...); !slices.Equal(got, tt.want) {
			t.Errorf("%v: %v, want %v", tt.shares, got, tt.want)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		low := rapid.Float64Range(0, 1).Draw(t, "low")
		within := rapid.Float64Range(0, 1-low).Draw(t, "within")
		v := Verdict{PLow: low, PWithin: within, PHigh: 1 - low - within}
		sum := 0
		for _, n := range v.wholeChances() {
			sum += n
		}
		if sum != 100 {
			t.Fatalf("%v add up to %d", v.wholeChances(), sum)
		}
		for _, limit := range []float64{probablyWithin, probablyLikely} {
			if reached := v.Odds() >= int(100*limit+0.5); reached != (within >= limit) && within < limit {
				t.Fatalf("%v is said as %d in 100, which is a limit that it does not reach", within, v.Odds())
			}
		}
	})
	v := Verdict{PLow: 0.0265, PWithin: 0.9465, PHigh: 0.027}
	low, within, high := v.Chances()
	if got := fmt.Sprint(low, within, high, v.Odds()); got != "3 % 94 % 3 % 94" && got != "3 %94 %3 %94" {
		t.Errorf("%s: 94.65 %% is not 95 in 100", got)
	}
}
