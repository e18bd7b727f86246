package estimate

// This file names the sources of error, by kind, device, reading, round and job.

import "garage/tundish/model/measure"

// The kinds of source whose name is that of a device or of what was weighed.
// The name of a container is its owner's. All others are told by their name
// alone, which is the program's own.
const (
	MarksSource         measure.Kind = iota + 1 // a container's own error
	WaterSource                                 // the same, checked with water
	ReadSource                                  // a look at the marks of a container
	ScaleSource                                 // a look at the scale
	WeighSource                                 // one of two weighings
	FillingSource                               // what is in a bottle is not what its label says
	FilmSource                                  // what stays in a bottle that was emptied
	ContradictionSource                         // what a reading may be off by, that others contradict
	ScaleErrorSource                            // a scale's own error
)

// Names of sources.
const (
	AboutOil            = "density of the oil"
	AboutHose           = "what the hose holds"
	StaysBehind         = "what stays inside"
	Temperature         = "temperature"
	DampPlug            = "damp plug"
	DrySwap             = "dry swap"
	Bottles             = "the bottles"
	ContradictionStands = "contradiction that stands"
	WillEscape          = "spill at the swap"
	CatchFilm           = "film in the spill pan"
	HoseFilm            = "film in the hose"
	StaysCold           = "film of oil that was cold or had no time"
	HeelKept            = "oil below the vessel's tube"
	JobsBefore          = "the jobs before"
	LossRate            = "loss between jobs"
	LevelSource         = "level at the lip"
	BelowSource         = "level below the hole"
	GuessSource         = "guess of the spill"
	OldOil              = "density of the old oil"
	Strokes             = "strokes of the pump"
	CardSays            = "what others measured"
)

func IsMarks(s measure.Source) bool { return s.Kind == MarksSource || s.Kind == WaterSource }
