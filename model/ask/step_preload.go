package ask

// This file asks for the plan to be seen and taken, and for what really went
// into the vessel. It is asked once a round.

import (
	"fmt"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
)

// Limits of what is taken for the temperature of new oil, °C: a garage in
// winter, and more than hot tap water makes of it (common practice, no source).
const (
	newOilColdestC = -30.0
	newOilHottestC = 80.0
)

func preloadBlocks() []Block {
	return []Block{
		once(planSpecs()...),
		again(loadSpecs()...),
		once(statedSpecs()...),
	}
}

func planSpecs() []Spec {
	return []Spec{
		caution(job.BackUp, "Car up again on rated stands, pushed HARD: it stood; tag back on",
			"It was down since the last fill: everything as at the start.").
			when(func(s *Known, p job.Place) bool { return p.Round > 0 && s.HasIn(job.TagOff, p.Round-1) }),
		{
			Topic: job.DrainPlugIn,
			When:  func(s *Known, p job.Place) bool { return p.Round == 0 && s.Path().PouredIn() },
			AskOf: askDrainPlugIn,
			Why:   "Before any oil goes in at the top. Magnet and thread wiped clean.",
		},
		choosing(job.HoseBefore, hoseBeforeOptions, "The hose, before the push",
			"Primed is best: no air goes in, and what leaves the vessel arrives.").when(pushRound),
		{
			Topic: job.PlanAccepted, When: addRound, Confirms: preloadML,
			Stale: func(s *Known, p job.Place, e job.Entry) bool { // once the push has begun the verdict allows for it
				return !s.RoundBegun(p.Round) && estimate.MovedOn(e.Value.Number, preloadML(s, p))
			},
			AskOf: askPlan, WhyOf: whyPlan,
		},
	}
}

func loadSpecs() []Spec {
	amount := amountSpec(job.LoadedAmount, "How much did you pour in?", addRound)
	amount.Why = "What is there, not what was planned. Vessel upright, froth gone."
	with := withSpec(job.LoadedAmount, addRound)
	with.WhyOf = inDry("Its error counts in full here: the scale, or the best jug.",
		"What measured the oil that came out: its error then cancels.")
	with.Default = offerDrainDevice
	return []Spec{
		with,
		amount,
		{
			Topic: job.LoadedTemperature, Optional: true, Unknown: "not taken", Check: between(newOilColdestC, newOilHottestC),
			When: func(s *Known, p job.Place) bool {
				return addRound(s, p) && byVolume(job.LoadedWith, job.LoadedAmount)(s, p)
			},
			Ask:       "Its temperature",
			UnknownOf: newOilNotTaken,
			WhyOf: func(s *Known, _ job.Place) string {
				return "Warmed to " + s.Show(35, job.DimC) + " it runs far better: stand the bottles in hot tap water."
			},
		},
		choosing(job.LoadedMore, loadMoreOptions, "Anything more into the vessel", "What a small vessel takes later counts here too.").
			when(addRound).notNeeded(),
	}
}

func statedSpecs() []Spec {
	bottles := optional(job.BottlesOpened, checkBottles, "Bottles opened: their labels", "", "not noted")
	bottles.When = func(s *Known, p job.Place) bool { return addRound(s, p) && p.Round == 0 }
	bottles.WhyOf = whyBottles
	weighed := optional(job.VesselWeighedFull, between(1, 60000), "", "Weighed before and after, it is the best second reading.",
		"not weighed")
	weighed.When = func(s *Known, p job.Place) bool { return addRound(s, p) && known(job.ScaleDivision)(s, p) }
	weighed.AskOf = weighIn("Poured-in vessel weighs")
	return []Spec{bottles, weighed}
}

// whyBottles says which slip in the load shows at once with the bottles noted.
func whyBottles(s *Known, p job.Place) string {
	u := s.Units()
	return fmt.Sprintf("%s+%[1]s, say: a slip of %s then shows at once.", u.BareVolume(500),
		u.FormatVolume(s.LeastLoadSlipML(p.Round)))
}

// newOilNotTaken says what is taken for the temperature of new oil.
func newOilNotTaken(s *Known, _ job.Place) string {
	return fmt.Sprintf("as the garage: %s ± %s", s.Show(20, job.DimC),
		s.Units().FormatTemperatureDifference(estimate.Coverage*estimate.TempFeltUC))
}

// addRound reports whether oil is put in, in this round; pushRound, whether a
// hose is in play too.
func addRound(s *Known, p job.Place) bool { return s.RoundKind(p.Round) == job.RoundAdds }

func pushRound(s *Known, p job.Place) bool { return s.Pushes(p.Round) }

// offerDrainDevice offers what measured the oil that came out.
func offerDrainDevice(s *Known, p job.Place) (job.Value, bool) {
	if d, ok := s.Device(job.DrainedWith, job.Place{}); ok {
		return job.Value{Choice: d.Token}, true
	}
	return firstDevice(job.LoadedWith)(s, p)
}

func askDrainPlugIn(s *Known, _ job.Place) string {
	switch {
	case s.Path() == job.OverflowTube:
		return "Overflow tube back and TIGHT; its check plug loosely in"
	case s.DryStart():
		return "Drain plug is IN, with 1 NEW washer, tightened"
	}
	return "Drain plug is back IN, with 1 NEW washer, tightened"
}

func askPlan(s *Known, p job.Place) string {
	ml, u := preloadML(s, p), s.Units()
	if s.Path().RunsEngine() && p.Round == 0 {
		return "Pour " + u.FormatVolume(ml) + " in, engine OFF"
	}
	if additive := s.AdditiveML(); additive > 0 && p.Round == 0 && additive < ml {
		return fmt.Sprintf("Pour %s into the vessel: oil %s, additive %s", u.FormatVolume(ml), u.BareVolume(ml-additive),
			u.BareVolume(additive))
	}
	return "Pour " + u.FormatVolume(ml) + " into the vessel"
}

func whyPlan(s *Known, p job.Place) string {
	plan, err := s.Plan(p.Round)
	if err != nil {
		return err.Error()
	}
	if p.Round > 0 {
		return fmt.Sprintf("To top up %s; hose, vessel and both swaps are in it.", s.FormatU(plan.Target))
	}
	return fmt.Sprintf("Aim %s, right: %s.", s.FormatU(plan.Target), s.FormatWindow(plan))
}

func preloadML(s *Known, p job.Place) float64 {
	plan, err := s.Plan(p.Round)
	if err != nil {
		return 0
	}
	if p.Round == 0 && s.Path().RunsEngine() {
		return s.FirstChargeML(plan)
	}
	return plan.PreloadML
}

func checkBottles(s *Known, p job.Place, v job.Value) error {
	if loaded := s.Loaded(p.Round).Nominal; v.Number < loaded*0.9 {
		return fmt.Errorf("less than what was poured in (%s): sum the labels of all bottles opened", s.Show(loaded, job.DimML))
	}
	return s.checkNotAbsurd(v)
}
