// This file checks what must be true of every reconciliation.

package balance

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"pgregory.net/rapid"
)

// drawNetwork draws up to 8 streams and 5 balances between them; most are measured.
func drawNetwork(t *rapid.T) Network {
	var n Network
	streams := rapid.IntRange(2, 8).Draw(t, "streams")
	for i := range streams {
		n.Streams = append(n.Streams, Stream{
			Name:     fmt.Sprint(i),
			ML:       rapid.Float64Range(0, 1000).Draw(t, "ml"),
			UML:      math.Pow(10, rapid.Float64Range(-3, 3).Draw(t, "log u")),
			Measured: rapid.IntRange(0, 4).Draw(t, "measured") > 0,
		})
	}
	for range rapid.IntRange(0, 5).Draw(t, "balances") {
		order := rapid.Permutation(n.names()).Draw(t, "order")
		in := rapid.IntRange(1, streams-1).Draw(t, "in")
		out := rapid.IntRange(1, streams-in).Draw(t, "out")
		n.Balances = append(n.Balances, Balance{In: order[:in], Out: order[in : in+out]})
	}
	return n
}

func (n Network) names() []string {
	var names []string
	for _, s := range n.Streams {
		names = append(names, s.Name)
	}
	return names
}

func (n Network) clone() Network {
	return Network{Streams: slices.Clone(n.Streams), Balances: slices.Clone(n.Balances)}
}

// stream is the result for the stream of that name.
func (r Result) stream(name string) StreamResult {
	return r.Streams[slices.IndexFunc(r.Streams, func(s StreamResult) bool { return s.Name == name })]
}

func mustSolve(t *rapid.T, n Network) Result {
	t.Helper()
	r, err := Solve(n)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func near(a, b, tol float64) bool { return math.Abs(a-b) <= tol*max(1, math.Abs(a), math.Abs(b)) }

// sameVolumes compares two solutions stream by stream.
func sameVolumes(t *rapid.T, got, want Result, scale float64) {
	t.Helper()
	for i, w := range want.Streams {
		g := got.Streams[i]
		if g.Role != w.Role || !near(g.ReconciledML, scale*w.ReconciledML, 1e-8) ||
			!near(g.UML, scale*w.UML, 1e-8) || !near(g.Z, w.Z, 1e-6) {
			t.Fatalf("stream %+v, want %+v times %g", g, w, scale)
		}
	}
	if got.DoF != want.DoF || !near(got.Chi2, want.Chi2, 1e-7) {
		t.Fatalf("χ² %g/%d, want %g/%d", got.Chi2, got.DoF, want.Chi2, want.DoF)
	}
}

func TestReconciledStreamsBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNetwork(t)
		r := mustSolve(t, n)
		for i, b := range n.Balances {
			var sum float64
			known := true
			for side, names := range [][]string{b.In, b.Out} {
				for _, name := range names {
					s := r.stream(name)
					known = known && s.Role != Unobservable
					sum += s.ReconciledML * float64(1-2*side)
				}
			}
			if known && math.Abs(sum) > 1e-9*1000 {
				t.Fatalf("balance %d is out by %g", i+1, sum)
			}
		}
	})
}

// One checked stream known to 1 µl beside others to 1 L and volumes of 1e9 ml: the balances
// still close to the rounding of the largest.
func TestFarApartUncertaintiesBalance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNetwork(t)
		largestML := 0.0
		for i := range n.Streams {
			n.Streams[i].ML = math.Pow(10, rapid.Float64Range(0, 9).Draw(t, "log ml"))
			n.Streams[i].UML = math.Pow(10, rapid.Float64Range(-4, 3.9).Draw(t, "log u"))
			n.Streams[i].Measured = true
			largestML = max(largestML, n.Streams[i].ML)
		}
		r := mustSolve(t, n)
		for i, b := range n.Balances {
			var gapML float64
			for side, names := range [][]string{b.In, b.Out} {
				for _, name := range names {
					s := r.stream(name)
					gapML += s.ReconciledML * float64(1-2*side)
				}
			}
			if math.Abs(gapML) > 1e-13*largestML {
				t.Fatalf("balance %d is out by %g of %g", i+1, gapML, largestML)
			}
		}
	})
}

func TestReconcilingNeverAddsUncertainty(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNetwork(t)
		r := mustSolve(t, n)
		for i, s := range r.Streams {
			if given := n.Streams[i]; given.Measured && s.UML > given.UML*(1+1e-12) {
				t.Fatalf("%+v became %+v", given, s)
			}
			if s.Role == Unchecked && s.ReconciledML != n.Streams[i].ML && !near(s.ReconciledML, n.Streams[i].ML, 1e-12) {
				t.Fatalf("unchecked %+v became %+v", n.Streams[i], s)
			}
		}
		if r.DoF == 0 && (r.Chi2 != 0 || r.P != 1 || r.Suspects != nil) {
			t.Fatalf("nothing is checked, yet %+v", r)
		}
	})
}

func TestUnitsDoNotMatter(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNetwork(t)
		scale := math.Pow(10, rapid.Float64Range(-3, 4).Draw(t, "log scale"))
		scaled := n.clone()
		for i := range scaled.Streams {
			scaled.Streams[i].ML *= scale
			scaled.Streams[i].UML *= scale
		}
		sameVolumes(t, mustSolve(t, scaled), mustSolve(t, n), scale)
	})
}

// A balance said twice, the other way round, or as the sum of others says nothing new.
func TestRepeatedBalanceChangesNothing(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNetwork(t)
		if len(n.Balances) == 0 {
			return
		}
		more := n.clone()
		again := rapid.SampledFrom(n.Balances).Draw(t, "again")
		more.Balances = append(more.Balances, again, Balance{In: again.Out, Out: again.In})
		sameVolumes(t, mustSolve(t, more), mustSolve(t, n), 1)
	})
	n := exchanger([6]float64{101.91, 68.45, 34.65, 64.20, 36.44, 98.88})
	more := n.clone()
	more.Balances = append(more.Balances, Balance{In: []string{"1"}, Out: []string{"6"}}) // the sum of all four
	a, err1 := Solve(n)
	b, err2 := Solve(more)
	if err1 != nil || err2 != nil || b.DoF != 4 || !near(a.Chi2, b.Chi2, 1e-12) {
		t.Errorf("χ² %g/%d became %g/%d (%v, %v)", a.Chi2, a.DoF, b.Chi2, b.DoF, err1, err2)
	}
}

// A stream that is not measured may as well be taken out by hand: a = b + c and
// c = d + e with c unmeasured is a = b + d + e.
func TestUnmeasuredStreamEqualsEliminationByHand(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var with Network
		for _, name := range []string{"a", "b", "d", "e"} {
			with.Streams = append(with.Streams, Stream{
				Name: name, ML: rapid.Float64Range(0, 1000).Draw(t, name),
				UML: rapid.Float64Range(0.1, 20).Draw(t, "u "+name), Measured: true,
			})
		}
		without := with.clone()
		with.Streams = append(with.Streams, Stream{Name: "c"})
		with.Balances = []Balance{{[]string{"a"}, []string{"b", "c"}}, {[]string{"c"}, []string{"d", "e"}}}
		without.Balances = []Balance{{[]string{"a"}, []string{"b", "d", "e"}}}
		got, want := mustSolve(t, with), mustSolve(t, without)
		sameVolumes(t, got, want, 1)
		c := got.stream("c")
		d := got.stream("d")
		e := got.stream("e")
		if c.Role != Observable || !near(c.ReconciledML, d.ReconciledML+e.ReconciledML, 1e-12) {
			t.Fatalf("c is %+v, d + e is %g", c, d.ReconciledML+e.ReconciledML)
		}
	})
}

// Leaving a reading out lowers χ² by the square of its z. It is the measurement's
// side of what C. M. Crowe (Chem. Eng. Sci. 47 (1992), abstract) states for a
// balance: the square of the test statistic is the drop in the weighted sum of
// squares when it is deleted.
func TestDeletingAReadingLowersChi2ByZSquared(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n := drawNetwork(t)
		all := mustSolve(t, n)
		for i, s := range all.Streams {
			if s.Role != Redundant {
				continue
			}
			fewer := n.clone()
			fewer.Streams[i].Measured = false
			drop := all.Chi2 - mustSolve(t, fewer).Chi2
			if math.Abs(drop-s.Z*s.Z) > 1e-9*max(1, all.Chi2) {
				t.Fatalf("without %s χ² drops by %g, z² is %g", s.Name, drop, s.Z*s.Z)
			}
		}
	})
}

// One balance in = out: the imbalance is shared by variance, each variance falls by
// its square over their sum, and both sides are equally suspect. The behaviour is
// published for STAN (stan2web.net, NetHelp, Data Reconciliation); the closed form
// follows from the formulas of the package by hand.
func TestOneBalanceInClosedForm(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		names := []string{"in", "out 1", "out 2"}
		sign := []float64{1, -1, -1}
		var n Network
		var imbalance, total float64
		for i, name := range names {
			s := Stream{Name: name, ML: rapid.Float64Range(0, 1000).Draw(t, name), UML: rapid.Float64Range(0.1, 50).Draw(t, "u"),
				Measured: true}
			n.Streams = append(n.Streams, s)
			imbalance += sign[i] * s.ML
			total += s.UML * s.UML
		}
		n.Balances = []Balance{{In: names[:1], Out: names[1:]}}
		r := mustSolve(t, n)
		for i, s := range r.Streams {
			v := n.Streams[i].UML * n.Streams[i].UML
			if want := n.Streams[i].ML - sign[i]*v*imbalance/total; !near(s.ReconciledML, want, 1e-11) {
				t.Fatalf("%s: %g, want %g", s.Name, s.ReconciledML, want)
			}
			if want := v - v*v/total; !near(s.UML*s.UML, want, 1e-11) {
				t.Fatalf("%s: variance %g, want %g", s.Name, s.UML*s.UML, want)
			}
			if want := math.Abs(imbalance) / math.Sqrt(total); !near(s.Z, want, 1e-11) {
				t.Fatalf("%s: z %g, want %g", s.Name, s.Z, want)
			}
		}
		if !r.Holds() && !slices.Equal(r.Suspects, names) {
			t.Fatalf("suspects %v of one balance", r.Suspects)
		}
	})
}
