package model

// This file asks for what belongs to capping the adapter: the vessel is vented
// before a joint is touched, and what is left in it is measured after that.
// With a level port there is no adapter and this step falls away.

func capBlocks() []block {
	escaped := amountSpec(EscapedAtCap, EscapedAtCapWith, "Escaped so far, round the adapter? 0 if none.", pushRound)
	escaped.WhyOf, escaped.Check = nil, checkEscaped
	escaped.Why = "A wrong thread leaks here: vent, plug back in, never force it."
	specs := []Spec{
		ventSpec(pushRound),
		{
			Topic: Capped, Kind: Event, When: pushRound,
			Ask: "Hose off with its end up, adapter capped: press the key",
			Why: "Then let it stand 5 to 10 minutes: bubbles rise, the oil settles and cools.",
		},
		hoseAfterSpec(),
	}
	specs = append(specs, leftOverSpecs(pushRound)...)
	return []block{once(Cap, append(specs,
		withSpec(EscapedAtCapWith, EscapedAtCap, "What measures what escaped so far?", pushRound),
		escaped)...)}
}
