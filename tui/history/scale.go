package history

// This file holds the scales of a chart: round numbers upwards, time across.

import (
	"math"
	"slices"
	"strconv"
)

// bar is a value with its whisker: half is half the whisker's length.
type bar struct{ y, half float64 }

// scale counts rows upwards from the axis; every labelled row has a round number.
type scale struct {
	low     float64 // at row 0, the axis
	perRow  float64
	label   int // every label-th row has a label
	decimal int // digits after the point that labels need
}

// labelEveryRow is how many rows are too few to label every second only.
const labelEveryRow = 6

// The least span of a scale, absolute and as a share of what is on it, and the
// widest whisker, in typical ones, that it makes room for: one job with hardly
// any knowledge must not flatten the rest.
const (
	leastSpan  = 0.001
	leastShare = 0.001
	widestHalf = 5
)

// leastRows is the fewest rows above the axis: in fewer, no round step has room
// for values on both sides of zero, however large it is.
const leastRows = 3

// newScale holds the bars in rows above the axis, zero too if asked.
func newScale(bars []bar, rows int, zero bool) scale {
	rows = max(rows, leastRows)
	low, high := reach(bars)
	label, least := 2, low // what must not lie on the axis itself
	if rows <= labelEveryRow {
		label, least = 1, lowestValue(bars, low) // there is no room to keep whiskers off it
	}
	if zero {
		low, high = math.Min(low, 0), math.Max(high, 0)
	}
	span := max(high-low, leastSpan, leastShare*math.Abs(low), leastShare*math.Abs(high))
	step := math.Pow(10, math.Floor(math.Log10(span/float64(rows))))
	for {
		for _, k := range []float64{1, 2, 2.5, 4, 5} {
			s := scale{low: math.Floor(low/(k*step)) * k * step, perRow: k * step / float64(label), label: label}
			if math.Round((least-s.low)/s.perRow) < 1 { // rounded as the row of a mark is
				s.low -= k * step
			}
			if s.low+s.perRow*float64(rows) >= high {
				s.decimal = decimals(k * step)
				return s
			}
		}
		step *= 10
	}
}

// lowestValue is the lowest value from low up.
func lowestValue(bars []bar, low float64) float64 {
	least := math.Inf(1)
	for _, b := range bars {
		if b.y >= low {
			least = math.Min(least, b.y)
		}
	}
	return least
}

// reach is the range of the bars that are worth being seen whole.
func reach(bars []bar) (low, high float64) {
	halves := make([]float64, len(bars))
	for i, b := range bars {
		halves[i] = b.half
	}
	slices.Sort(halves)
	most := widestHalf * halves[len(halves)/2]
	low, high = math.Inf(1), math.Inf(-1)
	for _, b := range bars {
		if b.half <= most || most == 0 {
			half := math.Min(b.half, most)
			low, high = math.Min(low, b.y-half), math.Max(high, b.y+half)
		}
	}
	return low, high
}

// mostDecimals is what the least step needs.
const mostDecimals = 6

// decimals is how many digits after the point a step needs.
func decimals(step float64) int {
	for d := range mostDecimals {
		shifted := step * math.Pow10(d)
		if whole := math.Round(shifted); whole > 0 && math.Abs(shifted-whole) < 1e-6*whole {
			return d
		}
	}
	return mostDecimals
}

// textAt is the label of a row, counted from the axis.
func (s scale) textAt(row int) string {
	y := s.low + s.perRow*float64(row)
	text := strconv.FormatFloat(y, 'f', s.decimal, 64)
	if f, err := strconv.ParseFloat(text, 64); err == nil && f == 0 {
		return strconv.FormatFloat(0, 'f', s.decimal, 64) // never -0
	}
	return text
}

// columns places ascending times on the columns 1 to width, in scale, but as
// far as there is room at least a column apart, so that none hides another.
func columns(at []float64, width int) []int {
	n := len(at)
	x := make([]int, n)
	span := at[n-1] - at[0]
	for i := range x {
		share := 0.5
		switch {
		case span > 0:
			share = (at[i] - at[0]) / span
		case n > 1:
			share = float64(i) / float64(n-1)
		}
		x[i] = 1 + int(math.Round(share*float64(width-1)))
	}
	apart := min(2, width/n)
	if apart == 0 {
		return x
	}
	for i := 1; i < n; i++ {
		x[i] = max(x[i], x[i-1]+apart)
	}
	for i, most := n-1, width; i >= 0 && x[i] > most; i, most = i-1, most-apart {
		x[i] = most
	}
	return x
}
