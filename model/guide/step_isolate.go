package guide

// This file asks for what must be settled before the drain plug is touched:
// the car is safe, it is the right unit and plug, and there is a way back in.

import "garage/tundish/model/job"

func isolateBlocks() []block {
	electric := func(s *Guide, _ job.Place) bool { return s.Drivetrain() != job.Combustion }
	return []block{once(
		caution(job.MakersManual, "The maker's manual is read for this unit",
			"It decides, and so do local rules. Not sure: a licensed workshop."),
		caution(job.ElectricOff, "High voltage: car off, key away, no orange cable near",
			"Such a car can move or start by itself, silently. Not sure: stop here.").when(electric),
		caution(job.GroundAndChocks, "Hard level ground, chocks at the wheels that stay down",
			"Both ends at one height too: a unit that leans keeps oil back."),
		caution(job.StandsAndShake, "On rated stands, never a jack alone; then the shake test",
			"Push the car hard from the side before any part of you is under it."),
		caution(job.RightUnit, "It IS the right unit: two signs agree",
			"Shafts, case, place. The wrong box drained is how gearboxes are ruined."),
		caution(job.RightPlug, "It IS the drain plug; cleaned all round; key fits to the bottom",
			"A rounded plug or dirt in the port ends the job."),
		caution(job.BreatherFree, "Breather found, cleaned, moves by hand",
			"Shut, it blows oil past the seals, and squirts it at you at the swap."),
		Spec{
			Topic: job.WayInProved, Safety: true,
			AskOf: func(s *Guide, _ job.Place) string {
				if s.Path() == job.LevelPort {
					return "Fill plug cracked loose FIRST"
				}
				return "Adapter tried in the plug's thread: 3 turns by hand"
			},
			WhyOf: func(s *Guide, _ job.Place) string {
				if s.Path() == job.LevelPort {
					return "A fill plug found stuck after draining leaves the unit empty."
				}
				return "In a nut or spare that fits the plug. Binds after two turns: wrong thread."
			},
		},
	)}
}

// resumeSpecs are asked when a job is taken up again between isolate and seat.
func resumeSpecs() []Spec {
	return once(
		caution(job.ResumedStands, "Back again: tag on, stands, chocks and shake test as at the start",
			"Somebody may have touched the car. Before any part of you is under it."),
		Spec{
			Topic: job.ResumedPlug, Safety: true, Options: portOptions,
			Ask: "What is in the drain port now?",
			Why: "Look, do not remember. Dirt and insects get into an open port.",
		},
	).specs
}

var portOptions = []Option{
	{"plug", "The plug", ""},
	{"adapter", "The adapter, capped or with its hose", ""},
	{job.PortOpen, "Nothing: it is open", "clean it before anything goes in"},
}

// ResumePrompts are asked again when a job is taken up with the car in the
// air: the stands, and what is in the drain port.
func (s *Guide) ResumePrompts() []Prompt {
	if !s.Has(job.GroundAndChocks) || s.Phase() != Open || s.UnitState().Settled() {
		return nil
	}
	stands := Prompt{Spec: specs[job.ResumedStands], Place: job.At(job.ResumedStands, 0, s.Items(job.ResumedStands, 0))}
	if !s.Emptied() {
		return []Prompt{stands}
	}
	return []Prompt{stands, {Spec: specs[job.ResumedPlug], Place: job.At(job.ResumedPlug, 0, s.Items(job.ResumedPlug, 0))}}
}
