package device

// This file tells the sources of error apart that are a device's, or a reading's of one.

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

// IsMarks reports whether a source is the error of the marks of a container.
func IsMarks(s measure.Source) bool { return s.Kind == MarksSource || s.Kind == WaterSource }
