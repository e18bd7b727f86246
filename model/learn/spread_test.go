package learn

import (
	"fmt"
	"math"
	"testing"

	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"garage/tundish/model/measure"
)

// What grows by one job at a time is what the whole list gives: gonum's mean
// and standard deviation, and the definition at Shrink, of jobs that share a jug.
func TestSpreadIsThatOfTheWholeList(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		held := Scatter{SDML: rapid.Float64Range(0, 30).Draw(t, "held"), DoF: rapid.Float64Range(0, 3).Draw(t, "dof")}
		var spread Spread
		var jobs Running
		var past []measure.Value
		var xs []float64
		for i := range rapid.IntRange(0, 12).Draw(t, "jobs") {
			x := measure.Gaussian(fmt.Sprint("reading ", i), rapid.Float64Range(-50, 900).Draw(t, "ml"), rapid.Float64Range(0, 9).Draw(t, "u")).
				Add(measure.Rectangular("jug", 0, rapid.Float64Range(-5, 20).Draw(t, "jug")))
			spread.Add(x)
			jobs.Add(x.Nominal)
			past, xs = append(past, x), append(xs, x.Nominal)
		}
		want := held.SDML
		if n := float64(len(xs)); n > 0 {
			mean, sd := stat.MeanStdDev(xs, nil)
			if n == 1 {
				sd = 0
			}
			if jobs.N() != len(xs) || math.Abs(jobs.Mean()-mean) > 1e-9 || math.Abs(jobs.SD()-sd) > 1e-9 {
				t.Fatalf("%d: %v ± %v, want %v ± %v", jobs.N(), jobs.Mean(), jobs.SD(), mean, sd)
			}
			explained := -n * measure.Sum(past...).Scale(1/n).Variance()
			for _, x := range past {
				explained += x.Variance()
			}
			want = 0
			if dof := held.DoF + n - 1; dof > 0 {
				want = math.Sqrt((held.DoF*held.SDML*held.SDML + math.Max(0, (n-1)*sd*sd-explained)) / dof)
			}
		}
		if got := spread.SDML(held); math.Abs(got-want) > 1e-6 {
			t.Fatalf("spread %v, want %v", got, want)
		}
	})
}
