package learn

import (
	"math"
	"testing"

	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"
)

// What grows by one number at a time is what the whole list gives: gonum's mean
// and standard deviation.
func TestRunningIsThatOfTheWholeList(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var jobs Running
		xs := rapid.SliceOfN(rapid.Float64Range(-50, 900), 1, 12).Draw(t, "jobs")
		for _, x := range xs {
			jobs.Add(x)
		}
		mean, sd := stat.MeanStdDev(xs, nil)
		if len(xs) == 1 {
			sd = 0
		}
		if jobs.N() != len(xs) || math.Abs(jobs.Mean()-mean) > 1e-9 || math.Abs(jobs.SD()-sd) > 1e-9 {
			t.Fatalf("%d: %v ± %v, want %v ± %v", jobs.N(), jobs.Mean(), jobs.SD(), mean, sd)
		}
	})
}
