package verdict

import (
	"math"
	"testing"

	"garage/tundish/model/measure"
)

// Within ± 2 σ lies 0.9545, within ± 1.5 σ 0.8664 and within ± 1 σ 0.6827 of a
// normal distribution (any table of it); above + 1 σ 0.1587.
func TestWordsByProbability(t *testing.T) {
	for _, row := range []struct {
		offML, uML, pWithin float64
		word                Conformity
		act                 Act
		actML               float64
	}{
		{0, 25, 0.9545, Within, Nothing, 0},
		{0, 100.0 / 3, 0.8664, LikelyWithin, Nothing, 0},
		{0, 50, 0.6827, NotProven, Remeasure, 0},
		{-49, 20, 0.52, NotProven, AddOil, 49},
		{49, 20, 0.52, NotProven, LetOut, 49},
		{-75, 25, 0.1587, Low, AddOil, 75},
		{75, 25, 0.1587, High, LetOut, 75},
	} {
		v := judgeOff(measure.Gaussian("net", row.offML, row.uML), 900, -50, 50)
		near(t, "P(within)", v.PWithin, row.pWithin, 0.0005)
		near(t, "sum of P", v.PLow+v.PWithin+v.PHigh, 1, 1e-9)
		if v.Conformity != row.word || v.Act != row.act || v.ActML != row.actML {
			t.Errorf("%+.0f ± %.0f: %v, %v %v; want %v, %v %v", row.offML, row.uML, v.Conformity, v.Act, v.ActML,
				row.word, row.act, row.actML)
		}
	}
}

// What may be driven away that is not right (trade judgement, no source).
func TestMayDriveWhileOff(t *testing.T) {
	for _, row := range []struct {
		offML, uML float64
		may        bool
	}{
		{0, 10, true}, {-60, 10, true}, {-95, 60, false}, {-110, 10, false}, {-250, 10, false}, {150, 10, true}, {210, 10, false},
	} {
		v := judgeOff(measure.Gaussian("net", row.offML, row.uML), 1000, -50, 50)
		if v.MayDrive != row.may {
			t.Errorf("%+.0f ± %.0f of 1000: may drive %v", row.offML, row.uML, v.MayDrive)
		}
	}
}

// What is missing and what is too much have limits of their own.
func TestWordsInALopsidedWindow(t *testing.T) {
	for off, want := range map[float64]Conformity{-40: Within, -5: Within, 30: High, -70: Low} {
		if v := judgeOff(measure.Gaussian("net", off, 5), 600, -50, 20); v.Conformity != want {
			t.Errorf("%+.0f is %v, want %v", off, v.Conformity, want)
		}
	}
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %v, want %v ± %v", what, got, want, tolerance)
	}
}
