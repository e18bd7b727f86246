package model

// This file asks for the decision after a verdict, once a round, and for what
// closes the job.

import (
	"fmt"

	"garage/tundish/model/measure"
)

func decisionBlocks() []block {
	return []block{{specs: []Spec{
		{Topic: BalanceSuspect, Step: CloseOut, Kind: Choose, AskOf: askSuspect, Why: "The readings of this round do not add up. Read it again and correct it (key shown below).", When: func(s *State, p Place) bool { return s.Balance(p.Round).Fails() }, Options: suspectOptions, Stale: staleSuspect, Confirms: netML},
		{Topic: Decision, Step: CloseOut, Kind: Choose, AskOf: askDecision, WhyOf: whyDecision, OptionsOf: decisionChoices, Default: offerDecision, Stale: staleDecision, Confirms: netML},
		{Topic: LeftWhy, Step: CloseOut, Kind: Free, Ask: "Why is it left? A line for the record", When: func(s *State, p Place) bool { return s.Decision(p.Round) == DecideLeave }},
	}}}
}

func closeBlocks() []block {
	accepted := func(s *State, _ Place) bool { return s.UnitState() == Proven }
	drivable := func(s *State, _ Place) bool { return s.MayDrive() }
	return []block{{specs: []Spec{
		{Topic: WheelsTurned, Step: CloseOut, Kind: Acknowledge, Safety: true, Ask: "Neutral, engine off, hands clear: wheels turned by hand, 10 times", Why: "Oil gets to the far bearings. Never drive an axle with one wheel up.", When: accepted},
		{Topic: TagOff, Step: CloseOut, Kind: Acknowledge, Ask: "Tag off the wheel, tools and jack away", Why: "The fill is proven; the car may come down.", When: drivable},
		{Topic: WasteOil, Step: CloseOut, Kind: Amount, Ask: "Waste oil in the can, in all", Why: "Lid on, nothing mixed in, no solvents: it goes to a collection point.", Default: offerWaste},
		{Topic: WasteHandedIn, Step: CloseOut, Kind: Free, Ask: "Handed in where? Leave it for later if it waits", Unknown: "still waiting", Default: offerUnknown},
		{Topic: Remark, Step: CloseOut, Kind: Free, Ask: "A remark for next time?", Unknown: "none", Default: offerUnknown},
		{Topic: LeakCheck, Step: CloseOut, Kind: Choose, Ask: "After a drive of 5 to 15 km, car level: plug and seals?", Why: "Until then the job is TO RE-CHECK. Come back for it: tundish.", Options: dryOrWeepOptions, When: drivable},
		{Topic: WasherRecheck, Step: CloseOut, Kind: Choose, Ask: "Next day, cold, paper under the plug: dry?", Why: "A soft washer is not tightened again hot.", Options: dryOrWeepOptions, When: drivable},
	}}}
}

func netML(s *State, p Place) float64 { return s.NetFill(p.Round).Nominal }

var suspectOptions = []Option{{"stands", "I have read it again: it stands", "the doubt is kept in the record"}}

func askSuspect(s *State, p Place) string {
	b := s.Balance(p.Round)
	return fmt.Sprintf("Most likely wrong: %s (off by %s)", b.Suspect, s.Units().FormatVolume(b.OffML))
}

func staleSuspect(s *State, p Place, e Entry) bool { return movedOn(e.Value.Number, netML(s, p)) }

func askDecision(s *State, p Place) string {
	v, err := s.Verdict(p.Round)
	if err != nil {
		return err.Error()
	}
	return fmt.Sprintf("In the unit: %s. Needed: %s", s.FormatU(v.InUnit), s.Units().FormatVolume(v.InUnit.Nominal-v.Error.Nominal))
}

func whyDecision(s *State, p Place) string {
	v, err := s.Verdict(p.Round)
	if err != nil {
		return ""
	}
	switch v.Act {
	case AddOil:
		return fmt.Sprintf("Add %s, the car still up.", s.Units().FormatVolume(v.ActML))
	case LetOut:
		return fmt.Sprintf("Let out %s, measured, the car still up.", s.Units().FormatVolume(v.ActML))
	case Remeasure:
		return "Not proven. Most of the doubt: " + DoubtName(v.Doubt) + ". Measure that better."
	}
	return "Nothing to do: it is right."
}

// DoubtName names the source that carries most of a doubt.
func DoubtName(doubt []measure.Contribution) string {
	if len(doubt) == 0 {
		return "none"
	}
	return doubt[0].Source.Name
}

// decisionChoices lets an amount be accepted only where the verdict bears it.
func decisionChoices(s *State, p Place) []Option {
	v, err := s.Verdict(p.Round)
	if err != nil {
		return decisionOptions[DecideLeave:]
	}
	var options []Option
	if v.Word == Within || v.Word == LikelyWithin {
		options = append(options, decisionOptions[DecideAccept])
	}
	if v.Error.Nominal < 0 {
		options = append(options, decisionOptions[DecideAdd])
	} else {
		options = append(options, decisionOptions[DecideLetOut])
	}
	return append(options, decisionOptions[DecideLeave])
}

func offerDecision(s *State, p Place) (Value, bool) {
	v, err := s.Verdict(p.Round)
	if err != nil {
		return Value{}, false
	}
	token := decisionOptions[DecideAccept].Token
	switch v.Act {
	case AddOil:
		token = decisionOptions[DecideAdd].Token
	case LetOut:
		token = decisionOptions[DecideLetOut].Token
	case Remeasure:
		return Value{}, false
	}
	return Value{Choice: token}, true
}

// staleDecision asks again for an acceptance whose verdict has changed; a
// correction that was made stays made.
func staleDecision(s *State, p Place, e Entry) bool {
	if s.Decision(p.Round) != DecideAccept {
		return false
	}
	v, err := s.Verdict(p.Round)
	return err != nil || (v.Word != Within && v.Word != LikelyWithin) || movedOn(e.Value.Number, netML(s, p))
}

func offerWaste(s *State, _ Place) (Value, bool) {
	total := s.Drained().Total.Nominal
	for r := range s.Rounds() {
		total += s.Escaped(r).Nominal + s.LetOutML(r).Nominal
	}
	return Value{Number: float64(int(total + 0.5)), Unit: DimML}, true
}
