package verdict

// This file grades the metal on the magnet, and its trend, in five grades by the strictest published limits (US
// Army TM 1-1520-238-23, pp. 6-124 and 6-125); what is done at a car's gearbox is common practice, no source.

import "garage/tundish/model/job"

// Debris is a grade of metal in the oil.
type Debris uint8

// The grades.
const (
	NoDebris Debris = iota // or nobody looked
	Paste                  // grey and smooth: ordinary wear
	Needles                // a few hairs, finer than a mm
	Flakes                 // grains like sand, small flakes, up to ten: fill to move or test only
	Chunks                 // bigger, or more, or with a shape: stop
)

var debrisOf = map[job.Magnet]Debris{job.MagnetPaste: Paste, job.MagnetHairs: Needles, job.MagnetFlakes: Flakes, job.MagnetChips: Chunks}

// How far until the magnet is looked at again, km.
const (
	FlakesAgainKm  = 500.0
	NeedlesAgainKm = 5000.0
)

// Debris is the grade by look and trend: flakes again are chunks, the same grade in half the distance is one worse.
func (s *Assessment) Debris() Debris {
	g := debrisOf[s.MagnetLook()]
	if g < Paste || g == Chunks || s.before == nil || debrisOf[s.before.MagnetLook()] != g {
		return g
	}
	if g == Flakes || s.inHalf() {
		return g + 1
	}
	return g
}

func (s *Assessment) DebrisWorse() bool { return s.Debris() > debrisOf[s.MagnetLook()] }

// inHalf reports whether at most half as far was driven since the job before as before that one, or as its interval.
func (s *Assessment) inHalf() bool {
	driven := s.DrivenKm(s.before.Figures)
	before := s.before.NumOr(job.IntervalKm, 0)
	if s.before.before != nil {
		if km := s.before.DrivenKm(s.before.before.Figures); km > 0 {
			before = km
		}
	}
	return driven > 0 && driven <= before/2
}

func (s *found) debrisFindings() {
	at := job.Place{Topic: job.MagnetLook}
	switch g := s.Debris(); {
	case g == Chunks && s.DebrisWorse():
		s.add(ChipsFound, 0, at, "Grains or flakes for the second time: damage that goes on.",
			"No refill for use: the unit must be opened. The tag stays on.")
	case g == Chunks:
		s.add(ChipsFound, 0, at, "A chunk, or many grains: damage inside. Keep what you found.",
			"No refill for use: find where it came from. The tag stays on.")
	case g == Flakes:
		text := "Grains or small flakes: more than wear. Listen for noise, feel for play."
		if s.DebrisWorse() {
			text = "Hairs again in half the distance: one grade worse. Listen, feel for play."
		}
		s.add(FlakesFound, 0, at, text,
			"Fill to move or test it only: no towing, no long trip. Again in "+s.Show(FlakesAgainKm, job.DimKm)+".")
	case g == Needles:
		text := "A few hairs: ordinary at a first change or after new gears. A photo."
		if s.DebrisWorse() {
			text = "Paste again in half the distance: one grade worse. A photo."
		}
		s.add(NeedlesFound, 0, at, text, "Look again in "+s.Show(NeedlesAgainKm, job.DimKm)+" at the latest.")
	}
}

// oilFindings are what the oil that came out tells beside its amount.
func (s *found) oilFindings() {
	at := job.Place{Topic: job.OilLook}
	switch look := s.OilLook(); {
	case look == job.LookGlitter && s.Automatic():
		s.add(BrassFound, 0, at, "Gold in the oil: thrust washers. A little black round the magnet is normal.",
			"Not clean. To a workshop before it is driven far.")
	case look == job.LookGlitter:
		s.add(BrassFound, 0, at, "Brass in the oil: wear of synchro rings or washers. The magnet shows none.",
			"Not clean. Does it change gear badly? Look again at the next change.")
	case look == job.LookDark && s.Automatic():
		s.add(BurntOil, 0, at, "Dark alone is no fault; a burnt smell or specks are clutches that slip.",
			"Slips too? New oil does not cure it, and can end it: to a workshop.")
	case look == job.LookDark:
		s.add(BurntOil, 0, at, "Dark, burnt: heat, a low level or overload.",
			"Look at the paste on the magnet; find out which of them it was.")
	}
}

func (s *Assessment) WaterIn() bool {
	return s.OilLook() == job.LookMilky || s.LookedCause() == job.LookedWater
}
