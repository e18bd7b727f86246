package model

// This file asks for what must be settled before the drain plug is touched:
// the car is safe, it is the right unit and plug, and there is a way back in.

func isolateBlocks() []block {
	electric := func(s *State, _ Place) bool { return s.Drivetrain() != Combustion }
	levelPort := func(s *State, _ Place) bool { return s.Path() == LevelPort }
	ack := func(t Topic, ask, why string) Spec {
		return Spec{Topic: t, Step: Isolate, Kind: Acknowledge, Safety: true, Ask: ask, Why: why}
	}
	specs := []Spec{
		ack(MakersManual, "The maker's manual is read for this unit", "It decides, and so do local rules. Not sure, or no manual: a licensed workshop."),
		ack(ElectricOff, "High voltage: car off, key away, no orange cable near", "Such a car can move or start by itself, silently. Not sure: stop here."),
		ack(GroundAndChocks, "Hard level ground, chocks at the wheels that stay down", "Both ends at one height too: a unit that leans does not drain."),
		ack(StandsAndShake, "On rated stands, never a jack alone; then the shake test", "Push the car hard from the side before any part of you is under it."),
		ack(RightUnit, "It IS the right unit: two signs agree", "Shafts, case, place. The wrong box drained is how gearboxes are ruined."),
		ack(RightPlug, "It IS the drain plug; cleaned all round; key fits to the bottom", "A rounded plug or dirt in the port ends the job."),
		ack(BreatherFree, "Breather found, cleaned, moves by hand", "Shut, it blows oil past the seals, and squirts it at you at the swap."),
		{
			Topic: WayInProved, Step: Isolate, Kind: Acknowledge, Safety: true,
			AskOf: func(s *State, p Place) string {
				if levelPort(s, p) {
					return "Fill plug cracked loose FIRST"
				}
				return "Adapter tried in the plug's thread: 3 turns by hand"
			},
			WhyOf: func(s *State, p Place) string {
				if levelPort(s, p) {
					return "A fill plug that will not move, found after draining, leaves the unit empty."
				}
				return "In a nut or spare that fits the plug. Binds after two turns: wrong thread."
			},
		},
	}
	for i := range specs {
		if specs[i].Topic == ElectricOff {
			specs[i].When = electric
		}
	}
	return []block{{specs: specs}}
}

// resumeSpecs are asked when a job is taken up again between isolate and seat.
func resumeSpecs() []Spec {
	return []Spec{
		{Topic: ResumedStands, Step: Isolate, Kind: Acknowledge, Safety: true, Ask: "Back again: stands, chocks and shake test as at the start", Why: "Somebody may have touched the car. Before any part of you is under it."},
		{
			Topic: ResumedPlug, Step: Isolate, Kind: Choose, Safety: true, Ask: "What is in the drain port now?", Options: portOptions,
			Why: "Look, do not remember. Dirt and insects get into an open port.",
		},
	}
}

var portOptions = []Option{
	{"plug", "The plug", ""},
	{"adapter", "The adapter, capped or with its hose", ""},
	{"open", "Nothing: it is open", "clean it before anything goes in"},
}
