package ask

// This file asks for what belongs to the push, or to a let-out: cautions,
// readings as they come, how it ended, and what was left over. It is asked
// once a round.

import (
	"fmt"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
)

func fillBlocks() []Block {
	return []Block{
		once(beforePushSpecs()...),
		again(haltSpecs()...),
		again(Spec{
			Topic: job.FillReading, When: addRound, Check: checkLeft,
			Ask: "Vessel reads",
			Why: "Push slowly. Each reading says how much is still to leave. None is needed.",
		}),
		once(runSpecs()...),
		again(oilRunning()),
		once(levelReadSpecs()...),
		inStep(job.Fill, once(append(append(afterPushSpecs(), ventSpec(pushRound)), leftOverSpecs(levelRound)...)...)),
	}
}

func beforePushSpecs() []Spec {
	drawn := func(s *Known, p job.Place) bool {
		return s.RoundKind(p.Round) == job.RoundLetsOut && s.Path() != job.OverflowTube
	} // there it runs out
	letOut := amountSpec(job.LetOutAmount, "", drawn)
	letOut.AskOf = askLetOut
	letOut.Why = "Back the plug off a little, clean pan under it; catch and measure it all."
	return []Spec{
		{
			Topic: job.AdapterIn, Safety: true, When: pushRound,
			AskOf: askAdapter, WhyOf: whyAdapter,
		},
		caution(job.BreatherBeforePush, "Breather OPEN: air comes out of it (shut, the seals give way)",
			"Air must leave as oil comes in. Seals give way at very little pressure.").
			when(func(s *Known, p job.Place) bool { return addRound(s, p) && !s.Path().RunsEngine() }),
		{
			Topic: job.PressureSafe, Safety: true,
			When: func(s *Known, p job.Place) bool { // not of a level port that was filled before it was asked
				return underAir(s, p) && (pushRound(s, p) || !s.FillBegun(p.Round) || s.SaidIn(job.PressureSafe, p.Round))
			},
			Stale: func(s *Known, p job.Place, e job.Entry) bool { // it named another pressure, and the push has not begun
				moved := max(s.SeqOf(job.Place{Topic: job.PushPressure}), s.SeqOf(job.Place{Topic: job.VesselRating}))
				return !s.FillBegun(p.Round) && moved > e.Seq
			},
			AskOf: askPressureSafe,
			Why:   "Relief valve, regulator and gauge; eyes covered. Never a thin bottle.",
		},
		{
			Topic: job.FillOilTemperature, Optional: true, Unknown: "not taken", UnknownOf: newOilNotTaken,
			Check: between(newOilColdestC, newOilHottestC),
			When: func(s *Known, p job.Place) bool { // known already where the load was read as a volume
				return pushRound(s, p) && known(job.OilKV40)(s, p) && !s.HasItem(job.LoadedTemperature, p.Round, 0)
			},
			Ask: "The oil in the vessel is at",
			Why: "Tells how long the push takes. Cold, it takes many times as long.",
		},
		withSpec(job.LetOutAmount, drawn),
		letOut,
	}
}

// haltSpecs are for a push that must not go on as it is.
func haltSpecs() []Spec {
	return []Spec{
		choosing(job.FillHalted, haltOptions, "The push stopped short", "").when(addRound).notNeeded(),
		{
			Topic: job.FillMended, Safety: true, Stop: true,
			When: func(s *Known, p job.Place) bool { return s.HasItem(job.FillHalted, p.Round, p.Item) },
			AskOf: func(s *Known, p job.Place) string {
				if s.Choice(p.Of(job.FillHalted)) == job.HaltLeaks {
					return "Valve shut, vented to ZERO; plug back in, NEW washer. The tag stays on"
				}
				return "Valve shut, vented to ZERO. Look at: breather, kinked hose, cold oil"
			},
			Why: "Only once the cause is put right: adapter in by hand again, and push on.",
		},
	}
}

func afterPushSpecs() []Spec {
	atLip := func(s *Known, _ job.Place) bool {
		_, _, below := s.LipRule()
		return s.Path() == job.LevelPort && !below
	}
	overflow := amountSpec(job.OverflowCaught, "Ran over, caught", func(s *Known, p job.Place) bool {
		return (s.Path() == job.LevelPort || s.Path() == job.FillAbove) && addRound(s, p) || s.Path() == job.OverflowTube
	})
	overflow.AskOf = func(s *Known, _ job.Place) string {
		if s.Path() == job.OverflowTube {
			return "Ran out at the tube, caught"
		}
		return "Ran over, caught"
	}
	return []Spec{
		ventSpec(func(s *Known, p job.Place) bool { // not of a level that was looked at before the vent was asked for
			return levelRound(s, p) && underAir(s, p) && (!s.HasIn(job.LevelWeeps, p.Round) || s.SaidIn(job.PressureOff, p.Round))
		}),
		choosing(job.LevelWeeps, weepOptions, "After 10 min, car level, oil at the hole",
			"Slow, thick oil fakes a level: let it settle.").when(atLip),
		levelBelowSpec(),
		withSpec(job.OverflowCaught, overflow.When),
		overflow,
		optional(job.StrokesCounted, between(0, 5000), "Strokes of the pump", "", "not counted").
			when(func(s *Known, p job.Place) bool { return known(job.StrokeVolume)(s, p) && addRound(s, p) }),
		choosing(job.AirInLine, airOptions, "Air before the end",
			"Air early means oil left in the vessel: tube off the floor, vessel leaning.").when(pushRound),
	}
}

// ventSpec asks for the vessel to be vented. It comes before anything that is
// done with hands on vessel, hose or adapter.
func ventSpec(when condition) Spec {
	return caution(job.PressureOff, "Valve SHUT, vessel vented to ZERO, before any joint is touched",
		"Oil under pressure goes for the eyes.").when(when)
}

func levelRound(s *Known, p job.Place) bool { return s.Path().PouredIn() && addRound(s, p) }

// underAir reports whether oil is put in out of a vessel under air pressure.
func underAir(s *Known, p job.Place) bool {
	return addRound(s, p) && s.FillerKind() == job.PressurisedVessel
}

// askPressureSafe names the pressure that is going to be used beside the limit.
// A vessel without a rating is put under none.
func askPressureSafe(s *Known, _ job.Place) string {
	if !s.VesselRated() {
		return "NO air on a vessel without a rating: push with a hand pump"
	}
	text := "Relief valve and gauge on the vessel; never above " + s.Show(s.AllowedKPa(), job.DimKPa)
	if kPa, ok := s.Num(job.Place{Topic: job.PushPressure}); ok {
		text += "; use " + s.Show(kPa, job.DimKPa)
	}
	return text
}

// leftOverSpecs ask for what is left, once the vessel holds no pressure.
func leftOverSpecs(when condition) []Spec {
	left := amountSpec(job.LeftInVessel, "Left in the vessel", when)
	left.Check = checkLeft
	left.Stale = func(s *Known, p job.Place, e job.Entry) bool { return checkLeft(s, p, e.Value) != nil }
	left.Why = "Poured out or read off. 0 only if it is dry."
	with := withSpec(job.LeftInVessel, when)
	with.Default = offerLoadDevice
	bottles := func(s *Known, p job.Place) bool { return when(s, p) && s.BottlesNoted(p.Round) }
	inBottles := amountSpec(job.BottlesLeft, "Left in the bottles", bottles)
	inBottles.Optional, inBottles.Unknown, inBottles.Check = true, "not measured", checkBottlesLeft
	return []Spec{
		with,
		left,
		{
			Topic: job.VesselWeighedAfter, Check: checkVesselAfter, Unknown: "not weighed",
			When: func(s *Known, p job.Place) bool {
				_, ok := s.Num(p.Of(job.VesselWeighedFull))
				return ok && when(s, p)
			},
			AskOf: weighIn("Vessel weighs now"),
		},
		withSpec(job.BottlesLeft, bottles),
		inBottles,
	}
}

func askAdapter(s *Known, p job.Place) string {
	if p.Round > 0 || s.DryStart() {
		return "Pan under; plug out, adapter in BY HAND at once, 3 turns, hose on"
	}
	return "Adapter in BY HAND, 3 turns or more, hose on. Binds: wrong thread"
}

func whyAdapter(_ *Known, p job.Place) string {
	if p.Round > 0 {
		return "Catch the spill: it is measured with the rest at the swap."
	}
	return "Binds after two turns: wrong thread. Never force it: the case is softer."
}

func askLetOut(s *Known, p job.Place) string {
	if v, err := s.Verdict(p.Round - 1); err == nil && v.Error.Nominal > 0 {
		return "Drain off " + s.Units().FormatVolume(v.Error.Nominal) + "; how much came?"
	}
	return "Drain some off; how much came?"
}

// offerLoadDevice offers what measured the load, so that one error cancels.
func offerLoadDevice(s *Known, p job.Place) (job.Value, bool) {
	if d, ok := s.Device(job.LoadedWith, job.Place{Round: p.Round}); ok {
		return job.Value{Choice: d.Token}, true
	}
	return firstDevice(job.LeftWith)(s, p)
}

// checkLeft refuses more than was loaded, what the marks can be off, and what the
// hose gave back.
func checkLeft(s *Known, p job.Place, v job.Value) error {
	loaded, d := s.Loaded(p.Round), s.VesselDevice()
	if with, ok := s.Device(job.LeftWith, p); ok {
		d = with
	}
	off := max(loaded.Nominal*0.1+5, estimate.Coverage*loaded.U()+d.GraduationML/2)
	if s.RoughML(v) > loaded.Nominal+off+s.gaveBackML(p.Round) {
		return fmt.Errorf("more than was poured in (%s): correct that first if it is wrong", s.Show(loaded.Nominal, job.DimML))
	}
	return nil
}

// gaveBackML is the most that a hose which was full before the push gave back to
// the vessel after it.
func (s *Known) gaveBackML(round int) float64 {
	if s.HoseBefore(round) != job.HoseFull || s.HoseAfter(round) != job.HoseRanBack {
		return 0
	}
	hose := s.HoldUp()
	return hose.Nominal + estimate.Coverage*hose.U()
}

// checkBottlesLeft refuses more than can have been in the bottles.
func checkBottlesLeft(s *Known, p job.Place, v job.Value) error {
	if opened, _ := s.Num(p.Of(job.BottlesOpened)); s.RoughML(v) > opened*1.1+5 {
		return fmt.Errorf("more than was in the bottles (%s): correct that first if it is wrong", s.Show(opened, job.DimML))
	}
	return nil
}

// checkVesselAfter refuses more than the vessel weighed before, and what the hose
// gave back.
func checkVesselAfter(s *Known, p job.Place, v job.Value) error {
	if full, ok := s.Answer(p.Of(job.VesselWeighedFull)); ok && s.RoughML(v) > s.RoughML(full.Value)+s.gaveBackML(p.Round) {
		return fmt.Errorf("heavier than before the push (%s)", s.Show(full.Value.Number, job.DimG))
	}
	return nil
}
