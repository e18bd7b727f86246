package vessel

// This file holds the calibration of a container: from fills to its scale error.

import (
	"fmt"
	"math"

	"gonum.org/v1/gonum/stat/distuv"
)

// MinHalfWidth is the smallest error that can be claimed for a container, a fraction.
const MinHalfWidth = 0.001

// The other limits of what is accepted as a check.
const (
	maxHalfWidth  = 0.3
	maxChecks     = 100
	minFill       = 1.0 // g or ml
	maxFill       = 1e5 // g or ml
	maxScaleError = 0.1
	maxTempUC     = 10.0
	minDivision   = 0.001 // ml or g
	maxDivision   = 1000.0
	maxPointError = 0.5 // beyond it mass and reading are not of the same fill
)

// Check is one fill: what the scale shows for the water alone, how warm the water is, and
// what the container's marks say.
type Check struct {
	MassG      float64 `json:"mass_g"`
	WaterTempC float64 `json:"water_temp_c"`
	ReadingML  float64 `json:"reading_ml"`
}

// Tools are the instruments of the check. GraduationML and ScaleDivisionG must be given.
type Tools struct {
	GraduationML   float64 // of the container; a reading is rectangular over it
	ScaleDivisionG float64 // of the scale; each of the two weighings is rectangular over it
	ScaleError     float64 // half-width of the scale's own error, a fraction; the same for all fills
	TempUC         float64 // standard uncertainty of the water's temperature; the same for all fills
}

// Point is the result of one fill.
type Point struct {
	TrueML float64 // at the temperature of the water
	Error  float64 // TrueML/ReadingML − 1
	U      float64 // standard uncertainty of Error from reading and weighing, independent of other fills
}

// Finding says whether the fills agree with each other and with the claim.
type Finding uint8

const (
	Agrees           Finding = iota + 1 // the fills agree, and the claim with them
	FillsDisagree                       // the fills contradict each other at the 5 % level
	ContradictsClaim                    // the fills agree, but not with the claim
)

func (f Finding) String() string {
	switch f {
	case Agrees:
		return "agrees"
	case FillsDisagree:
		return "the fills contradict each other"
	case ContradictsClaim:
		return "the container is not as good as claimed"
	}
	return "not checked"
}

// Result is the scale error of a container: true = reading · (1 + Error).
type Result struct {
	Finding   Finding
	Error, U  float64 // by fills and claim together, by the fills alone where the claim is refuted: to be used from now on
	Measured  float64 // by the fills alone
	MeasuredU float64
	claimU    float64 // by the claim alone; its error is 0
	Z         float64 // |Measured| over the combined uncertainty of fills and claim
	chi2      float64 // of the fills against their mean
	dof       int     // fills less 1
	Points    []Point // one for each check, in order
}

// TrueML is a reading of this container, corrected.
func (r Result) TrueML(readingML float64) float64 { return readingML * (1 + r.Error) }

// ClaimRefuted reports whether the fills contradict the claim, even where they contradict each
// other as well.
func (r Result) ClaimRefuted() bool { return r.Z > contradictionZ }

// contradictionZ is the Z above which fills and claim contradict each other.
const contradictionZ = 2.0

// Calibrate estimates the scale error of a container from fills of water and from the claim
// that it is within ±halfWidth, a fraction of the reading, taken as rectangular:
//
//	Vᵢ = mᵢ Z(tᵢ),  eᵢ = Vᵢ/Rᵢ − 1,  u(claim) = halfWidth/√3
//
// The container is taken as it is at the temperature of the water: one of polypropylene is
// 0.45 % larger 10 °C warmer (ISO 4787, from memory), so the water should be near 20 °C.
//
// The fills are averaged by inverse variance; then the uncertainty they share, of the scale's
// own error and of the thermometer, is added; then the claim is averaged in by inverse variance,
// unless the fills refute it: a claim known to be untrue says nothing of the error.
// Both times the uncertainty is multiplied by the Birge ratio √(χ²/ν) where that is above 1, so
// that values which disagree do not give a small uncertainty. A Finding other than Agrees calls
// for another fill. Errors name the field and what is allowed. Sources: ISO 4787 for the
// volume; JCGM 100:2008, 4.3.7 and 5.1, for the uncertainties; R. T. Birge, Physical Review 40
// (1932) 207.
func Calibrate(checks []Check, tools Tools, halfWidth float64) (Result, error) {
	if err := validate(checks, tools, halfWidth); err != nil {
		return Result{}, err
	}
	var r Result
	var own []estimate
	var sharedTempU float64
	for i, c := range checks {
		p := c.point(tools)
		if math.Abs(p.Error) > maxPointError {
			return Result{}, fmt.Errorf("fill %d: %g g of water are %.0f ml, not %g ml: weigh and read the same fill",
				i+1, c.MassG, p.TrueML, c.ReadingML)
		}
		r.Points = append(r.Points, p)
		own = append(own, estimate{p.Error, p.U})
		sharedTempU = max(sharedTempU, math.Abs(zPerC(c.WaterTempC))*tools.TempUC)
	}
	fills, chi2 := combine(own)
	r.chi2, r.dof = chi2, len(checks)-1
	r.Measured = fills.value
	r.MeasuredU = math.Hypot(fills.u, (1+fills.value)*math.Hypot(tools.ScaleError/math.Sqrt(3), sharedTempU))
	r.claimU = halfWidth / math.Sqrt(3)

	both, z2 := combine([]estimate{{r.Measured, r.MeasuredU}, {0, r.claimU}})
	r.Error, r.U, r.Z = both.value, both.u, math.Sqrt(z2)
	if r.ClaimRefuted() {
		r.Error, r.U = r.Measured, r.MeasuredU
	}
	r.Finding = r.find()
	return r, nil
}

func (r Result) find() Finding {
	switch {
	case r.dof > 0 && distuv.ChiSquared{K: float64(r.dof)}.Survival(r.chi2) < 0.05:
		return FillsDisagree
	case r.ClaimRefuted():
		return ContradictsClaim
	}
	return Agrees
}

func (c Check) point(tools Tools) Point {
	trueML := c.MassG * zMLPerG(c.WaterTempC, standardAirKPa)
	ratio := trueML / c.ReadingML
	readingU := tools.GraduationML / math.Sqrt(12) / c.ReadingML
	massU := tools.ScaleDivisionG / math.Sqrt(12) * math.Sqrt2 / c.MassG // gross and tare
	return Point{TrueML: trueML, Error: ratio - 1, U: ratio * math.Hypot(readingU, massU)}
}

// estimate is a value with its standard uncertainty.
type estimate struct{ value, u float64 }

// combine is the inverse-variance mean of independent estimates, its uncertainty multiplied by
// the Birge ratio where that is above 1, and χ².
func combine(estimates []estimate) (mean estimate, chi2 float64) {
	var weight, sum float64
	for _, e := range estimates {
		w := 1 / (e.u * e.u)
		weight += w
		sum += w * e.value
	}
	mean = estimate{value: sum / weight, u: 1 / math.Sqrt(weight)}
	for _, e := range estimates {
		chi2 += (e.value - mean.value) * (e.value - mean.value) / (e.u * e.u)
	}
	if dof := float64(len(estimates) - 1); dof > 0 {
		mean.u *= max(1, math.Sqrt(chi2/dof))
	}
	return mean, chi2
}
