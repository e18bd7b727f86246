// Package hydraulics computes the hold-up of a hose, the time to push a charge of oil through narrow
// pieces, the film that clings to a wall, what an open port lets out, and what share of a fill is
// another oil.
//
// Units inside: bores in mm, lengths in m, volumes in ml, pressures in kPa gauge, temperatures
// in °C, times in minutes.
package hydraulics

// This file holds the pieces of a hose and their hold-up.

import (
	"cmp"
	"fmt"
	"math"

	"garage/tundish/model/oil"
)

// Limits of what is accepted as a piece of hose, pipe or adapter.
const (
	minBoreMM  = 0.1
	maxBoreMM  = 100.0
	minLengthM = 0.001
	maxLengthM = 50.0
	maxPieces  = 50
)

// Piece is a length of hose, pipe or adapter of one bore.
type Piece struct {
	BoreMM  float64 `json:"bore_mm"`
	LengthM float64 `json:"length_m"`
}

// HoldUpML is the volume of the pieces in ml:
//
//	Σ π d² L / 4  (1 mm²·m is 1 ml)
//
// Errors name the piece, the field and what is allowed.
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
	if len(pieces) > maxPieces {
		return fmt.Errorf("%d pieces of hose are not allowed: give up to %d", len(pieces), maxPieces)
	}
	for i, p := range pieces {
		of := ""
		if len(pieces) > 1 {
			of = fmt.Sprintf(" of piece %d", i+1)
		}
		if err := cmp.Or(
			oil.CheckWithin("bore"+of, p.BoreMM, minBoreMM, maxBoreMM, "mm"),
			oil.CheckWithin("length"+of, p.LengthM, minLengthM, maxLengthM, "m"),
		); err != nil {
			return err
		}
	}
	return nil
}
