package guide

// This file asks for what belongs to capping the adapter: the vessel is vented
// before a joint is touched, and what is left in it is measured after that.
// With a level port there is no adapter and this step falls away.

import "garage/tundish/model/job"

func capBlocks() []block {
	escaped := amountSpec(job.EscapedAtCap, job.EscapedAtCapWith, "", pushRound)
	escaped.AskOf, escaped.WhyOf = askEscapedAtCap, whyEscapedAtCap
	escaped.Check = checkEscaped
	specs := []Spec{
		ventSpec(pushRound),
		{
			Topic: job.Capped, When: pushRound,
			Ask: "Hose off with its end up, adapter capped: press the key",
			Why: "Then let it stand 5 to 10 minutes: bubbles rise, the oil settles and cools.",
		},
		choosing(job.HoseAfter, hoseAfterOptions, "The oil of the hose: where is it now?",
			"Each ml counts once: still in the hose, or with the oil that it ran to.").when(pushRound),
	}
	specs = append(specs, leftOverSpecs(pushRound)...)
	return []block{once(append(specs,
		withSpec(job.EscapedAtCapWith, job.EscapedAtCap, "What measures what escaped so far?", pushRound),
		escaped)...)}
}

func askEscapedAtCap(s *Guide, p job.Place) string {
	ask := "Escaped so far, round the adapter? 0 if none."
	if s.HoseAfter(p.Round) == job.HoseRanToPan {
		ask = "In the pan so far, with the oil of the hose?"
	}
	return askAmount(ask, job.EscapedAtCapWith)(s, p)
}

func whyEscapedAtCap(s *Guide, p job.Place) string {
	if s.HoseAfter(p.Round) == job.HoseRanToPan {
		return "Not emptied before the swap? 0 here: it is measured with the rest then."
	}
	return "A wrong thread leaks here: vent, plug back in, never force it."
}
