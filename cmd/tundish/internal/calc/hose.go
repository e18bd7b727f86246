package calc

// This file computes the hold-up of a hose.

import (
	"errors"
	"fmt"
	"math"

	"github.com/alecthomas/kong"

	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/model/estimate"
	"garage/tundish/model/hydraulics"
	"garage/tundish/model/measure"
)

// hoseFlags are the pieces of a hose, in order: the first bore goes with the
// first length.
type hoseFlags struct {
	Bore   []float64 `type:"mm" sep:"none" required:"" placeholder:"MM" help:"Inner diameter of a piece; once a piece."`
	Length []float64 `type:"m" sep:"none" required:"" placeholder:"M" help:"Length of that piece; once a piece."`
}

func (f hoseFlags) pieces() ([]hydraulics.Piece, error) {
	if len(f.Bore) != len(f.Length) {
		return nil, fmt.Errorf("%d times --bore but %d times --length: each piece needs both", len(f.Bore), len(f.Length))
	}
	var pieces []hydraulics.Piece
	for i := range f.Bore {
		pieces = append(pieces, hydraulics.Piece{BoreMM: f.Bore[i], LengthM: f.Length[i]})
	}
	if len(pieces) == 0 {
		return nil, errors.New("missing flags: --bore=MM --length=M")
	}
	return pieces, nil
}

type hoseCommand struct {
	hoseFlags
	cli.JSONFlag
}

type hoseResult struct {
	HoldupML float64 `json:"holdup_ml"`
}

// holdupShareU is the standard uncertainty of a hold-up, as a share: twice that
// of the bore, whose square it goes by. A bore is as its maker says to a standard
// uncertainty of 2.5 % (common practice, no source).
const holdupShareU = 2 * 0.025

// Run prints the hold-up, piece by piece.
func (c *hoseCommand) Run(o *cli.Streams, k *kong.Context) error {
	pieces, err := c.pieces()
	if err != nil {
		return cli.Usage(k, err)
	}
	holdupML, err := hydraulics.HoldUpML(pieces)
	if err != nil {
		return cli.Usage(k, err)
	}
	s := new(cli.Sheet)
	for i, p := range pieces {
		s.Add(fmt.Sprintf("piece %d", i+1), digits3(math.Pi/4*p.BoreMM*p.BoreMM*p.LengthM)+" ml",
			"π/4 × (%.6g mm)² × %.6g m", p.BoreMM, p.LengthM) // six digits: 0.3 in is not 7.619999999999999 mm
	}
	s.Add("hose holds", mlU(measure.Gaussian("bore", holdupML, holdupShareU*holdupML)), "when full; the bore ± %s",
		percent(estimate.Coverage*holdupShareU/2))
	s.Note("started dry and left full: the hose keeps it. Full before and after, or blown clear: nothing.")
	s.Note("the volume at the temperature of the oil in it; " + coverageNote)
	return o.Show(c.JSONFlag, hoseResult{holdupML}, s)
}
