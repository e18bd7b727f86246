package model

// This file asks for what belongs to the push, or to a let-out: cautions,
// readings as they come, how it ended, and what was left over. It is asked
// once a round.

import "fmt"

func fillBlocks() []block {
	return []block{
		once(beforePushSpecs()...),
		again(Spec{
			Topic: FillReading, When: addRound, Check: checkLeft,
			Ask: "Left in the vessel as you push; Enter alone at the end",
			Why: "Push slowly. Each reading says how much is still to leave it.",
		}),
		inStep(Fill, once(ventSpec(levelUnderAir))),
		inStep(Fill, once(append(append(levelSpecs(), strokesSpec(), airSpec()), leftOverSpecs(levelRound)...)...)),
	}
}

func beforePushSpecs() []Spec {
	letOut := amountSpec(LetOutAmount, LetOutWith, "", letOutRound)
	letOut.AskOf, letOut.WhyOf = askLetOut, nil
	letOut.Why = "Back the plug off a little, clean pan under it; catch and measure it all."
	return []Spec{
		{
			Topic: AdapterIn, Safety: true, When: pushRound,
			AskOf: askAdapter, WhyOf: whyAdapter,
		},
		{
			Topic: BreatherBeforePush, Safety: true, When: addRound,
			Ask: "Breather open: listen for air coming out of it",
			Why: "Air must leave as oil comes in. Seals give way at very little pressure.",
		},
		{
			Topic: PressureSafe, Safety: true,
			When: func(s *State, p Place) bool { // not of a level port that was filled before it was asked
				return underAir(s, p) && (pushRound(s, p) || !s.fillBegun(p.Round) || s.saidIn(PressureSafe, p.Round))
			},
			Stale: pressureMoved, AskOf: askPressureSafe,
			Why: "Relief valve, regulator and gauge; eyes covered. Never a thin bottle.",
		},
		{
			Topic: FillOilTemperature, Unknown: newOilNotTaken, Check: between(newOilColdestC, newOilHottestC),
			When: func(s *State, p Place) bool { // known already where the load was read as a volume
				return pushRound(s, p) && known(OilKV40)(s, p) && !s.hasItem(LoadedTemperature, p.Round, 0)
			},
			Ask: "Temperature of the oil in the vessel",
			Why: "Tells how long the push takes. Cold, it takes many times as long.",
		},
		withSpec(LetOutWith, LetOutAmount, "What catches and measures the oil let out?", letOutRound),
		letOut,
	}
}

func levelSpecs() []Spec {
	level := func(s *State, _ Place) bool { return s.Path() == LevelPort }
	overflow := amountSpec(OverflowCaught, OverflowCaughtWith, "How much ran over and was caught? 0 if none.", levelRound)
	return []Spec{
		{
			Topic: LevelWeeps, Options: weepOptions, When: level,
			Ask: "Does oil just weep from the level hole?",
			Why: "Let it settle 10 minutes: slow, thick oil fakes a level.",
		},
		withSpec(OverflowCaughtWith, OverflowCaught, "What measures the oil that ran over?", overflow.When),
		overflow,
	}
}

func strokesSpec() Spec {
	return Spec{
		Topic: StrokesCounted, Default: offerUnknown, Check: between(0, 5000),
		When:    func(s *State, p Place) bool { return known(StrokeVolume)(s, p) && addRound(s, p) },
		Ask:     "Strokes of the pump, if you counted",
		Unknown: "not counted",
	}
}

func airSpec() Spec {
	return Spec{
		Topic: AirInLine, Options: airOptions, When: pushRound,
		Ask: "Air in the line before the end?",
		Why: "Air early means oil left behind: tube off the floor, vessel leaning.",
	}
}

func hoseAfterSpec() Spec {
	return Spec{
		Topic: HoseAfter, Options: hoseAfterOptions, When: pushRound,
		Ask: "The oil of the hose: where is it now?",
		Why: "Each ml counts once: still in the hose, or with the oil that it ran to.",
	}
}

// ventSpec asks for the vessel to be vented. It comes before anything that is
// done with hands on vessel, hose or adapter.
func ventSpec(when condition) Spec {
	return Spec{
		Topic: PressureOff, Safety: true, When: when,
		Ask: "Valve shut, vessel vented to zero BEFORE any joint is touched",
		Why: "Oil under pressure goes for the eyes.",
	}
}

func levelRound(s *State, p Place) bool { return s.Path() == LevelPort && addRound(s, p) }

// underAir says whether oil is put in out of a vessel under air pressure.
func underAir(s *State, p Place) bool { return addRound(s, p) && s.FillerKind() == PressurisedVessel }

// levelUnderAir is the same of a level port; not of a level that was looked at
// before the vent was asked for.
func levelUnderAir(s *State, p Place) bool {
	return levelRound(s, p) && underAir(s, p) && (!s.hasIn(LevelWeeps, p.Round) || s.saidIn(PressureOff, p.Round))
}

// pressureMoved asks again for a caution that named another pressure, unless the
// push has begun.
func pressureMoved(s *State, p Place, e Entry) bool {
	return !s.fillBegun(p.Round) && max(s.seqOf(Place{Topic: PushPressure}), s.seqOf(Place{Topic: VesselRating})) > e.Seq
}

// askPressureSafe names the pressure that is going to be used beside the limit.
// A vessel without a rating is put under none.
func askPressureSafe(s *State, _ Place) string {
	if !s.vesselRated() {
		return "NO air on a vessel without a rating: push with a hand pump"
	}
	limit := "never above " + s.show(s.allowedKPa(), DimKPa)
	if kPa, ok := s.num(Place{Topic: PushPressure}); ok {
		return "Push with " + s.show(kPa, DimKPa) + ", " + limit
	}
	return "Air on the vessel: " + limit
}

// leftOverSpecs ask for what is left, once the vessel holds no pressure.
func leftOverSpecs(when condition) []Spec {
	left := amountSpec(LeftInVessel, LeftWith, "Left in the vessel now?", when)
	left.WhyOf, left.Check = nil, checkLeft
	left.Stale = func(s *State, p Place, e Entry) bool { return checkLeft(s, p, e.Value) != nil }
	left.Why = "Poured out or read off. 0 only if it is dry."
	with := withSpec(LeftWith, LeftInVessel, "What measures what is left in the vessel?", when)
	with.Default = offerLoadDevice
	bottles := func(s *State, p Place) bool { return when(s, p) && s.bottlesNoted(p.Round) }
	inBottles := amountSpec(BottlesLeft, BottlesLeftWith, "Left in the bottles?", bottles)
	inBottles.Unknown, inBottles.Check = "not measured", checkBottlesLeft
	return []Spec{
		with,
		left,
		{
			Topic: VesselWeighedAfter, Check: checkVesselAfter, Unknown: "not weighed",
			When: func(s *State, p Place) bool {
				_, ok := s.num(p.of(VesselWeighedFull))
				return ok && when(s, p)
			},
			AskOf: weighIn("Weigh the vessel again"),
		},
		withSpec(BottlesLeftWith, BottlesLeft, "What measures what is left in the bottles?", bottles),
		inBottles,
	}
}

func askAdapter(s *State, p Place) string {
	switch {
	case p.Round > 0:
		return "Pan under. Plug out, adapter in by hand at once: press the key"
	case s.DryStart():
		return "Plug out, adapter in by hand, 3 turns or more, hose on: press the key"
	}
	return "Adapter in by hand, 3 turns or more, hose on: press the key"
}

func whyAdapter(_ *State, p Place) string {
	if p.Round > 0 {
		return "Catch what escapes: it is measured with the rest at the swap."
	}
	return "Binds after two turns: wrong thread. Never force it: the case is softer."
}

func askLetOut(s *State, p Place) string {
	ask := "Let some out. How much came?"
	if v, err := s.Verdict(p.Round - 1); err == nil && v.Error.Nominal > 0 {
		ask = "Let out " + s.Units().FormatVolume(v.Error.Nominal) + ". How much came?"
	}
	return askAmount(ask, LetOutWith)(s, p)
}

// offerLoadDevice offers what measured the load, so that one error cancels.
func offerLoadDevice(s *State, p Place) (Value, bool) {
	if d, ok := s.device(LoadedWith, Place{Round: p.Round}); ok {
		return Value{Choice: d.Token}, true
	}
	return firstDevice(LeftWith)(s, p)
}

// checkLeft refuses more than was loaded, what the marks can be off, and what the
// hose gave back.
func checkLeft(s *State, p Place, v Value) error {
	loaded, d := s.Loaded(p.Round), s.vesselDevice()
	if with, ok := s.device(LeftWith, p); ok {
		d = with
	}
	off := max(loaded.Nominal*0.1+5, Coverage*loaded.U()+d.GraduationML/2)
	if s.roughML(v) > loaded.Nominal+off+s.gaveBackML(p.Round) {
		return fmt.Errorf("more than was loaded (%s): correct the load first if that is wrong", s.show(loaded.Nominal, DimML))
	}
	return nil
}

// gaveBackML is the most that a hose which was full before the push gave back to
// the vessel after it.
func (s *State) gaveBackML(round int) float64 {
	if s.hoseBefore(round) != HoseFull || s.hoseAfter(round) != HoseRanBack {
		return 0
	}
	hose := s.HoldUp()
	return hose.Nominal + Coverage*hose.U()
}

// checkBottlesLeft refuses more than can have been in the bottles.
func checkBottlesLeft(s *State, p Place, v Value) error {
	if opened, _ := s.num(p.of(BottlesOpened)); s.roughML(v) > opened*1.1+5 {
		return fmt.Errorf("more than was in the bottles (%s): correct that first if it is wrong", s.show(opened, DimML))
	}
	return nil
}

// checkVesselAfter refuses more than the vessel weighed before, and what the hose
// gave back.
func checkVesselAfter(s *State, p Place, v Value) error {
	if full, ok := s.Answer(p.of(VesselWeighedFull)); ok && s.roughML(v) > s.roughML(full.Value)+s.gaveBackML(p.Round) {
		return fmt.Errorf("heavier than before the push (%s)", s.show(full.Value.Number, DimG))
	}
	return nil
}
