package estimate

// This file checks the plan and the verdict against the worked defaults of the
// tool and by hand. The figures are invented; the defaults are common practice
// without a source.

import (
	"encoding/json"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"garage/tundish/model/measure"
)

// worked is 830 out of 900 at 20 °C by a jug with 10 ml graduation and 2 %
// error, the level before believed, hose 25, escape 50.
func worked() PlanInput {
	return PlanInput{
		Stated:    Stated{Capacity: measure.Exact(900), Means: MeansDry, Prior: Believed, Residual: measure.Gaussian(StaysBehind, 72, 36)},
		Tolerance: defaultTolerance(900),
		Drained:   measure.Rectangular("reading", 830, 5).Mul(measure.Rectangular("marks", 1, 0.02)),
		HoseTakes: measure.Exact(25), Heel: measure.Exact(0), Escape: measure.Gaussian("escape", EscapeML, EscapeUML),
		RoundUpToML: 10,
	}
}

func made(t *testing.T, in PlanInput) Plan {
	t.Helper()
	p, err := MakePlan(in)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

// By hand: u(jug) = √((10/√12)² + (0.02·830/√3)²) = 10.01, u(drained) =
// √(10.01² + 45²) = 46.10, u(capacity) = √(36² + 4.5²) = 36.28, weights 0.382
// and 0.618.
func TestWorkedDefaults(t *testing.T) {
	p := made(t, worked())
	near(t, "from drained", p.FromDrained.Nominal, 830, 0)
	near(t, "u from drained", p.FromDrained.U(), 46.10, 0.005)
	near(t, "from capacity", p.FromCapacity.Nominal, 828, 0)
	near(t, "u from capacity", p.FromCapacity.U(), 36.28, 0.005)
	near(t, "target", p.Target.Nominal, 828.8, 0.05)
	near(t, "u of target", p.Target.U(), 28.51, 0.005)
	near(t, "low", p.Low, 779, 0.5)
	near(t, "high", p.High, 879, 0.5)
	near(t, "charge", p.Charge.Nominal, 903.8, 0.05)
	near(t, "pre-load", p.PreloadML, 910, 0)
	near(t, "z", p.Z, 2/math.Hypot(46.10, 36.28), 0.0005)
}

func TestMeanings(t *testing.T) {
	for _, row := range []struct {
		name    string
		change  func(*PlanInput)
		ml, uML float64
	}{
		{"dry", func(*PlanInput) {}, 828, 36.28},
		{"refill", func(in *PlanInput) { in.Means = MeansRefill }, 900, 26.76},
		{"level", func(in *PlanInput) { in.Means = MeansLevel }, 900, 26.76},
		// anywhere from 828 to 900: √((36/√3)² + (31.18/2)² + (2.2 %)² + (2 %)²) of 900
		{"not known", func(in *PlanInput) { in.Means = MeansUnknown }, 864, 37.30},
		{"late drips", func(in *PlanInput) { in.Means, in.LateDrips = MeansRefill, measure.Exact(35) }, 935, 26.76},
	} {
		in := worked()
		row.change(&in)
		p := made(t, in)
		near(t, row.name, p.FromCapacity.Nominal, row.ml, 1e-9)
		near(t, "u of "+row.name, p.FromCapacity.U(), row.uML, 0.005)
	}
}

// 600 out of 900: 228 apart, u = √(u_D² + 36.28²) = 58.3 with u_D = √(7.50² +
// 45²) = 45.62 where u(jug) = √(2.887² + 6.928²).
func TestContradictionIsNotAveraged(t *testing.T) {
	in := worked()
	in.Drained = measure.Rectangular("reading", 600, 5).Mul(measure.Rectangular("marks", 1, 0.02))
	p := made(t, in)
	near(t, "z", p.Z, 228/math.Hypot(45.62, 36.28), 0.001)
	if !p.Conflict || !p.Undecided || p.PreloadML != 0 {
		t.Errorf("conflict %v, undecided %v, pre-load %v", p.Conflict, p.Undecided, p.PreloadML)
	}
	in.Basis = ByDrained
	near(t, "by what came out", made(t, in).Target.Nominal, 600, 0.05)
	in.Basis = ByCapacity
	near(t, "by the stated quantity", made(t, in).Target.Nominal, 828, 0)

	in.DrainedVoid, in.Basis = true, ByDrained // void is no measure, whatever is chosen
	p = made(t, in)
	near(t, "void", p.Target.Nominal, 828, 0)
	if p.Conflict || p.Basis != ByCapacity || p.Z != 0 {
		t.Errorf("void: conflict %v, basis %v", p.Conflict, p.Basis)
	}
}

func TestLopsidedTolerance(t *testing.T) {
	for _, tol := range []Tolerance{{MinusML: 50, PlusML: 20}, {MinusML: 50}, {PlusML: 20}, {}} {
		in := worked()
		in.Tolerance = tol
		p := made(t, in)
		near(t, "low", p.Target.Nominal-p.Low, tol.MinusML, 1e-9)
		near(t, "high", p.High-p.Target.Nominal, tol.PlusML, 1e-9)
	}
}

func TestPlanRefusals(t *testing.T) {
	for name, change := range map[string]func(*PlanInput){
		"capacity":  func(in *PlanInput) { in.Capacity = measure.Exact(0) },
		"negative":  func(in *PlanInput) { in.Capacity = measure.Exact(-900) },
		"not a":     func(in *PlanInput) { in.Capacity = measure.Exact(math.NaN()) },
		"infinite":  func(in *PlanInput) { in.Capacity = measure.Exact(math.Inf(1)) },
		"tolerance": func(in *PlanInput) { in.Tolerance.MinusML = -1 },
		"tol. NaN":  func(in *PlanInput) { in.Tolerance.PlusML = math.NaN() },
	} {
		in := worked()
		change(&in)
		if _, err := MakePlan(in); err == nil ||
			!(strings.Contains(err.Error(), "capacity") || strings.Contains(err.Error(), "tolerance")) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestPreloadOf(t *testing.T) {
	for _, row := range []struct{ ml, step, want float64 }{
		{903.8, 10, 910}, {900, 10, 900}, {900.0000000001, 10, 900}, {903.2, 0, 904}, {0, 10, 0}, {0.1, 50, 50},
	} {
		near(t, "rounded up", preloadOf(measure.Exact(row.ml), row.step), row.want, 1e-9)
	}
}

// A hose that gives more than is needed leaves nothing to load; nothing is 0,
// not -0.
func TestNothingToLoad(t *testing.T) {
	in := worked()
	in.HoseTakes = measure.Exact(-2000)
	p := made(t, in)
	if text, _ := json.Marshal(p.PreloadML); string(text) != "0" {
		t.Errorf("pre-load %s", text)
	}
}

// More stays behind than the unit holds: no plan is made of that.
func TestNothingBelongsInByThat(t *testing.T) {
	in := worked()
	in.Capacity, in.Residual, in.DrainedVoid = measure.Exact(20), measure.Exact(100), true
	if p, err := MakePlan(in); err == nil || !strings.Contains(err.Error(), "what stays inside") {
		t.Errorf("needed %v, %v; want that it is refused", p.Target.Nominal, err)
	}
}

// A number that is none is refused, and named.
func TestPlanOfNoNumbers(t *testing.T) {
	nan, inf := measure.Exact(math.NaN()), measure.Exact(math.Inf(1))
	for name, change := range map[string]func(*PlanInput){
		"what came out":               func(in *PlanInput) { in.Drained = nan },
		"what stays inside":           func(in *PlanInput) { in.Residual, in.DrainedVoid = nan, true },
		"late drips":                  func(in *PlanInput) { in.LateDrips = inf },
		"what the hose takes":         func(in *PlanInput) { in.HoseTakes = inf },
		"oil below the vessel's tube": func(in *PlanInput) { in.Heel = nan },
		"spill":                       func(in *PlanInput) { in.Escape = nan },
		"marks":                       func(in *PlanInput) { in.RoundUpToML = math.Inf(1) },
		"tolerance":                   func(in *PlanInput) { in.Tolerance.PlusML = math.Inf(1) },
		"capacity":                    func(in *PlanInput) { in.Capacity = inf },
	} {
		in := worked()
		change(&in)
		if _, err := MakePlan(in); err == nil || !strings.HasPrefix(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// What belongs into a dry unit of 900 or 830 ml, 8 % ± 4 % of which an ordinary
// drain would leave behind, 2 % of that its own each time:
//
//	dry      900, as stated, u = 0.5 %
//	refill   830 + 66.4 = 896.4, u = √((2.2 % of 830)² + (33.2² - 16.6²)) = √(18.26² + 28.75²) = 34.06
//	level    830, u = 18.26
//	unknown  830 + 66.4/2 = 863.2, u = √(18.26² + (33.2/√3)² + (28.75/2)²) = 30.12
func TestPlanOfADryUnit(t *testing.T) {
	for _, row := range []struct {
		name     string
		capacity measure.Value
		means    Meaning
		ml, uML  float64
	}{
		{"dry", measure.Exact(900), MeansDry, 900, 4.5},
		{"refill", measure.Exact(830), MeansRefill, 896.4, 34.06},
		{"level", measure.Exact(830), MeansLevel, 830, 18.26},
		{"not known", measure.Exact(830), MeansUnknown, 863.2, 30.125},
	} {
		in := worked()
		in.DryStart, in.Capacity, in.Means, in.Residual = true, row.capacity, row.means, measure.Gaussian(StaysBehind,
			ResidualShare*row.capacity.Nominal, ResidualShareU*row.capacity.Nominal)
		in.LateDrips, in.Basis = measure.Exact(35), ByDrained // neither can be of a unit that held nothing
		p := made(t, in)
		near(t, row.name, p.Target.Nominal, row.ml, 1e-9)
		near(t, "u of "+row.name, p.Target.U(), row.uML, 0.005)
		if !p.DrainedVoid || p.Conflict || p.Basis != ByCapacity {
			t.Errorf("%s: void %v, conflict %v, basis %v", row.name, p.DrainedVoid, p.Conflict, p.Basis)
		}
	}
}

func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %v, want %v ± %v", what, got, want, tolerance)
	}
}

// anyInput draws a first job of a unit, or one after others, with a card or none.
func anyInput(t *rapid.T) PlanInput {
	ml := func(name string, low, high float64) float64 { return rapid.Float64Range(low, high).Draw(t, name) }
	in := worked()
	in.Job, in.WholeML = "now", 950
	in.Means = rapid.SampledFrom([]Meaning{MeansDry, MeansRefill, MeansLevel, MeansUnknown}).Draw(t, "means")
	in.DryStart, in.DrainedVoid = rapid.IntRange(0, 5).Draw(t, "dry") == 0, rapid.IntRange(0, 5).Draw(t, "void") == 0
	in.Prior = rapid.SampledFrom([]Trust{Verified, Believed, TrustNobodyKnows}).Draw(t, "prior")
	in.Drained = measure.Gaussian("reading", ml("out", 400, 1200), 5).Mul(measure.Gaussian("marks", 1, 0.01))
	in.Basis = rapid.SampledFrom([]Basis{ByBoth, ByDrained, ByCapacity, BothStand}).Draw(t, "basis")
	if rapid.Bool().Draw(t, "late") {
		in.LateDrips = measure.Gaussian("late reading", ml("late ml", 5, 40), 2).Mul(measure.Gaussian("marks", 1, 0.01))
	}
	if rapid.Bool().Draw(t, "card") {
		in.Card = &Card{Out: measure.Gaussian(CardSays, ml("card", 700, 900), 25)}
		if rapid.Bool().Draw(t, "card tells what stays") {
			in.Card.Stays = in.Card.staying(measure.Gaussian(CardSays, ml("card stays", 20, 150), 40), 900)
		}
	}
	if rapid.Bool().Draw(t, "follows") {
		u := in.unitBefore()
		u.First = false
		u.Level = u.Level.Add(measure.Gaussian("loaded", 0, 10).Mul(measure.Gaussian("marks", 1, 0.01))).Add(measure.Gaussian("marks", 0,
			8))
		u.known, _ = u.known.and(u.Level.Sub(u.Usual).Sub(measure.Gaussian("level seen", ml("level", -120, -20), 30)))
		in.Unit = &u
	}
	return in
}

// The lines of a plan are those of the adjustment: what each measure says is the sum of its
// parts, and the aim that comes of them is what the adjusted unit lacks, error by error.
func TestLinesOfAPlanComeToWhatTheUnitLacks(t *testing.T) {
	same := func(t *rapid.T, what string, got, want measure.Value) {
		if d := got.Sub(want); !(math.Abs(d.Nominal) < 1e-6 && d.U() < 1e-6) {
			t.Fatalf("%s: %v ± %v, want %v ± %v", what, got.Nominal, got.U(), want.Nominal, want.U())
		}
	}
	seen := map[Basis]int{}
	rapid.Check(t, func(t *rapid.T) {
		in := anyInput(t)
		p, unit := in.settle().plan, in.settle().unit
		if p.Undecided {
			return
		}
		seen[p.Basis]++
		same(t, "the aim", p.Target, unit.known.Of(unit.needed()))
		if in.Unit == nil {
			same(t, "what is stated", p.Said.Add(in.LateDrips).Sub(p.Inside), p.FromOthers)
		}
		if in.Card != nil {
			same(t, "with the card", p.FromOthers.Scale(p.CardWeight).Add(p.FromCard.Scale(1-p.CardWeight)),
				in.unit().known.Of(in.unit().needed()))
		}
		switch from := p.FromCapacity; {
		case p.Basis == ByBoth:
			same(t, "the mean", p.FromDrained.Scale(p.Weight).Add(p.FromCapacity.Scale(1-p.Weight)), p.Target)
		case p.Basis != ByCapacity:
			from = p.FromDrained
			fallthrough
		default:
			same(t, "what stands", from.Add(p.Stands), p.Target)
		}
	})
	for b := ByBoth; b <= BothStand; b++ {
		if seen[b] == 0 {
			t.Errorf("never by %v", b)
		}
	}
}
