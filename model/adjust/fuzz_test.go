// This file checks that no figures whatever break the adjustment, and times it.

package adjust

import (
	"encoding/binary"
	"fmt"
	"math"
	"testing"

	"garage/tundish/model/measure"
)

// figures reads a fuzzer's bytes, zeros where they end.
type figures []byte

func (f *figures) byte() (b byte) {
	if len(*f) > 0 {
		b, *f = (*f)[0], (*f)[1:]
	}
	return b
}

// number is any number at all, or one of a usual size, or a small one.
func (f *figures) number() float64 {
	kind, sized := f.byte(), float64(int8(f.byte()))
	switch kind % 4 {
	case 0:
		var bits [8]byte
		*f = (*f)[copy(bits[:], *f):]
		return math.Float64frombits(binary.LittleEndian.Uint64(bits[:]))
	case 1:
		return sized
	case 2:
		return 13.7 * sized
	}
	return 1e-10 * sized
}

func (f *figures) value() measure.Value {
	nominal, terms := f.number(), int(f.byte()%5)
	return measure.FromTerms(nominal, 0, func(yield func(measure.Source, float64) bool) {
		for range terms {
			if !yield(measure.Source{Name: string('a' + rune(f.byte()%6))}, f.number()) {
				return
			}
		}
	})
}

func usable(v measure.Value) bool { return math.Abs(v.Nominal) < huge && v.U() < huge }

// Whatever the conditions: an error, or results that are numbers, with no
// variance below zero or above what it was, and the same bits twice.
func FuzzSolve(f *testing.F) {
	f.Add([]byte{})
	f.Add([]byte{2, 2, 60, 2, 0, 1, 5, 1, 1, 5, 2, 58, 2, 0, 1, 5, 1, 1, 250, 1, 1, 2, 0, 1, 7, 3, 2, 9})
	f.Add([]byte{3, 1, 9, 1, 0, 1, 5, 1, 8, 1, 0, 1, 5, 1, 9, 2, 0, 1, 5, 1, 3, 1, 2, 100, 1, 0, 2, 50})
	f.Add([]byte{1, 0, 0, 255, 255, 255, 255, 255, 255, 239, 127, 1, 0, 3, 1})
	f.Fuzz(func(t *testing.T, data []byte) {
		in := figures(data)
		var conditions, asked []measure.Value
		slips := []Slip{nil, nil}
		for range in.byte() % 9 {
			conditions = append(conditions, in.value())
			for i := range slips {
				slips[i] = append(slips[i], float64(int8(in.byte())))
			}
		}
		s, err := Solve(conditions)
		again, errAgain := Solve(conditions)
		if err != nil {
			if s != nil || errAgain == nil || err.Error() != errAgain.Error() {
				t.Fatal(s, err, errAgain)
			}
			return
		}
		asked = append(conditions, in.value(), in.value())
		for _, v := range asked {
			if usable(v) {
				checkOf(t, s, again, v)
			}
		}
		checkTests(t, s, slips)
		if sigma := in.number(); math.Abs(sigma) < huge && usable(asked[len(conditions)]) {
			checkPositive(t, s, asked[len(conditions)], sigma)
		}
	})
}

func checkOf(t *testing.T, s, again *Solution, v measure.Value) {
	got, twice := s.Of(v), again.Of(v)
	if !got.Finite() || !(got.U() <= v.U()*(1+1e-6)) {
		t.Errorf("%v ± %v became %v ± %v", v.Nominal, v.U(), got.Nominal, got.U())
	}
	if fmt.Sprintf("%#v", got) != fmt.Sprintf("%#v", twice) {
		t.Errorf("%#v, and %#v", got, twice)
	}
	if z := s.Z(v); !(z >= 0) || math.IsInf(z, 0) {
		t.Errorf("z %v", z)
	}
	if tau := StandingU(got, 2); !(tau >= 0) {
		t.Errorf("standing %v", tau)
	}
}

func checkTests(t *testing.T, s *Solution, slips []Slip) {
	if chi2, dof := s.Chi2(); !(chi2 >= 0) || math.IsInf(chi2, 0) || dof < 0 || dof > len(slips[0]) {
		t.Errorf("χ² %v, %d", chi2, dof)
	}
	for _, slip := range slips {
		if w := s.w(slip); math.IsNaN(w) || math.IsInf(w, 0) {
			t.Errorf("w %v", w)
		}
		if least := s.Least(slip, 2); !(least > 0) {
			t.Errorf("least %v", least)
		}
	}
	if rho := s.rho(slips[0], slips[1]); !(math.Abs(rho) <= 1+1e-6) {
		t.Errorf("rho %v", rho)
	}
	if list := s.Suspects(slips, 2); len(list) > 2 {
		t.Errorf("suspects %v", list)
	}
}

func checkPositive(t *testing.T, s *Solution, value measure.Value, sigma float64) {
	f := s.Of(value)
	condition, ok := Positive(value, f, sigma, measure.Source{Name: "seen"})
	if !ok {
		return
	}
	if !condition.Finite() {
		t.Errorf("%#v ± %v: %#v", f, sigma, condition)
	}
	if now, err := Solve([]measure.Value{condition}); err == nil && !now.Of(value).Finite() {
		t.Errorf("%#v", now.Of(value))
	}
}

// thirtyJobs are 150 conditions on some 900 sources: of each job what came out, what
// was loaded and left, and what escaped, by tools that all share, from a level
// that the jobs before it made.
func thirtyJobs() (conditions, asked []measure.Value) {
	shared := func(name string, x, u float64) measure.Value { return measure.Gaussian(name, x, u) }
	right, usual, jug := shared("right", 900, 900), shared("usual", 72, 31), shared("jug", 1, 0.012)
	level := shared("before", 0, 45)
	for job := range 30 {
		part := 0
		own := func(x, u float64) measure.Value {
			part++
			return measure.Gaussian(measure.Source{Name: "own", Job: fmt.Sprintf("job %d", job), Part: part}, x, u)
		}
		read := func(x float64) measure.Value { // six looks, as of a jug filled as often
			v := measure.Exact(0)
			for range 6 {
				v = v.Add(own(x/6, 1.5).Mul(jug))
			}
			return v
		}
		stays := usual.Add(own(0, 18))
		conditions = append(conditions, right.Add(level).Sub(stays).Sub(read(828)), right.Sub(usual).Sub(own(828, 20)))
		load, left, escaped := own(1010, 1000), own(40, 1000), own(50, 25).Add(shared("rig", 0, 8))
		conditions = append(conditions, load.Sub(read(1010)), left.Sub(read(40)), escaped.Sub(own(52, 3)))
		level = stays.Add(load).Sub(left).Sub(escaped).Sub(right).Sub(own(0, 2)) // and what is lost
		asked = append(asked, level)
	}
	return conditions, asked[10:]
}

func BenchmarkThirtyJobs(b *testing.B) {
	conditions, asked := thirtyJobs()
	for b.Loop() {
		s, err := Solve(conditions)
		if err != nil {
			b.Fatal(err)
		}
		for _, v := range asked {
			s.Of(v)
		}
		b.ReportMetric(float64(len(s.rows)), "conditions")
		b.ReportMetric(float64(len(s.sources)), "sources")
	}
}
