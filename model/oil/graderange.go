package oil

// This file holds the range of viscosity of a grade at other temperatures than 100 °C, and the
// two oils at its ends, under an assumption about the viscosity index.

import (
	"fmt"
	"math"
)

// AssumedIndex is the range of viscosity index assumed for a grade without a data sheet. Common
// practice, no source: oils that meet 70W or 75W are blended for a high index, 80W and 85W are
// mineral oils with few additives, and a number alone is a plain mineral oil (base stocks of API
// groups I and II have 80 to 120).
func (g Grade) AssumedIndex() (low, high float64) {
	if g.Winter == 70 || g.Winter == 75 {
		return 130, 200
	}
	if g.Winter != 0 {
		return 90, 140
	}
	return 80, 120
}

// Extremes are the thinnest and the thickest oil below 100 °C that a grade allows under the
// assumed index, both with the given density at 15 °C. It fails with errNoUpperLimit where
// the grade is open above.
func (g Grade) Extremes(rho15KgM3 float64) (thin, thick Oil, err error) {
	limits, err := g.kv100()
	if err != nil {
		return Oil{}, Oil{}, err
	}
	if limits.HighCSt == 0 {
		return Oil{}, Oil{}, fmt.Errorf("grade %s: %w; give kv40 and kv100 from the data sheet", g, errNoUpperLimit)
	}
	lowIndex, highIndex := g.AssumedIndex()
	if thin, err = withIndex(rho15KgM3, limits.LowCSt, highIndex); err != nil {
		return Oil{}, Oil{}, err
	}
	if thick, err = withIndex(rho15KgM3, limits.HighCSt, lowIndex); err != nil {
		return Oil{}, Oil{}, err
	}
	return thin, thick, nil
}

// withIndex is the oil with this viscosity at 100 °C and this viscosity index.
func withIndex(rho15KgM3, kv100CSt, index float64) (Oil, error) {
	kv40CSt, err := kv40ForIndex(kv100CSt, index)
	if err != nil {
		return Oil{}, err
	}
	o := Oil{Rho15KgM3: rho15KgM3, KV40CSt: kv40CSt, KV100CSt: kv100CSt}
	return o, o.Validate()
}

// ViscosityRangeAt is the range of viscosity in cSt at tempC of all oils that meet the grade
// and have an index inside AssumedIndex. At 100 °C it is the range of the standard; the
// colder, the wider. Errors as for Extremes and for ViscosityAt.
func (g Grade) ViscosityRangeAt(tempC float64) (lowCSt, highCSt float64, err error) {
	if _, _, err := g.Extremes(DefaultRho15KgM3); err != nil {
		return 0, 0, err
	}
	limits, _ := g.kv100()
	lowIndex, highIndex := g.AssumedIndex()
	lowCSt = math.Inf(1)
	// Above 100 °C the index acts the other way round, so every corner is computed.
	for _, kv100CSt := range [...]float64{limits.LowCSt, limits.HighCSt} {
		for _, index := range [...]float64{lowIndex, highIndex} {
			corner, err := withIndex(DefaultRho15KgM3, kv100CSt, index)
			if err != nil {
				return 0, 0, err
			}
			kvCSt, err := corner.ViscosityAt(tempC)
			if err != nil {
				return 0, 0, err
			}
			lowCSt, highCSt = min(lowCSt, kvCSt), max(highCSt, kvCSt)
		}
	}
	return lowCSt, highCSt, nil
}
