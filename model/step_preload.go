package model

// This file asks for the plan to be seen and taken, and for what really went
// into the vessel. It is asked once a round.

import "fmt"

func preloadBlocks() []block {
	return []block{
		{specs: []Spec{
			{Topic: HoseBefore, Step: Preload, Kind: Choose, Ask: "The hose, before the push", Why: "Primed is best: no air goes in, and what leaves the vessel arrives.", Options: hoseBeforeOptions, When: pushRound, Default: offerHoseBefore},
			{Topic: PlanAccepted, Step: Preload, Kind: Acknowledge, AskOf: askPlan, WhyOf: whyPlan, When: addRound, Stale: stalePlan, Confirms: preloadML},
		}},
		{more: moreOf(LoadedMore), specs: []Spec{
			{Topic: LoadedWith, Step: Preload, Kind: Choose, Ask: "What measures the oil going into the vessel?", When: func(s *State, p Place) bool { return addRound(s, p) && len(s.LoadDevices()) > 1 }, OptionsOf: loadDeviceOptions, Default: firstLoadDevice},
			{Topic: LoadedAmount, Step: Preload, Kind: Amount, AskOf: askAmount("Really in the vessel now?", LoadedWith), Why: "What is there, not what was planned. Vessel upright, froth gone.", When: addRound, Check: checkWith(LoadedWith)},
			{Topic: LoadedTemperature, Step: Preload, Kind: Number, Dim: DimC, Ask: "Temperature of the new oil", Why: "Warmed to 35 °C it runs far better: stand the bottles in hot tap water.", When: func(s *State, p Place) bool { return addRound(s, p) && byVolume(LoadedWith, LoadedAmount)(s, p) }, Default: offerNumber(20, DimC), Check: between(-30, 80)},
			{Topic: LoadedMore, Step: Preload, Kind: Choose, Ask: "Anything more into the vessel?", When: addRound, Options: moreOptions, Default: offerChoice(moreDone)},
		}},
		{specs: []Spec{
			{Topic: BottlesOpened, Step: Preload, Kind: Amount, Ask: "Bottles opened for it: volume on their labels, summed", Why: "A second witness for what was loaded: 500+500.", When: func(s *State, p Place) bool { return addRound(s, p) && p.Round == 0 }, Unknown: "not noted", Default: offerUnknown, Check: checkBottles},
			{Topic: VesselWeighedFull, Step: Preload, Kind: Number, Dim: DimG, Ask: "Weigh the loaded vessel, in grams", Why: "Weighed before and after, it is the best witness of what left it.", When: func(s *State, p Place) bool { _, ok := s.ScaleDivisionG(); return ok && addRound(s, p) }, Unknown: "not weighed", Default: offerUnknown, Check: between(1, 60000)},
		}},
	}
}

// addRound says whether oil is put in, in this round; pushRound, whether a
// hose is in play too.
func addRound(s *State, p Place) bool { return s.RoundKind(p.Round) == RoundAdds }

func pushRound(s *State, p Place) bool { return addRound(s, p) && s.Path() == DrainPortOnly }

func letOutRound(s *State, p Place) bool { return s.RoundKind(p.Round) == RoundLetsOut }

func offerHoseBefore(s *State, p Place) (Value, bool) {
	if p.Round > 0 && s.hoseAfter(p.Round-1) == HoseFull {
		return Value{Choice: hoseBeforeOptions[HoseFull].Token}, true
	}
	return Value{Choice: hoseBeforeOptions[HoseDry].Token}, true
}

func askPlan(s *State, p Place) string {
	return fmt.Sprintf("Pre-load %s", s.Units().FormatVolume(preloadML(s, p)))
}

func whyPlan(s *State, p Place) string {
	plan, err := s.Plan(p.Round)
	if err != nil {
		return err.Error()
	}
	if p.Round > 0 {
		return fmt.Sprintf("To add %s, with what hose, heel and swap take.", s.FormatU(plan.Target))
	}
	return fmt.Sprintf("Needed in the unit %s, window %s.", s.FormatU(plan.Target), s.FormatWindow(plan))
}

func preloadML(s *State, p Place) float64 {
	plan, err := s.Plan(p.Round)
	if err != nil {
		return 0
	}
	return plan.PreloadML
}

// stalePlan asks for a plan again that has moved, unless the push has begun:
// what is done is done, and the verdict deals with it.
func stalePlan(s *State, p Place, e Entry) bool {
	return !s.pushBegun(p.Round) && movedOn(e.Value.Number, preloadML(s, p))
}

func loadDeviceOptions(s *State, _ Place) []Option {
	var options []Option
	for _, d := range s.LoadDevices() {
		options = append(options, Option{d.Token, d.Label(s.Units()), ""})
	}
	return options
}

func firstLoadDevice(s *State, _ Place) (Value, bool) {
	devices := s.LoadDevices()
	if len(devices) == 0 {
		return Value{}, false
	}
	return Value{Choice: devices[0].Token}, true
}

// checkWith refuses a mass from a jug and a volume from a scale, and more oil
// than a garage has.
func checkWith(with Topic) func(*State, Place, Value) error {
	return func(s *State, p Place, v Value) error {
		if d, ok := s.device(with, p); ok && d.Scale != (v.Unit == DimG) {
			return wrongDevice(d)
		}
		return s.checkNotAbsurd(v)
	}
}

// checkNotAbsurd refuses amounts that no such job handles.
func (s *State) checkNotAbsurd(v Value) error {
	c, ok := s.capacity()
	if most := c.Nominal*mostOverCapacity + 2000; ok && v.Number > most {
		return fmt.Errorf("%s is out of sense for a unit of %s; at most %s is taken",
			s.show(v.Number, v.Unit), s.show(c.Nominal, DimML), s.show(most, v.Unit))
	}
	return nil
}

func checkBottles(s *State, p Place, v Value) error {
	loaded := s.Loaded(p.Round).Nominal
	if v.Unit == DimML && v.Number < loaded*0.9 {
		return fmt.Errorf("less than what was loaded (%s): sum the labels of all bottles opened", s.show(loaded, DimML))
	}
	return s.checkNotAbsurd(v)
}
