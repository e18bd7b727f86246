package guide

// What a look at a level is taken for, and what it tells beside the sums.

import (
	"math"
	"testing"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
)

func TestWhatALookAtATubeIsTakenFor(t *testing.T) {
	for said, want := range map[string]estimate.Looked{"nothing": estimate.ReadUnder, "waves": estimate.ReadUnder, "drops": estimate.ReadAt,
		"thread": estimate.ReadOver, "flow": estimate.ReadOver, "engine_off": estimate.NotRead} {
		s, _ := judged(t, box9().with(script{job.TubeSaid: {said}}))
		if got := s.LevelLook(0).Looked; got != want {
			t.Errorf("%s is %v, want %v", said, got, want)
		}
	}
}

// Oil that was seen to stand beyond a level, seen with a normal error of its own, leaves of a normal distribution by the sums
// the mean of what lies beyond: here by adding it up in small steps.
func TestALevelBeyondCutsTheSumsOff(t *testing.T) {
	for said, side := range map[string]float64{"nothing": -1, "thread": 1} {
		s, _ := judged(t, box9().with(script{job.TubeSaid: {said}, job.AddedRunning: {"1500"}}))
		off, sums, _ := s.Off(0)
		at, u := s.LevelLook(0).Off.Nominal, s.LevelAtLip().U()
		var all, mean float64
		for z := -8.0; z < 8; z += 0.001 {
			x := sums.Nominal + z*sums.U()
			p := math.Exp(-z*z/2) * math.Erfc(-side*(x-at)/u/math.Sqrt2)
			all, mean = all+p, mean+p*x
		}
		near(t, said, off.Nominal, mean/all, 0.01)
	}
}

// Ten degrees more of the maker's window allow five more each way, which are 33 ml of 9 L (5 K at 6.6 ml/K, see TestMLPerKelvin);
// a band of a stick allows half of it.
func TestWhatALevelAllows(t *testing.T) {
	allowed := func(sc script) float64 {
		s, _ := judged(t, sc)
		tolerance, ok := s.LevelTolerance()
		if !ok || tolerance.MinusML != tolerance.PlusML {
			t.Errorf("%+v, %v", tolerance, ok)
		}
		return tolerance.PlusML
	}
	s, _ := judged(t, box9())
	near(t, "half of the window, and what a tube tells", allowed(box9()), 5*s.MLPerK()+estimate.Coverage*s.LevelAtLip().U(), 1e-9)
	for _, window := range []string{"35-55", "25-45"} {
		near(t, window, allowed(box9().with(script{job.LevelWindow: {window}}))-allowed(box9()), 33, 0.5)
	}
	near(t, "a band of 400 ml", allowed(stick7()), 200, 0)
}

// The same oil measured again is not a second drain: the last is the first reading of it.
func TestLastDrainIsNoSecondMeasureOfIt(t *testing.T) {
	for more, item := range map[string]int{"again": 0, "another": 1} {
		twice := script{job.DrainedAmount: {"600@20", "602@20"}, job.DrainedMore: {more, "done"}}
		s := newDrive(t, small.with(twice)).until(job.LoadedAmount)
		if got := s.LastDrained(); got != job.At(job.DrainedAmount, 0, item) {
			t.Errorf("%s: %+v, want item %d", more, got, item)
		}
	}
}
