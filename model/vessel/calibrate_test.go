package vessel

// Checks of the estimate of a container's scale error.

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
	"pgregory.net/rapid"
)

func tools() Tools { return Tools{GraduationML: 10, ScaleDivisionG: 1} }

// Published inputs and results of weighted means.
func TestCombinePublished(t *testing.T) {
	// The mass of the charged kaon in MeV: data and mean 493.677 from the Particle Data Group
	// (pdglive.lbl.gov, S010). χ² and the plain ratio are computed: the group's own 2.4 leaves
	// the least exact value out, which is not done here.
	mean, chi2 := combine([]estimate{
		{493.691, 0.040}, {493.657, 0.020}, {493.670, 0.029}, {493.640, 0.054}, {493.636, 0.011}, {493.696, 0.007},
	})
	if math.Abs(mean.value-493.677) > 0.0005 || math.Abs(chi2-22.9048) > 5e-4 || math.Abs(mean.u-0.0054775*2.1403) > 1e-5 {
		t.Errorf("kaon: %+v, χ² %.4f", mean, chi2)
	}
	// 10 ± 4 and 30 ± 5 (science20.org, what PDG weighted average means): mean 17.80, ± 3.12
	// before widening; the widened value is computed.
	mean, chi2 = combine([]estimate{{10, 4}, {30, 5}})
	if math.Abs(mean.value-17.80) > 0.005 || math.Abs(mean.u/math.Sqrt(chi2)-3.12) > 0.005 || math.Abs(mean.u-9.756098) > 1e-6 {
		t.Errorf("two values: %+v, χ² %.4f", mean, chi2)
	}
	// The mass of the Ω_b in MeV: inputs as in T. Dorigo, Weighted averages à la PDG
	// (science20.com); the group's 6071 ± 40 with a scale factor of 6.2 is from memory.
	mean, chi2 = combine([]estimate{{6165, math.Hypot(10, 13)}, {6054.4, math.Hypot(6.8, 0.9)}})
	if math.Abs(mean.value-6071) > 0.5 || math.Abs(math.Sqrt(chi2)-6.2) > 0.05 || math.Abs(mean.u-40) > 1 {
		t.Errorf("Ω_b: %+v, √χ² %.3f", mean, math.Sqrt(chi2))
	}
}

// By hand: 1000 g at 20 °C are 1000 · 1.002852 ml (Z of ISO 8655, computed to 6 digits at the
// usual air); a graduation of 10 ml and two weighings to 1 g.
func TestOneFillByHand(t *testing.T) {
	got, err := Calibrate([]Check{{1000, 20, 1010}}, tools(), 0.02)
	if err != nil {
		t.Fatal(err)
	}
	ratio := 1.002852 / 1.010
	u := ratio * math.Sqrt(10*10/12.0/(1010*1010)+2/12.0/(1000*1000))
	claimU := 0.02 / math.Sqrt(3)
	weight, claimWeight := 1/(u*u), 1/(claimU*claimU)
	for _, row := range []struct {
		name           string
		got, want, tol float64
	}{
		{"true volume", got.Points[0].TrueML, 1002.852, 0.005},
		{"measured", got.Measured, ratio - 1, 5e-6},
		{"its u", got.MeasuredU, u, 1e-7},
		{"claim", got.claimU, claimU, 1e-12},
		{"together", got.Error, (ratio - 1) * weight / (weight + claimWeight), 5e-6},
		{"u together", got.U, 1 / math.Sqrt(weight+claimWeight), 1e-7},
		{"a reading of 500", got.TrueML(500), 500 * (1 + got.Error), 1e-9},
	} {
		if math.Abs(row.got-row.want) > row.tol {
			t.Errorf("%s %.7f, want %.7f", row.name, row.got, row.want)
		}
	}
	if got.Finding != Agrees || got.dof != 0 || got.chi2 > 1e-20 {
		t.Errorf("%+v", got)
	}
}

func TestFindings(t *testing.T) {
	fine := Tools{GraduationML: 2, ScaleDivisionG: 0.1}
	for _, row := range []struct {
		name   string
		checks []Check
		tools  Tools
		claim  float64
		want   Finding
	}{
		{"a good jug", []Check{{500, 20, 500}, {1000, 20, 1005}}, tools(), 0.02, Agrees},
		{"a jug 6 % out, claimed 2 %", []Check{{500, 20, 533}, {1000, 20, 1066}}, tools(), 0.02, ContradictsClaim},
		{"a jug read 10 % wrong once", []Check{{500, 20, 501}, {1000, 20, 1103}}, tools(), 0.05, FillsDisagree},
		{"fine marks that disagree by 2 %", []Check{{500, 20, 501}, {500, 20, 511}}, fine, 0.02, FillsDisagree},
	} {
		got, err := Calibrate(row.checks, row.tools, row.claim)
		if err != nil || got.Finding != row.want {
			t.Errorf("%s: %v, %v; want %v", row.name, got, err, row.want)
		}
	}
}

// A claim that the fills refute is not averaged in, whether or not the fills agree with each other.
func TestRefutedClaimIsLeftOut(t *testing.T) {
	for _, checks := range [][]Check{{{1000, 20, 1066}}, {{500, 20, 533}, {1000, 20, 1066}}, {{500, 20, 530}, {1000, 20, 1100}}} {
		got, err := Calibrate(checks, tools(), 0.02)
		if err != nil || !got.ClaimRefuted() || got.Error != got.Measured || got.U != got.MeasuredU {
			t.Errorf("%v: %+v, %v", checks, got, err)
		}
	}
	got, err := Calibrate([]Check{{1000, 20, 1010}}, tools(), 0.02)
	if err != nil || got.ClaimRefuted() || got.U >= got.MeasuredU {
		t.Errorf("a claim that stands is left out: %+v, %v", got, err)
	}
}

func genChecks(t *rapid.T) []Check {
	scaleError := rapid.Float64Range(-0.02, 0.02).Draw(t, "scale error")
	return rapid.SliceOfN(rapid.Custom(func(t *rapid.T) Check {
		massG, tempC := rapid.Float64Range(100, 3000).Draw(t, "mass"), rapid.Float64Range(5, 35).Draw(t, "temp")
		return Check{massG, tempC, massG * zMLPerG(tempC, standardAirKPa) / (1 + scaleError)}
	}), 1, 6).Draw(t, "checks")
}

// A check of perfect readings finds the error, never leaves more uncertainty than the claim
// alone or the fills alone, and lies between the two.
func TestCheckNarrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		checks := genChecks(t)
		use := tools()
		use.ScaleError = rapid.Float64Range(0, 0.01).Draw(t, "scale")
		use.TempUC = rapid.Float64Range(0, 3).Draw(t, "temp u")
		got, err := Calibrate(checks, use, 0.05)
		if err != nil {
			t.Fatal(err)
		}
		if want := got.Points[0].Error; math.Abs(got.Measured-want) > 1e-9 || got.chi2 > 1e-12 || got.Finding != Agrees {
			t.Fatalf("all fills say %v: %+v", want, got)
		}
		if got.Error*got.Measured < 0 || math.Abs(got.Error) > math.Abs(got.Measured) {
			t.Fatalf("%v is not between 0 and %v", got.Error, got.Measured)
		}
		if want := 1 / math.Sqrt(1/(got.claimU*got.claimU)+1/(got.MeasuredU*got.MeasuredU)); got.Z <= 1 &&
			!scalar.EqualWithinRel(got.U, want, 1e-12) {
			t.Fatalf("%v from %v and %v, want %v", got.U, got.claimU, got.MeasuredU, want)
		}
		more, err := Calibrate(append(checks, checks...), use, 0.05)
		if err != nil || more.MeasuredU > got.MeasuredU {
			t.Fatalf("twice the fills: %v after %v, %v", more.MeasuredU, got.MeasuredU, err)
		}
		// What the fills share does not average out.
		if floor := use.ScaleError / math.Sqrt(3) * (1 + more.Measured); more.MeasuredU < floor*(1-1e-12) {
			t.Fatalf("%v is below the scale's own %v", more.MeasuredU, floor)
		}
	})
}

// Water at 20 °C expands by 2.07e-4 per °C (handbook value, from memory), so an uncertainty of 3 °C
// is 6.2e-4 of the volume, however many fills there are.
func TestUncertaintyOfTheTemperatureStays(t *testing.T) {
	checks := []Check{{1000, 20, 1000}, {2000, 20, 2000}, {3000, 20, 3000}}
	sure, err1 := Calibrate(checks, tools(), 0.05)
	use := tools()
	use.TempUC = 3
	uncertain, err2 := Calibrate(checks, use, 0.05)
	added := math.Sqrt(uncertain.MeasuredU*uncertain.MeasuredU - sure.MeasuredU*sure.MeasuredU)
	if err1 != nil || err2 != nil || math.Abs(added-3*2.07e-4) > 1e-5 {
		t.Errorf("%.3e was added, want %.3e (%v, %v)", added, 3*2.07e-4, err1, err2)
	}
}

// The 5 % limits of χ² are those of any table of the distribution, e.g. NIST/SEMATECH
// e-Handbook of Statistical Methods, 1.3.6.7.4 (from memory).
func TestFillsDisagreeBeyondFivePercent(t *testing.T) {
	for dof, limit := range map[int]float64{1: 3.841, 2: 5.991, 5: 11.070} {
		below, above := Result{dof: dof, chi2: limit - 0.001}.find(), Result{dof: dof, chi2: limit + 0.001}.find()
		if below != Agrees || above != FillsDisagree {
			t.Errorf("%d degrees of freedom: %v, then %v", dof, below, above)
		}
	}
	if at, above := (Result{Z: 2}).find(), (Result{Z: 2.001}).find(); at != Agrees || above != ContradictsClaim {
		t.Errorf("2 standard uncertainties from the claim: %v, then %v", at, above)
	}
}

func TestRefusals(t *testing.T) {
	good := []Check{{1000, 20, 1000}}
	for _, row := range []struct {
		names  string
		checks []Check
		tools  Tools
		claim  float64
	}{
		{"0 fills are not allowed: give 1 to 100", nil, tools(), 0.02},
		{"101 fills", make([]Check, 101), tools(), 0.02},
		{"claimed error 0", good, tools(), 0},
		{"claimed error 2", good, tools(), 2},
		{"claimed error NaN", good, tools(), math.NaN()},
		{"marks 0 ml", good, Tools{ScaleDivisionG: 1}, 0.02},
		{"scale division 0 g", good, Tools{GraduationML: 10}, 0.02},
		{"scale error", good, Tools{10, 1, 0.5, 0}, 0.02},
		{"uncertainty of the water temperature", good, Tools{10, 1, 0, -1}, 0.02},
		{"fill 1: mass 0 g", []Check{{0, 20, 1000}}, tools(), 0.02},
		{"fill 2: reading NaN ml", []Check{good[0], {1000, 20, math.NaN()}}, tools(), 0.02},
		{"fill 1: water temperature 80 °C", []Check{{1000, 80, 1000}}, tools(), 0.02},
		{"weigh and read the same fill", []Check{{1000, 20, 100}}, tools(), 0.02},
	} {
		got, err := Calibrate(row.checks, row.tools, row.claim)
		if err == nil || !strings.Contains(err.Error(), row.names) || got.U != 0 {
			t.Errorf("%+v, %v; want mention of %q", got, err, row.names)
		}
	}
}

// A limit itself is allowed, a hair beyond it is not.
func TestLimits(t *testing.T) {
	for _, row := range []struct {
		name          string
		limit, beyond float64
		set           func(*Check, *Tools, *float64, float64)
	}{
		{"claim low", 0.001, 0.0009, func(_ *Check, _ *Tools, claim *float64, v float64) { *claim = v }},
		{"claim high", 0.3, 0.301, func(_ *Check, _ *Tools, claim *float64, v float64) { *claim = v }},
		{"scale error", 0.1, 0.101, func(_ *Check, u *Tools, _ *float64, v float64) { u.ScaleError = v }},
		{"temperature uncertainty", 10, 10.1, func(_ *Check, u *Tools, _ *float64, v float64) { u.TempUC = v }},
		{"graduation fine", 0.001, 0.0009, func(_ *Check, u *Tools, _ *float64, v float64) { u.GraduationML = v }},
		{"graduation coarse", 1000, 1001, func(_ *Check, u *Tools, _ *float64, v float64) { u.GraduationML = v }},
		{"division coarse", 1000, 1001, func(_ *Check, u *Tools, _ *float64, v float64) { u.ScaleDivisionG = v }},
		{"ice water", 0, -0.1, func(c *Check, _ *Tools, _ *float64, v float64) { c.WaterTempC = v }},
		{"warm water", 40, 40.1, func(c *Check, _ *Tools, _ *float64, v float64) { c.WaterTempC = v }},
		{"thimble", 1, 0.9, func(c *Check, _ *Tools, _ *float64, v float64) { c.MassG, c.ReadingML = v, v }},
		{"bath", 1e5, 1.01e5, func(c *Check, _ *Tools, _ *float64, v float64) { c.MassG, c.ReadingML = v, v }},
		{"half as much again", 690, 660, func(c *Check, _ *Tools, _ *float64, v float64) { c.ReadingML = v }},
	} {
		for _, v := range []float64{row.limit, row.beyond} {
			check, use, claim := Check{1000, 20, 1000}, tools(), 0.02
			row.set(&check, &use, &claim, v)
			if got, err := Calibrate([]Check{check}, use, claim); (err == nil) != (v == row.limit) {
				t.Errorf("%s %g: %+v, %v", row.name, v, got, err)
			}
		}
	}
}

func TestFindingInWords(t *testing.T) {
	for f, want := range map[Finding]string{0: "not checked", Agrees: "agrees", FillsDisagree: "the fills contradict each other",
		ContradictsClaim: "the container is not as good as claimed"} {
		if f.String() != want {
			t.Errorf("%d reads %q, want %q", f, f, want)
		}
	}
}

func ExampleCalibrate() {
	checks := []Check{{MassG: 500, WaterTempC: 18, ReadingML: 510}, {MassG: 1000, WaterTempC: 18, ReadingML: 1020}}
	r, err := Calibrate(checks, Tools{GraduationML: 20, ScaleDivisionG: 1, TempUC: 1}, 0.02)
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("claimed ±%.2f %%, found %.2f ± %.2f %%: %v\n", 100*r.claimU, 100*r.Error, 100*r.U, r.Finding)
	fmt.Printf("a reading of 830 ml is %.0f ml\n", r.TrueML(830))
	// Output:
	// claimed ±1.15 %, found -1.45 ± 0.63 %: agrees
	// a reading of 830 ml is 818 ml
}

// The error of the scale is a part of the true volume, not of the reading: for a jug that reads 10 % low it is 1.1 times as
// large. By hand: Hypot(u, 1.1·0.05/√3), where u is that of the fill alone.
func TestScaleErrorIsOfTheTrueVolume(t *testing.T) {
	use := Tools{GraduationML: 1, ScaleDivisionG: 1}
	fill := []Check{{550 / zMLPerG(20, standardAirKPa), 20, 500}}
	alone, err1 := Calibrate(fill, use, 0.2)
	use.ScaleError = 0.05
	shared, err2 := Calibrate(fill, use, 0.2)
	want := math.Hypot(alone.MeasuredU, 1.1*0.05/math.Sqrt(3))
	if err1 != nil || err2 != nil || math.Abs(shared.MeasuredU-want) > 1e-12 {
		t.Errorf("u %g, want %g; %v %v", shared.MeasuredU, want, err1, err2)
	}
}
