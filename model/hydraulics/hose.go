// Package hydraulics computes what a hose keeps and how long oil takes through it: hold-up, and the
// time to push a charge through narrow pieces.
//
// Units inside: bores in mm, lengths in m, volumes in ml, pressures in kPa gauge, temperatures
// in °C, times in minutes. Everything is pure: no I/O, no clock.
package hydraulics

// This file holds the pieces of a hose and what they keep.

import (
	"fmt"
	"math"
)

// Limits of what is taken for a piece of hose, pipe or adapter.
const (
	MinBoreMM  = 0.1
	MaxBoreMM  = 100.0
	MinLengthM = 0.001
	MaxLengthM = 50.0
	MaxPieces  = 50
)

// Piece is a length of hose, pipe or adapter of one bore.
type Piece struct {
	BoreMM  float64 `json:"bore_mm"`
	LengthM float64 `json:"length_m"`
}

// HoldUpML is what the pieces hold when full, in ml:
//
//	Σ π d² L / 4  (1 mm²·m is 1 ml)
//
// No pieces hold nothing. Errors name the piece, the field and what is allowed.
func HoldUpML(pieces []Piece) (float64, error) {
	if err := checkPieces(pieces); err != nil {
		return 0, err
	}
	var volumeML float64
	for _, p := range pieces {
		volumeML += math.Pi / 4 * p.BoreMM * p.BoreMM * p.LengthM
	}
	return volumeML, nil
}

func checkPieces(pieces []Piece) error {
	if len(pieces) > MaxPieces {
		return fmt.Errorf("%d pieces of hose are not allowed: give up to %d", len(pieces), MaxPieces)
	}
	for i, p := range pieces {
		name := "bore"
		if len(pieces) > 1 {
			name = fmt.Sprintf("bore of piece %d", i+1)
		}
		if err := within(name, p.BoreMM, MinBoreMM, MaxBoreMM, "mm"); err != nil {
			return err
		}
		name = "length" + name[len("bore"):]
		if err := within(name, p.LengthM, MinLengthM, MaxLengthM, "m"); err != nil {
			return err
		}
	}
	return nil
}

// within refuses a value outside low to high, and anything that is not a number.
func within(field string, value, low, high float64, unit string) error {
	if math.IsNaN(value) || value < low || value > high {
		return fmt.Errorf("%s %g %s is not allowed: give %g to %g %s", field, value, unit, low, high, unit)
	}
	return nil
}
