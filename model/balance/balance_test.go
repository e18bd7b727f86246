// This file checks the roles streams can have and what is refused.

package balance

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
)

func measured(name string, ml, uML float64) Stream {
	return Stream{Name: name, ML: ml, UML: uML, Measured: true}
}

func unmeasured(name string) Stream { return Stream{Name: name} }

func TestRoles(t *testing.T) {
	tests := []struct {
		name     string
		network  Network
		roles    []Role
		ml, u    []float64
		dof      int
		suspects []string
	}{
		{
			name:    "no balance checks nothing",
			network: Network{Streams: []Stream{measured("a", 830, 5), unmeasured("b")}},
			roles:   []Role{Unchecked, Unobservable}, ml: []float64{830, 0}, u: []float64{5, 0},
		},
		{
			name: "zero redundancy: the missing stream is worked out",
			network: Network{
				Streams:  []Stream{measured("charge", 910, 3), measured("heel", 40, 4), unmeasured("passed")},
				Balances: []Balance{{[]string{"charge"}, []string{"heel", "passed"}}},
			},
			roles: []Role{Unchecked, Unchecked, Observable}, ml: []float64{910, 40, 870}, u: []float64{3, 4, 5},
		},
		{
			name: "two unknowns in one balance cannot be told apart",
			network: Network{
				Streams:  []Stream{measured("passed", 870, 5), unmeasured("into unit"), unmeasured("escaped")},
				Balances: []Balance{{[]string{"passed"}, []string{"into unit", "escaped"}}},
			},
			roles: []Role{Unchecked, Unobservable, Unobservable}, ml: []float64{870, 0, 0}, u: []float64{5, 0, 0},
		},
		{
			name: "an exact stream is not adjusted, the only uncertain one takes all",
			network: Network{
				Streams:  []Stream{measured("bottle", 1000, 0), measured("charge", 1004, 2), measured("left", 0, 0)},
				Balances: []Balance{{[]string{"bottle"}, []string{"charge", "left"}}},
			},
			roles: []Role{Exact, Redundant, Exact}, ml: []float64{1000, 1000, 0}, u: []float64{0, 0, 0}, dof: 1,
			suspects: []string{"charge"},
		},
		{
			name: "exact streams that agree are no check",
			network: Network{
				Streams:  []Stream{measured("a", 500, 0), measured("b", 500, 0), measured("c", 7, 1)},
				Balances: []Balance{{[]string{"a"}, []string{"b"}}},
			},
			roles: []Role{Exact, Exact, Unchecked}, ml: []float64{500, 500, 7}, u: []float64{0, 0, 1},
		},
		{
			name: "equal z on both sides: both are named",
			network: Network{
				Streams:  []Stream{measured("in", 900, 3), measured("out", 850, 4)},
				Balances: []Balance{{[]string{"in"}, []string{"out"}}},
			},
			roles: []Role{Redundant, Redundant}, ml: []float64{882, 882}, u: []float64{2.4, 2.4}, dof: 1,
			suspects: []string{"in", "out"}, // 50 apart, u 5: 18 and 32 by variance; u 3·4/5
		},
	}
	for _, tt := range tests {
		r, err := Solve(tt.network)
		if err != nil {
			t.Errorf("%s: %v", tt.name, err)
			continue
		}
		if r.DoF != tt.dof || !slices.Equal(r.Suspects, tt.suspects) {
			t.Errorf("%s: %d degrees of freedom, suspects %v", tt.name, r.DoF, r.Suspects)
		}
		if r.DoF == 0 && (r.Chi2 != 0 || r.P != 1) {
			t.Errorf("%s: χ² %g, p %g", tt.name, r.Chi2, r.P)
		}
		for i, s := range r.Streams {
			if s.Role != tt.roles[i] || math.Abs(s.ReconciledML-tt.ml[i]) > 1e-9 || math.Abs(s.UML-tt.u[i]) > 1e-9 {
				t.Errorf("%s: %+v, want %v %g ± %g", tt.name, s, tt.roles[i], tt.ml[i], tt.u[i])
			}
		}
	}
}

// Without any reading nothing is known, but for a stream that can only be nothing.
func TestNothingMeasured(t *testing.T) {
	r, err := Solve(Network{
		Streams:  []Stream{unmeasured("a"), unmeasured("b"), unmeasured("c")},
		Balances: []Balance{{[]string{"a"}, []string{"b"}}, {[]string{"a"}, []string{"b", "c"}}},
	})
	if err != nil || r.DoF != 0 || r.P != 1 {
		t.Fatalf("%+v, %v", r, err)
	}
	for i, want := range []Role{Unobservable, Unobservable, Observable} {
		if s := r.Streams[i]; s.Role != want || s.ReconciledML != 0 || s.UML != 0 {
			t.Errorf("%+v, want %v", s, want)
		}
	}
}

func TestExactStreamsThatDisagreeAreRefused(t *testing.T) {
	n := Network{
		Streams: []Stream{measured("a", 500, 1), measured("b", 500, 1), measured("c", 40, 0), measured("d", 50, 0)},
		Balances: []Balance{
			{[]string{"a"}, []string{"b"}},
			{[]string{"c"}, []string{"d"}},
		},
	}
	r, err := Solve(n)
	if !errors.Is(err, errContradiction) || !strings.Contains(err.Error(), "balance 2 is out by 10 ml") {
		t.Errorf("got %+v, %v", r, err)
	}
	n.Streams[3].ML = 40 + 1e-4
	if r, err = Solve(n); !errors.Is(err, errContradiction) {
		t.Errorf("0.1 µl apart: %+v, %v", r, err)
	}
	n.Streams[3].ML = 40 + 1e-12 // rounding
	if _, err = Solve(n); err != nil {
		t.Error(err)
	}
}

func TestSolveNamesWhatIsWrong(t *testing.T) {
	ab := []Stream{measured("a", 1, 1), measured("b", 1, 1)}
	balance := func(in, out string) []Balance {
		return []Balance{{strings.Fields(in), strings.Fields(out)}}
	}
	var crowd []Stream
	for i := range 201 {
		crowd = append(crowd, measured(fmt.Sprint(i), 1, 1))
	}
	tests := []struct {
		name     string
		streams  []Stream
		balances []Balance
		says     string
	}{
		{"no streams", nil, nil, "streams must be 1 to 200"},
		{"too many streams", crowd, nil, "streams must be 1 to 200"},
		{"too many balances", ab, slices.Repeat(balance("a", "b"), 201), "balances must be at most 200"},
		{"no name", []Stream{measured("", 1, 1)}, nil, "name of stream 1 must be"},
		{"unprintable name", []Stream{measured("a\nb", 1, 1)}, nil, "name of stream 1 must be"},
		{"long name", []Stream{measured(strings.Repeat("x", 81), 1, 1)}, nil, "1 to 80 printable"},
		{"name used twice", []Stream{measured("a", 1, 1), measured("a", 2, 1)}, nil, `name "a" must be used for one`},
		{"negative ml", []Stream{measured("a", -1, 1)}, nil, `ml of stream "a" must be a number from 0`},
		{"ml not a number", []Stream{measured("a", math.NaN(), 1)}, nil, `ml of stream "a"`},
		{"infinite ml", []Stream{measured("a", math.Inf(1), 1)}, nil, `ml of stream "a"`},
		{"negative u", []Stream{measured("a", 1, -1)}, nil, `u_ml of stream "a" must be 0 or`},
		{"u not a number", []Stream{measured("a", 1, math.NaN())}, nil, `u_ml of stream "a"`},
		{"u too small", []Stream{measured("a", 1, 9e-10)}, nil, `u_ml of stream "a" must be 0 or`},
		{"u too far apart", []Stream{measured("a", 1, 1e-3), measured("b", 1, 1e6)}, nil, "u_ml must be 0 or at least"},
		{"unknown stream", ab, balance("a", "q"), `balance 1 names "q", which is not listed in streams`},
		{"stream on both sides", ab, balance("a", "b a"), `balance 1 must name "a" only once`},
		{"stream twice on a side", ab, balance("a a", "b"), `balance 1 must name "a" only once`},
		{"nothing in", ab, balance("", "b"), "balance 1 must name at least one stream in and one out"},
		{"nothing out", ab, balance("a", ""), "balance 1 must name at least one stream in and one out"},
	}
	for _, tt := range tests {
		r, err := Solve(Network{tt.streams, tt.balances})
		if !errors.Is(err, errNetwork) || !strings.Contains(err.Error(), tt.says) || r.Streams != nil {
			t.Errorf("%s: %+v, %v; want an error that says %q", tt.name, r, err, tt.says)
		}
	}
}

// Two streams that are nearly as suspect as each other are told apart: of a = b, a = c read to
// 1 ml as 100, 110 and 90.1, b is off by 9.97/√(2/3) and c by 9.93/√(2/3) (by hand: the mean of
// the three is 100.03).
func TestNearlyEqualSuspectsAreToldApart(t *testing.T) {
	r, err := Solve(Network{
		Streams:  []Stream{measured("a", 100, 1), measured("b", 110, 1), measured("c", 90.1, 1)},
		Balances: []Balance{{[]string{"a"}, []string{"b"}}, {[]string{"a"}, []string{"c"}}},
	})
	if err != nil || !slices.Equal(r.Suspects, []string{"b"}) {
		t.Errorf("suspects %v of %+v, %v", r.Suspects, r, err)
	}
}

// The largest network allowed is solved, and 20 streams are timed.
func chain(streams int) Network {
	n := Network{Streams: []Stream{measured("0", 800, 5)}}
	for i := 1; i < streams; i++ {
		n.Streams = append(n.Streams, measured(fmt.Sprint(i), 800+float64(i*7%13), 1+float64(i%5)))
		n.Balances = append(n.Balances, Balance{In: []string{fmt.Sprint(i - 1)}, Out: []string{fmt.Sprint(i)}})
	}
	return n
}

func TestLargestNetwork(t *testing.T) {
	r, err := Solve(chain(maxStreams))
	if err != nil || r.DoF != maxStreams-1 {
		t.Fatalf("%d degrees of freedom, %v", r.DoF, err)
	}
	for _, s := range r.Streams {
		if math.Abs(s.ReconciledML-r.Streams[0].ReconciledML) > 1e-9*800 {
			t.Fatalf("%g beside %g", s.ReconciledML, r.Streams[0].ReconciledML)
		}
	}
}

func BenchmarkSolve(b *testing.B) {
	for _, streams := range []int{20, maxStreams} {
		b.Run(fmt.Sprintf("%d streams", streams), func(b *testing.B) {
			n := chain(streams)
			for b.Loop() {
				if _, err := Solve(n); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}

// The limits of what Solve takes belong to it: volumes of 0 and 1e9 ml, an uncertainty of 1e-9 ml.
func TestSolveTakesItsLimits(t *testing.T) {
	for _, s := range []Stream{measured("a", 0, 1), measured("a", 1e9, 1e9), measured("a", 1, 1e-9)} {
		if r, err := Solve(Network{Streams: []Stream{s}}); err != nil || r.Streams[0].ReconciledML != s.ML || r.Streams[0].UML != s.UML {
			t.Errorf("%+v: %+v, %v", s, r, err)
		}
	}
}
