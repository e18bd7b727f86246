package hydraulics

// Checks of what a hose holds.

import (
	"math"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
	"pgregory.net/rapid"
)

// Geometry, exact: the area of the bore in mm² is the content of a metre in ml.
func TestHoldUp(t *testing.T) {
	for _, row := range []struct {
		pieces []Piece
		wantML float64
	}{
		{nil, 0},
		{[]Piece{{4, 1}}, 12.6}, {[]Piece{{6, 1}}, 28.3}, {[]Piece{{8, 1}}, 50.3},
		{[]Piece{{9, 1}}, 63.6}, {[]Piece{{10, 1}}, 78.5}, {[]Piece{{12, 1}}, 113.1},
		{[]Piece{{8, 1.5}, {6, 0.2}}, 75.4 + 5.65},
	} {
		got, err := HoldUpML(row.pieces)
		if err != nil || math.Abs(got-row.wantML) > 0.06 {
			t.Errorf("%v holds %.3f ml, %v; want %g", row.pieces, got, err, row.wantML)
		}
	}
}

func genPiece() *rapid.Generator[Piece] {
	return rapid.Custom(func(t *rapid.T) Piece {
		return Piece{rapid.Float64Range(3, 20).Draw(t, "bore"), rapid.Float64Range(0.01, 5).Draw(t, "length")}
	})
}

func TestHoldUpIsAdditive(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		a := rapid.SliceOfN(genPiece(), 0, 5).Draw(t, "a")
		b := rapid.SliceOfN(genPiece(), 0, 5).Draw(t, "b")
		va, _ := HoldUpML(a)
		vb, _ := HoldUpML(b)
		both, err := HoldUpML(append(append([]Piece{}, a...), b...))
		if err != nil || !scalar.EqualWithinAbsOrRel(both, va+vb, 1e-9, 1e-12) {
			t.Fatalf("%v and %v together %v, %v", va, vb, both, err)
		}
	})
}

func TestHoldUpRefusals(t *testing.T) {
	for _, row := range []struct {
		pieces []Piece
		names  string
	}{
		{[]Piece{{0, 1}}, "bore 0 mm is not allowed: give 0.1 to 100 mm"},
		{[]Piece{{-8, 1}}, "bore"},
		{[]Piece{{math.NaN(), 1}}, "bore"},
		{[]Piece{{math.Inf(1), 1}}, "bore"},
		{[]Piece{{8, 0}}, "length 0 m"},
		{[]Piece{{8, 150}}, "length 150 m is not allowed: give 0.001 to 50 m"},
		{[]Piece{{8, 1}, {8, math.NaN()}}, "length of piece 2"},
		{make([]Piece, 51), "51 pieces"},
	} {
		if got, err := HoldUpML(row.pieces); err == nil || !strings.Contains(err.Error(), row.names) {
			t.Errorf("%v: %v, %v; want mention of %q", row.pieces, got, err, row.names)
		}
	}
}
