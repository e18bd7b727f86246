package estimate

// This file names the sources of error that are no device's.

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
