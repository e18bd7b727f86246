package garage

// This file names what a person can get wrong in a job.

import "strings"

// Slip is one thing that goes wrong, all through a job.
type Slip uint8

// The slips.
const (
	MisreadOut     Slip = iota // what came out is read a mark off
	MisreadLoaded              // so is the load
	MisreadLeft                // so is what is left in the vessel
	GrossOut                   // what came out is read 20 to 50 % off
	GrossLoaded                // so is the load
	GrossLeft                  // far more or less is left in the vessel than is said
	WrongFigure                // the figure is of another variant: 10 to 40 % off
	WrongMeaning               // dry taken for refill, and the other way round
	ForgottenCatch             // nothing is said to have escaped
	UnitSlip                   // litres typed as millilitres, ounces as either
	HoseWrong                  // full is said to be empty, and the other way round
	HotReadAsCold              // hot oil is typed as oil at 20 °C
	ToleranceWide              // a tolerance out of all sense, or in another unit
	LevelLies                  // it weeps 20 to 40 % too low or too high: nose up, another hole
	PriorWrong                 // the level is said to have been verified, and was 15 to 40 % off
	DrainShort                 // the plug goes back in too soon
	DrainCold                  // the oil is cold: much of it stays inside
	WaitsSkipped               // every answer comes at once
	WrongBasis                 // of two that contradict each other the wrong one is chosen
	RandomStops                // any answer where the guide stops to ask
	ClicksOn                   // whatever is on offer, or stands first
	HundredOut                 // what came out is read a numbered mark off: 100 ml
	HundredLoaded              // so is the load, and as much too little or too much is in the vessel
	SlipCount
)

var slipNames = [SlipCount]string{
	"misread out", "misread loaded", "misread left", "gross out", "gross loaded", "gross left", "wrong figure", "wrong meaning",
	"forgotten catch", "unit slip", "hose wrong", "hot read as cold", "tolerance wide", "level lies", "prior wrong", "drain short",
	"drain cold", "waits skipped", "wrong basis", "random stops", "clicks on",
	"100 ml out", "100 ml loaded",
}

// String is the slip in words.
func (s Slip) String() string { return slipNames[s] }

// Slips is a set of slips.
type Slips uint32

// Of is the set of some slips.
func Of(slips ...Slip) Slips {
	var set Slips
	for _, s := range slips {
		set |= 1 << s
	}
	return set
}

// Has reports whether a slip is in the set.
func (set Slips) Has(s Slip) bool { return set&(1<<s) != 0 }

// String lists the set.
func (set Slips) String() string {
	var names []string
	for s := range SlipCount {
		if set.Has(s) {
			names = append(names, s.String())
		}
	}
	return strings.Join(names, ", ")
}
