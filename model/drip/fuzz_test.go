// This file throws arbitrary readings at the fit, and times it.

package drip

import (
	"encoding/binary"
	"fmt"
	"math"
	"testing"
)

// FuzzFit wants an error or a finite, sensible result, never a panic.
func FuzzFit(f *testing.F) {
	pack := func(readings ...Reading) (data []byte) {
		for _, r := range readings {
			data = binary.LittleEndian.AppendUint64(data, math.Float64bits(r.Minutes))
			data = binary.LittleEndian.AppendUint64(data, math.Float64bits(r.ML))
		}
		return data
	}
	f.Add(pack(Reading{5, 500}, Reading{10, 650}, Reading{15, 700}))
	f.Add(pack(Reading{1, 760}, Reading{2, 790}, Reading{5, 810}, Reading{10, 822}, Reading{15, 826}))
	f.Add(pack(Reading{1e-300, 5e-324}, Reading{1e-6, 1e-300}, Reading{1e7, 1e9}))
	f.Add(pack(Reading{0, 3}, Reading{1, 5e-324}, Reading{2, 5e-324}, Reading{3, 5e-324}))
	f.Add(pack(Reading{math.NaN(), math.Inf(-1)}, Reading{1, 830}, Reading{2, 830}, Reading{3, 830}))
	f.Fuzz(func(t *testing.T, data []byte) {
		var readings []Reading
		for ; len(data) >= 16 && len(readings) < 40; data = data[16:] {
			readings = append(readings, Reading{
				math.Float64frombits(binary.LittleEndian.Uint64(data)),
				math.Float64frombits(binary.LittleEndian.Uint64(data[8:])),
			})
		}
		for _, form := range []Form{0, Plain, Offset, Film} {
			r, err := Fit(readings)
			if form != 0 {
				r, err = FitAs(readings, form)
			}
			if err == nil {
				sensible(t, r)
			} else if r != (Result{}) {
				t.Fatalf("%v with %+v", err, r)
			}
		}
	})
}

func sensible(t *testing.T, r Result) {
	t.Helper()
	remaining, u, err := r.RemainingML(r.LastMinutes)
	if err != nil {
		t.Fatal(err)
	}
	wait, err := r.WaitMin(r.LastMinutes, 5)
	if err != nil {
		t.Fatal(err)
	}
	for _, x := range []float64{r.SettlesAtML, r.SettlesAtUML, r.RatePerMin, r.RateUPerMin, r.ResidualSDML, r.curve.offset,
		remaining, u, wait} {
		if math.IsNaN(x) || math.IsInf(x, 0) || x < 0 {
			t.Fatalf("%+v: remaining %g ± %g, wait %g", r, remaining, u, wait)
		}
	}
	if r.SettlesAtUML > maxRelativeU*r.SettlesAtML {
		t.Fatalf("settles at %g ± %g is a wild figure", r.SettlesAtML, r.SettlesAtUML)
	}
}

func BenchmarkFit(b *testing.B) {
	misra := loadMisra(b)
	var many []Reading
	for i := range maxReadings {
		minutes := float64(i+1) / 100
		many = append(many, Reading{minutes, -830 * math.Expm1(-0.05*minutes)})
	}
	for _, readings := range [][]Reading{misra, many} {
		b.Run(fmt.Sprintf("%d readings", len(readings)), func(b *testing.B) {
			for b.Loop() {
				if _, err := Fit(readings); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
