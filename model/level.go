package model

// This file weighs what a level hole tells against the sums: oil that weeps from
// it, or stands below it.

import (
	"math"

	"garage/tundish/model/measure"
)

// leastLevelUML is how well a weep tells the level where the oil's surface is not
// known, ml: 2 mm on 300 cm² and the tilt of a car that stands level (trade
// judgement, no source).
const leastLevelUML = 30.0

// levelU is how well a look at the level hole tells the level, ml.
func (s *State) levelU() float64 { return math.Max(leastLevelUML, 0.015*s.CapacityML()) }

// levelAtLip is how far off the fill is by a level seen at the lip: not at all,
// as well as a level tells.
func (s *State) levelAtLip() measure.Value { return measure.Gaussian(levelSource, 0, s.levelU()) }

// levelSaid is what was said of the level hole at the end of a round; "" where
// nothing was, or a second look found why it told nothing.
func (s *State) levelSaid(round int) string {
	if s.Path() != LevelPort {
		return ""
	}
	said := s.choice(at(LevelWeeps, round, 0))
	switch s.choice(at(LevelLookedAgain, round, 0)) {
	case "", levelHolds:
		return said
	case levelGone:
		return weepsNot
	}
	return ""
}

// LevelSeen says whether oil wept from the level hole at the end of a round,
// and was not found to be gone on a second look.
func (s *State) LevelSeen(round int) bool { return s.levelSaid(round) == weepsLevel }

// belowHole says whether oil was seen to stand below the level hole.
func (s *State) belowHole(round int) bool { return s.levelSaid(round) == weepsNot }

// weepSurplusML is what goes beyond a need so that the level hole weeps, ml.
func (s *State) weepSurplusML(need measure.Value) float64 {
	if s.Path() != LevelPort {
		return 0
	}
	return surplusML(need)
}
