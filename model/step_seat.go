package model

// This file asks for the swap from cap to plug: washer, plug, breather, what
// escaped and how the plug was tightened. It is asked once a round.

import "fmt"

func seatBlocks() []block {
	return []block{
		{specs: []Spec{
			{Topic: FloorAndExhaust, Step: Seat, Kind: Acknowledge, Safety: true, Ask: "Exhaust cold, pan and pads under, plug and washer on fingertips", Why: "Oil on a hot exhaust burns. Breather shut now, if you can reach it: it slows the gush.", When: pushRound},
			{Topic: WasherFitted, Step: Seat, Kind: Choose, AskOf: func(s *State, _ Place) string { return "The washer: " + washerName(s) }, Why: "An old washer stuck to the case makes two, and they leak.", Options: washerOptions, Default: offerChoice("new")},
			{Topic: PlugSeated, Step: Seat, Kind: Event, AskOf: func(s *State, _ Place) string { return "Plug in by hand, then seated: press the key" }, Why: "If it binds, back it out: a crossed thread costs the case."},
			{Topic: BreatherReopened, Step: Seat, Kind: Acknowledge, Safety: true, Ask: "Breather OPEN again", Why: "Left shut, the first warm drive blows the seals.", When: func(s *State, p Place) bool { return s.Path() == DrainPortOnly }},
		}},
		{more: moreOf(EscapedMore), specs: []Spec{
			{Topic: EscapedHow, Step: Seat, Kind: Choose, Ask: "What escaped at the swap: how was it measured?", Options: escapeOptions, When: swapped, Default: offerChoice(escapeCaught)},
			{Topic: EscapedWith, Step: Seat, Kind: Choose, Ask: "Measured with what?", When: func(s *State, p Place) bool { return escapedBy(escapeCaught)(s, p) && severalDevices(s, p) }, OptionsOf: deviceOptions, Default: firstDevice},
			{Topic: EscapedAmount, Step: Seat, Kind: Amount, AskOf: askEscaped, WhyOf: func(s *State, p Place) string { return "Pan and funnel too; read it when the froth is gone." }, When: func(s *State, p Place) bool { return escapedBy(escapeCaught)(s, p) || escapedBy(escapeGuess)(s, p) }, Check: checkEscaped(EscapedWith)},
			{Topic: PadsBefore, Step: Seat, Kind: Number, Dim: DimG, Ask: "Pads before, dry, in grams", When: escapedBy(escapePads), Check: between(0, 20000)},
			{Topic: PadsAfter, Step: Seat, Kind: Number, Dim: DimG, Ask: "Pads after, with the oil, in grams", When: escapedBy(escapePads), Check: checkPads},
			{Topic: EscapedMore, Step: Seat, Kind: Choose, Ask: "Did more escape, measured another way?", Options: moreOptions, When: func(s *State, p Place) bool { return swapped(s, p) && !escapedBy(escapeNone)(s, p) }, Default: offerChoice(moreDone)},
		}},
		{specs: []Spec{
			{Topic: TightenedHow, Step: Seat, Kind: Choose, AskOf: askTighten, Why: "The maker's figure for this plug and washer, or none. Too tight strips the case.", Options: tightenOptions, Default: offerTighten},
		}},
	}
}

func washerName(s *State) string {
	if name := s.text(WasherKind); name != "" {
		return name
	}
	return "a new one of the right kind"
}

// swapped says whether oil could escape as cap was swapped for plug.
func swapped(s *State, p Place) bool { return s.Path() == DrainPortOnly && addRound(s, p) }

func escapedBy(token string) func(*State, Place) bool {
	return func(s *State, p Place) bool {
		e, ok := s.at(Place{EscapedHow, p.Round, p.Item})
		return ok && e.Value.Choice == token && swapped(s, p)
	}
}

func askEscaped(s *State, p Place) string {
	if escapedBy(escapeGuess)(s, p) {
		return "Your guess of what escaped"
	}
	return askAmount("Escaped at the swap?", EscapedWith)(s, p)
}

func checkPads(s *State, p Place, v Value) error {
	before, _ := s.num(Place{PadsBefore, p.Round, p.Item})
	if v.Number < before {
		return fmt.Errorf("lighter than before (%s)", s.show(before, DimG))
	}
	return nil
}

func askTighten(s *State, _ Place) string {
	if nm, ok := s.num(Place{Topic: TorqueFigure}); ok {
		return "Tightened to " + s.Units().FormatTorque(nm) + "?"
	}
	return "Tightened: no maker's figure is noted. How?"
}

func offerTighten(s *State, _ Place) (Value, bool) {
	if _, ok := s.num(Place{Topic: TorqueFigure}); ok {
		return Value{Choice: "wrench"}, true
	}
	return Value{Choice: "feel"}, true
}
