package report

// This file lays the gauge out as a picture: what came out as an empty bar,
// what is in the unit as a full one, against window, target and stated
// quantity. Every part has its words and figures beside it.

import "math"

// Sizes in units of the picture.
const (
	svgWidth  = 880.0
	svgZeroX  = 100.0 // where 0 ml stands; names are left of it
	svgEndX   = 640.0 // the largest volume; figures may stand beyond
	svgBarH   = 16.0
	svgFirstY = 34.0
	svgStepY  = 26.0
)

type svgGauge struct {
	Width, Height      float64
	ZeroX, EndX, AxisY float64
	Window             *svgBox
	Bars               []svgBar
	Marks              []svgMark
}

type svgBox struct {
	X, Y, W, H, TextY float64
	Text, Anchor      string
	TextX             float64
}

type svgBar struct {
	Class, Name, Text                string
	X, Y, W, H, TextY, ValueX        float64
	Whisker                          bool
	LowX, HighX, MidY, TopY, BottomY float64
}

type svgMark struct {
	X, Y, BottomY, TextY float64
	Class, Anchor, Text  string
}

// drawGauge is nil where there is nothing to draw.
func drawGauge(g fillGauge) *svgGauge {
	largest := math.Max(math.Max(g.CapacityML, g.HighML), math.Max(g.Drained.ML+g.Drained.PlusM, g.InUnit.ML+g.InUnit.PlusM))
	if !(largest > 0) || math.IsInf(largest, 0) || !(g.Drained.Known || g.InUnit.Known || g.HighML > 0) {
		return nil
	}
	x := func(ml float64) float64 {
		return round1(svgZeroX + (svgEndX-svgZeroX)*math.Min(math.Max(ml/largest, 0), 1))
	}
	d := &svgGauge{Width: svgWidth, ZeroX: svgZeroX, EndX: svgEndX}
	y := svgFirstY
	add := func(class, name string, m gaugeMark) {
		if m.Known {
			d.Bars = append(d.Bars, barOf(class, name, m, x, y))
			y += svgStepY
		}
	}
	add("out", "Came out", g.Drained)
	add("in", "Went in", g.InUnit)
	d.AxisY = y
	d.Height = y + 34
	if g.HighML > 0 {
		low, high := x(g.LowML), x(g.HighML)
		d.Window = &svgBox{X: low, Y: 18, W: round1(high - low), H: y - 18, TextX: low, TextY: 12, Anchor: "start",
			Text: "right: " + g.WindowText}
		if low > (svgZeroX+svgEndX)/2 {
			d.Window.TextX, d.Window.Anchor = high, "end"
		}
	}
	d.marks(g, x)
	return d
}

func barOf(class, name string, m gaugeMark, x func(float64) float64, y float64) svgBar {
	low, high := x(m.ML-m.PlusM), x(m.ML+m.PlusM)
	return svgBar{
		Class: class, Name: name, Text: m.Text, X: svgZeroX, Y: y - svgBarH + 4, W: round1(x(m.ML) - svgZeroX), H: svgBarH - 4,
		TextY: y, ValueX: math.Max(svgEndX+10, high+8), Whisker: m.PlusM > 0, LowX: low, HighX: high,
		MidY: y + 4, TopY: y + 1, BottomY: y + 7,
	}
}

// marks are the target and the stated quantity, in two lines under the axis so
// that their words never meet.
func (d *svgGauge) marks(g fillGauge, x func(float64) float64) {
	add := func(class string, ml float64, text string, line float64) {
		m := svgMark{Class: class, X: x(ml), Y: 18, BottomY: d.AxisY + 4, TextY: d.AxisY + 2 + 13*line, Anchor: "middle", Text: text}
		if m.X > (svgZeroX+svgEndX)/2 {
			m.Anchor = "end"
		}
		d.Marks = append(d.Marks, m)
	}
	if g.HighML > 0 {
		add("target", g.TargetML, "needed "+g.TargetText, 1)
	}
	if g.CapacityML > 0 {
		add("stated", g.CapacityML, "stated "+g.CapacityText, 2)
	}
}

func round1(x float64) float64 { return math.Round(10*x) / 10 }
