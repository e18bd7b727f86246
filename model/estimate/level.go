package estimate

// This file weighs what a level hole tells against the sums: oil that weeps from
// it, or stands below it.

import (
	"math"

	"garage/tundish/model/job"
	"garage/tundish/model/measure"
)

// leastLevelUML is how well a weep tells the level where the oil's surface is not
// known, ml: 2 mm on 300 cm² and the tilt of a car that stands level (trade
// judgement, no source).
const leastLevelUML = 30.0

// levelU is how well a look at the level hole tells the level, ml.
func (s *Figures) levelU() float64 { return math.Max(leastLevelUML, 0.015*s.wholeML()) }

// LevelAtLip is how far off the fill is by a level seen at the lip: not at all,
// as well as a level tells.
func (s *Figures) LevelAtLip() measure.Value {
	return measure.Gaussian(measure.Source{Name: LevelSource, Job: s.ID}, 0, s.levelU())
}

// levelSaid is what was said of the level hole at the end of a round; "" where
// nothing was, or a second look found why it told nothing.
func (s *Figures) levelSaid(round int) string {
	if s.Path() != job.LevelPort {
		return ""
	}
	said := s.Choice(job.At(job.LevelWeeps, round, 0))
	switch s.Choice(job.At(job.LevelLookedAgain, round, 0)) {
	case "", job.LevelHolds:
		return said
	case job.LevelGone:
		return job.WeepsNot
	}
	return ""
}

// LevelSeen reports whether oil wept from the level hole at the end of a round,
// and was not found to be gone on a second look.
func (s *Figures) LevelSeen(round int) bool { return s.levelSaid(round) == job.WeepsLevel }

// BelowHole reports whether oil was seen to stand below the level hole.
func (s *Figures) BelowHole(round int) bool { return s.levelSaid(round) == job.WeepsNot }
