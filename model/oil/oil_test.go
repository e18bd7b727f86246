package oil

// Checks of what may be said about an oil.

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// unknown is an oil of which nothing is known.
func unknown() Oil { return Oil{Rho15KgM3: DefaultRho15KgM3} }

func TestValidate(t *testing.T) {
	for _, row := range []struct {
		name  string
		oil   Oil
		names string // what the error must mention; "" is accepted
	}{
		{"default", unknown(), ""},
		{"data sheet", Oil{870, 100, 14.5}, ""},
		{"no density", Oil{}, "rho15"},
		{"density in kg/L", Oil{Rho15KgM3: 0.87}, "600 to 1200 kg/m³"},
		{"density of mercury", Oil{Rho15KgM3: 13534}, "rho15"},
		{"density not a number", Oil{Rho15KgM3: math.NaN()}, "rho15"},
		{"density infinite", Oil{Rho15KgM3: math.Inf(1)}, "rho15"},
		{"one viscosity", Oil{870, 100, 0}, "kv100"},
		{"the other viscosity", Oil{870, 0, 14}, "kv40"},
		{"swapped", Oil{870, 14.5, 100}, "thicker when colder"},
		{"negative", Oil{870, -100, -200}, "kv40"},
		{"kv100 not a number", Oil{870, 100, math.NaN()}, "kv100"},
	} {
		err := row.oil.Validate()
		if row.names == "" && err != nil || row.names != "" && (err == nil || !strings.Contains(err.Error(), row.names)) {
			t.Errorf("%s: %v, want mention of %q", row.name, err, row.names)
		}
	}
}

// A limit itself is allowed, a hair beyond it is not.
func TestLimits(t *testing.T) {
	accepts := func(o Oil, tempC float64) bool {
		_, err := o.DensityAt(tempC)
		return err == nil && o.Validate() == nil
	}
	for _, row := range []struct {
		name         string
		allowed, not func() bool
	}{
		{"thin oil", func() bool { return accepts(Oil{Rho15KgM3: 600}, 15) }, func() bool { return accepts(Oil{Rho15KgM3: 599.9}, 15) }},
		{"dense oil", func() bool { return accepts(Oil{Rho15KgM3: 1200}, 15) }, func() bool { return accepts(Oil{Rho15KgM3: 1200.1}, 15) }},
		{"cold", func() bool { return accepts(unknown(), -60) }, func() bool { return accepts(unknown(), -60.1) }},
		{"hot", func() bool { return accepts(unknown(), 250) }, func() bool { return accepts(unknown(), 250.1) }},
		{"thin when hot", func() bool { return accepts(Oil{870, 2, 0.21}, 15) }, func() bool { return accepts(Oil{870, 2, 0.209}, 15) }},
		{"thick when cold", func() bool { return accepts(Oil{870, 2e7, 100}, 15) }, func() bool {
			return accepts(Oil{870, 2.01e7,
				100}, 15)
		}},
	} {
		if !row.allowed() || row.not() {
			t.Errorf("%s: limit allowed %v, beyond it %v", row.name, row.allowed(), row.not())
		}
	}
	if (Oil{870, 100, 0}).KnowsViscosity() || (Oil{870, 0, 14}).KnowsViscosity() || !(Oil{870, 100, 14}).KnowsViscosity() {
		t.Error("one viscosity is not enough, two are")
	}
}

// Whatever comes in, what comes out is finite or an error.
func TestResultsAreFinite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := rapid.Float64()
		o := Oil{number.Draw(t, "rho15"), number.Draw(t, "kv40"), number.Draw(t, "kv100")}
		tempC, amount := number.Draw(t, "temp"), number.Draw(t, "amount")
		check := func(what string, got float64, err error) {
			if math.IsNaN(got) || math.IsInf(got, 0) || err != nil && got != 0 {
				t.Fatalf("%s = %v, %v", what, got, err)
			}
		}
		density, err := o.DensityAt(tempC)
		check("density", density, err)
		volumeML, err := o.VolumeAt20(amount, tempC)
		check("volume", volumeML, err)
		weighedML, _, err := o.WeighedAt20(amount)
		check("weighed", weighedML, err)
		readML, err := o.VolumeFrom20(amount, tempC)
		check("volume from 20 °C", readML, err)
		kv40CSt, err := kv40ForIndex(amount, tempC)
		check("kv40", kv40CSt, err)
		kvCSt, err := o.ViscosityAt(tempC)
		check("viscosity", kvCSt, err)
		index, err := o.ViscosityIndex()
		check("index", index.Value, err)
	})
}

func Example() {
	o := Oil{Rho15KgM3: 870, KV40CSt: 100, KV100CSt: 14.5}
	volumeML, _ := o.VolumeAt20(830, 60)
	kvCSt, _ := o.ViscosityAt(8)
	index, _ := o.ViscosityIndex()
	fmt.Printf("830 ml at 60 °C are %.1f ml at 20 °C\n", volumeML)
	fmt.Printf("%.0f cSt at 8 °C, viscosity index %d\n", kvCSt, index.Rounded())
	// Output:
	// 830 ml at 60 °C are 805.7 ml at 20 °C
	// 589 cSt at 8 °C, viscosity index 150
}

func ExampleGrade_ViscosityRangeAt() {
	g, _ := ParseGrade("GL-5 75W90")
	lowCSt, highCSt, _ := g.ViscosityRangeAt(20)
	fmt.Printf("%s: %.0f to %.0f cSt at 20 °C\n", g, lowCSt, highCSt)
	// Output: 75W-90: 161 to 505 cSt at 20 °C
}
