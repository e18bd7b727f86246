// Package learn says what several jobs show: oil that is missing between them, and
// whether it is significant; and the mean and scatter of figures.
//
// All volumes are in ml at 20 °C. This file holds the loss, running.go the mean.

package learn

import (
	"fmt"
	"math"
	"slices"

	"garage/tundish/model/measure"
)

// The rule of Sign. The threshold is common practice, no source.
const (
	// practicalML is a loss that is not worth a search even where it is certain.
	practicalML = 20.0
	// proofSigmas is how many standard uncertainties prove a loss: P(loss > 0) is then
	// at least 0.977.
	proofSigmas = 2.0
)

// Sign is the verdict on missing oil.
type Sign uint8

const (
	// NoSign: at most PracticalML, or at most its own standard uncertainty.
	NoSign Sign = iota
	// NotProven: more than that but at most ProofSigmas standard uncertainties.
	NotProven
	// Leak: oil has gone, by more than both limits.
	Leak
	// Gain: more came out than can have been inside, by more than both limits: water,
	// a neighbour's oil, or a top-up.
	Gain
)

// String names the sign in lower case.
func (s Sign) String() string {
	switch s {
	case NoSign:
		return "no sign"
	case NotProven:
		return "not proven"
	case Leak:
		return "leak"
	case Gain:
		return "gain"
	}
	return fmt.Sprintf("sign(%d)", uint8(s))
}

// Missing is oil that went in and is not accounted for.
type Missing struct {
	ML measure.Value // positive where lost
	Km float64       // over that distance; 0 if not known
}

// PerThousandKm returns the loss in ml per 1,000 km, false where the distance is not known.
func (m Missing) PerThousandKm() (measure.Value, bool) {
	if !(m.Km > 0) {
		return measure.Value{}, false
	}
	return m.ML.Scale(1000 / m.Km), true
}

// DetectableML returns the smallest loss that these readings could have proven.
func (m Missing) DetectableML() float64 {
	return math.Max(practicalML, proofSigmas*m.ML.U())
}

// Sign is the verdict by PracticalML and ProofSigmas.
func (m Missing) Sign() Sign {
	size, u := math.Abs(m.ML.Nominal), m.ML.U()
	switch {
	case size <= practicalML || size <= u:
		return NoSign
	case size <= proofSigmas*u:
		return NotProven
	case m.ML.Nominal < 0:
		return Gain
	}
	return Leak
}

// Losses is what went missing over several fillings of a unit.
type Losses struct {
	Each []Missing // as the fillings were given
	// Total adds up those whose distance is known, or all if none is.
	Total Missing
}

// Sign returns the verdict: the last filling's if it proves something, otherwise the
// total's, since a slow leak may only show over several; not proven if either is.
func (l Losses) Sign() Sign {
	if len(l.Each) == 0 {
		return NoSign
	}
	last, total := l.Each[len(l.Each)-1].Sign(), l.Total.Sign()
	if last == Leak || last == Gain {
		return last
	}
	return max(last, total)
}

// Loss returns what went missing in each filling, as given, oldest first, and in all. Readings
// that fillings share are taken into account. The error names the filling and what is not a
// finite number, or a distance below zero.
func Loss(each []Missing) (Losses, error) {
	losses := Losses{Each: each}
	known := slices.ContainsFunc(each, func(m Missing) bool { return m.Km > 0 })
	for i, m := range each {
		if !(m.Km >= 0) || math.IsInf(m.Km, 0) {
			return Losses{}, fmt.Errorf("filling %d: distance must be finite and not below zero, is %g km", i+1, m.Km)
		}
		if !m.ML.Finite() {
			return Losses{}, fmt.Errorf("filling %d: missing: must be a finite number of ml with a finite uncertainty, is %g ± %g",
				i+1, m.ML.Nominal, m.ML.U())
		}
		if m.Km > 0 || !known {
			losses.Total.ML = losses.Total.ML.Add(m.ML)
			losses.Total.Km += m.Km
		}
	}
	return losses, nil
}
