package hydraulics

// This file holds what an open port lets out.

import "math"

// Port is a threaded port with oil above it.
type Port struct {
	BoreMM float64 // of the thread: its nominal size is near enough
	HeadMM float64 // from the port up to the oil's surface
	WallMM float64 // length of the bore; 0 is defaultWallMM
}

// What is taken of a port where nothing is measured, mm (common practice, no source).
const (
	DefaultHeadMM = 60.0
	defaultWallMM = 20.0
)

// FlowMLPerS is what runs out of the open port, in ml/s: with the loss at the entry of half a
// velocity head, and the friction of a laminar flow through the wall,
//
//	g h = 0.75 v² + 32 ν L v/d²,  Q = v π d²/4
//
// The breather is open. 0 where there is no head. Computed; any handbook has the terms.
func (p Port) FlowMLPerS(kvCSt float64) float64 {
	if !(p.HeadMM > 0 && p.BoreMM > 0) {
		return 0
	}
	wallMM := p.WallMM
	if wallMM == 0 {
		wallMM = defaultWallMM
	}
	friction := 32 * kvCSt * wallMM / 1000 / (p.BoreMM * p.BoreMM) // cSt/mm² is 1/s
	speedMS := (math.Sqrt(friction*friction+3*gravityMS2*p.HeadMM/1000) - friction) / 1.5
	return speedMS * math.Pi / 4 * p.BoreMM * p.BoreMM
}

// FreeOpenS is how long a port that nothing covers is open at a swap, s (common practice, no source).
const FreeOpenS = 2.0
