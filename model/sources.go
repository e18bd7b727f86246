package model

// This file names the sources of error, by kind, device, reading, round and job.

import "garage/tundish/model/measure"

// The kinds of source whose name is that of a device or of what was weighed.
// The name of a container is its owner's. All others are told by their name
// alone, which is the program's own.
const (
	marksSource         measure.Kind = iota + 1 // a container's own error
	waterSource                                 // the same, checked with water
	readSource                                  // a look at the marks of a container
	scaleSource                                 // a look at the scale
	weighSource                                 // one of two weighings
	fillingSource                               // what is in a bottle is not what its label says
	filmSource                                  // what stays in a bottle that was emptied
	contradictionSource                         // what a reading may be off by, that others contradict
)

// Names of sources.
const (
	aboutOil            = "density of the oil"
	aboutHose           = "hose hold-up"
	staysBehind         = "what stays behind"
	temperature         = "temperature"
	dampPlug            = "damp plug"
	drySwap             = "dry swap"
	bottles             = "the bottles"
	contradictionStands = "contradiction that stands"
)

func isMarks(s measure.Source) bool { return s.Kind == marksSource || s.Kind == waterSource }

const levelSource = "level at the lip"

const belowSource = "level below the hole"

const guessSource = "guess of what escaped"
