package guide

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
	"garage/tundish/model/push"
	"garage/tundish/model/verdict"
)

// Three changes that bring half each leave 87.5 % new (an owners' discussion of
// drain-and-fill; the arithmetic is 1 − ½³). The share and its u are done by
// hand: 828 of 900 is 0.92; ∂/∂stays = −828/900², times 36 is 0.0368.
func TestNewShare(t *testing.T) {
	share, ok := push.NewShare(measure.Exact(828), measure.Gaussian(estimate.StaysBehind, 72, 36))
	if !ok {
		t.Fatal("not told")
	}
	near(t, "share", share.Nominal, 0.92, 1e-12)
	near(t, "u", share.U(), 0.0368, 1e-12)
	half, _ := push.NewShare(measure.Exact(500), measure.Exact(500))
	near(t, "half", half.Nominal, 0.5, 0)
	near(t, "three halves", push.AfterChanges(half.Nominal, 3), 0.875, 1e-15)
	near(t, "none", push.AfterChanges(half.Nominal, 0), 0, 0)
	if share, ok = push.NewShare(measure.Exact(600), measure.Exact(-3)); !ok || share.Nominal != 1 {
		t.Errorf("%v, %v; nothing can stay behind in part", share.Nominal, ok)
	}
	for _, net := range []float64{0, -20, math.NaN(), math.Inf(1)} {
		if _, ok := push.NewShare(measure.Exact(net), measure.Exact(50)); ok {
			t.Errorf("told of a net fill of %v", net)
		}
	}
}

// The derivatives are those that differences give.
func TestNewShareDerivatives(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, r := rapid.Float64Range(10, 5000).Draw(t, "net"), rapid.Float64Range(1, 2000).Draw(t, "stays")
		const h = 1e-4
		at := func(n, r float64) float64 { return n / (n + r) }
		share, _ := push.NewShare(measure.Gaussian("net", n, 1), measure.Gaussian("stays", r, 1))
		want := math.Hypot((at(n+h, r)-at(n-h, r))/(2*h), (at(n, r+h)-at(n, r-h))/(2*h))
		if math.Abs(share.U()-want) > 1e-6*want+1e-12 {
			t.Fatalf("u %v, by differences %v", share.U(), want)
		}
	})
}

// Water came out: after the fill the owner is told what is left of it, and that
// a second change would take most of it out. Of clean oil there is nothing to
// tell.
func TestOldOilStays(t *testing.T) {
	for _, row := range []struct {
		name     string
		s        script
		now, yet string // of old oil, "" none
	}{
		{"clean", script{}, "", ""},
		{"milky", script{job.OilLook: {"milky"}}, " 8 %", "< 1 %"}, // 8 % of 8 %
		// 240 stay and 360 go in: 40 %, and 40 % of that
		{"gearbox with a converter", script{job.OilLook: {"milky"}, job.ResidualExpected: {"240"}, job.LoadedAmount: {"435"}}, " 40 %",
			" 16 %"},
		{"dry", script{job.DryStart: {"dry"}, job.LoadedAmount: {"675"}}, "", ""},
	} {
		s := newDrive(t, small.with(row.s)).until(job.Decision)
		found := false
		for _, f := range s.FindingsAt(job.CloseOut, 0) {
			if f.Kind != verdict.OldOilStays {
				continue
			}
			found = true
			if !strings.Contains(f.Text, row.now) || !strings.Contains(f.Do, row.yet) {
				t.Errorf("%s: %s %s", row.name, f.Text, f.Do)
			}
		}
		if found != (row.now != "") {
			t.Errorf("%s: found %v", row.name, found)
		}
	}
}

// 300 of 600 are in by the last look: 300 of 348, with 8 % of 600 behind. Before
// a look nothing is told, and a dry unit has nothing but new oil.
func TestNewShareInTheMiddleOfAPush(t *testing.T) {
	push := script{job.HoseBefore: {"primed"}, job.LoadedAmount: {"600"}, job.FillReading: {"300"}}
	for _, row := range []struct {
		s    script
		want float64
	}{{push, 300. / 348}, {push.with(script{job.DryStart: {"dry"}}), 1}} {
		d := newDrive(t, small.with(row.s))
		if _, ok := d.until(job.FillReading).NewShare(0); ok {
			t.Error("told before the first look")
		}
		d.answer(d.state(), asked(t, d.state(), job.FillReading))
		share, ok := d.state().NewShare(0)
		if near(t, "share", share.Nominal, row.want, 2e-3); !ok {
			t.Error("not told")
		}
	}
}
