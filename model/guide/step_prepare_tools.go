package guide

// This file asks for what the owner measures with and what fills: containers,
// scale, vessel, hose, pump.

import (
	"fmt"
	"math"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/quantity"
	"garage/tundish/model/verdict"
)

func containerBlocks() []block {
	containers := []Spec{
		{
			Topic: job.ContainerName, Default: offering(job.Value{Text: "jug"}), Check: longest(20),
			Ask: "Name a measuring container",
			Why: "Use the same jug for out and in: its error then cancels.",
		},
		{
			Topic: job.ContainerGraduation, Default: offering(job.Value{Number: 10, Unit: job.DimML}), Check: between(0.1, 2000),
			Ask: "Its graduation: the volume between two marks",
		},
		{
			Topic: job.ContainerError, Default: offering(job.Value{Number: 0.02, Unit: job.DimShare}), Check: between(0, 0.2),
			Ask: "How far off may its marks be, in %?",
			Why: "Kitchen jug 5, good jug 2, glass cylinder 0.5 (common practice).",
		},
	}
	containers = append(containers, waterSpecs(job.ContainerWater, job.ContainerWaterReading, func(s *Guide, p job.Place) estimate.Device {
		g, _ := s.Num(p.Of(job.ContainerGraduation))
		share, _ := s.Num(p.Of(job.ContainerError))
		return estimate.Device{GraduationML: g, ErrorShare: share}
	}, always)...)
	containers = append(containers, Spec{
		Topic: job.ContainerMore, Options: moreOptions, Default: offering(job.Value{Choice: job.MoreDone}),
		Ask: "Another container to measure with?",
	})
	return []block{
		under(partMeasure, again(containers...)),
		under(partMeasure, once(Spec{
			Topic: job.ScaleDivision, Default: offerUnknown, Check: between(0.01, 100),
			AskOf:   weighIn("A scale? Its smallest step"),
			Why:     "Weighing beats reading marks: no froth, no slant, no temperature.",
			Unknown: "no scale",
		})),
	}
}

// waterSpecs ask for a check of marks with a known mass of water.
func waterSpecs(water, reading job.Topic, device func(*Guide, job.Place) estimate.Device, when condition) []Spec {
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
			When: func(s *Guide, p job.Place) bool { _, ok := s.Num(p.Of(water)); return ok && when(s, p) },
			Check: func(s *Guide, p job.Place, v job.Value) error {
				massG, _ := s.Num(p.Of(water))
				_, err := s.CheckWithWater(device(s, p), massG, v.Number)
				return err
			},
		},
	}
}

func rigBlocks() []block {
	vessel := []Spec{
		choosing(job.Filler, fillerOptions, "What pushes the oil in?", "").offers("hand_pump"),
		{
			Topic: job.VesselGraduation, Default: offering(job.Value{Number: 10, Unit: job.DimML}), Check: between(0.1, 2000),
			Ask:     "Graduation of the fill vessel",
			Why:     "The pre-load is rounded up to it.",
			Unknown: "it has no marks",
		},
	}
	vessel = append(vessel, waterSpecs(job.VesselWater, job.VesselWaterReading, func(s *Guide, _ job.Place) estimate.Device {
		g, _ := s.Num(job.Place{Topic: job.VesselGraduation})
		return estimate.Device{GraduationML: g, ErrorShare: estimate.VesselErrorShare}
	}, known(job.VesselGraduation))...)
	return []block{
		under(partRig, once(vessel...)),
		under(partRig, again(hoseSpecs()...)),
		under(partRig, once(pushSpecs()...)),
	}
}

func hoseSpecs() []Spec {
	return []Spec{
		{
			Topic: job.HoseBore, Default: offering(job.Value{Number: 6, Unit: job.DimMM}), Check: between(1, 60), When: drainOnly,
			Ask:     "Hose: bore (inside diameter)",
			Why:     "What the hose keeps never reaches the unit.",
			Unknown: "no hose, or not known",
			UnknownOf: inUnits(func(u quantity.Units) string {
				return "no hose, or not known: " + u.FormatVolumeU(estimate.DefaultHoldUpML, estimate.Coverage*estimate.DefaultHoldUpUML) +
					" is taken"
			}),
		},
		{
			Topic: job.HoseLength, Default: offering(job.Value{Number: 1.5, Unit: job.DimM}), Check: between(0.01, 20), When: hoseKnown,
			Ask: "Hose: length",
		},
		choosing(job.HoseMore, moreOptions, "Another piece of hose with another bore?", "").offers(job.MoreDone).when(hoseKnown),
	}
}

func pushSpecs() []Spec {
	pressurised := usesFiller(job.PressurisedVessel)
	return []Spec{
		{
			Topic: job.VesselHeel, Default: offerUnknown, Check: between(0, 5000),
			Ask:     "What can the vessel not push out (its heel)?",
			Why:     "Run it with oil into a jug once: what is left is the heel.",
			Unknown: "not known",
			UnknownOf: inUnits(func(u quantity.Units) string {
				return "not known: " + u.FormatVolumeU(estimate.HeelML, estimate.Coverage*estimate.HeelUML) + " is taken"
			}),
		},
		{
			Topic: job.EscapeExpected, Check: checkEscapeExpected, Default: offerEscape,
			When:    func(s *Guide, p job.Place) bool { return drainOnly(s, p) && notFrom(job.EscapeExpected)(s, p) },
			Ask:     "What will escape at the swap to the plug?",
			Why:     "On offer is what earlier jobs with this rig taught. A range, or one figure.",
			Unknown: "not known",
			UnknownOf: inUnits(func(u quantity.Units) string {
				return "not known: " + u.FormatVolumeU(estimate.EscapeML, estimate.Coverage*estimate.EscapeUML)
			}),
		},
		optional(job.StrokeVolume, between(0.5, 2000), "Volume of one stroke of the pump",
			"A hint of progress only: cold oil and air shorten each stroke.", "not known").when(usesFiller(job.HandPump)),
		optional(job.VesselRating, between(10, 1000), "Pressure rating on the vessel, or of its relief valve",
			"The lower of the two. Without one, do not pressurise it.", "none: no pressure, use a hand pump").when(pressurised),
		{
			Topic: job.PushPressure, Default: offerPressure, Check: checkPressure,
			When: func(s *Guide, p job.Place) bool { return pressurised(s, p) && s.VesselRated() },
			Stale: func(s *Guide, p job.Place, e job.Entry) bool {
				return !s.FillBegun(0) && checkPressure(s, p, e.Value) != nil
			},
			Ask: "Pressure to push with",
			WhyOf: inUnits(func(u quantity.Units) string {
				return u.FormatPressure(30) + " to " + u.FormatPressure(verdict.UsualMostKPa) +
					" does it. Slow? Warm oil, a wider hose; not more air."
			}),
		},
	}
}

func always(*Guide, job.Place) bool { return true }

func drainOnly(s *Guide, _ job.Place) bool { return s.Path() == job.DrainPortOnly }

// known reports whether a number was given in answer to a topic.
func known(t job.Topic) condition {
	return func(s *Guide, _ job.Place) bool { _, ok := s.Num(job.Place{Topic: t}); return ok }
}

func hoseKnown(s *Guide, p job.Place) bool {
	_, ok := s.Num(p.Of(job.HoseBore))
	return ok && s.Path() == job.DrainPortOnly
}

func usesFiller(k job.FillerKind) condition {
	return func(s *Guide, _ job.Place) bool { return s.FillerKind() == k }
}

// offerEscape offers what jobs with this rig taught, as the range that covers one
// swap 19 times in 20.
func offerEscape(s *Guide, _ job.Place) (job.Value, bool) {
	l := s.offers.Escape
	if l.Jobs == 0 {
		return job.Value{Unknown: true}, true
	}
	half := math.Min(estimate.Coverage*l.UML, l.ML)
	return job.Value{Number: l.ML - half, High: l.ML + half, Unit: job.DimML}, true
}

// notFrom asks for what the jobs of the unit before this one tell better, only
// where there is none; nor once the oil is out, of a job that was begun where
// there was one.
func notFrom(t job.Topic) condition {
	return func(s *Guide, _ job.Place) bool {
		return s.EverSaid(t) || !s.Follows() && !s.Has(job.PlugOut) && !s.PushBegun(0)
	}
}

func checkEscapeExpected(s *Guide, _ job.Place, v job.Value) error {
	if v.High > roomML {
		return fmt.Errorf("at most %s escapes at a swap", s.Show(roomML, job.DimML))
	}
	return nil
}

func offerPressure(s *Guide, _ job.Place) (job.Value, bool) {
	return job.Value{Number: math.Min(estimate.UsualPushKPa, s.AllowedKPa()), Unit: job.DimKPa}, true
}

func checkPressure(s *Guide, _ job.Place, v job.Value) error {
	if most := s.AllowedKPa(); v.Number <= 0 || v.Number > most {
		return fmt.Errorf("pressure must be above 0 and at most %s, the vessel's limit: warm the oil or take a wider hose instead",
			s.Units().FormatPressure(most))
	}
	return nil
}
