// Tests that the colours of states and of bars stay apart for colour-blind
// eyes. The words and the shapes carry the meaning; this keeps colour from
// contradicting them.

package theme

import (
	"fmt"
	"testing"

	"github.com/lucasb-eyer/go-colorful"
)

// eye maps linear sRGB as one kind of eye sees it.
type eye [3][3]float64

// eyes are full protanopia, deuteranopia and tritanopia. Source: Machado,
// Oliveira and Fernandes, "A physiologically-based model for simulation of
// color vision deficiency", IEEE TVCG 15(6), 2009, severity 1.0.
func eyes() map[string]eye {
	return map[string]eye{
		"usual": {{1, 0, 0}, {0, 1, 0}, {0, 0, 1}},
		"protanopia": {
			{0.152286, 1.052583, -0.204868}, {0.114503, 0.786281, 0.099216}, {-0.003882, -0.048116, 1.051998}},
		"deuteranopia": {
			{0.367322, 0.860646, -0.227968}, {0.280085, 0.672501, 0.047413}, {-0.011820, 0.042940, 0.968881}},
		"tritanopia": {
			{1.255528, -0.076749, -0.178779}, {-0.078411, 0.930809, 0.147602}, {0.004733, 0.691367, 0.303900}},
	}
}

func (e eye) sees(c rgb) colorful.Color {
	r, g, b := colorful.Color{R: float64(c.r) / 255, G: float64(c.g) / 255, B: float64(c.b) / 255}.LinearRgb()
	row := func(i int) float64 { return e[i][0]*r + e[i][1]*g + e[i][2]*b }
	return colorful.LinearRgb(row(0), row(1), row(2)).Clamped()
}

// minDifference is the least CIEDE2000 difference of two colours that must not
// be taken for one another. About 2 is just noticeable side by side (common
// practice, no source); the bars are lines apart, so ask for several times it.
const minDifference = 9.0

func TestStatesAndBarsStayApartForEveryEye(t *testing.T) {
	groups := [][]string{{"Danger", "Caution", "Good"}, {"Drained", "InUnit"}, {"DrainedRange", "InUnitRange"}}
	for _, dark := range []bool{true, false} {
		for _, level := range []Colour{TrueColour, ANSI256} {
			all := styles(New(Options{Dark: dark, Colour: level}))
			for kind, e := range eyes() {
				for _, g := range groups {
					for i := range g {
						for j := range i {
							a, _ := resolve(t, level, all[g[i]].GetForeground())
							b, _ := resolve(t, level, all[g[j]].GetForeground())
							if d := 100 * e.sees(a).DistanceCIEDE2000(e.sees(b)); d < minDifference {
								t.Errorf("dark %v, %v, %s: %s and %s are %.1f apart, want %.0f", dark, level, kind, g[i], g[j],
									d, minDifference)
							} else if testing.Verbose() {
								fmt.Printf("dark %-5v %-12v %-12s %-8s %-8s %.1f\n", dark, level, kind, g[i], g[j], d)
							}
						}
					}
				}
			}
		}
	}
}

func TestDangerCautionAndGoodDifferInLightness(t *testing.T) {
	const minRatio = 1.2
	for _, dark := range []bool{true, false} {
		all := styles(New(Options{Dark: dark, Colour: TrueColour}))
		g := []string{"Danger", "Caution", "Good"}
		for i := range g {
			for j := range i {
				a, _ := resolve(t, TrueColour, all[g[i]].GetForeground())
				b, _ := resolve(t, TrueColour, all[g[j]].GetForeground())
				if got := contrast(a, b); got < minRatio {
					t.Errorf("dark %v: %s to %s %.2f, want at least %.1f", dark, g[i], g[j], got, minRatio)
				}
			}
		}
	}
}
