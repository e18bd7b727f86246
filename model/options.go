package model

// This file holds the options of the topics that are chosen from a list: each
// with its name in files, as it is read, and what it leads to.

import "slices"

var pathOptions = []Option{
	{DrainPortOnly.String(), "Drain port only: no fill plug, no level hole", "oil is pushed in through the drain; only the sums prove the amount"},
	{LevelPort.String(), "There is a fill or level port", "filling ends when oil weeps from the level hole"},
}

var dryOptions = []Option{
	{"holds_oil", "Oil, to be drained", ""},
	{dryUnit, "Nothing: new, rebuilt or overhauled, dry inside", "nothing is drained; the whole fill goes in"},
}

// Kinds of unit.
var unitKindOptions = []Option{
	{"final_drive", "Final drive / axle", ""},
	{"transfer_case", "Transfer case / take-off", ""},
	{"gearbox", "Manual gearbox", ""},
	{automaticBox, "Automatic, twin-clutch or belt gearbox", "not filled this way: its level is set with the engine running"},
	{"other", "Something else", ""},
}

var driveOptions = []Option{
	{Combustion.String(), "Engine only", ""},
	{Hybrid.String(), "Hybrid", "adds the high-voltage cautions"},
	{Electric.String(), "Electric", "adds the high-voltage cautions"},
}

var unitsOptions = []Option{
	{unitsMetric, "ml, L, g, °C, km, N·m, kPa", ""},
	{unitsUS, "US fl oz, qt, oz, °F, mi, lbf·ft, psi", ""},
	{unitsImperial, "imperial fl oz, qt, oz, °C, mi, lbf·ft, psi", ""},
}

var meansOptions = []Option{
	{MeansDry.String(), "Dry fill: into an empty unit after an overhaul", "some of it stays behind at an oil change"},
	{MeansRefill.String(), "Refill: what goes in at an ordinary oil change", ""},
	{MeansLevel.String(), "Up to the level hole", ""},
	{MeansUnknown.String(), "The figure does not say", "taken as anywhere between dry and refill"},
}

var trustOptions = []Option{
	{Verified.String(), "Measured, or seen at the level hole (± 4 %)", ""},
	{Believed.String(), "Filled by someone who should have known (± 10 %)", ""},
	{TrustNobodyKnows.String(), "Nobody knows (± 24 %)", ""},
}

var fillerOptions = []Option{
	{HandPump.String(), "Hand pump on a bottle or can", "strokes can be counted"},
	{PressurisedVessel.String(), "Vessel under air pressure", "adds the pressure cautions"},
	{SuctionGun.String(), "Suction gun / syringe", ""},
	{RaisedFunnel.String(), "Raised funnel and hose", ""},
}

var howOptions = []Option{
	{howMeasured, "With a thermometer", ""},
	{howFelt, "Felt or guessed", ""},
}

// howChoices are howOptions with the doubt that each brings.
func howChoices(s *State, _ Place) []Option {
	options := slices.Clone(howOptions)
	for i, uC := range []float64{tempMeasuredUC, tempFeltUC} {
		options[i].Label += " (± " + s.Units().FormatTemperatureDifference(Coverage*uC) + ")"
	}
	return options
}

var hotOptions = []Option{
	{hotWait, "Wait, and take the temperature again", "the safer way"},
	{hotGo, "Go on with long gloves and a wide pan", "oil clings to skin and goes on burning"},
}

var magnetOptions = []Option{
	{MagnetClean.String(), "Clean", ""},
	{MagnetPaste.String(), "Grey paste", "ordinary wear"},
	{MagnetChips.String(), "Flakes, slivers or chunks", "damage inside: stop"},
	{NoMagnet.String(), "There is no magnet", ""},
	{MagnetNotLooked.String(), "Not looked at", ""},
}

var lookOptions = []Option{
	{LookClean.String(), "Clear, its own colour", ""},
	{LookDark.String(), "Dark, or smells burnt", "noted; still a witness"},
	{LookMilky.String(), "Milky, or water under it", "water: what came out proves nothing"},
	{LookForeign.String(), "Wrong colour, thin, red: another unit's oil", "what came out proves nothing"},
	{LookNotLooked.String(), "Not looked at", "water is not ruled out: what came out proves nothing"},
}

var pastOptions = []Option{
	{PastUndisturbed.String(), "Nothing lost, nothing added, as far as known", ""},
	{PastLeaked.String(), "It has been leaking", "what came out proves nothing"},
	{PastToppedUp.String(), "Topped up, nobody measured how much", "what came out proves nothing"},
	{PastNotKnown.String(), "Not known", "what came out proves nothing"},
}

var chipsOptions = []Option{
	{chipsStop, "Stop here: the unit must be opened", "plug back in; the unit stays EMPTY, the tag stays on"},
	{chipsMove, "Fill it only to stand or be moved by hand", "not to be driven, whatever the amount"},
}

var moreOptions = []Option{{moreDone, "That is all", ""}, {moreAnother, "One more", ""}}

var loadMoreOptions = []Option{{moreDone, "That is all", ""}, {moreAnother, "One more load: it is added", ""}}

var drainedMoreOptions = []Option{
	{moreDone, "That is all of it", ""},
	{moreAnother, "There is more oil to measure", "it is added"},
	{moreAgain, "Measure the same oil another way", "a second witness: jug against scale"},
	{moreLate, "More dripped out much later (hours, overnight)", "an ordinary drain would have left it in"},
}

var typedWrong = Option{lookedTyped, "I typed it wrong: ask for the amount again", "the old one stays in the ledger, struck out"}

var belowOptions = []Option{
	typedWrong,
	{lookedMore, "More came out: measure it", ""},
	{lookedSame, "Looked: nothing more, it is the right unit", "oil was lost: look for the leak"},
}

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

var wrongBoxOptions = []Option{
	{boxStop, "Stop: it may be another unit's oil", "do not move the car; put that unit right first, by its own method"},
	{boxGoOn, "It IS the right unit; the capacity figure may be wrong", "what came out proves nothing; you say why"},
}

var basisOptions = []Option{
	{ByDrained.String(), "Go by what came out", ""},
	{ByCapacity.String(), "Go by the stated quantity", ""},
}

var hoseBeforeOptions = []Option{
	{HoseDry.String(), "Dry: no oil in it", "it keeps its fill"},
	{HoseFull.String(), "Primed: full of oil, no bubbles", "what goes in comes out"},
}

var hoseAfterOptions = []Option{
	{HoseLeftFull.String(), "Still in the hose: it is full", ""},
	{HoseRanBack.String(), "Run back into the vessel", "measured with what is left there"},
	{HoseRanToPan.String(), "Run into the pan", "measured with what escaped"},
	{HoseBlownClear.String(), "Blown clear into the unit with air, or never filled", "expect froth"},
}

var airOptions = []Option{
	{airNone, "No air: solid oil to the end", ""},
	{airYes, "Air spat or bubbled before the end", "the left-over figure decides, not the strokes"},
	{notLooked, "Not looked, or the hose hides it", ""},
}

var weepOptions = []Option{
	{weepsLevel, "Yes: it slowed to drips at the lip, car level", "the level proves itself"},
	{weepsNot, "No: it stands below the hole", "go on until it weeps"},
}

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

var washerOptions = []Option{
	{WasherNew.String(), "New washer; the old one is off the case", ""},
	{WasherReused.String(), "Old washer again", "looked at again after the drive"},
	{WasherNone.String(), "None: taper plug with sealant", ""},
}

var escapeOptions = []Option{
	{escapeCaught, "Caught in a container", ""},
	{escapePads, "Soaked up: pads weighed before and after", ""},
	{escapeGuess, "Not measured: a guess", "taken as the guess ± 70 % of it"},
	{escapeNone, "Nothing escaped", ""},
}

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

var tightenOptions = []Option{
	{tightWrench, "Torque wrench, at the maker's figure", ""},
	{tightFeel, "By feel, without a figure", "looked at again after the drive"},
}

var decisionOptions = []Option{
	{DecideAccept.String(), "Accept the amount", ""},
	{DecideAdd.String(), "Add oil: one more small push", "pre-load, fill and seat once more"},
	{DecideLetOut.String(), "Let oil out, measured", "another round, the other way"},
	{DecideLeave.String(), "Leave it as it is, and say why", "the unit stays UNPROVEN"},
}

func decisionOption(d Decided) Option { return decisionOptions[d-DecideAccept] }

var dryOrWeepOptions = []Option{
	{checkDry, "Dry", ""},
	{checkWeeps, "It weeps or drips", "new washer, cold; what was lost is measured"},
}

var suspectOptions = []Option{{"stands", "I have read it again: it stands", "the doubt is kept in the record"}}
