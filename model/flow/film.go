package flow

// This file holds the film of oil that stays on a wall while it drains.

import "math"

// Limits of what is taken for a draining wall.
const (
	MaxWallM       = 5.0
	MaxWallM2      = 20.0
	MinDrainMin    = 0.1
	MaxDrainMin    = 10000.0
	minFilmKVCSt   = 0.2
	maxFilmKVCSt   = 1e6
	minFilmHeightM = 0.001
)

// FilmModelFactor says how far the film of a slowly emptied vessel may be off, either way: for
// slow withdrawal F. C. Morey measured films of a half to three quarters of the theory's
// (National Bureau of Standards, research paper RP1332, 1940).
const FilmModelFactor = 2.0

// FilmMM is the thickness in mm of the film on an upright wall, belowTopM under its upper
// edge, minutes after the oil has left it:
//
//	h = √(ν z / (g t))
//
// so four times the wait halves it. Source: H. Jeffreys, The draining of a vertical plate,
// Proceedings of the Cambridge Philosophical Society 26 (1930).
func FilmMM(kvCSt, belowTopM, minutes float64) (float64, error) {
	if err := within("viscosity", kvCSt, minFilmKVCSt, maxFilmKVCSt, "cSt"); err != nil {
		return 0, err
	}
	if err := within("height", belowTopM, minFilmHeightM, MaxWallM, "m"); err != nil {
		return 0, err
	}
	if err := within("time", minutes, MinDrainMin, MaxDrainMin, "min"); err != nil {
		return 0, err
	}
	return 1000 * math.Sqrt(kvCSt*1e-6*belowTopM/(gravityMS2*minutes*60)), nil
}

// FilmML is the volume in ml of the film on walls of wettedM2 that are heightM high: the mean
// thickness is 2/3 of that at the foot. It counts no pockets, and see FilmModelFactor.
func FilmML(wettedM2, heightM, kvCSt, minutes float64) (float64, error) {
	if err := within("wetted area", wettedM2, 0, MaxWallM2, "m²"); err != nil {
		return 0, err
	}
	footMM, err := FilmMM(kvCSt, heightM, minutes)
	return 2.0 / 3 * footMM * wettedM2 * 1000, err
}
