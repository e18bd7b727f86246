package model

// This file asks for what belongs to capping the adapter: the vessel is vented
// before a joint is touched, and what is left in it is measured after that.
// With a level port there is no adapter and this step falls away.

func capBlocks() []block {
	escaped := amountSpec(EscapedAtCap, EscapedAtCapWith, "", pushRound)
	escaped.AskOf, escaped.WhyOf = askEscapedAtCap, whyEscapedAtCap
	escaped.Check = checkEscaped
	specs := []Spec{
		ventSpec(pushRound),
		{
			Topic: Capped, When: pushRound,
			Ask: "Hose off with its end up, adapter capped: press the key",
			Why: "Then let it stand 5 to 10 minutes: bubbles rise, the oil settles and cools.",
		},
		hoseAfterSpec(),
	}
	specs = append(specs, leftOverSpecs(pushRound)...)
	return []block{once(append(specs,
		withSpec(EscapedAtCapWith, EscapedAtCap, "What measures what escaped so far?", pushRound),
		escaped)...)}
}

func askEscapedAtCap(s *State, p Place) string {
	ask := "Escaped so far, round the adapter? 0 if none."
	if s.hoseAfter(p.Round) == HoseRanToPan {
		ask = "In the pan so far, with the oil of the hose?"
	}
	return askAmount(ask, EscapedAtCapWith)(s, p)
}

func whyEscapedAtCap(s *State, p Place) string {
	if s.hoseAfter(p.Round) == HoseRanToPan {
		return "Not emptied before the swap? 0 here: it is measured with the rest then."
	}
	return "A wrong thread leaks here: vent, plug back in, never force it."
}
