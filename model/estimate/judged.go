package estimate

// This file widens what is said of a fill by how unsure judgement is of itself.

import "garage/tundish/model/measure"

// judgedFactor is how much more a source counts that rests on judgement, and on
// no stated limit: where a standard uncertainty is itself known to 25 %, it has 8
// degrees of freedom, and ± for 95.45 % is 2.37 of it, not 2 (JCGM 100:2008,
// G.4.2 with equation G.3, and table G.2). It goes on what is said in the end, as
// a coverage factor does, and on no reading: what contradicts what is tested
// without it.
const judgedFactor = 2.37 / Coverage

// JudgedNote says so in a sum.
const JudgedNote = "its ± is 2.37 u for 2 u"

// AsSaid is a value with its judged sources counting judgedFactor. Instruments, bottles and
// temperatures have limits that are stated; a contradiction that stands is read; the scatter
// on a card is calculated, and wider the fewer jobs are on it.
func AsSaid(v measure.Value) measure.Value {
	return v.Map(func(source measure.Source, c float64) (measure.Source, float64) {
		if source.Kind == 0 && source.Name != Temperature && source.Name != ContradictionStands && source.Name != CardSays {
			c *= judgedFactor
		}
		return source, c
	})
}
