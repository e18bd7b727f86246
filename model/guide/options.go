package guide

// This file holds the options of the topics that are chosen from a list: each
// with its name in files, as it is read, and what it leads to.

import (
	"slices"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
)

var pathOptions = []Option{
	{job.DrainPortOnly.String(), "Drain port only: no fill plug, no level hole",
		"oil is pushed in through the drain; only the sums prove the amount"},
	{job.LevelPort.String(), "There is a fill or level port", "filling ends when oil weeps from the level hole"},
}

var dryOptions = []Option{
	{"holds_oil", "Oil, to be drained", ""},
	{job.DryUnit, "Nothing: new, rebuilt or overhauled, dry inside", "nothing is drained; the whole fill goes in"},
}

// Kinds of unit.
var unitKindOptions = []Option{
	{"final_drive", "Final drive / axle", ""},
	{"transfer_case", "Transfer case / take-off", ""},
	{"gearbox", "Manual gearbox", ""},
	{job.AutomaticBox, "Automatic, twin-clutch or belt gearbox", "not filled this way: its level is set with the engine running"},
	{"other", "Something else", ""},
}

var driveOptions = []Option{
	{job.Combustion.String(), "Engine only", ""},
	{job.Hybrid.String(), "Hybrid", "adds the high-voltage cautions"},
	{job.Electric.String(), "Electric", "adds the high-voltage cautions"},
}

var unitsOptions = []Option{
	{job.UnitsMetric, "ml, L, g, °C, km, N·m, kPa", ""},
	{job.UnitsUS, "US fl oz, qt, oz, °F, mi, lbf·ft, psi", ""},
	{job.UnitsImperial, "imperial fl oz, qt, oz, °C, mi, lbf·ft, psi", ""},
}

var meansOptions = []Option{
	{estimate.MeansDry.String(), "Dry fill: into an empty unit after an overhaul", "some of it stays behind at an oil change"},
	{estimate.MeansRefill.String(), "Refill: what goes in at an ordinary oil change", ""},
	{estimate.MeansLevel.String(), "Up to the level hole", ""},
	{estimate.MeansUnknown.String(), "The figure does not say", "taken as anywhere between dry and refill"},
}

var trustOptions = []Option{
	{estimate.Verified.String(), "Measured, or seen at the level hole (± 4 %)", ""},
	{estimate.Believed.String(), "Filled by someone who should have known (± 10 %)", ""},
	{estimate.TrustNobodyKnows.String(), "Nobody knows (± 24 %)", ""},
}

var fillerOptions = []Option{
	{job.HandPump.String(), "Hand pump on a bottle or can", "strokes can be counted"},
	{job.PressurisedVessel.String(), "Vessel under air pressure", "adds the pressure cautions"},
	{job.SuctionGun.String(), "Suction gun / syringe", ""},
	{job.RaisedFunnel.String(), "Raised funnel and hose", ""},
}

var howOptions = []Option{
	{job.HowMeasured, "With a thermometer", ""},
	{job.HowFelt, "Felt or guessed", ""},
}

// howChoices are howOptions with the doubt that each brings.
func howChoices(s *Guide, _ job.Place) []Option {
	options := slices.Clone(howOptions)
	for i, uC := range []float64{estimate.TempMeasuredUC, estimate.TempFeltUC} {
		options[i].Label += " (± " + s.Units().FormatTemperatureDifference(estimate.Coverage*uC) + ")"
	}
	return options
}

var hotOptions = []Option{
	{job.HotWait, "Wait, and take the temperature again", "the safer way"},
	{job.HotGo, "Go on with long gloves and a wide pan", "oil clings to skin and goes on burning"},
}

var magnetOptions = []Option{
	{job.MagnetClean.String(), "Clean", ""},
	{job.MagnetPaste.String(), "Grey paste", "ordinary wear"},
	{job.MagnetChips.String(), "Flakes, slivers or chunks", "damage inside: stop"},
	{job.NoMagnet.String(), "There is no magnet", ""},
	{job.MagnetNotLooked.String(), "Not looked at", ""},
}

var lookOptions = []Option{
	{job.LookClean.String(), "Clear, its own colour", ""},
	{job.LookDark.String(), "Dark, or smells burnt", "noted; still a witness"},
	{job.LookMilky.String(), "Milky, or water under it", "water: what came out proves nothing"},
	{job.LookForeign.String(), "Wrong colour, thin, red: another unit's oil", "what came out proves nothing"},
	{job.LookNotLooked.String(), "Not looked at", "water is not ruled out: what came out proves nothing"},
}

var pastOptions = []Option{
	{job.PastUndisturbed.String(), "Nothing lost, nothing added, as far as known", ""},
	{job.PastLeaked.String(), "It has been leaking", "what came out proves nothing"},
	{job.PastToppedUp.String(), "Topped up, nobody measured how much", "what came out proves nothing"},
	{job.PastNotKnown.String(), "Not known", "what came out proves nothing"},
}

var chipsOptions = []Option{
	{job.ChipsStop, "Stop here: the unit must be opened", "plug back in; the unit stays EMPTY, the tag stays on"},
	{job.ChipsMove, "Fill it only to stand or be moved by hand", "not to be driven, whatever the amount"},
}

var moreOptions = []Option{{job.MoreDone, "That is all", ""}, {job.MoreAnother, "One more", ""}}

var loadMoreOptions = []Option{{job.MoreDone, "That is all", ""}, {job.MoreAnother, "One more load: it is added", ""}}

var drainedMoreOptions = []Option{
	{job.MoreDone, "That is all of it", ""},
	{job.MoreAnother, "There is more oil to measure", "it is added"},
	{job.MoreAgain, "Measure the same oil another way", "a second witness: jug against scale"},
	{job.MoreLate, "More dripped out much later (hours, overnight)", "an ordinary drain would have left it in"},
}

var typedWrong = Option{job.LookedTyped, "I typed it wrong: ask for the amount again", "the old one stays in the ledger, struck out"}

var belowOptions = []Option{
	typedWrong,
	{job.LookedMore, "More came out: measure it", ""},
	{job.LookedSame, "Looked: nothing more, it is the right unit", "oil was lost: look for the leak"},
}

var panOptions = []Option{
	{job.PanMore, "Not all of it was measured: measure the rest", "it is added"},
	{job.PanWrong, "The looks at the pan were wrong", "what was measured counts"},
	{job.PanLost, "Some was spilt or thrown away first", "what came out proves nothing"},
}

var aboveOptions = []Option{
	typedWrong,
	{job.LookedMore, "More came out: measure it", ""},
	{job.LookedNeighbour, "The neighbour's level is low", "a seal between the two leaks"},
	{job.LookedWater, "There is water in it", "fill, drive a little, drain again"},
	{job.LookedOverfilled, "Neither: it was overfilled before", "what came out is not copied"},
	{job.LookedSame, "None of these: the stated quantity may be wrong", "you choose, and say why"},
}

var wrongBoxOptions = []Option{
	{job.BoxStop, "Stop: it may be another unit's oil", "do not move the car; put that unit right first, by its own method"},
	{job.BoxGoOn, "It IS the right unit; the capacity figure may be wrong", "what came out proves nothing; you say why"},
}

var basisOptions = []Option{
	{estimate.ByDrained.String(), "Go by what came out", ""},
	{estimate.ByCapacity.String(), "Go by the stated quantity", ""},
	{estimate.BothStand.String(), "Let both stand", "as much more doubt as makes the gap ordinary"},
}

var hoseBeforeOptions = []Option{
	{job.HoseDry.String(), "Dry: no oil in it", "it keeps its fill"},
	{job.HoseFull.String(), "Primed: full of oil, no bubbles", "what goes in comes out"},
}

var hoseAfterOptions = []Option{
	{job.HoseLeftFull.String(), "Still in the hose: it is full", ""},
	{job.HoseRanBack.String(), "Run back into the vessel", "measured with what is left there"},
	{job.HoseRanToPan.String(), "Run into the pan", "measured with what escaped"},
	{job.HoseBlownClear.String(), "Blown clear into the unit with air, or never filled", "expect froth"},
}

var airOptions = []Option{
	{job.AirNone, "No air: solid oil to the end", ""},
	{job.AirYes, "Air spat or bubbled before the end", "the left-over figure decides, not the strokes"},
	{job.NotLooked, "Not looked, or the hose hides it", ""},
}

var weepOptions = []Option{
	{job.WeepsLevel, "Yes: it slowed to drips at the lip, car level", "the level proves itself"},
	{job.WeepsNot, "No: it stands below the hole", "go on until it weeps"},
}

var levelAgainOptions = []Option{
	{job.LevelHolds, "It weeps again: car level, right hole, no froth, settled",
		"still not proven: the sums say otherwise; add or let out, measured"},
	{job.LevelGone, "It no longer weeps: it stands below the hole", "the sums count, with that"},
	{job.LevelTilted, "The car stood nose up or down", "the level told nothing: only the sums count"},
	{job.LevelWrongHole, "It was not the level hole", "the level told nothing: only the sums count"},
	{job.LevelFroth, "It was froth, or had not settled", "the level told nothing: only the sums count"},
	{job.LevelShut, "The breather was shut: air held the oil", "the level told nothing: only the sums count"},
}

// belowAgainOptions are levelAgainOptions where it was said to stand below the
// hole.
var belowAgainOptions = append([]Option{
	{job.LevelHolds, "It stands below again: car level, right hole, settled",
		"still not proven: the sums say otherwise; add or let out, measured"},
}, levelAgainOptions[2:]...)

var washerOptions = []Option{
	{job.WasherNew, "New washer; the old one is off the case", ""},
	{job.WasherReused, "Old washer again", "looked at again after the drive"},
	{job.WasherNone, "None: taper plug with sealant", ""},
}

var escapeOptions = []Option{
	{job.EscapeCaught, "Caught in a container", ""},
	{job.EscapePads, "Soaked up: pads weighed before and after", ""},
	{job.EscapeGuess, "Not measured: a guess", "taken as the guess ± 70 % of it"},
	{job.EscapeNone, "Nothing escaped", ""},
}

var noneOptions = []Option{
	{job.NoneDry, "Looked again: pan, pads and floor are dry", "taken as 0 to a few ml"},
	{job.NoneSome, "Some did escape: measure it", ""},
	{job.NoneNotLooked, "Not looked, or it cannot be told now", "what usually escapes is taken"},
}

// leakedOptions are for a plug that weeps after a drive.
var leakedOptions = []Option{
	escapeOptions[0], escapeOptions[1], escapeOptions[2],
	{job.EscapeDamp, "Only damp: a few drops, no swap spilt any", "taken as next to nothing"},
}

// leakedChoices are leakedOptions with what a damp plug is taken for.
func leakedChoices(s *Guide, _ job.Place) []Option {
	options := slices.Clone(leakedOptions)
	options[len(options)-1].Hint = "taken as 0 to " + s.Show(estimate.DampMostML, job.DimML)
	return options
}

var tightenOptions = []Option{
	{job.TightWrench, "Torque wrench, at the maker's figure", ""},
	{job.TightFeel, "By feel, without a figure", "looked at again after the drive"},
}

var decisionOptions = []Option{
	{job.DecideAccept.String(), "Accept the amount", ""},
	{job.DecideAdd.String(), "Add oil: one more small push", "pre-load, fill and seat once more"},
	{job.DecideLetOut.String(), "Let oil out, measured", "another round, the other way"},
	{job.DecideLeave.String(), "Leave it as it is, and say why", "the unit stays UNPROVEN"},
}

func decisionOption(d job.Decided) Option { return decisionOptions[d-job.DecideAccept] }

var dryOrWeepOptions = []Option{
	{job.CheckDry, "Dry", ""},
	{job.CheckWeeps, "It weeps or drips", "new washer, cold; what was lost is measured"},
}

var suspectOptions = []Option{{"stands", "I have read it again: it stands", "the doubt is kept in the record"}}
