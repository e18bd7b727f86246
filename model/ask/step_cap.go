package ask

// This file asks for what belongs to capping the adapter: where the oil of
// the hose is, and what is left in the vessel.
// With a level port there is no adapter and this step falls away.

import "garage/tundish/model/job"

func capBlocks() []Block {
	specs := []Spec{
		{
			Topic: job.Capped, When: pushRound,
			Ask: "Adapter is CAPPED",
			Why: "Then let it stand 5 to 10 minutes: bubbles rise, the oil settles and cools.",
		},
		choosing(job.HoseAfter, hoseAfterOptions, "and the hose is",
			"Each ml counts once: still in the hose, or with the oil that it ran to.").when(pushRound),
	}
	specs = append(specs, leftOverSpecs(pushRound)...)
	spilled := amountSpec(job.EscapedAtCap, "Spilled so far, taken away", pushRound)
	spilled.Optional, spilled.Unknown, spilled.Check = true, "none: read once, after the swap", checkEscaped
	spilled.Why = "Only if it is poured away before the swap: else it is read with the rest."
	return []Block{once(append(specs,
		withSpec(job.EscapedAtCap, pushRound), spilled)...)}
}
