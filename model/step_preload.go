package model

// This file asks for the plan to be seen and taken, and for what really went
// into the vessel. It is asked once a round.

import (
	"fmt"

	"garage/tundish/model/quantity"
)

// Limits of what is taken for the temperature of new oil, °C: a garage in
// winter, and more than hot tap water makes of it (common practice, no source).
const (
	newOilColdestC = -30.0
	newOilHottestC = 80.0
)

func preloadBlocks() []block {
	return []block{
		once(planSpecs()...),
		again(loadSpecs()...),
		once(witnessSpecs()...),
	}
}

func planSpecs() []Spec {
	return []Spec{
		{
			Topic: BackUp, Safety: true,
			When: func(s *State, p Place) bool { return p.Round > 0 && s.hasIn(TagOff, p.Round-1) },
			Ask:  "Car up again on rated stands, shake test done, tag back on",
			Why:  "It was down since the last fill: everything as at the start.",
		},
		{
			Topic: DrainPlugIn,
			When:  func(s *State, p Place) bool { return p.Round == 0 && s.Path() == LevelPort },
			AskOf: inDry("Drain plug in, NEW washer, tightened: press the key", "Drain plug back in, NEW washer, tightened: press the key"),
			Why:   "Before any oil goes in at the top. Magnet and thread wiped clean.",
		},
		{
			Topic: HoseBefore, Options: hoseBeforeOptions, When: pushRound,
			Ask: "The hose, before the push",
			Why: "Primed is best: no air goes in, and what leaves the vessel arrives.",
		},
		{
			Topic: PlanAccepted, When: addRound, Stale: stalePlan, Confirms: preloadML,
			AskOf: askPlan, WhyOf: whyPlan,
		},
	}
}

func loadSpecs() []Spec {
	amount := amountSpec(LoadedAmount, LoadedWith, "Really in the vessel now?", addRound)
	amount.WhyOf = nil
	amount.Why = "What is there, not what was planned. Vessel upright, froth gone."
	with := withSpec(LoadedWith, LoadedAmount, "What measures the oil going into the vessel?", addRound)
	with.WhyOf = inDry("Its error counts in full here: the scale, or the best jug.",
		"What measured the oil that came out: its error then cancels.")
	with.Default = offerDrainDevice
	return []Spec{
		with,
		amount,
		{
			Topic: LoadedTemperature, Unknown: newOilNotTaken, Check: between(newOilColdestC, newOilHottestC),
			When: func(s *State, p Place) bool { return addRound(s, p) && byVolume(LoadedWith, LoadedAmount)(s, p) },
			Ask:  "Temperature of the new oil",
			WhyOf: func(s *State, _ Place) string {
				return "Warmed to " + s.show(35, DimC) + " it runs far better: stand the bottles in hot tap water."
			},
		},
		{
			Topic: LoadedMore, Options: loadMoreOptions, Default: offerChoice(moreDone), When: addRound,
			Ask: "Anything more into the vessel?",
			Why: "A second load for a small vessel counts here too.",
		},
	}
}

func witnessSpecs() []Spec {
	return []Spec{
		{
			Topic: BottlesOpened, Default: offerUnknown, Check: checkBottles,
			When: func(s *State, p Place) bool { return addRound(s, p) && p.Round == 0 },
			Ask:  "Bottles opened for it: volume on their labels, summed",
			WhyOf: inUnits(func(u quantity.Units) string {
				return fmt.Sprintf("Another witness for what was loaded: %s+%[1]s.", u.BareVolume(500))
			}),
			Unknown: "not noted",
		},
		{
			Topic: VesselWeighedFull, Default: offerUnknown, Check: between(1, 60000),
			When:    func(s *State, p Place) bool { return addRound(s, p) && known(ScaleDivision)(s, p) },
			AskOf:   weighIn("Weigh the loaded vessel"),
			Why:     "Weighed before and after, it is the best witness of what left it.",
			Unknown: "not weighed",
		},
	}
}

const newOilNotTaken = "not taken: that of a garage counts, felt"

// addRound says whether oil is put in, in this round; pushRound, whether a
// hose is in play too.
func addRound(s *State, p Place) bool { return s.RoundKind(p.Round) == RoundAdds }

func pushRound(s *State, p Place) bool { return s.pushes(p.Round) }

func letOutRound(s *State, p Place) bool { return s.RoundKind(p.Round) == RoundLetsOut }

// offerDrainDevice offers what measured the oil that came out.
func offerDrainDevice(s *State, p Place) (Value, bool) {
	if d, ok := s.device(DrainedWith, Place{}); ok {
		return Value{Choice: d.Token}, true
	}
	return firstDevice(LoadedWith)(s, p)
}

func askPlan(s *State, p Place) string {
	ml, u := preloadML(s, p), s.Units()
	if additive := s.additiveML(); additive > 0 && p.Round == 0 && additive < ml {
		return fmt.Sprintf("Pre-load %s: oil %s, additive %s", u.FormatVolume(ml), u.FormatVolume(ml-additive), u.FormatVolume(additive))
	}
	return "Pre-load " + u.FormatVolume(ml) + " into the vessel"
}

func whyPlan(s *State, p Place) string {
	plan, err := s.Plan(p.Round)
	if err != nil {
		return err.Error()
	}
	if p.Round > 0 {
		return fmt.Sprintf("To add %s, with what hose, heel and both swaps take.", s.FormatU(plan.Target))
	}
	return fmt.Sprintf("Needed: %s. Right: %s.", s.FormatU(plan.Target), s.FormatWindow(plan))
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
	return !s.roundBegun(p.Round) && movedOn(e.Value.Number, preloadML(s, p))
}

func checkBottles(s *State, p Place, v Value) error {
	if loaded := s.Loaded(p.Round).Nominal; v.Number < loaded*0.9 {
		return fmt.Errorf("less than what was loaded (%s): sum the labels of all bottles opened", s.show(loaded, DimML))
	}
	return s.checkNotAbsurd(v)
}
