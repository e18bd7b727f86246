package verdict

// This file prints shares of one whole so that what is shown adds up.

import (
	"fmt"
	"math"
)

// wholePercents are shares of one whole in whole percent that add up to what
// the shares do, rounded: each is cut, and what is missing goes to those that
// lost most by it (largest remainder).
func wholePercents(shares ...float64) []int {
	whole, sum, left := make([]int, len(shares)), 0.0, 0
	for i, x := range shares {
		whole[i] = int(math.Floor(100*x + 1e-9))
		sum += 100 * x
		left -= whole[i]
	}
	if !(math.Abs(sum) < 1e9) {
		return make([]int, len(shares)) // no share of anything
	}
	for left += int(math.Round(sum)); left > 0; left-- {
		most := 0
		for i, x := range shares {
			if 100*x-float64(whole[i]) > 100*shares[most]-float64(whole[most])+1e-9 {
				most = i
			}
		}
		whole[most]++
	}
	return whole
}

// percents prints shares of one whole, none of them as certain, or impossible,
// that is not.
func percents(shares ...float64) []string {
	texts := make([]string, len(shares))
	for i, whole := range wholePercents(shares...) {
		texts[i] = percentText(whole, shares[i])
	}
	return texts
}

func percentText(whole int, share float64) string {
	switch {
	case whole == 100 && share < 1:
		return "> 99 %"
	case whole == 0 && share > 0:
		return "< 1 %"
	}
	return fmt.Sprintf("%d %%", whole)
}

// Chances prints how probably the fill is too low, right and too high.
func (v Verdict) Chances() (low, within, high string) {
	const least = 1e-9 // nothing is ever certain
	p := func(x float64) float64 { return min(max(x, least), 1-least) }
	whole := v.wholeChances()
	return percentText(whole[0], p(v.PLow)), percentText(whole[1], p(v.PWithin)), percentText(whole[2], p(v.PHigh))
}

// wholeChances are the chances in whole percent. One that is rounded up to a
// limit which it does not reach gives a point to the likelier other.
func (v Verdict) wholeChances() []int {
	whole := wholePercents(v.PLow, v.PWithin, v.PHigh)
	for _, limit := range []float64{probablyWithin, probablyLikely} {
		if v.PWithin < limit && whole[1] == int(math.Round(100*limit)) {
			other := 0
			if v.PHigh > v.PLow {
				other = 2
			}
			whole[1]--
			whole[other]++
		}
	}
	return whole
}

// Odds is how probably the fill is right, in 100: never certain, never
// impossible.
func (v Verdict) Odds() int { return min(max(v.wholeChances()[1], 1), 99) }
