// The scale: which volumes the gauge spans, which cell a volume falls on, and
// where the axis has its numbers.

package gauge

import "math"

const (
	// headroom is how far the scale goes beyond the capacity and the window:
	// enough for the usual plan, so that the bars do not move when it is made.
	headroom = 1.12
	// planRoom is how far it goes beyond a larger plan, and planReach how far
	// at most such a plan, perhaps half typed, may stretch it.
	planRoom  = 1.04
	planReach = 1.5
)

// scale maps millilitres to cells.
type scale struct {
	maxML float64 // 0: there is nothing to scale by
	cells int
}

// newScale spans 0 to a little above capacity, window and plan. Where none of
// them is known it spans what is.
func newScale(d Data, cells int) scale {
	limit := sane(d.CapacityML)
	if d.Window.Known {
		limit = max(limit, sane(d.Window.HighML))
	}
	reach := max(limit*headroom, min(known(d.Planned)*planRoom, limit*planReach))
	if limit == 0 {
		reach = headroom * max(known(d.Planned), known(d.Target), known(d.Drained), known(d.InUnit))
	}
	return scale{maxML: reach, cells: cells}
}

// largestML bounds what the gauge takes for a volume.
const largestML = 1e12

// sane is ml where it is a volume that can be drawn, else 0.
func sane(ml float64) float64 {
	if ml > 0 && ml <= largestML {
		return ml
	}
	return 0
}

func known(m Mark) float64 {
	if !m.Known {
		return 0
	}
	return sane(m.ML)
}

// at is where ml falls, in cells from the left; outside 0 to cells for a
// volume off the scale.
func (s scale) at(ml float64) float64 {
	if s.maxML <= 0 {
		return 0
	}
	return ml / s.maxML * float64(s.cells)
}

// cell is the cell ml falls in, and whether that is on the scale.
func (s scale) cell(ml float64) (int, bool) {
	x := s.at(ml)
	if s.maxML <= 0 || !(x >= 0 && x < float64(s.cells)) {
		return 0, false
	}
	return int(x), true
}

// ticks are the volumes the axis numbers: multiples of 1, 2 or 5 times a power
// of ten of the display unit, at least minGap cells apart, from 0.
func (s scale) ticks(unitML float64, minGap int) []float64 {
	if s.maxML <= 0 || s.cells <= 0 {
		return nil
	}
	if sane(unitML) == 0 {
		unitML = 1
	}
	least := s.maxML / unitML * float64(minGap) / float64(s.cells)
	step := roundUp(least)
	var out []float64
	for i := 0; i <= s.cells; i++ {
		ml := float64(i) * step * unitML
		if !(ml < s.maxML) {
			break
		}
		out = append(out, ml)
	}
	return out
}

// roundUp is the smallest of 1, 2 and 5 times a power of ten that is at least
// x, for x above 0.
func roundUp(x float64) float64 {
	power := math.Pow(10, math.Floor(math.Log10(x)))
	for _, m := range []float64{1, 2, 5} {
		if m*power >= x*(1-1e-9) {
			return m * power
		}
	}
	return 10 * power
}
