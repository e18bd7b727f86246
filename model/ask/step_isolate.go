package ask

// This file asks for what must be settled before the drain plug is touched:
// the car is safe, it is the right unit and plug, and there is a way back in.

import "garage/tundish/model/job"

func isolateBlocks() []Block {
	electric := func(s *Known, _ job.Place) bool { return s.Drivetrain() != job.Combustion }
	warm := oilTemperatureSpecs()
	return []Block{once(
		caution(job.ElectricOff, "High voltage: car OFF, key away, no orange cable near",
			"Such a car can move or start by itself, silently. Not sure: stop here.").when(electric),
		caution(job.GroundAndChocks, "Hard level ground, chocks, both ends to be one height: then lift",
			"A unit that leans keeps oil back."),
		caution(job.StandsAndShake, "Rated stands, never a jack alone; pushed HARD: it stood",
			"From the side, before any part of you is under it."),
		Spec{
			Topic: job.RightUnit, Safety: true, Stale: namedAnew,
			AskOf: func(s *Known, _ job.Place) string {
				return "This IS the " + s.unitWord() + " and its DRAIN plug: two signs agree"
			},
			Why: "Shafts, case, place. The wrong unit drained is how gearboxes are ruined.",
		},
		Spec{
			Topic: job.RightPlug, Safety: true, Stale: namedAnew,
			Ask: "Its DRAIN plug", Why: "A rounded plug or dirt in the port ends the job.",
		},
		Spec{
			Topic: job.WayInProved, Safety: true,
			AskOf: func(s *Known, _ job.Place) string {
				switch {
				case s.Path() == job.Dipstick:
					return "Stick comes out, its tube is clean; drain plug clean, socket bites"
				case s.Path().PouredIn():
					return "Fill plug cracked loose FIRST; drain plug clean, socket bites"
				}
				return "Plug clean, socket bites; adapter: 3 turns in a like thread"
			},
			WhyOf: func(s *Known, _ job.Place) string {
				if s.Path().PouredIn() {
					return "Found stuck later, the unit stays empty. Oil runs now: catch it, it counts."
				}
				return "In a nut or spare that fits the plug. Binds after two turns: wrong thread."
			},
			Stale: func(s *Known, p job.Place, e job.Entry) bool {
				return s.SeqOf(job.Place{Topic: job.FillPath}) > e.Seq && !s.Has(job.PlugOut)
			},
		},
		caution(job.BreatherFree, "Breather found, cleaned, moves by hand",
			"Shut, it blows oil past the seals, and squirts it at you at the swap."),
	), inStep(job.Isolate, once(gloves())), inStep(job.Isolate, again(warm...)), inStep(job.Isolate, once(tagAndPlugOut()...))}
}

// unitWord is what the unit is called, or that it is one.
func (s *Known) unitWord() string {
	if name := s.UnitName(); name != "" {
		return name
	}
	return "right unit"
}

// namedAnew asks again whether it is the right unit once another one was named,
// unless its plug is out.
func namedAnew(s *Known, _ job.Place, e job.Entry) bool {
	named := max(s.SeqOf(job.Place{Topic: job.UnitName}), s.SeqOf(job.Place{Topic: job.UnitKind}))
	return named > e.Seq && !s.Has(job.PlugOut)
}

// unaskedSpecs are those that the flow does not ask: of a job that is taken up again between
// isolate and seat, of a printed page, and of the units that are done in one go.
func unaskedSpecs() []Spec {
	return once(
		caution(job.ResumedStands, "Chocks and rated stands as at the start; pushed HARD: it stood",
			"Somebody may have touched the car. Before any part of you is under it."),
		caution(job.ResumedTag, "Tag on the steering wheel, key in your pocket", "No wheel turned, no gear, no start."),
		Spec{
			Topic: job.FromPaper, Ask: "What was written on the printed sheets is typed in",
		},
		Spec{Topic: job.Session, Ask: "Done in one go with other units of the car"},
		Spec{
			Topic: job.ResumedPlug, Safety: true, Options: portOptions,
			Ask: "In the drain port now",
			Why: "Look, do not remember. Dirt and insects get into an open port.",
		},
	).Specs
}

var portOptions = []Option{
	{"plug", "plug", ""},
	{"adapter", "adapter, capped or with its hose", ""},
	{job.PortOpen, "open: cleaned", "clean it before anything goes in"},
}
