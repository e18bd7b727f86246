// Oil missing between jobs: the rule, and a unit whose fourth drain gives a leak away.

package learn

import (
	"errors"
	"math"
	"strings"
	"testing"

	"garage/tundish/model/measure"
	"pgregory.net/rapid"
)

func TestSignRule(t *testing.T) {
	for _, row := range []struct {
		ml, u float64
		want  Sign
	}{
		{0, 0, NoSign},
		{20, 0, NoSign},
		{20.1, 0, Leak},
		{19, 2, NoSign}, // certain, but not worth a hunt
		{30, 30, NoSign},
		{30, 29, NotProven},
		{30, 15, NotProven},
		{30, 14.9, Leak},
		{69, 21, Leak},
		{-30, 29, NotProven},
		{-173, 30, Gain},
	} {
		m := Missing{ML: measure.Gaussian("a", row.ml, row.u)}
		if got := m.Sign(); got != row.want {
			t.Errorf("%v ± %v: %v, want %v", row.ml, row.u, got, row.want)
		}
	}
}

// TestLeakIsProvenAtItsLevel: 2 u is P ≥ 0.977 (GUM table G.1 gives 95.45 % for ± 2 u).
func TestLeakIsProvenAtItsLevel(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		m := Missing{ML: measure.Gaussian("a", rapid.Float64Range(-200, 200).Draw(t, "ml"), rapid.Float64Range(0.1, 100).Draw(t, "u"))}
		_, p, _ := measure.Probability(m.ML, 0, math.Inf(1))
		if sign := m.Sign(); sign == Leak && p < 0.977 || sign == Gain && p > 0.023 {
			t.Fatalf("%v at P = %v", sign, p)
		}
		if proven := m.Sign() == Leak || m.Sign() == Gain; proven != (math.Abs(m.ML.Nominal) > m.DetectableML()) {
			t.Fatalf("%v: %v proven %v, detectable from %v", m.Sign(), m.ML.Nominal, proven, m.DetectableML())
		}
	})
}

// dryBuilt is a unit filled dry with 900 and drained four times (invented; all readings
// ± 15): in 900, 903, 897, 897; out 812, 818, 806, 740. The first three left 88, 85, 91.
func dryBuilt() []Drain {
	const u = 15
	return []Drain{
		{20_000, measure.Gaussian("in 1", 900, u), measure.Gaussian("out 1", 812, u)},
		{18_000, measure.Gaussian("in 2", 903, u), measure.Gaussian("out 2", 818, u)},
		{22_000, measure.Gaussian("in 3", 897, u), measure.Gaussian("out 3", 806, u)},
		{20_000, measure.Gaussian("in 4", 897, u), measure.Gaussian("out 4", 740, u)},
	}
}

// TestLossAgainstKnownResidual: with the residual taken as its three drains show, 88, the
// fourth should have given 809 ± 21 and lacks 69: a leak of about 3.5 ml per 1,000 km.
func TestLossAgainstKnownResidual(t *testing.T) {
	var fillings []Missing
	for _, d := range dryBuilt() {
		fillings = append(fillings, Missing{ML: d.InML.Sub(d.OutML).Sub(measure.Exact(88)), Km: d.Km})
	}
	got, err := Loss(fillings)
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []struct {
		ml   float64
		sign Sign
	}{{0, NoSign}, {-3, NoSign}, {3, NoSign}, {69, Leak}} {
		near(t, "missing", got.Each[i].ML.Nominal, want.ml, 1e-9)
		near(t, "u", got.Each[i].ML.U(), 21, 0.5)
		if sign := got.Each[i].Sign(); sign != want.sign {
			t.Errorf("filling %d: %v, want %v", i+1, sign, want.sign)
		}
	}
	rate, known := got.Each[3].PerThousandKm()
	if !known {
		t.Fatal("rate not known")
	}
	near(t, "rate", rate.Nominal, 3.45, 0.005)
	near(t, "u of rate", rate.U(), 21.21/20, 0.005)
	if got.Sign() != Leak {
		t.Errorf("verdict %v, want leak", got.Sign())
	}
	near(t, "total", got.Total.ML.Nominal, 69, 1e-9)
	near(t, "total distance", got.Total.Km, 80_000, 0)
}

// TestLeakIsNotLearnedAsResidual: the same drains followed from the default. The fourth
// must not teach that 157 stay behind.
func TestLeakIsNotLearnedAsResidual(t *testing.T) {
	prior := measure.Gaussian("default", 72, 36) // 8 % ± 4 % of 900
	got, err := Follow(prior, dryBuilt())
	if err != nil {
		t.Fatal(err)
	}
	for i, want := range []struct {
		sign    Sign
		learned bool
	}{{NoSign, true}, {NoSign, true}, {NoSign, true}, {Leak, false}} {
		step := got.Steps[i]
		if sign := step.Missing.Sign(); sign != want.sign || step.Learned != want.learned || step.Residual.Jobs != i {
			t.Errorf("drain %d: %v, learned %v, from %d jobs, want %v, %v, %d", i+1, sign, step.Learned, step.Residual.Jobs, want.sign, want.learned, i)
		}
	}
	if got.Residual.Jobs != 3 {
		t.Errorf("residual rests on %d jobs, want 3", got.Residual.Jobs)
	}
	near(t, "residual for the next", got.Residual.MeanML(), 85.4, 0.1) // computed
}

// TestOilFromNextDoorIsAGain: refill 600, drained 773 with 50 ± 15 expected to stay.
func TestOilFromNextDoorIsAGain(t *testing.T) {
	got, err := Follow(measure.Gaussian("default", 50, 15), []Drain{{0, measure.Gaussian("in", 650, 15), measure.Gaussian("out", 773, 15)}})
	if err != nil {
		t.Fatal(err)
	}
	missing := got.Steps[0].Missing
	if missing.Sign() != Gain || got.Steps[0].Learned || got.Residual.Jobs != 0 {
		t.Errorf("%v, learned %v, from %d jobs, want gain, not learned", missing.Sign(), got.Steps[0].Learned, got.Residual.Jobs)
	}
	if _, known := missing.PerThousandKm(); known {
		t.Error("rate over a distance that is not known")
	}
}

// TestSlowLeakShowsOverSeveralFillings: 30 ± 20 each proves nothing; four times that does,
// 120 ± 40.
func TestSlowLeakShowsOverSeveralFillings(t *testing.T) {
	var fillings []Missing
	for _, missing := range readings(20, 30, 30, 30, 30) {
		fillings = append(fillings, Missing{ML: missing, Km: 10_000})
	}
	one, err := Loss(fillings[:1])
	if err != nil {
		t.Fatal(err)
	}
	four, err := Loss(fillings)
	if err != nil {
		t.Fatal(err)
	}
	if one.Sign() != NotProven || four.Sign() != Leak {
		t.Errorf("one filling: %v, four: %v, want not proven, leak", one.Sign(), four.Sign())
	}
	rate, _ := four.Total.PerThousandKm()
	near(t, "rate", rate.Nominal, 3, 1e-9)
	near(t, "u of rate", rate.U(), 1, 1e-9)
}

// TestRateLeavesOutUnknownDistance: a filling without odometer must not raise the rate.
func TestRateLeavesOutUnknownDistance(t *testing.T) {
	got, err := Loss([]Missing{{ML: measure.Exact(30)}, {ML: measure.Exact(30), Km: 10_000}})
	if err != nil {
		t.Fatal(err)
	}
	rate, known := got.Total.PerThousandKm()
	if !known || rate.Nominal != 3 {
		t.Errorf("rate %v, known %v, want 3", rate.Nominal, known)
	}
}

func TestRefusals(t *testing.T) {
	good := Drain{Km: 1, InML: measure.Exact(900), OutML: measure.Exact(812)}
	for name, spoil := range map[string]func(*Drain){
		"filling 2: distance must be": func(d *Drain) { d.Km = -1 },
		"filling 2: distance":         func(d *Drain) { d.Km = math.NaN() },
		"filling 2: distance must":    func(d *Drain) { d.Km = math.Inf(1) },
		"filling 2: in: must be":      func(d *Drain) { d.InML = measure.Exact(math.NaN()) },
		"filling 2: out: must be":     func(d *Drain) { d.OutML = measure.Gaussian("a", 1, math.Inf(1)) },
	} {
		bad := good
		spoil(&bad)
		if _, err := Follow(measure.Gaussian("d", 72, 36), []Drain{good, bad}); err == nil || !strings.HasPrefix(err.Error(), name) {
			t.Errorf("%+v: %v, want %q", bad, err, name)
		}
		name = strings.NewReplacer(" in:", " missing:", " out:", " missing:").Replace(name)
		missing := Missing{ML: bad.InML.Sub(bad.OutML), Km: bad.Km}
		if _, err := Loss([]Missing{{}, missing}); err == nil || !strings.HasPrefix(err.Error(), name) {
			t.Errorf("%+v: %v, want %q", missing, err, name)
		}
	}
	if _, err := Follow(measure.Exact(math.NaN()), nil); err == nil {
		t.Error("history accepted a default that is not a number")
	}
	certain := []Drain{{1, measure.Exact(900), measure.Exact(812)}, {1, measure.Exact(900), measure.Exact(811)}}
	if _, err := Follow(measure.Exact(80), certain); !errors.Is(err, measure.ErrExactContradiction) {
		t.Errorf("residual both 80 and 88 without any doubt: %v", err)
	}
	if none, err := Loss(nil); err != nil || none.Sign() != NoSign {
		t.Errorf("no fillings: %v, %v", none.Sign(), err)
	}
}

func TestSignsHaveNames(t *testing.T) {
	for want, sign := range map[string]Sign{"no sign": NoSign, "not proven": NotProven, "leak": Leak, "gain": Gain, "sign(9)": Sign(9)} {
		if sign.String() != want {
			t.Errorf("%q, want %q", sign, want)
		}
	}
}

// TestEachDrainScattersOnItsOwn: what two drains have in common is the default for the
// mean, 0.75·36² = 972, as far as it still counts at the second; not their scatter.
func TestEachDrainScattersOnItsOwn(t *testing.T) {
	got, err := Follow(measure.Gaussian("default", 72, 36), dryBuilt()[:2])
	if err != nil {
		t.Fatal(err)
	}
	first, second := got.Steps[0].Residual, got.Steps[1].Residual
	weight := second.weight(measure.Exact(72), []measure.Value{measure.Exact(88)})
	near(t, "covariance", measure.Covariance(first.Expected, second.Expected), (1-weight)*972, 1e-9)
}

// TestHistoryOfOddNumbers: anything gives either an error or finite figures.
func TestHistoryOfOddNumbers(t *testing.T) {
	odd := rapid.SampledFrom([]float64{0, 1, -1, 900, 5e-324, 1e-200, 1e200, math.MaxFloat64, -math.MaxFloat64, math.Inf(1), math.NaN()})
	rapid.Check(t, func(t *rapid.T) {
		drains := make([]Drain, rapid.IntRange(0, 4).Draw(t, "drains"))
		for i := range drains {
			drains[i] = Drain{
				Km:    odd.Draw(t, "km"),
				InML:  measure.Gaussian("in", odd.Draw(t, "in"), odd.Draw(t, "u")),
				OutML: measure.Gaussian("out", odd.Draw(t, "out"), odd.Draw(t, "u")),
			}
		}
		got, err := Follow(measure.Gaussian("default", odd.Draw(t, "default"), odd.Draw(t, "u")), drains)
		if err != nil {
			return
		}
		if !got.Residual.Expected.Finite() || len(got.Steps) != len(drains) {
			t.Fatalf("%+v", got)
		}
		for _, s := range got.Steps {
			if !s.Residual.Expected.Finite() {
				t.Fatalf("%+v", s)
			}
		}
	})
}
