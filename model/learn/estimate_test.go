// Shrinking towards a default: published worked examples, hand-worked ones, properties.

package learn

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"garage/tundish/model/measure"
	"pgregory.net/rapid"
)

// readings returns independent values, all with the same standard uncertainty.
func readings(u float64, xs ...float64) []measure.Value {
	values := make([]measure.Value, len(xs))
	for i, x := range xs {
		values[i] = measure.Gaussian(fmt.Sprintf("reading %d", i), x, u)
	}
	return values
}

// TestShrinkMatchesPublishedNormalNormal: with the scatter left to the jobs and nothing
// unexplained, Shrink is the normal-normal model with known variance.
func TestShrinkMatchesPublishedNormalNormal(t *testing.T) {
	for _, row := range []struct {
		name            string // and source
		prior, priorU   float64
		xs              []float64
		u               float64
		mean, variance  float64
		tMean, tVariant float64
	}{
		{"IQ 98, Georgia Tech ISyE 6420 notes (A. Reding), unit 4: N(102.8, 48)",
			110, math.Sqrt(120), []float64{98}, math.Sqrt(80), 102.8, 48, 0.0001, 0.0001},
		{"five scores of 98, the same page: N(99.4, 14.1)",
			110, math.Sqrt(120), []float64{98, 98, 98, 98, 98}, math.Sqrt(80), 99.4, 14.1, 0.05, 0.05},
		{"height of 71 in, thoughtfulexaminations.com, Normal-Normal: mean 69.72, sd 2.4",
			69, 3, []float64{71}, 4, 69.72, 2.4 * 2.4, 0.005, 0.24},
	} {
		t.Run(row.name, func(t *testing.T) {
			got, err := shrink("x", measure.Gaussian("prior", row.prior, row.priorU), Scatter{}, readings(row.u, row.xs...))
			if err != nil {
				t.Fatal(err)
			}
			near(t, "mean", got.MeanML(), row.mean, row.tMean)
			near(t, "variance", got.UML()*got.UML(), row.variance, row.tVariant)
			near(t, "scatter", got.SpreadML, 0, 1e-6)
		})
	}
}

// TestShrinkMatchesBattingAverages: B. Efron and C. Morris, Stein's paradox in statistics,
// Scientific American 236 (1977): grand mean 0.265 and shrinking factor 0.212 (both as
// restated on sascommunity.org); the shrunk averages are from memory.
func TestShrinkMatchesBattingAverages(t *testing.T) {
	const factor, grandMean = 0.212, 0.265
	for _, row := range []struct{ first45, shrunk float64 }{
		{0.400, 0.294}, {0.378, 0.289}, {0.356, 0.284}, {0.311, 0.275}, {0.244, 0.261}, {0.156, 0.242},
	} {
		prior := measure.Gaussian("players", grandMean, math.Sqrt(factor))
		got, err := shrink("x", prior, Scatter{}, readings(math.Sqrt(1-factor), row.first45))
		if err != nil {
			t.Fatal(err)
		}
		near(t, "weight", (got.MeanML()-grandMean)/(row.first45-grandMean), factor, 1e-12)
		near(t, fmt.Sprintf("%.3f shrunk", row.first45), got.MeanML(), row.shrunk, 0.0006)
	}
}

// meanUML is the standard uncertainty of the shrunk mean, without this time's scatter.
func (e Estimate) meanUML() float64 { return math.Sqrt(e.UML()*e.UML() - e.SpreadML*e.SpreadML) }

// weight is how far the estimate went from the default to the jobs' mean, 0 to 1.
func (e Estimate) weight(prior measure.Value, past []measure.Value) float64 {
	jobsMeanML := measure.Sum(past...).Nominal / float64(len(past))
	return (e.MeanML() - prior.Nominal) / (jobsMeanML - prior.Nominal)
}

// TestResidualWithoutJobsIsTheDefault: 8 % ± 4 % of 900.
func TestResidualWithoutJobsIsTheDefault(t *testing.T) {
	got, err := Residual(measure.Gaussian("default", 72, 36), nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean", got.MeanML(), 72, 1e-9)
	near(t, "u", got.UML(), 36, 1e-9)
	if got.Jobs != 0 {
		t.Errorf("%+v, want nothing from jobs", got)
	}
}

func TestEscapeWithoutJobsIsTheDefault(t *testing.T) {
	got, err := Escape(measure.Gaussian("default", 50, 20), nil)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean", got.MeanML(), 50, 1e-12)
	near(t, "u", got.UML(), 20, 1e-12)
}

// TestResidualWorkedByHand: 72 ± 36 splits into 972 for the mean and 324 for the scatter.
// Jobs 88, 85, 91 read to ± 3: m = 88, SS = 18 = E, σ² = 324/3 = 108, u² = 36 + 3 = 39;
// w = 972/1011 = 0.9614, mean = 72 + 0.9614·16 = 87.383, its u² = 972·39/1011 = 37.496.
// With 70, 90, 110 instead: m = 90, SS = 800, σ² = (324 + 782)/3 = 368.67.
func TestResidualWorkedByHand(t *testing.T) {
	prior := measure.Gaussian("default", 72, 36)
	got, err := Residual(prior, readings(3, 88, 85, 91))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean", got.MeanML(), 87.383, 0.0005)
	near(t, "u of mean", got.meanUML()*got.meanUML(), 37.496, 0.0005)
	near(t, "spread", got.SpreadML*got.SpreadML, 108, 1e-9)
	near(t, "u this time", got.UML(), math.Sqrt(37.496+108), 0.0001)

	got, err = Residual(prior, readings(3, 70, 90, 110))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "spread of scattered jobs", got.SpreadML*got.SpreadML, (324+782)/3.0, 1e-9)
}

// TestSharedJugErrorDoesNotAverageOut: three jobs by one jug whose scale is out by the
// same amount are no better than one.
func TestSharedJugErrorDoesNotAverageOut(t *testing.T) {
	jug := measure.Gaussian("jug scale", 88, 10)
	got, err := shrink("x", measure.Gaussian("default", 72, 1000), Scatter{}, []measure.Value{jug, jug, jug})
	if err != nil {
		t.Fatal(err)
	}
	near(t, "u", got.meanUML(), 10, 0.001)
}

func TestExactDefaultIsKept(t *testing.T) {
	got, err := Escape(measure.Exact(25), readings(2, 30, 31))
	if err != nil {
		t.Fatal(err)
	}
	near(t, "mean", got.MeanML(), 25, 0)

	got, err = Escape(measure.Exact(25), readings(0, 25))
	if err != nil || got.MeanML() != 25 || got.UML() != 0 {
		t.Errorf("all exact: %+v, %v", got, err)
	}
}

func TestEstimateRefusals(t *testing.T) {
	good := measure.Gaussian("default", 72, 36)
	nan := measure.Exact(math.NaN())
	for name, call := range map[string]func() error{
		"default not a number":  func() error { _, err := Residual(nan, nil); return err },
		"job not a number":      func() error { _, err := Residual(good, []measure.Value{good, nan}); return err },
		"infinite uncertainty":  func() error { _, err := Residual(measure.Gaussian("a", 72, math.Inf(1)), nil); return err },
		"negative scatter":      func() error { _, err := shrink("x", good, Scatter{SDML: -1, DoF: 1}, nil); return err },
		"negative freedom":      func() error { _, err := shrink("x", good, Scatter{SDML: 1, DoF: -1}, nil); return err },
		"infinite scatter":      func() error { _, err := shrink("x", good, Scatter{SDML: math.Inf(1), DoF: 1}, nil); return err },
		"certain contradiction": func() error { _, err := Escape(measure.Exact(25), readings(0, 30)); return err },
		"beyond all numbers":    func() error { _, err := Residual(good, readings(1, 1e300, -1e300)); return err },
	} {
		if call() == nil {
			t.Errorf("%s: accepted", name)
		}
	}
}

// drawnPast draws a default and one to eight jobs with independent readings.
func drawnPast(t *rapid.T) (prior measure.Value, past []measure.Value) {
	prior = measure.Gaussian("default", rapid.Float64Range(10, 200).Draw(t, "default"), rapid.Float64Range(1, 80).Draw(t, "u"))
	xs := rapid.SliceOfN(rapid.Float64Range(0, 300), 1, 8).Draw(t, "jobs")
	return prior, readings(rapid.Float64Range(0.5, 30).Draw(t, "reading u"), xs...)
}

func TestShrunkMeanLiesBetweenDefaultAndJobs(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		prior, past := drawnPast(t)
		got, err := Residual(prior, past)
		if err != nil {
			t.Fatal(err)
		}
		jobsMeanML := measure.Sum(past...).Nominal / float64(len(past))
		low, high := math.Min(prior.Nominal, jobsMeanML), math.Max(prior.Nominal, jobsMeanML)
		if got.MeanML() < low-1e-9 || got.MeanML() > high+1e-9 {
			t.Fatalf("%v outside %v to %v", got.MeanML(), low, high)
		}
		if got.meanUML() > prior.U() {
			t.Fatalf("jobs made the mean more doubtful: %v above %v", got.meanUML(), prior.U())
		}
	})
}

// TestMoreJobsOfTheSameKindSharpen: the same residuals seen again, by fresh readings.
func TestMoreJobsOfTheSameKindSharpen(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		prior, past := drawnPast(t)
		once, err := Residual(prior, past)
		if err != nil {
			t.Fatal(err)
		}
		again := append([]measure.Value{}, past...)
		for i, x := range past {
			again = append(again, measure.Gaussian(fmt.Sprintf("again %d", i), x.Nominal, x.U()))
		}
		twice, err := Residual(prior, again)
		if err != nil {
			t.Fatal(err)
		}
		// Jobs that differ by more than their readings explain, seen twice, make that scatter
		// more certain, so only a single job is sure to sharpen the whole.
		if len(past) == 1 && twice.UML() >= once.UML() {
			t.Fatalf("u went from %v to %v", once.UML(), twice.UML())
		}
		if twice.SpreadML <= once.SpreadML && twice.meanUML() >= once.meanUML() {
			t.Fatalf("u of mean went from %v to %v", once.meanUML(), twice.meanUML())
		}
		far := math.Abs(measure.Sum(past...).Nominal/float64(len(past)) - prior.Nominal)
		if before, after := once.weight(prior, past), twice.weight(prior, again); far > 1 && twice.SpreadML <= once.SpreadML && after <= before {
			t.Fatalf("weight of jobs went from %v to %v", before, after)
		}
	})
}

func TestOrderOfJobsDoesNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		prior, past := drawnPast(t)
		a, err := Escape(prior, past)
		if err != nil {
			t.Fatal(err)
		}
		shuffled := append([]measure.Value{}, past...)
		seed := rapid.Uint64().Draw(t, "seed")
		rand.New(rand.NewPCG(seed, 1)).Shuffle(len(shuffled), func(i, j int) { shuffled[i], shuffled[j] = shuffled[j], shuffled[i] })
		b, err := Escape(prior, shuffled)
		if err != nil {
			t.Fatal(err)
		}
		if math.Abs(a.MeanML()-b.MeanML()) > 1e-9 || math.Abs(a.UML()-b.UML()) > 1e-9 {
			t.Fatalf("%v ± %v, in another order %v ± %v", a.MeanML(), a.UML(), b.MeanML(), b.UML())
		}
	})
}

// TestShrinkRecoversTruth draws units from the default and jobs from each unit, and asks
// that the next job be within one u about as often as it should: between 0.626, Student's
// t with the 4 degrees of freedom the scatter then has, and 0.683, the normal value
// (tables of both; the margin is three standard errors of the count).
func TestShrinkRecoversTruth(t *testing.T) {
	rng := rand.New(rand.NewPCG(8, 4))
	const units, tau, sd, u = 4000, 31.2, 18, 5
	prior := measure.Gaussian("default", 72, 36)
	within := 0
	for range units {
		mean := 72 + tau*rng.NormFloat64()
		xs := make([]float64, 4)
		for i := range xs {
			xs[i] = mean + sd*rng.NormFloat64() + u*rng.NormFloat64()
		}
		got, err := Residual(prior, readings(u, xs...))
		if err != nil {
			t.Fatal(err)
		}
		if next := mean + sd*rng.NormFloat64(); math.Abs(next-got.MeanML()) <= got.UML() {
			within++
		}
	}
	if fraction := float64(within) / units; fraction < 0.626-0.023 || fraction > 0.683+0.023 {
		t.Errorf("next job within u in %v of cases, want 0.626 to 0.683", fraction)
	}
}

// near fails the test unless got is within tolerance of want.
func near(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s = %.9g, want %.9g ± %g", what, got, want, tolerance)
	}
}
