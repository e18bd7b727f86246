package hydraulics

// Checks of what share of a fill is renewed, and of what a rig brings with it: the printed figures
// of the trade, computed there by the same two laws.

import (
	"math"
	"testing"
)

// The printed table, 4 of 9 litres.
func TestShareRenewed(t *testing.T) {
	for mixing, want := range map[float64][4]float64{1: {44, 69, 83, 90}, 0.8: {44, 64, 77, 85}, 0.5: {44, 57, 66, 74}} {
		e := Exchange{9000, 4000, mixing}
		for i, percent := range want {
			if got := 100 * e.Renewed(i+1); math.Abs(got-percent) > 0.55 {
				t.Errorf("mixing %g, %d times: %.1f %%, want %g", mixing, i+1, got, percent)
			}
		}
	}
	for n, want := range map[int]float64{0: 0, -1: 0} {
		if got := (Exchange{9000, 4000, 1}).Renewed(n); got != want {
			t.Errorf("%d times: %g", n, got)
		}
	}
}

// Case A8: three times 4 L reach 77 %, 80 % take a fourth, which gives 85; 16 L.
func TestOilForAWantedShare(t *testing.T) {
	e := Exchange{9000, 4000, 0.8}
	n, err := e.TimesFor(0.80)
	if err != nil || n != 4 || math.Abs(e.Renewed(n)-0.85) > 0.006 || float64(n)*e.OutML != 16000 {
		t.Errorf("%d times, %v: %.3f of it", n, err, e.Renewed(n))
	}
	for f := 0.05; f < 1; f += 0.05 { // the formula that is printed beside it
		for _, m := range []float64{0.5, 0.8, 1} {
			for _, w := range []float64{0.6, 0.8, 0.9} {
				e := Exchange{1000, 1000 * f, m}
				want := 1
				if w > f {
					want = 1 + int(math.Ceil(math.Log((1-w)/(1-f))/math.Log(1-m*f)-1e-9))
				}
				if got, err := e.TimesFor(w); err == nil && got != want || err != nil && want <= maxExchanges {
					t.Errorf("f %g, m %g, wanted %g: %d times, %v; want %d", f, m, w, got, err, want)
				}
			}
		}
	}
	if _, err := (Exchange{9000, 0, 1}).TimesFor(0.5); err == nil {
		t.Error("a drain that brings nothing renews half")
	}
	if got := e.ContinuousML(0.80) / e.TotalML; math.Abs(got-1.6) > 0.015 {
		t.Errorf("flowing through: %.3f of the fill, want 1.6", got)
	}
}

func TestUnequalDrains(t *testing.T) {
	e := Exchange{9000, 4000, 1}
	if got, want := e.renewedBy(4000, 4000, 4000), e.Renewed(3); math.Abs(got-want) > 1e-12 {
		t.Errorf("three alike: %g, want %g", got, want)
	}
	if got, want := e.renewedBy(4500, 3000), 1-0.5*(2.0/3); math.Abs(got-want) > 1e-12 {
		t.Errorf("4.5 and 3 L: %g, want %g", got, want)
	}
	if got := e.renewedBy(9500); got != 1 {
		t.Errorf("all and more: %g", got)
	}
}

func TestExchangeRefusals(t *testing.T) {
	for _, e := range []Exchange{{0, 0, 1}, {9000, 9001, 1}, {9000, 4000, 1.1}, {9000, -1, 1}, {9000, 4000, math.NaN()}} {
		if e.Check() == nil {
			t.Errorf("%+v is taken", e)
		}
	}
	if err := (Exchange{9000, 4000, DefaultMixing}).Check(); err != nil {
		t.Error(err)
	}
}

// Cases E3 and E4, and the printed shares: 95 ml left full, 29 hung open, 1.5 after two rinses of
// 100 ml; in 1.1 and 4.4 L.
func TestOilCarriedOver(t *testing.T) {
	rinsed := RinsedML(29, 100, 2)
	if math.Abs(rinsed-1.5) > 0.05 {
		t.Errorf("rinsed twice: %.2f ml, want 1.5", rinsed)
	}
	if once := RinsedML(29, 200, 1); rinsed >= once {
		t.Errorf("two rinses of 100 leave %.2f ml, one of 200 %.2f", rinsed, once)
	}
	for _, row := range []struct{ leftML, fillML, percent, within float64 }{
		{95, 1100, 8.6, 0.05}, {29, 1100, 2.6, 0.05}, {rinsed, 1100, 0.1, 0.05},
		{95, 4400, 2.2, 0.05}, {29, 4400, 0.7, 0.05}, {rinsed, 4400, 0.03, 0.005},
	} {
		if got := 100 * CarriedShare(row.leftML, row.fillML); math.Abs(got-row.percent) > row.within {
			t.Errorf("%g ml in %g: %.3f %%, want %g", row.leftML, row.fillML, got, row.percent)
		}
	}
	if CarriedShare(200, 100) != 1 {
		t.Error("more than all of it")
	}
}

// renewedBy is what Renewed is of drains that are not alike, with all of it mixed in between:
// 1 − Π(1 − Dᵢ/T).
func (e Exchange) renewedBy(outsML ...float64) float64 {
	old := 1.0
	for _, ml := range outsML {
		old *= 1 - min(ml/e.TotalML, 1)
	}
	return 1 - old
}
