package ask

// This file holds the options of the topics that are chosen from a list: each
// with its name in files, as it is read, and what it leads to.

import (
	"slices"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
)

var pathOptions = []Option{
	{job.DrainPortOnly.String(), "drain port only", "oil is pushed in through the drain; only measurement proves the amount"},
	{job.LevelPort.String(), "fill or level port", "filling ends when oil weeps from the level hole"},
	{job.FillAbove.String(), "fill plug above the level: a quantity", "no level there: only measurement proves the amount"},
	{job.OverflowTube.String(), "overflow tube, engine running", "needs the maker's oil temperature, and a second person"},
	{job.Dipstick.String(), "dipstick, engine running", "needs the maker's oil temperature, and a second person"},
}

var selectorOptions = []Option{{job.SelectorPark, "P", ""}, {job.SelectorNeutral, "N", ""}}

var lipOptions = []Option{
	{job.LipLifted, "level, lifted or on a pit", ""},
	{job.LipWheels, "level, on its wheels", "a lifted axle hangs, and shows another level"},
}

var tubeOptions = []Option{
	{job.TubeDrops.String(), "drops, or a thread that turned to drops", "right: drops go on as long as the oil warms"},
	{job.TubeNothing.String(), "nothing but the tube's own", "too low: add"},
	{job.TubeWaves.String(), "small waves, dry between", "cooling pulses, no level: too low"},
	{job.TubeThread.String(), "a thread that goes on", "wait until it turns to drops"},
	{job.TubeFlow.String(), "a heavy flow", "too full: let it run to drops, catch it"},
	{job.TubeEngineOff.String(), "it ran with the engine OFF", "no level: the converter's oil stands in the pan"},
}

var dryOptions = []Option{
	{"holds_oil", "Oil, to be drained", ""},
	{job.DryUnit, "Nothing: new, rebuilt or overhauled, dry inside", "nothing is drained; the whole fill goes in"},
}

// Kinds of unit.
var unitKindOptions = []Option{
	{"final_drive", "axle drive", ""},
	{"transfer_case", "transfer case or angle drive", ""},
	{"gearbox", "gearbox, manual", ""},
	{job.AutomaticBox, "gearbox, automatic", ""},
	{job.TwinClutchBox, "gearbox, twin-clutch", ""},
	{job.BeltBox, "gearbox, belt", ""},
	{"other", "other", ""},
}

var driveOptions = []Option{
	{job.Combustion.String(), "engine", ""},
	{job.Hybrid.String(), "hybrid", "adds the high-voltage cautions"},
	{job.Electric.String(), "electric", "adds the high-voltage cautions"},
}

var unitsOptions = []Option{
	{job.UnitsMetric, "ml, L, g, °C, km, N·m, bar", ""},
	{job.UnitsUS, "US fl oz, qt, oz, °F, mi, lbf·ft, psi", ""},
	{job.UnitsImperial, "imperial fl oz, qt, oz, °C, mi, lbf·ft, psi", ""},
}

var meansOptions = []Option{
	{estimate.MeansRefill.String(), "ordinary oil change", ""},
	{estimate.MeansDry.String(), "dry fill after overhaul", "some of it stays inside at an oil change"},
	{estimate.MeansLevel.String(), "up to the level hole", ""},
	{estimate.MeansUnknown.String(), "it does not say", "taken as anywhere between the first two"},
}

var trustOptions = []Option{
	{estimate.Verified.String(), "measured, or seen at the level hole", ""},
	{estimate.Believed.String(), "filled by someone able", ""},
	{estimate.TrustNobodyKnows.String(), "nobody knows", ""},
}

var fillerOptions = []Option{
	{job.HandPump.String(), "hand pump", "strokes can be counted"},
	{job.PressurisedVessel.String(), "vessel under air", "adds the pressure cautions"},
	{job.SuctionGun.String(), "gun", ""},
	{job.RaisedFunnel.String(), "funnel", ""},
}

var howOptions = []Option{
	{job.HowMeasured, "thermometer", ""},
	{job.HowFelt, "felt", ""},
}

// howChoices are howOptions with the doubt that each brings.
func howChoices(s *Known, _ job.Place) []Option {
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
	{job.MagnetClean.String(), "clean", ""},
	{job.MagnetPaste.String(), "grey paste", "smooth, even some mm: ordinary wear"},
	{job.MagnetHairs.String(), "a few hairs", "under 1 mm: ordinary at a first change"},
	{job.MagnetFlakes.String(), "grains, small flakes", "like sand, up to ten: to move or test only, again in 500 km"},
	{job.MagnetChips.String(), "chunk, sliver", "more than ten, or a piece with a shape: stop, keep it"},
	{job.NoMagnet.String(), "no magnet", ""},
	{job.MagnetNotLooked.String(), "not looked", ""},
}

var lookOptions = []Option{
	{job.LookClean.String(), "clear", "its own colour"},
	{job.LookDark.String(), "dark, burnt", "noted; its amount still tells"},
	{job.LookMilky.String(), "milky, water", "what came out proves nothing"},
	{job.LookForeign.String(), "thin, other colour: another unit's?", "what came out proves nothing"},
	{job.LookGlitter.String(), "brass or gold glitter", "no magnet holds it; its amount still tells"},
	{job.LookNotLooked.String(), "not looked", "water is not ruled out: what came out proves nothing"},
}

var pastOptions = []Option{
	{job.PastUndisturbed.String(), "nothing lost or added", ""},
	{job.PastLeaked.String(), "leaked", "what came out proves nothing"},
	{job.PastToppedUp.String(), "topped up", "what came out proves nothing"},
	{job.PastNotKnown.String(), "not known", "what came out proves nothing"},
}

var chipsOptions = []Option{
	{job.ChipsStop, "stop here: the unit must be opened", "plug back in; the unit stays EMPTY, the tag stays on"},
	{job.ChipsMove, "fill it only to stand or be moved by hand", "not to be driven, whatever the amount"},
}

var moreOptions = []Option{{job.MoreDone, "that is all", ""}, {job.MoreAnother, "one more", ""}}

var loadMoreOptions = []Option{{job.MoreDone, "that is all", ""}, {job.MoreAnother, "poured in once more: it is added", ""}}

var drainedMoreOptions = []Option{
	{job.MoreDone, "that is all of it", ""},
	{job.MoreAnother, "there is more oil to measure", "it is added"},
	{job.MoreAgain, "measure the same oil again", "a second reading: another jug, the scale"},
	{job.MoreLate, "more dripped out hours later", "an ordinary drain would have left it in"},
}

var typedWrongOption = Option{job.LookedTyped, "I read or typed it wrong: type it anew", "the old one stays in the record, struck out"}

var belowOptions = []Option{
	{job.LookedMore, "more came out: type how much MORE", ""},
	{job.LookedSame, "waited 10 min, car level, right unit: no more came", "oil was lost: look for the leak"},
}

var panOptions = []Option{
	{job.PanMore, "not all of it was measured: measure the rest", "it is added"},
	{job.PanWrong, "the looks at the pan were wrong", "what was measured counts"},
	{job.PanLost, "some was spilt or thrown away first", "what came out proves nothing"},
}

var aboveOptions = []Option{
	typedWrongOption,
	{job.LookedMore, "more came out: type how much MORE", ""},
	{job.LookedNeighbour, "the level of the unit beside it is low", "a seal between the two leaks"},
	{job.LookedWater, "there is water in it", "fill, drive a little, drain again"},
	{job.LookedOverfilled, "it was overfilled before", "what came out is not copied"},
	{job.LookedSame, "none of these: the manual's figure may be wrong", "you choose, and say why"},
}

var wrongBoxOptions = []Option{
	{job.BoxStop, "it may be the wrong unit: stop, put that one right first", "do not move the car; go by that unit's own method"},
	{job.BoxGoOn, "it IS the right unit; the manual's figure may be wrong", "what came out proves nothing; you say why"},
}

var basisOptions = []Option{
	{estimate.ByDrained.String(), "go by what came out", ""},
	{estimate.ByCapacity.String(), "go by the manual's fill quantity", ""},
	{estimate.BothStand.String(), "let both stand", "give or take grows until the gap is ordinary"},
}

var hoseBeforeOptions = []Option{
	{job.HoseDry.String(), "dry", "it keeps its fill"},
	{job.HoseFull.String(), "primed, full of oil", "what goes in comes out"},
}

var hoseAfterOptions = []Option{
	{job.HoseLeftFull.String(), "still in it", ""},
	{job.HoseRanBack.String(), "run back into the vessel", "measured with what is left there"},
	{job.HoseRanToPan.String(), "run out into the spill pan", "measured with the spill"},
	{job.HoseBlownClear.String(), "blown empty into the unit", "expect froth"},
}

var haltOptions = []Option{
	{job.HaltLeaks, "it leaks at the adapter: STOP", ""},
	{job.HaltBlocked, "nothing moves, or the breather is silent: STOP", ""},
}

var airOptions = []Option{
	{job.AirNone, "no air: solid oil to the end", ""},
	{job.AirYes, "air came first", "the left-over figure decides, not the strokes"},
	{job.NotLooked, "not looked", ""},
}

var weepOptions = []Option{
	{job.WeepsLevel, "just weeps", "slow drips at the lip, car level"},
	{job.WeepsNot, "below it", "go on until it weeps"},
}

var levelAgainOptions = []Option{
	{job.LevelHolds, "It weeps again: car level, right hole, no froth, settled",
		"still not proven: the readings say otherwise; top up or drain off"},
	{job.LevelGone, "It no longer weeps: it stands below the hole", "the readings count, with that"},
	{job.LevelTilted, "The car stood nose up or down", "the level told nothing: only the readings count"},
	{job.LevelWrongHole, "It was not the level hole", "the level told nothing: only the readings count"},
	{job.LevelFroth, "It was froth, or had not settled", "the level told nothing: only the readings count"},
	{job.LevelShut, "The breather was shut: air held the oil", "the level told nothing: only the readings count"},
}

// runAgainOptions are for a level that is read with the engine running.
var runAgainOptions = []Option{
	{job.LevelHolds, "Done again, level, tube tight, in the range: the same", "still not proven: the amounts say otherwise"},
	{job.LevelTilted, "The car stood nose up or down", "the level told nothing: set it again"},
	{job.LevelTube, "The tube was loose or missing", "the level told nothing: set it again"},
	{job.LevelSelector, "The selector had not been moved through", "the level told nothing: set it again"},
	{job.LevelTooWarm, "The temperature was not the oil's", "the level told nothing: set it again"},
}

// belowAgainOptions are levelAgainOptions where it was said to stand below the
// hole.
var belowAgainOptions = append([]Option{
	{job.LevelHolds, "It stands below again: car level, right hole, settled",
		"still not proven: the readings say otherwise; top up or drain off"},
}, levelAgainOptions[2:]...)

var washerOptions = []Option{
	{job.WasherNew, "NEW washer, old one off the case", ""},
	{job.WasherReused, "old washer again", "looked at again after the drive"},
	{job.WasherNone, "none: taper, sealant", ""},
}

var escapeOptions = []Option{
	{job.EscapeCaught, "caught, in a pan", ""},
	{job.EscapePads, "soaked up: pads weighed before and after", ""},
	{job.EscapeGuess, "a guess", "taken as the guess ± 70 % of it"},
	{job.EscapeNone, "nothing spilled", ""},
}

var spillLookedOptions = []Option{{job.SpillStands, "read again: it stands; breather shut, or a quick thumb", ""}}

var hoseLookedOptions = []Option{
	{job.HoseStill, "looked: the oil is still in it", "it is booked as full"},
	{job.HoseRan, "it ran out into the spill pan", "it is with the spill"},
}

var torqueLookedOptions = []Option{{job.TorqueStands, "looked up again: unit, thread and page are right", ""}}

var noneOptions = []Option{
	{job.NoneDry, "looked again: pan, pads and floor are dry", "taken as 0 to a few ml"},
	{job.NoneSome, "some did spill: measure it", ""},
	{job.NoneNotLooked, "not looked, or it cannot be told now", "what usually spills is taken"},
}

// leakedOptions are for a plug that weeps after a drive.
var leakedOptions = []Option{
	escapeOptions[0], escapeOptions[1], escapeOptions[2],
	{job.EscapeDamp, "only damp: a few drops, nothing spilled", "taken as next to nothing"},
}

// leakedChoices are leakedOptions with what a damp plug is taken for.
func leakedChoices(s *Known, _ job.Place) []Option {
	options := slices.Clone(leakedOptions)
	options[len(options)-1].Hint = "taken as 0 to " + s.Show(estimate.DampMostML, job.DimML)
	return options
}

var tightenOptions = []Option{
	{job.TightWrench, "torque wrench", ""},
	{job.TightFeel, "by feel", "looked at again after the drive"},
}

var decisionOptions = []Option{
	{job.DecideAccept.String(), "accept", ""},
	{job.DecideAdd.String(), "top up: one more small push", "pre-load, fill and seat once more"},
	{job.DecideLetOut.String(), "drain some off, measured", "another round, the other way"},
	{job.DecideLeave.String(), "leave it, with the reason", "the unit stays NOT PROVEN"},
}

func decisionOption(d job.OwnerDecision) Option { return decisionOptions[d-job.DecideAccept] }

var dryOrWeepOptions = []Option{
	{job.CheckDry, "dry", ""},
	{job.CheckWeeps, "weeps", "new washer, cold; what was lost is measured"},
}

var suspectOptions = []Option{{"stands", "I have read it again: it stands", "kept in the record, and in the give or take"}}
