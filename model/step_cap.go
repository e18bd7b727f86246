package model

// This file asks for what belongs to capping the adapter. With a level port
// there is no adapter and this step falls away.

import "fmt"

func capBlocks() []block {
	return []block{{specs: []Spec{
		{Topic: PressureOff, Step: Cap, Kind: Acknowledge, Safety: true, Ask: "Valve shut, vessel let off to zero BEFORE any joint is touched", Why: "Oil under pressure goes for the eyes.", When: pushRound},
		{Topic: Capped, Step: Cap, Kind: Event, Ask: "Adapter capped: press the key", Why: "Then let it stand 5 to 10 minutes: bubbles rise, the oil settles and cools.", When: pushRound},
		{Topic: EscapedAtCapWith, Step: Cap, Kind: Choose, Ask: "What measures what escaped so far?", When: func(s *State, p Place) bool { return pushRound(s, p) && severalDevices(s, p) }, OptionsOf: deviceOptions, Default: firstDevice},
		{Topic: EscapedAtCap, Step: Cap, Kind: Amount, AskOf: askAmount("Escaped so far, round the adapter? 0 if none.", EscapedAtCapWith), Why: "A wrong thread leaks here: vent, plug back in, never force it.", When: pushRound, Default: offerNothing(EscapedAtCapWith), Check: checkEscaped(EscapedAtCapWith)},
	}}}
}

// offerNothing offers 0 in the unit of the device.
func offerNothing(with Topic) func(*State, Place) (Value, bool) {
	return func(s *State, p Place) (Value, bool) {
		if d, ok := s.device(with, p); ok && d.Scale {
			return Value{Unit: DimG}, true
		}
		return Value{Unit: DimML}, true
	}
}

// checkEscaped refuses more than has passed into the unit in this round and
// before.
func checkEscaped(with Topic) func(*State, Place, Value) error {
	return func(s *State, p Place, v Value) error {
		if d, ok := s.device(with, p); ok && d.Scale != (v.Unit == DimG) {
			return wrongDevice(d)
		}
		var passed float64
		for r := range p.Round + 1 {
			passed += s.Passed(r).Nominal
		}
		if v.Unit == DimML && v.Number > passed*1.1+20 {
			return fmt.Errorf("more than was pushed in (%s)", s.show(passed, DimML))
		}
		return nil
	}
}

func errMoreThanLoaded(s *State, loadedML float64) error {
	return fmt.Errorf("more than was loaded (%s): correct the load first if that is wrong", s.show(loadedML, DimML))
}

func errHeavier(s *State, fullG float64) error {
	return fmt.Errorf("heavier than before the push (%s)", s.show(fullG, DimG))
}
