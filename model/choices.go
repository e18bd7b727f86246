package model

import "slices"

// This file holds the typed answers of the topics that are chosen from a list.
// Each list of options stands beside its constants, in the same order.

// Path says through what the unit is filled.
type Path uint8

// The fill paths.
const (
	DrainPortOnly Path = iota
	LevelPort
)

var pathOptions = []Option{
	{"drain_only", "Drain port only: no fill plug, no level hole", "oil is pushed in through the drain; only the sums prove the amount"},
	{"level_port", "There is a fill or level port", "filling ends when oil weeps from the level hole"},
}

// dryUnit is the choice of dryOptions that says that there is nothing to drain.
const dryUnit = "dry"

var dryOptions = []Option{
	{"holds_oil", "Oil, to be drained", ""},
	{dryUnit, "Nothing: new, rebuilt or overhauled, dry inside", "nothing is drained; the whole fill goes in"},
}

// automaticBox is the choice of unitKindOptions that is refused: a quantity that
// is measured in does not set the level of such a gearbox.
const automaticBox = "automatic_gearbox"

// Kinds of unit.
var unitKindOptions = []Option{
	{"final_drive", "Final drive / axle", ""},
	{"transfer_case", "Transfer case / take-off", ""},
	{"gearbox", "Manual gearbox", ""},
	{automaticBox, "Automatic, twin-clutch or belt gearbox", "not filled this way: its level is set with the engine running"},
	{"other", "Something else", ""},
}

// Drivetrain says what can move the car.
type Drivetrain uint8

// The drivetrains.
const (
	Combustion Drivetrain = iota
	Hybrid
	Electric
)

var driveOptions = []Option{
	{"combustion", "Engine only", ""},
	{"hybrid", "Hybrid", "adds the high-voltage cautions"},
	{"electric", "Electric", "adds the high-voltage cautions"},
}

var unitsOptions = []Option{
	{"metric", "ml, L, g, °C, km, N·m, kPa", ""},
	{"us", "US fl oz, qt, oz, °F, mi, lbf·ft, psi", ""},
	{"imperial", "imperial fl oz, qt, oz, °C, mi, lbf·ft, psi", ""},
}

var meansOptions = []Option{
	{"dry", "Dry fill: into an empty unit after an overhaul", "some of it stays behind at an oil change"},
	{"refill", "Refill: what goes in at an ordinary oil change", ""},
	{"level", "Up to the level hole", ""},
	{"unknown", "The figure does not say", "taken as anywhere between dry and refill"},
}

var trustOptions = []Option{
	{"verified", "Measured, or seen at the level hole (± 4 %)", ""},
	{"believed", "Filled by someone who should have known (± 10 %)", ""},
	{"unknown", "Nobody knows (± 24 %)", ""},
}

// FillerKind says what pushes the oil in.
type FillerKind uint8

// The fillers.
const (
	HandPump FillerKind = iota
	PressurisedVessel
	SuctionGun
	RaisedFunnel
)

var fillerOptions = []Option{
	{"hand_pump", "Hand pump on a bottle or can", "strokes can be counted"},
	{"pressurised", "Vessel under air pressure", "adds the pressure cautions"},
	{"suction_gun", "Suction gun / syringe", ""},
	{"funnel", "Raised funnel and hose", ""},
}

var howOptions = []Option{
	{"measured", "With a thermometer", ""},
	{"felt", "Felt or guessed", ""},
}

// howChoices are howOptions with the doubt that each brings.
func howChoices(s *State, _ Place) []Option {
	options := slices.Clone(howOptions)
	for i, uC := range []float64{tempMeasuredUC, tempFeltUC} {
		options[i].Label += " (± " + s.Units().FormatTemperatureDifference(Coverage*uC) + ")"
	}
	return options
}

const howFelt = 1 // index of howOptions

// Choices in the drain step.
const (
	hotWait = "wait"
	hotGo   = "go_on"
)

var hotOptions = []Option{
	{hotWait, "Wait, and take the temperature again", "the safer way"},
	{hotGo, "Go on with long gloves and a wide pan", "oil clings to skin and goes on burning"},
}

// notLooked is the choice of somebody who has not looked.
const notLooked = "not_looked"

// Magnet says what the drain plug's magnet carried.
type Magnet uint8

// The looks of a magnet.
const (
	MagnetClean Magnet = iota
	MagnetPaste
	MagnetChips
	NoMagnet
	MagnetNotLooked
)

var magnetOptions = []Option{
	{"clean", "Clean", ""},
	{"paste", "Grey paste", "ordinary wear"},
	{"chips", "Flakes, slivers or chunks", "damage inside: stop"},
	{"none", "There is no magnet", ""},
	{notLooked, "Not looked at", ""},
}

// Look says what the drained oil looked like.
type Look uint8

// The looks of drained oil.
const (
	LookClean Look = iota
	LookDark
	LookMilky
	LookForeign
	LookNotLooked
)

var lookOptions = []Option{
	{"clean", "Clear, its own colour", ""},
	{"dark", "Dark, or smells burnt", "noted; still a witness"},
	{"milky", "Milky, or water under it", "water: what came out proves nothing"},
	{"foreign", "Wrong colour, thin, red: another unit's oil", "what came out proves nothing"},
	{notLooked, "Not looked at", "water is not ruled out: what came out proves nothing"},
}

// Past says what happened to the oil since the last fill.
type Past uint8

// The pasts of an oil.
const (
	PastUndisturbed Past = iota
	PastLeaked
	PastToppedUp
	PastNotKnown
)

var pastOptions = []Option{
	{"undisturbed", "Nothing lost, nothing added, as far as known", ""},
	{"leaked", "It has been leaking", "what came out proves nothing"},
	{"topped_up", "Topped up, nobody measured how much", "what came out proves nothing"},
	{"unknown", "Not known", "what came out proves nothing"},
}

const (
	chipsStop = "stop"
	chipsMove = "keep_from_rust"
)

var chipsOptions = []Option{
	{chipsStop, "Stop here: the unit must be opened", "plug back in; the unit stays EMPTY, the tag stays on"},
	{chipsMove, "Fill it only to stand or be moved by hand", "not to be driven, whatever the amount"},
}

const (
	moreDone    = "done"
	moreAnother = "another"
	moreAgain   = "again"
	moreLate    = "late"
)

var moreOptions = []Option{{moreDone, "That is all", ""}, {moreAnother, "One more", ""}}

var loadMoreOptions = []Option{{moreDone, "That is all", ""}, {moreAnother, "One more load: it is added", ""}}

var drainedMoreOptions = []Option{
	{moreDone, "That is all of it", ""},
	{moreAnother, "There is more oil to measure", "it is added"},
	{moreAgain, "Measure the same oil another way", "a second witness: jug against scale"},
	{moreLate, "More dripped out much later (hours, overnight)", "an ordinary drain would have left it in"},
}

// What a second look found, where far too little or too much came out.
const (
	lookedTyped      = "typed_wrong"
	lookedMore       = "more"
	lookedSame       = "nothing_more"
	lookedNeighbour  = "neighbour"
	lookedWater      = "water"
	lookedOverfilled = "overfilled"
)

var typedWrong = Option{lookedTyped, "I typed it wrong: ask for the amount again", "the old one stays in the ledger, struck out"}

var belowOptions = []Option{
	typedWrong,
	{lookedMore, "More came out: measure it", ""},
	{lookedSame, "Looked: nothing more, it is the right unit", "oil was lost: look for the leak"},
}

// What is wrong where the pan held more than was measured.
const (
	panWrong = "pan_wrong"
	panMore  = "more"
	panLost  = "lost"
)

var panOptions = []Option{
	{panMore, "Not all of it was measured: measure the rest", "it is added"},
	{panWrong, "The looks at the pan were wrong", "what was measured counts"},
	{panLost, "Some was spilt or thrown away first", "what came out proves nothing"},
}

var aboveOptions = []Option{
	typedWrong,
	{lookedMore, "More came out: measure it", ""},
	{lookedNeighbour, "The neighbour's level is low", "a seal between the two leaks"},
	{lookedWater, "There is water in it", "fill, drive a little, drain again"},
	{lookedOverfilled, "Neither: it was overfilled before", "what came out is not copied"},
	{lookedSame, "None of these: the stated quantity may be wrong", "you choose, and say why"},
}

const (
	boxStop = "stop"
	boxGoOn = "right_unit"
)

var wrongBoxOptions = []Option{
	{boxStop, "Stop: it may be another unit's oil", "do not move the car; put that unit right first, by its own method"},
	{boxGoOn, "It IS the right unit; the capacity figure may be wrong", "what came out proves nothing; you say why"},
}

var basisOptions = []Option{
	{"drained", "Go by what came out", ""},
	{"capacity", "Go by the stated quantity", ""},
}

// Hose says how full the hose is before a push.
type Hose uint8

// The states of a hose before a push.
const (
	HoseDry Hose = iota
	HoseFull
)

var hoseBeforeOptions = []Option{
	{"dry", "Dry: no oil in it", "it keeps its fill"},
	{"primed", "Primed: full of oil, no bubbles", "what goes in comes out"},
}

// HoseEnd says where the oil of the hose is after a push.
type HoseEnd uint8

// The ends of the oil of a hose.
const (
	HoseLeftFull HoseEnd = iota
	HoseRanBack
	HoseRanToPan
	HoseBlownClear
)

var hoseAfterOptions = []Option{
	{"full", "Still in the hose: it is full", ""},
	{"back", "Run back into the vessel", "measured with what is left there"},
	{"pan", "Run into the pan", "measured with what escaped"},
	{"cleared", "Blown clear into the unit with air, or never filled", "expect froth"},
}

const (
	airNone = "none"
	airYes  = "air"
)

var airOptions = []Option{
	{airNone, "No air: solid oil to the end", ""},
	{airYes, "Air spat or bubbled before the end", "the left-over figure decides, not the strokes"},
	{notLooked, "Not looked, or the hose hides it", ""},
}

const (
	weepsLevel = "weeps"
	weepsNot   = "not_yet"
)

var weepOptions = []Option{
	{weepsLevel, "Yes: it slowed to drips at the lip, car level", "the level proves itself"},
	{weepsNot, "No: it stands below the hole", "go on until it weeps"},
}

// What a second look at a level said that contradicts the sums.
const (
	levelHolds = "holds"
	levelGone  = "gone"

	levelTilted    = "tilted" // the causes that void it
	levelWrongHole = "wrong_hole"
	levelFroth     = "froth"
	levelShut      = "breather_shut"
)

var levelAgainOptions = []Option{
	{levelHolds, "It weeps again: car level, right hole, no froth, settled", "still not proven: the sums say otherwise; add or let out, measured"},
	{levelGone, "It no longer weeps: it stands below the hole", "the sums count, with that"},
	{levelTilted, "The car stood nose up or down", "the level told nothing: only the sums count"},
	{levelWrongHole, "It was not the level hole", "the level told nothing: only the sums count"},
	{levelFroth, "It was froth, or had not settled", "the level told nothing: only the sums count"},
	{levelShut, "The breather was shut: air held the oil", "the level told nothing: only the sums count"},
}

// belowAgainOptions are levelAgainOptions where it was said to stand below the
// hole.
var belowAgainOptions = append([]Option{
	{levelHolds, "It stands below again: car level, right hole, settled", "still not proven: the sums say otherwise; add or let out, measured"},
}, levelAgainOptions[2:]...)

// Washer says what seals the plug.
type Washer uint8

// The washers.
const (
	WasherNew Washer = iota
	WasherReused
	WasherNone
)

var washerOptions = []Option{
	{"new", "New washer; the old one is off the case", ""},
	{"reused", "Old washer again", "looked at again after the drive"},
	{"none", "None: taper plug with sealant", ""},
}

const (
	escapeCaught = "caught"
	escapePads   = "pads"
	escapeGuess  = "guess"
	escapeNone   = "none"
	escapeDamp   = "damp"
)

var escapeOptions = []Option{
	{escapeCaught, "Caught in a container", ""},
	{escapePads, "Soaked up: pads weighed before and after", ""},
	{escapeGuess, "Not measured: a guess", "taken as the guess ± 70 % of it"},
	{escapeNone, "Nothing escaped", ""},
}

// What a second look at a dry swap found.
const (
	noneDry       = "dry"
	noneSome      = "some"
	noneNotLooked = "not_looked"
)

var noneOptions = []Option{
	{noneDry, "Looked again: pan, pads and floor are dry", "taken as 0 to a few ml"},
	{noneSome, "Some did escape: measure it", ""},
	{noneNotLooked, "Not looked, or it cannot be told now", "what usually escapes is taken"},
}

// leakedOptions are for a plug that weeps after a drive.
var leakedOptions = []Option{
	escapeOptions[0], escapeOptions[1], escapeOptions[2],
	{escapeDamp, "Only damp: a few drops, no swap spilt any", "taken as next to nothing"},
}

// leakedChoices are leakedOptions with what a damp plug is taken for.
func leakedChoices(s *State, _ Place) []Option {
	options := slices.Clone(leakedOptions)
	options[len(options)-1].Hint = "taken as 0 to " + s.show(dampMostML, DimML)
	return options
}

const (
	tightWrench = "wrench"
	tightFeel   = "feel"
)

var tightenOptions = []Option{
	{tightWrench, "Torque wrench, at the maker's figure", ""},
	{tightFeel, "By feel, without a figure", "looked at again after the drive"},
}

// Decided is what the owner does after a verdict.
type Decided uint8

// The decisions after a verdict.
const (
	Undecided Decided = iota
	DecideAccept
	DecideAdd
	DecideLetOut
	DecideLeave
)

var decisionOptions = []Option{
	{"undecided", "", ""},
	{"accept", "Accept the amount", ""},
	{"add", "Add oil: one more small push", "pre-load, fill and seat once more"},
	{"let_out", "Let oil out, measured", "another round, the other way"},
	{"leave", "Leave it as it is, and say why", "the unit stays UNPROVEN"},
}

const (
	checkDry   = "dry"
	checkWeeps = "weeps"
)

var dryOrWeepOptions = []Option{
	{checkDry, "Dry", ""},
	{checkWeeps, "It weeps or drips", "new washer, cold; what was lost is measured"},
}

var suspectOptions = []Option{{"stands", "I have read it again: it stands", "the doubt is kept in the record"}}
