package verdict

// This file says, before the plug is out and again at the load, how well a fill
// can be proven at all, and what would make it surer.

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
)

// Worth is something more to know, and how much surer a fill would be by it.
type Worth struct {
	What    string
	FromML  float64 // ± of the fill now, 19 times in 20, ml
	ToML    float64 // and with it
	PWithin float64 // of a fill that is put right then
}

// BestFill is how probably a fill without any slip would be right; false where
// it is not known yet what it needs. Before anything has come out, that counts
// as it will if all goes well.
func (s *Assessment) BestFill() (p float64, ok bool) {
	best, ok := s.Foresee()
	if !ok {
		return 0, false
	}
	return s.rightWith(best.Off.U()), true
}

// rightWith is how probably a fill is right that is put right by measure and
// then known to u ml.
func (s *Assessment) rightWith(u float64) float64 {
	tol := s.Tolerance()
	_, p, _ := measure.Probability(measure.Gaussian("best", 0, math.Hypot(u, correctionUML)), -tol.MinusML, tol.PlusML)
	return p
}

// leastWorthML is how much narrower a ± must get to be worth mentioning, ml.
const leastWorthML = 1.0

// Worth lists what would make the best fill surer, most first.
func (s *Assessment) Worth() []Worth {
	best, ok := s.Foresee()
	if !ok {
		return nil
	}
	var list []Worth
	for _, c := range best.Candidates() {
		u := c.U
		if from := best.Off.U(); estimate.Coverage*(from-u) >= leastWorthML {
			list = append(list, Worth{What: c.What, FromML: estimate.Coverage * from, ToML: estimate.Coverage * u, PWithin: s.rightWith(u)})
		}
	}
	slices.SortStableFunc(list, func(a, b Worth) int { return cmp.Compare(a.ToML, b.ToML) })
	return list
}

// beyondProof finds that no fill, however well it is measured, can be proven.
func (s *found) beyondProof() {
	s.step = job.Preload
	if !s.Measured() && !s.DryStart() {
		if s.step = job.Isolate; !s.Has(job.AtHand) {
			return // more is to come
		}
	}
	p, ok := s.BestFill()
	if !ok || p >= probablyWithin {
		return
	}
	var words []string
	for _, w := range s.Worth() {
		if w.PWithin-p >= leastGain/2 && len(words) < 3 {
			words = append(words, fmt.Sprintf("%s (%d)", w.What, oddsOf(w.PWithin)))
		}
	}
	do := "Would help: " + strings.Join(words, ", ") + "."
	switch {
	case len(words) > 0:
	case s.step == job.Preload:
		do = "Nothing that can be measured now helps."
	default:
		do = "Nothing that can be measured here helps: accept that, or do not begin."
	}
	s.add(BeyondProof, 0, job.Place{Topic: job.CapacityMeans}, fmt.Sprintf("No fill can be proven better than %d in 100.", oddsOf(p)), do)
}
