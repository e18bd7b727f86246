package ask

// This file asks for the decision after a verdict, once a round, and for what
// closes the job.

import (
	"fmt"
	"math"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

func decisionBlocks() []Block {
	return []Block{once(
		Spec{
			Topic: job.BalanceSuspect, Stop: true, Doubts: loadReadings, Options: suspectOptions, Stale: movedFrom(offOf), Confirms: offOf,
			When:  func(s *Known, p job.Place) bool { return s.Balance(p.Round).Fails() },
			AskOf: askSuspect, WhyOf: whySuspect,
		},
		Spec{
			Topic: job.LevelLookedAgain, Stop: true, Doubts: loadReadings, Options: levelAgainOptions,
			OptionsOf: levelAgainChoices, Stale: movedFrom((*Known).SumsErrorML),
			Confirms: (*Known).SumsErrorML,
			When:     (*Known).LevelContradicts,
			AskOf:    askLevelAgain,
			Why:      "Car level? Settled for 10 minutes? The right hole?",
		},
		Spec{
			Topic: job.Decision, Options: decisionOptions, OptionsOf: decisionChoices,
			Stale: (*Known).DecisionStale, Confirms: (*Known).ErrorML,
			AskOf: askDecision, WhyOf: whyDecision,
		},
		Spec{
			Topic: job.LeftWhy, Check: longest(200), Suggest: reasonsLeft,
			When: func(s *Known, p job.Place) bool {
				return s.Decision(p.Round) == job.DecideLeave && !s.RoundBegun(p.Round+1)
			},
			Ask: "Why it is left",
		},
	)}
}

func tagBlocks() []Block {
	return []Block{once(
		Spec{
			Topic: job.WheelsTurned, Safety: true,
			When: func(s *Known, p job.Place) bool {
				return s.UnitState().Settled() && !s.staysUp(p) && !s.Path().RunsEngine()
			},
			AskOf: func(s *Known, _ job.Place) string {
				if s.Drivetrain() != job.Combustion {
					return "Car OFF, key away: wheels turned by hand ONLY if the maker says so"
				}
				return "Neutral, engine off, hands clear: wheels turned by hand, 10 times"
			},
			WhyOf: func(s *Known, _ job.Place) string {
				if s.Drivetrain() != job.Combustion {
					return "Turned wheels turn the motor, and it can generate. Not sure: leave them."
				}
				return "Oil gets to the far bearings. Never drive an axle with one wheel up."
			},
		},
		Spec{
			Topic: job.TagOff, When: func(s *Known, p job.Place) bool { return s.MayDrive() && !s.staysUp(p) },
			Ask: "Tag off, tools and jack away, car down",
			WhyOf: func(s *Known, _ job.Place) string {
				switch s.UnitState() {
				case verdict.Proven:
					return "The fill is proven; the car may come down."
				case verdict.Accepted:
					return s.StateWords() + ": the car may come down."
				}
				return "NOT proven, but near enough to be moved: put it right soon."
			},
		},
		Spec{
			Topic: job.NextUnit, Safety: true, When: (*Known).staysUp, AskOf: askNextUnit,
			Why: "Wheels are turned and the car comes down after the last of its units.",
		},
	)}
}

// staysUp reports whether the car stays where it is once this unit is done: another unit
// of it is open, or still to come.
func (s *Known) staysUp(p job.Place) bool {
	more := len(s.Offered.OpenUnits)+len(s.Offered.ToCome) > 0
	return s.MayDrive() && (s.HasIn(job.NextUnit, p.Round) || more && !s.HasIn(job.WheelsTurned, p.Round) && !s.HasIn(job.TagOff, p.Round))
}

// askNextUnit says for which unit the car stays.
func askNextUnit(s *Known, _ job.Place) string {
	stays := "Car stays up, tag on, wheels still"
	switch {
	case len(s.Offered.OpenUnits) > 0:
		u := s.Offered.OpenUnits[0]
		return stays + ": the " + u.Name + " is " + u.State.String()
	case len(s.Offered.ToCome) > 0:
		return stays + ": the " + s.Offered.ToCome[0] + " is next"
	}
	return stays + ": other units are still to do"
}

func wasteBlocks() []Block {
	return []Block{inStep(job.CloseOut, once(nextSpecs()...)), once(
		Spec{
			Topic: job.WasteOil, Default: offerWaste,
			Ask: "Waste oil, lid on, nothing mixed",
			Why: "What came out and was spilled. No solvents: it goes to a collection point.",
		},
		optional(job.WasteHandedIn, longest(200), "Handed in where", "", "waiting"),
		optional(job.Remark, longest(300), "Remark for next time", "", "none"),
	)}
}

// recheckBlocks ask for the looks after the last round, and for what leaked
// after any: oil that is gone is gone, whatever was done next.
func recheckBlocks() []Block {
	looked := func(s *Known, p job.Place) bool { return p.Round == s.Round() && s.MayDrive() }
	weeping := func(s *Known, p job.Place) bool { return s.WeepsAt(p) }
	specs := []Spec{
		{
			Topic: job.LeakCheck, Options: dryOrWeepOptions, When: looked,
			AskOf: func(s *Known, p job.Place) string {
				if p.Item > 0 {
					return "Once more after " + s.ShortDrive() + ", level: plug and seals"
				}
				return "After " + s.ShortDrive() + ", level: plug and seals"
			},
			Why: "Leave tundish until then; it asks this when it is started again.",
		},
		choosing(job.WasherRecheck, dryOrWeepOptions, "Next day, cold, paper under the plug",
			"A soft washer is not tightened again hot.").
			when(func(s *Known, p job.Place) bool { return looked(s, p) && s.Choice(p.Of(job.LeakCheck)) == job.CheckDry }),
		caution(job.WasherRenewed, "Up on stands, tag on. Old washer OFF the case, ONE new one, tightened",
			"Two washers leak. Pan under: what drips and spills is measured next.").when(weeping),
	}
	caught := caughtSpecs(estimate.LeakCatch, "Lost, drips and swap together", "Lost in all", leakedOptions,
		weeping)
	caught[0].OptionsOf = leakedChoices
	return []Block{again(append(specs, caught...)...)}
}

// loadReadings are the readings of a round that are in doubt where they do not add up.
func loadReadings(_ *Known, p job.Place) []job.Place {
	return []job.Place{p.Of(job.LoadedAmount), p.Of(job.LeftInVessel)}
}

// reasonsLeft are usual ones to leave a fill as it is.
var reasonsLeft = []string{"no oil left: put right later", "the maker's range allows it", "nothing more can be measured"}

func offOf(s *Known, p job.Place) float64 { return s.Balance(p.Round).OffML }

func askSuspect(s *Known, p job.Place) string {
	b := s.Balance(p.Round)
	off := s.Units().FormatVolume(b.OffML)
	if len(b.Suspects) == 1 {
		return fmt.Sprintf("Likely wrong: %s (off by %s)", b.Suspects[0], off)
	}
	return fmt.Sprintf("%s apart: read each of them again", off)
}

// whySuspect names the readings that cannot be told apart.
func whySuspect(s *Known, p job.Place) string {
	if b := s.Balance(p.Round); len(b.Suspects) > 1 {
		return "Wrong is " + b.Suspect() + "."
	}
	return "These readings do not add up: read it again and correct it."
}

func levelAgainChoices(s *Known, p job.Place) []Option {
	switch {
	case s.Path().RunsEngine():
		return runAgainOptions
	case s.Choice(p.Of(job.LevelWeeps)) == job.WeepsNot:
		return belowAgainOptions
	}
	return levelAgainOptions
}

func askLevelAgain(s *Known, p job.Place) string {
	off := s.SumsErrorML(p)
	says, word := "full", "more"
	if s.Choice(p.Of(job.LevelWeeps)) == job.WeepsNot {
		says = "below"
	}
	if off < 0 {
		word = "less"
	}
	return fmt.Sprintf("The level says %s, the readings say %s %s. Look again", says, s.Units().FormatVolume(math.Abs(off)), word)
}

func askDecision(s *Known, p job.Place) string {
	plan, _, err := s.PlansOf(0)
	if err != nil {
		return err.Error()
	}
	return fmt.Sprintf("Went in: %s. Aim: %s", s.FormatU(s.NetFill(p.Round)), s.Units().FormatVolume(plan.Target.Nominal))
}

func whyDecision(s *Known, p job.Place) string {
	v, err := s.Verdict(p.Round)
	if err != nil {
		return ""
	}
	switch v.Act {
	case verdict.AddOil:
		if s.BelowHole(p.Round) {
			return fmt.Sprintf("Go on until it weeps: about %s more, measured, the car still up.", s.Units().FormatVolume(v.ActML))
		}
		return fmt.Sprintf("Add %s, car still up: %d becomes %d in 100.", s.Units().FormatVolume(v.ActML), v.Odds(), v.BestOdds())
	case verdict.LetOut:
		return fmt.Sprintf("Drain off %s, car still up: %d becomes %d in 100.", s.Units().FormatVolume(v.ActML), v.Odds(), v.BestOdds())
	case verdict.Remeasure:
		return "Not proven. Most of the give or take: " + verdict.RemeasureName(v.Doubt) + "."
	}
	if v.Conformity == verdict.NotProven {
		return fmt.Sprintf("Right %d times in 100: no reading and no oil makes that surer.", v.Odds())
	}
	if s.AcceptedAs(p.Round) != verdict.Proven {
		return "Accepted it is not PROVEN: " + s.WhyNotProven()[0] + "."
	}
	return "Nothing to do: it is right."
}

// decisionChoices lets an amount be accepted only where the verdict bears it.
func decisionChoices(s *Known, p job.Place) []Option {
	v, err := s.Verdict(p.Round)
	if err != nil {
		return []Option{decisionOption(job.DecideLeave)}
	}
	var options []Option
	if verdict.Acceptable(v) {
		options = append(options, s.acceptOption(p.Round))
	}
	correcting := job.DecideLetOut
	if v.Act == verdict.AddOil || v.Act != verdict.LetOut && v.Error.Nominal < 0 {
		correcting = job.DecideAdd
	}
	return append(options, decisionOption(correcting), decisionOption(job.DecideLeave))
}

// acceptOption says what an acceptance would come to.
func (s *Known) acceptOption(round int) Option {
	o := decisionOption(job.DecideAccept)
	v, err := s.Verdict(round)
	switch {
	case err != nil:
	case s.AcceptedAs(round) == verdict.Proven:
		o.Label, o.Hint = "accept: it is right, and PROVEN", ""
	default:
		o.Label, o.Hint = fmt.Sprintf("accept: LIKELY %d in 100, not proven", v.Odds()), ""
	}
	return o
}

func offerWaste(s *Known, _ job.Place) (job.Value, bool) {
	total := s.Drained().Total.Nominal
	for r := range s.Rounds() {
		total += s.Escaped(r).Nominal + s.Amount(job.LetOutAmount, job.Place{Round: r}).Nominal
	}
	return job.Value{Number: math.Round(total), Unit: job.DimML}, true
}
