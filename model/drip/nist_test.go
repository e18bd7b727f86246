// This file checks the solver against the certified values of NIST.

package drip

import (
	"bufio"
	"fmt"
	"math"
	"math/rand/v2"
	"os"
	"strconv"
	"strings"
	"testing"
)

// certified holds value and standard deviation by set and quantity, from
// testdata/misra1_certified.txt (NIST StRD, Nonlinear Regression).
type certified map[string][2]float64

func loadCertified(t *testing.T) certified {
	t.Helper()
	file, err := os.Open("testdata/misra1_certified.txt")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	values := certified{}
	lines := bufio.NewScanner(file)
	for lines.Scan() {
		if strings.HasPrefix(lines.Text(), "#") {
			continue
		}
		f := strings.Fields(lines.Text())
		value, err1 := strconv.ParseFloat(f[2], 64)
		sd, err2 := strconv.ParseFloat(f[3], 64)
		if err1 != nil || err2 != nil {
			t.Fatal(lines.Text())
		}
		values[f[0]+" "+f[1]] = [2]float64{value, sd}
	}
	if len(values) != 8 {
		t.Fatalf("%d certified values, want 8", len(values))
	}
	return values
}

func loadMisra(t testing.TB) []Reading {
	t.Helper()
	file, err := os.Open("testdata/misra1.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	readings, err := ReadCSV(file)
	if err != nil || len(readings) != 14 {
		t.Fatalf("%d readings, %v", len(readings), err)
	}
	return readings
}

// nistTol is the relative agreement asked for: the 11 digits that NIST certifies,
// less the rounding of the last.
const nistTol = 2e-10

func wantNear(t *testing.T, what string, got, want, relTol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= relTol*math.Abs(want)) {
		t.Errorf("%s = %.12g, want %.12g (off by %.1e)", what, got, want, got/want-1)
	}
}

// Misra1a is the plain form itself, whatever the order of rows and the units.
func TestFitMeetsNISTMisra1a(t *testing.T) {
	nist := loadCertified(t)
	random := rand.New(rand.NewPCG(1, 1))
	for _, perMin := range []float64{1e-3, 1, 1e3} {
		for _, perML := range []float64{1e-3, 1, 1e6} {
			t.Run(fmt.Sprintf("times %g volumes %g", perMin, perML), func(t *testing.T) {
				readings := loadMisra(t)
				for i := range readings {
					readings[i].Minutes *= perMin
					readings[i].ML *= perML
				}
				random.Shuffle(len(readings), func(i, j int) { readings[i], readings[j] = readings[j], readings[i] })
				r, err := FitAs(readings, Plain)
				if err != nil {
					t.Fatal(err)
				}
				if r.Form != Plain || r.DegreesOfFreedom != 12 {
					t.Errorf("form %v with %d degrees of freedom, want plain with 12", r.Form, r.DegreesOfFreedom)
				}
				wantNear(t, "b1", r.SettlesAtML, perML*nist["misra1a b1"][0], nistTol)
				wantNear(t, "u(b1)", r.SettlesAtUML, perML*nist["misra1a b1"][1], nistTol)
				wantNear(t, "b2", r.RatePerMin, nist["misra1a b2"][0]/perMin, nistTol)
				wantNear(t, "u(b2)", r.RateUPerMin, nist["misra1a b2"][1]/perMin, nistTol)
				wantNear(t, "residual sd", r.ResidualSDML, perML*nist["misra1a sd"][0], nistTol)
				wantNear(t, "rss", r.curve.rss, perML*perML*nist["misra1a rss"][0], nistTol)
			})
		}
	}
}

// Misra1b has another shape over the same observations: the search is not made
// to measure for one curve.
func TestSolveMeetsNISTMisra1b(t *testing.T) {
	nist := loadCertified(t)
	s, err := newSeries(loadMisra(t))
	if err != nil {
		t.Fatal(err)
	}
	times, volumes, scaleMin := s.scaled(s.readings, 0)
	secondOrder := func(x float64) (value, slope float64) {
		h := 1 + x/2
		return 1 - 1/(h*h), 1 / (h * h * h)
	}
	scaled, where := solve(times, volumes, secondOrder, false)
	if where != inRange {
		t.Fatalf("outcome %d", where)
	}
	c := scaled.unscaled(scaleMin, s.topML, 0)
	wantNear(t, "b1", c.amplitude, nist["misra1b b1"][0], nistTol)
	wantNear(t, "u(b1)", math.Sqrt(math.Max(0, c.cov[0][0]+2*c.cov[0][2]+c.cov[2][2])), nist["misra1b b1"][1], nistTol)
	wantNear(t, "b2", c.rate, nist["misra1b b2"][0], nistTol)
	wantNear(t, "u(b2)", math.Sqrt(c.cov[1][1]), nist["misra1b b2"][1], nistTol)
	wantNear(t, "rss", c.rss, nist["misra1b rss"][0], nistTol)
	wantNear(t, "residual sd", math.Sqrt(c.rss/12), nist["misra1b sd"][0], nistTol)
}

// BoxBOD is the plain form over six readings that scatter widely, in any order of the rows. NIST
// StRD, Nonlinear Regression, BoxBOD (observers G. E. P. Box and others, Statistics for
// Experimenters, 1978; figures from memory, which the fit reproduces to every digit).
func TestFitMeetsNISTBoxBOD(t *testing.T) {
	readings := []Reading{{1, 109}, {2, 149}, {3, 149}, {5, 191}, {7, 213}, {10, 224}}
	random := rand.New(rand.NewPCG(1, 1))
	for range 20 {
		random.Shuffle(len(readings), func(i, j int) { readings[i], readings[j] = readings[j], readings[i] })
		r, err := FitAs(readings, Plain)
		if err != nil {
			t.Fatal(err)
		}
		wantNear(t, "b1", r.SettlesAtML, 2.1380940889e+02, nistTol)
		wantNear(t, "u(b1)", r.SettlesAtUML, 1.2354515176e+01, nistTol)
		wantNear(t, "b2", r.RatePerMin, 5.4723748542e-01, nistTol)
		wantNear(t, "u(b2)", r.RateUPerMin, 1.0455993237e-01, nistTol)
		wantNear(t, "rss", r.curve.rss, 1.1680088766e+03, nistTol)
		wantNear(t, "residual sd", r.ResidualSDML, 1.7088072423e+01, nistTol)
	}
}
