// Timings of the operations that a redraw repeats.

package measure

import (
	"fmt"
	"testing"
)

// widest returns two values of 30 sources each, half of them shared.
func widest() (v, w Value) {
	for i := range 30 {
		v = v.Add(Gaussian(fmt.Sprintf("source %02d", i), 1, float64(i+1)))
		w = w.Add(Gaussian(fmt.Sprintf("source %02d", i+15), 1, float64(i+1)))
	}
	return v, w
}

func BenchmarkAdd(b *testing.B) {
	v, w := widest()
	b.ReportAllocs()
	for b.Loop() {
		v.Add(w)
	}
}

func BenchmarkAddTypical(b *testing.B) {
	v := Rectangular("reading 1", 830, 5).Mul(Rectangular("jug scale", 1, 0.02))
	w := Rectangular("reading 2", 420, 5).Mul(Rectangular("jug scale", 1, 0.02))
	b.ReportAllocs()
	for b.Loop() {
		v.Add(w)
	}
}

func BenchmarkCovariance(b *testing.B) {
	v, w := widest()
	b.ReportAllocs()
	for b.Loop() {
		Covariance(v, w)
	}
}
