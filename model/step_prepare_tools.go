package model

// This file asks for what the owner measures with and what fills: containers,
// scale, vessel, hose, pump.

import (
	"fmt"
	"math"

	"garage/tundish/model/quantity"
)

func containerBlocks() []block {
	containers := []Spec{
		{
			Topic: ContainerName, Default: offerText("jug"), Check: longest(20),
			Ask: "Name a measuring container",
			Why: "Use the same jug for out and in: its error then cancels.",
		},
		{
			Topic: ContainerGraduation, Default: offerML(10), Check: between(0.1, 2000),
			Ask: "Its graduation: the volume between two marks",
		},
		{
			Topic: ContainerError, Default: offerNumber(0.02, DimShare), Check: between(0, 0.2),
			Ask: "How far off may its marks be, in %?",
			Why: "Kitchen jug 5, good jug 2, glass cylinder 0.5 (common practice).",
		},
	}
	containers = append(containers, waterSpecs(ContainerWater, ContainerWaterReading, func(s *State, p Place) Device {
		g, _ := s.num(p.of(ContainerGraduation))
		share, _ := s.num(p.of(ContainerError))
		return Device{GraduationML: g, ErrorShare: share}
	}, always)...)
	containers = append(containers, Spec{
		Topic: ContainerMore, Options: moreOptions, Default: offerChoice(moreDone),
		Ask: "Another container to measure with?",
	})
	return []block{
		under(partMeasure, again(containers...)),
		under(partMeasure, once(Spec{
			Topic: ScaleDivision, Default: offerUnknown, Check: between(0.01, 100),
			AskOf:   weighIn("A scale? Its smallest step"),
			Why:     "Weighing beats reading marks: no froth, no slant, no temperature.",
			Unknown: "no scale",
		})),
	}
}

// waterSpecs ask for a check of marks with a known mass of water.
func waterSpecs(water, reading Topic, device func(*State, Place) Device, when condition) []Spec {
	return []Spec{
		{
			Topic: water, Default: offerUnknown, Check: between(10, 50000), When: when,
			AskOf: weighIn("Checked with tap water? Its mass, container taken off"),
			WhyOf: inUnits(func(u quantity.Units) string {
				return fmt.Sprintf("%s of water at %s fill %s. It betters every reading.",
					u.FormatMass(1000), u.FormatTemperature(20), u.FormatVolume(1003))
			}),
			Unknown: "not checked",
		},
		{
			Topic: reading, Unknown: "not read",
			Ask:  "And what do its marks say of that water?",
			When: func(s *State, p Place) bool { _, ok := s.num(p.of(water)); return ok && when(s, p) },
			Check: func(s *State, p Place, v Value) error {
				massG, _ := s.num(p.of(water))
				_, err := s.checkWithWater(device(s, p), massG, v.Number)
				return err
			},
		},
	}
}

func rigBlocks() []block {
	vessel := []Spec{
		{
			Topic: Filler, Options: fillerOptions, Default: offerChoice("hand_pump"),
			Ask: "What pushes the oil in?",
		},
		{
			Topic: VesselGraduation, Default: offerML(10), Check: between(0.1, 2000),
			Ask:     "Graduation of the fill vessel",
			Why:     "The pre-load is rounded up to it.",
			Unknown: "it has no marks",
		},
	}
	vessel = append(vessel, waterSpecs(VesselWater, VesselWaterReading, func(s *State, _ Place) Device {
		g, _ := s.num(Place{Topic: VesselGraduation})
		return Device{GraduationML: g, ErrorShare: vesselErrorShare}
	}, known(VesselGraduation))...)
	return []block{
		under(partRig, once(vessel...)),
		under(partRig, again(hoseSpecs()...)),
		under(partRig, once(pushSpecs()...)),
	}
}

func hoseSpecs() []Spec {
	return []Spec{
		{
			Topic: HoseBore, Default: offerNumber(6, DimMM), Check: between(1, 60), When: drainOnly,
			Ask:     "Hose: bore (inside diameter)",
			Why:     "What the hose keeps never reaches the unit.",
			Unknown: "no hose, or not known",
			UnknownOf: inUnits(func(u quantity.Units) string {
				return "no hose, or not known: " + u.FormatVolumeU(defaultHoldUpML, Coverage*defaultHoldUpUML) + " is taken"
			}),
		},
		{
			Topic: HoseLength, Default: offerNumber(1.5, DimM), Check: between(0.01, 20), When: hoseKnown,
			Ask: "Hose: length",
		},
		{
			Topic: HoseMore, Options: moreOptions, Default: offerChoice(moreDone), When: hoseKnown,
			Ask: "Another piece of hose with another bore?",
		},
	}
}

func pushSpecs() []Spec {
	pressurised := usesFiller(PressurisedVessel)
	return []Spec{
		{
			Topic: VesselHeel, Default: offerML(0), Check: between(0, 5000),
			Ask: "What can the vessel not push out (its heel)?",
			Why: "Run it with oil into a jug once: what is left is the heel.",
		},
		{
			Topic: EscapeExpected, Check: checkEscapeExpected, When: drainOnly,
			Default: offerLearned(func(o Offers) Learned { return o.Escape }),
			Ask:     "What will escape at the swap to the plug?",
			Why:     "On offer is what earlier jobs with this rig taught. A range, or one figure.",
			Unknown: "not known",
			UnknownOf: inUnits(func(u quantity.Units) string {
				return "not known: " + u.FormatVolumeU(EscapeML, Coverage*EscapeUML)
			}),
		},
		{
			Topic: StrokeVolume, Default: offerUnknown, Check: between(0.5, 2000), When: usesFiller(HandPump),
			Ask:     "Volume of one stroke of the pump",
			Why:     "A hint of progress only: cold oil and air shorten each stroke.",
			Unknown: "not known",
		},
		{
			Topic: VesselRating, Default: offerUnknown, Check: between(10, 1000), When: pressurised,
			Ask:     "Pressure rating on the vessel, or of its relief valve",
			Why:     "The lower of the two. Without one, do not pressurise it.",
			Unknown: "none: no pressure, use a hand pump",
		},
		{
			Topic: PushPressure, Default: offerPressure, Check: checkPressure,
			When:  func(s *State, p Place) bool { return pressurised(s, p) && s.vesselRated() },
			Stale: func(s *State, p Place, e Entry) bool { return !s.fillBegun(0) && checkPressure(s, p, e.Value) != nil },
			Ask:   "Pressure to push with",
			WhyOf: inUnits(func(u quantity.Units) string {
				return u.FormatPressure(30) + " to " + u.FormatPressure(usualMostKPa) + " does it. Slow? Warm oil, a wider hose; not more air."
			}),
		},
	}
}

func always(*State, Place) bool { return true }

func drainOnly(s *State, _ Place) bool { return s.Path() == DrainPortOnly }

// known says whether a number was given in answer to a topic.
func known(t Topic) condition {
	return func(s *State, _ Place) bool { _, ok := s.num(Place{Topic: t}); return ok }
}

func hoseKnown(s *State, p Place) bool {
	_, ok := s.num(p.of(HoseBore))
	return ok && s.Path() == DrainPortOnly
}

func usesFiller(k FillerKind) condition {
	return func(s *State, _ Place) bool { return s.FillerKind() == k }
}

// offerLearned offers what earlier jobs taught, as the range that covers it 19
// times in 20. Once accepted it is the job's own, whatever later jobs teach.
func offerLearned(of func(Offers) Learned) offer {
	return func(s *State, _ Place) (Value, bool) {
		l := of(s.offers)
		if l.Jobs == 0 {
			return Value{Unknown: true}, true
		}
		half := math.Min(Coverage*l.UML, l.ML)
		return Value{Number: l.ML - half, High: l.ML + half, Unit: DimML}, true
	}
}

func checkEscapeExpected(s *State, _ Place, v Value) error {
	if v.High > roomML {
		return fmt.Errorf("at most %s escapes at a swap", s.show(roomML, DimML))
	}
	return nil
}

func offerPressure(s *State, _ Place) (Value, bool) {
	return Value{Number: math.Min(usualPushKPa, s.allowedKPa()), Unit: DimKPa}, true
}

func checkPressure(s *State, _ Place, v Value) error {
	if most := s.allowedKPa(); v.Number <= 0 || v.Number > most {
		return fmt.Errorf("pressure must be above 0 and at most %s, the vessel's limit: warm the oil or take a wider hose instead",
			s.Units().FormatPressure(most))
	}
	return nil
}
