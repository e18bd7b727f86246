package ask

// This file asks what oil the rig held last: hose and vessel bring some of it into this fill.

import "garage/tundish/model/job"

var rigOilOptions = []Option{
	{job.RigSameOil, "the same oil", ""},
	{job.RigSameClass, "another, same class and approval", "up to 5 % of a fill"},
	{job.RigIntoSynchro, "gear oil GL-5; now a gearbox with brass synchros", "up to 1 % of a fill"},
	{job.RigIntoAxle, "automatic oil; now an axle", "up to 2 % of a fill"},
	{job.RigIntoAutomatic, "gear oil, slip additive; now automatic oil, wet clutch", "up to 0.1 %: a rig of its own is better"},
}

var rigLeftOptions = []Option{
	{job.RigFull, "full", ""},
	{job.RigHung, "hung open until it ran out", ""},
	{job.RigRinsed, "rinsed twice with the new oil", ""},
}

var rigRinseOptions = []Option{
	{job.RigRinsed, "rinsed: twice 100 ml of the new oil through it, to waste", "no solvent, no brake cleaner"},
	{job.RigOwn, "another hose and vessel, of this oil", ""},
}

func rigOilSpecs() []Spec {
	differs := func(s *Known, _ job.Place) bool { return s.Rig().Different }
	return []Spec{
		choosing(job.RigLastOil, rigOilOptions, "The rig's last oil", "Hose and vessel bring some of it into this fill.").notNeeded(),
		choosing(job.RigLeft, rigLeftOptions, "The rig was left", "").when(differs),
		{
			Topic: job.RigRinse, Stop: true, Options: rigRinseOptions,
			Stale: func(s *Known, _ job.Place, e job.Entry) bool {
				return e.Seq < max(s.SeqOf(job.Place{Topic: job.RigLastOil}), s.SeqOf(job.Place{Topic: job.RigLeft}))
			},
			When: func(s *Known, p job.Place) bool {
				rig := s.Rig()
				return rig.Different && rig.Share > rig.Limit && s.Has(job.RigLeft) && (s.EverSaid(p.Topic) || !s.Has(job.GroundAndChocks))
			},
			AskOf: func(s *Known, _ job.Place) string { return s.RigText() },
			Why:   "Too much of the wrong oil. Rinsed twice, next to nothing is left.",
		},
	}
}
