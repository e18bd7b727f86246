// The scale: which volumes the gauge spans, which cell a volume falls on, and
// where the axis has its numbers.

package gauge

import "math"

const (
	headroom    = 1.1 // the scale goes so far beyond the largest thing shown
	leastInside = 3   // cells between the walls
)

// knot is a volume and its place on the scale, in cells from the left.
type knot struct{ ml, at float64 }

// scale maps millilitres to cells: in proportion, but for a range so narrow that
// its walls would merge. That is drawn wider and the rest gives way, so that
// whatever lies below, in or above it is also drawn there.
type scale struct {
	knots []knot // from 0 to the end; none where there is nothing to scale by
	cells int
	walls bool // of the range from low to high, cells
	low   int
	high  int
}

// newScale spans 0 to a little above the largest thing shown.
func newScale(d Data, cells int) scale {
	band, ok := d.Right.sane()
	most := max(sane(d.ManualML), d.CameOut.end(), d.Now.end())
	if d.Aim.Known {
		most = max(most, sane(d.Aim.ML))
	}
	if ok = ok && !d.LevelHole; ok {
		most = max(most, band.HighML)
	}
	if most == 0 || cells <= 0 {
		return scale{cells: cells}
	}
	s := scale{knots: []knot{{}, {headroom * most, float64(cells)}}, cells: cells, walls: ok}
	if ok {
		s.setWalls(band)
	}
	return s
}

// setWalls puts the walls in their places, at least leastInside cells apart and
// with a cell beside them wherever there is something beyond.
func (s *scale) setWalls(b Band) {
	const apart = leastInside + 1
	end := s.knots[1]
	low, high := s.at(b.LowML), s.at(b.HighML)
	if int(high)-int(low) < apart {
		low = math.Round((low+high)/2 - apart/2)
		high = low + apart
	}
	first := 0.0
	if b.LowML > 0 {
		first = 1
	}
	if low < first {
		low, high = first, max(high, first+apart)
	}
	if most := float64(s.cells - 2); high > most {
		low, high = min(low, most-apart), most
	}
	s.low, s.high = int(low), int(high)
	if b.LowML > 0 {
		s.knots = []knot{{}, {b.LowML, low}, {b.HighML, high}, end}
	} else {
		s.knots = []knot{{0, low}, {b.HighML, high}, end}
	}
}

// at is where a volume falls, in cells from the left, from 0 to cells.
func (s scale) at(ml float64) float64 {
	for i := 1; i < len(s.knots); i++ {
		if a, b := s.knots[i-1], s.knots[i]; ml < b.ml {
			return a.at + (b.at-a.at)*max(0, ml-a.ml)/(b.ml-a.ml)
		}
	}
	return float64(s.cells)
}

// cell is the cell that a volume falls in.
func (s scale) cell(ml float64) int { return min(int(s.at(ml)), s.cells-1) }

// part is the cells, from first to before end, that the end of a bar may lie in:
// at least one.
func (s scale) part(b Bar) (first, end int) {
	first = s.cell(b.ML - b.UML)
	return first, max(int(math.Ceil(s.at(b.ML+b.UML))), first+1)
}

// ticks are the volumes the axis numbers: multiples of 1, 2 or 5 times a power
// of ten of the display unit, some minGap cells apart, from 0.
func (s scale) ticks(unitML float64, minGap int) []float64 {
	if len(s.knots) == 0 {
		return nil
	}
	if sane(unitML) == 0 {
		unitML = 1
	}
	most := s.knots[len(s.knots)-1].ml
	step := roundUp(most / unitML * float64(minGap) / float64(s.cells))
	var out []float64
	for i := 0; i <= s.cells; i++ {
		ml := float64(i) * step * unitML
		if !(ml < most) {
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

// largestML bounds what the gauge takes for a volume.
const largestML = 1e12

// sane is ml where it is a volume that can be drawn, else 0.
func sane(ml float64) float64 {
	if ml > 0 && ml <= largestML {
		return ml
	}
	return 0
}

// sane is the band as it is drawn; false where it cannot be.
func (b Band) sane() (Band, bool) {
	if !b.Known || !(b.LowML <= b.HighML) || sane(b.HighML) == 0 {
		return Band{}, false
	}
	b.LowML = sane(b.LowML)
	if hair := 1e-6 * b.HighML; b.HighML-b.LowML < hair {
		b.LowML, b.HighML = b.HighML-hair, b.HighML+hair
	}
	return b, true
}

// drawn reports whether there is a bar to draw.
func (b Bar) drawn() bool {
	return b.Known && b.None == "" && b.ML >= 0 && b.UML >= 0 && b.ML+b.UML <= largestML
}

// end is where a bar ends at most, millilitres; 0 where there is none.
func (b Bar) end() float64 {
	if !b.drawn() {
		return 0
	}
	return b.ML + b.UML
}
