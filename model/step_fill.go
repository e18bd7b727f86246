package model

// This file asks for what belongs to the push: cautions, readings as they
// come, how it ended, and what was left over. It is asked once a round.

func fillBlocks() []block {
	levelAdd := func(s *State, p Place) bool { return addRound(s, p) && s.Path() == LevelPort }
	return []block{
		{specs: []Spec{
			{Topic: BreatherBeforePush, Step: Fill, Kind: Acknowledge, Safety: true, Ask: "Breather open: listen for air coming out of it", Why: "Air must leave as oil comes in. Seals give way at very little pressure.", When: addRound},
			{Topic: PressureSafe, Step: Fill, Kind: Acknowledge, Safety: true, Ask: "Vessel rated, relief valve and gauge on it, eyes covered", Why: "Never above its rating, never a thin bottle, no compressor without regulator.", When: func(s *State, p Place) bool { return addRound(s, p) && s.FillerKind() == PressurisedVessel }},
			{Topic: LetOutWith, Step: Fill, Kind: Choose, Ask: "What catches and measures the oil let out?", When: func(s *State, p Place) bool { return letOutRound(s, p) && severalDevices(s, p) }, OptionsOf: deviceOptions, Default: firstDevice},
			{Topic: LetOutAmount, Step: Fill, Kind: Amount, AskOf: askLetOut, WhyOf: whyAmount(LetOutWith), When: letOutRound, Check: checkWith(LetOutWith)},
		}},
		{specs: []Spec{
			{Topic: FillReading, Step: Fill, Kind: Amount, Ends: FillEnded, AskOf: askFillReading, Why: "Push slowly. Enter alone when the push has ended.", When: addRound, Check: checkLeft},
		}},
		{specs: []Spec{
			{Topic: LevelWeeps, Step: Fill, Kind: Choose, Ask: "Does oil weep from the level hole?", Why: "Let it settle 10 minutes: slow, thick oil fakes a level.", Options: weepOptions, When: levelAdd, Default: offerChoice(weepsLevel)},
			{Topic: OverflowCaughtWith, Step: Fill, Kind: Choose, Ask: "What measures the oil that ran over?", When: func(s *State, p Place) bool { return levelAdd(s, p) && severalDevices(s, p) }, OptionsOf: deviceOptions, Default: firstDevice},
			{Topic: OverflowCaught, Step: Fill, Kind: Amount, Ask: "How much ran over and was caught? 0 if none", When: levelAdd, Default: offerML(0), Check: checkWith(OverflowCaughtWith)},
			{Topic: StrokesCounted, Step: Fill, Kind: Number, Dim: DimCount, Ask: "Strokes of the pump, if you counted", When: func(s *State, p Place) bool {
				_, ok := s.num(Place{Topic: StrokeVolume})
				return ok && addRound(s, p)
			}, Unknown: "not counted", Default: offerUnknown, Check: between(0, 5000)},
			{Topic: AirInLine, Step: Fill, Kind: Choose, Ask: "Air in the line before the end?", Why: "Air early means oil left behind: tube off the floor, vessel leaning.", Options: airOptions, When: pushRound, Default: offerChoice(airNone)},
			{Topic: LeftWith, Step: Fill, Kind: Choose, Ask: "What measures what is left in the vessel?", When: func(s *State, p Place) bool { return addRound(s, p) && len(s.LoadDevices()) > 1 }, OptionsOf: loadDeviceOptions, Default: offerLoadDevice},
			{Topic: LeftInVessel, Step: Fill, Kind: Amount, AskOf: askAmount("Left in the vessel now?", LeftWith), Why: "Poured out or read off. 0 only if it is dry.", When: addRound, Check: checkLeft},
			{Topic: VesselWeighedAfter, Step: Fill, Kind: Number, Dim: DimG, Ask: "Weigh the vessel again, in grams", When: func(s *State, p Place) bool { _, ok := s.num(Place{VesselWeighedFull, p.Round, 0}); return ok }, Unknown: "not weighed", Check: checkVesselAfter},
			{Topic: BottlesLeftWith, Step: Fill, Kind: Choose, Ask: "What measures what is left in the bottles?", When: func(s *State, p Place) bool { return s.bottlesNoted(p.Round) && severalDevices(s, p) }, OptionsOf: deviceOptions, Default: firstDevice},
			{Topic: BottlesLeft, Step: Fill, Kind: Amount, AskOf: askAmount("Left in the bottles?", BottlesLeftWith), When: func(s *State, p Place) bool { return s.bottlesNoted(p.Round) }, Unknown: "not measured", Check: checkWith(BottlesLeftWith)},
			{Topic: HoseAfter, Step: Fill, Kind: Choose, Ask: "The hose, after the push", Options: hoseAfterOptions, When: pushRound, Default: offerChoice(hoseAfterOptions[HoseFull].Token)},
		}},
	}
}

func askLetOut(s *State, p Place) string {
	v, err := s.Verdict(p.Round - 1)
	if err != nil {
		return "How much was let out?"
	}
	return askAmount("Plug loose, let out "+s.Units().FormatVolume(v.Error.Nominal)+". How much came?", LetOutWith)(s, p)
}

func askFillReading(s *State, p Place) string {
	return "Left in the vessel as you push; Enter alone at the end"
}

// offerLoadDevice offers what measured the load, so that one error cancels.
func offerLoadDevice(s *State, p Place) (Value, bool) {
	if e, ok := s.at(Place{LoadedWith, p.Round, 0}); ok {
		return Value{Choice: e.Value.Choice}, true
	}
	return firstLoadDevice(s, p)
}

// checkLeft refuses more than was loaded.
func checkLeft(s *State, p Place, v Value) error {
	with := LeftWith
	if p.Topic == FillReading {
		with = LoadedWith
	}
	if d, ok := s.device(with, p); ok && p.Topic == LeftInVessel && d.Scale != (v.Unit == DimG) {
		return wrongDevice(d)
	}
	loaded := s.Loaded(p.Round).Nominal
	if v.Unit == DimML && v.Number > loaded*1.1+5 {
		return errMoreThanLoaded(s, loaded)
	}
	return nil
}

func checkVesselAfter(s *State, p Place, v Value) error {
	full, _ := s.num(Place{VesselWeighedFull, p.Round, 0})
	if v.Number > full {
		return errHeavier(s, full)
	}
	return nil
}
