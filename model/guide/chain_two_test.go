package guide

// This file checks two jobs of one unit against one stacked least-squares
// problem, written out row by row and solved by another routine (gonum's QR):
// the sources with their priors as observations, the conditions as observations
// that are as good as exact. The figures that the trade takes for granted are
// common practice without a source.

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/mat"

	"garage/tundish/model/job"
)

// linear is a number with what each source adds to it, ml.
type linear struct {
	nominal float64
	of      map[string]float64
}

func (a linear) plus(k float64, b linear) linear {
	sum := linear{a.nominal + k*b.nominal, map[string]float64{}}
	for name, c := range a.of {
		sum.of[name] += c
	}
	for name, c := range b.of {
		sum.of[name] += k * c
	}
	return sum
}

func taken(nominal float64, name string, u float64) linear {
	return linear{nominal, map[string]float64{name: u}}
}

// readBy is a look at the jug: marks every 10 ml, 1.5 ml of the eye, 2 % off at most,
// 20 °C felt.
func readBy(name string, ml float64) linear {
	perC := 0.6278 / 870 // API MPMS 11.1 (1980), table 54D, to first order
	return taken(ml, name, math.Hypot(10/math.Sqrt(12), 1.5)).plus(1, taken(0, "marks", 0.02/math.Sqrt(3)*ml)).plus(1, taken(0, name+" warm", 5*perC*ml))
}

// stacked solves [I; A/ε]·ξ = [0; -m/ε] and returns mean and standard uncertainty of a
// form of the sources.
func stacked(t *testing.T, conditions []linear, of linear) (mean, u float64) {
	t.Helper()
	index := map[string]int{}
	for _, c := range append(conditions, of) {
		for name := range c.of {
			if _, ok := index[name]; !ok {
				index[name] = len(index)
			}
		}
	}
	const exact = 1e-5
	n := len(index)
	a, b := mat.NewDense(n+len(conditions), n, nil), mat.NewDense(n+len(conditions), 1, nil)
	for i := range n {
		a.Set(i, i, 1)
	}
	for i, c := range conditions {
		b.Set(n+i, 0, -c.nominal/exact)
		for name, x := range c.of {
			a.Set(n+i, index[name], x/exact)
		}
	}
	var qr mat.QR
	qr.Factorize(a)
	var xi, normal, cov mat.Dense
	if err := qr.SolveTo(&xi, false, b); err != nil {
		t.Log(err) // the condition number of an exact observation
	}
	normal.Mul(a.T(), a)
	if err := cov.Inverse(&normal); err != nil {
		t.Log(err)
	}
	mean = of.nominal
	variance := 0.0
	for name, c := range of.of {
		mean += c * xi.At(index[name], 0)
		for other, d := range of.of {
			variance += c * d * cov.At(index[name], index[other])
		}
	}
	return mean, math.Sqrt(variance)
}

func TestTwoJobsAgainstStackedLeastSquares(t *testing.T) {
	refill := small.with(script{job.CapacityMeans: {"refill"}, job.Capacity: {"550"}, job.TemperatureHow: {"felt"},
		job.DrainedTemperature: {"20"}, job.LoadedTemperature: {"20"}})
	unit := visits(t, refill, visit{outML: 530, inML: 560}, visit{outML: 548, inML: 545})

	const c0, whole = 550.0, 550 / (1 - 0.08)
	usual := taken(0.08*whole, "usual", math.Sqrt(0.04*0.04-0.02*0.02)*whole)
	right := taken(c0, "stated", 0.022*c0).plus(1, usual)
	stays := func(own string) linear { return usual.plus(1, taken(0, own, 0.02*whole)) }
	change := func(n string, outML, inML float64, before linear) (after linear, conditions []linear) {
		r := stays("own " + n)
		out, escaped := readBy("out "+n, outML), readBy("escaped "+n, 50).plus(1, taken(0, "clings "+n, 2))
		loaded, left := readBy("loaded "+n, inML+175), readBy("left "+n, 100)
		hose := taken(25, "hose", 0.05*25)
		usually := taken(50, "rig", 8).plus(1, taken(0, "swap "+n, 24))
		after = r.plus(1, loaded).plus(-1, left).plus(-1, hose).plus(-1, escaped)
		return after, []linear{out.plus(-1, before).plus(1, r), escaped.plus(-1, usually)}
	}
	after, conditions := change("1", 530, 560, right.plus(1, taken(0, "level", 0.05*whole)))
	const loss = 0.02 * whole // of a normal distribution, of which it is the half above nothing
	rate := taken(loss*math.Sqrt(2/math.Pi), "rate", loss*math.Sqrt(1-2/math.Pi))
	before := after.plus(-1, rate).plus(-1, taken(0, "loss", 0.002*whole))
	last, more := change("2", 548, 545, before)

	for i, row := range []struct {
		s  *Guide
		of linear
		by []linear
	}{{unit[1], after.plus(-1, right), conditions}, {unit[0], last.plus(-1, right), append(conditions, more...)}} {
		mean, u := stacked(t, row.by, row.of)
		off := asDrawn(verdictOf(t, row.s, 0).Error)
		if near(t, "off", off.Nominal, mean, 0.05); math.Abs(off.U()/u-1) > 1e-3 {
			t.Errorf("job %d: u %v, want %v", i+1, off.U(), u)
		}
	}
}
