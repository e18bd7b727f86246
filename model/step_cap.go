package model

// This file asks for what belongs to capping the adapter. With a level port
// there is no adapter and this step falls away.

func capBlocks() []block {
	escaped := amountSpec(EscapedAtCap, EscapedAtCapWith, "Escaped so far, round the adapter? 0 if none.", pushRound)
	escaped.WhyOf, escaped.Check, escaped.Default = nil, checkEscaped, offerNothing(EscapedAtCapWith)
	escaped.Why = "A wrong thread leaks here: vent, plug back in, never force it."
	return []block{once(Cap,
		Spec{
			Topic: PressureOff, Kind: Acknowledge, Safety: true, When: pushRound,
			Ask: "Valve shut, vessel let off to zero BEFORE any joint is touched",
			Why: "Oil under pressure goes for the eyes.",
		},
		Spec{
			Topic: Capped, Kind: Event, When: pushRound,
			Ask: "Adapter capped: press the key",
			Why: "Then let it stand 5 to 10 minutes: bubbles rise, the oil settles and cools.",
		},
		withSpec(EscapedAtCapWith, EscapedAtCap, "What measures what escaped so far?", pushRound),
		escaped,
	)}
}
