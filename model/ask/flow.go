package ask

// This file puts the steps in order. It is the only place that knows the order; both
// fill paths and every correction round run through it.

import (
	"slices"

	"garage/tundish/model/job"
)

// Cadence says how often a section of the job is gone through.
type Cadence uint8

const (
	OnceAJob    Cadence = iota
	EveryRound          // once for each round of filling
	InLastRound         // for the last round only, so again after a correction
)

// Section is a run of blocks of one cadence.
type Section struct {
	Cadence Cadence
	Blocks  []Block
}

// Flow is the whole job in order. It never changes.
var Flow = []Section{
	{OnceAJob, slices.Concat(prepareBlocks(), isolateBlocks(), drainBlocks(), measureBlocks())},
	{EveryRound, slices.Concat(preloadBlocks(), fillBlocks(), capBlocks(), seatBlocks(), decisionBlocks())},
	{InLastRound, tagBlocks()},
	{OnceAJob, wasteBlocks()},
	{EveryRound, recheckBlocks()},
}

// specs finds a topic's spec. It never changes.
var specs = indexSpecs()

func indexSpecs() [job.NumTopics]*Spec {
	var index [job.NumTopics]*Spec
	for _, sec := range Flow {
		for _, b := range sec.Blocks {
			for i := range b.Specs {
				index[b.Specs[i].Topic] = &b.Specs[i]
				if ends := b.Specs[i].Ends; ends != job.NoTopic {
					index[ends] = &once(Spec{Topic: ends, Ask: endedAsks[ends]}).Specs[0]
				}
			}
		}
	}
	for _, extra := range unaskedSpecs() {
		index[extra.Topic] = &extra
	}
	return index
}

// endedAsks are what an empty line says that ends a run of readings.
var endedAsks = map[job.Topic]string{job.DripsEnded: "No more drip readings", job.FillEnded: "No more readings while it fills",
	job.RunEnded: "Level looked at"}

// SpecOf is a topic's spec; nil for Undo and NoTopic.
func SpecOf(t job.Topic) *Spec {
	if t >= job.NumTopics {
		return nil
	}
	return specs[t]
}

// OfGarage reports whether a fact belongs to the garage rather than to a unit: the
// units shown, what measures, what fills.
func OfGarage(t job.Topic) bool {
	return t == job.DisplayUnits || SpecOf(t).Garage
}
