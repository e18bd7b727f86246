package ask

// This file asks for what the owner measures with and what fills: containers,
// scale, vessel, hose, pump.

import (
	"fmt"
	"math"
	"unicode"
	"unicode/utf8"

	"garage/tundish/model/device"
	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/push"
	"garage/tundish/model/quantity"
	"garage/tundish/model/verdict"
)

func containerBlocks() []Block {
	failing := optional(job.ContainerError, between(0, 0.2), "Its marks are right to, %",
		"Kitchen jug 5, good jug 2, glass cylinder 0.5 (common practice).", "not known: 2 %")
	containers := []Spec{
		{
			Topic: job.ContainerName, Default: offering(job.Value{Text: "jug"}), Check: longest(20),
			Ask: "Measured in",
			Why: "Use the same jug for out and in: its error then cancels.",
		},
		{
			Topic: job.ContainerGraduation, Default: offering(job.Value{Number: 10, Unit: job.DimML}), Check: between(0.1, 2000),
			AskOf: func(s *Known, p job.Place) string { return s.containerName(p.Item) + ": marks every" },
		},
		failing,
	}
	containers = append(containers, waterSpecs(job.ContainerWater, job.ContainerWaterReading, func(s *Known, p job.Place) device.Device {
		g, _ := s.Num(p.Of(job.ContainerGraduation))
		share, _ := s.Num(p.Of(job.ContainerError))
		return device.Device{GraduationML: g, ErrorShare: share}
	}, always)...)
	containers = append(containers, choosing(job.ContainerMore, moreOptions, "A second jug", "").notNeeded())
	scale := optional(job.ScaleDivision, between(0.01, 100), "", "Weighing beats reading marks: no froth, no slant, no temperature.",
		"no scale")
	scale.AskOf, scale.Hint = weighIn("Scale: smallest step"), "a scale beats a jug"
	return []Block{ofGarage(again(containers...)), ofGarage(once(scale))}
}

// containerName is what a container is called, as the owner or the usual answer has it.
func (s *Known) containerName(item int) string {
	name := s.TextAt(job.At(job.ContainerName, 0, item))
	if name == "" {
		return "Jug"
	}
	first, size := utf8.DecodeRuneInString(name)
	return string(unicode.ToUpper(first)) + name[size:]
}

// waterSpecs ask for a check of marks with a known mass of water.
func waterSpecs(water, reading job.Topic, device func(*Known, job.Place) device.Device, when condition) []Spec {
	return []Spec{
		{
			Topic: water, Optional: true, Check: between(10, 50000), When: when,
			AskOf: weighIn("Checked with water: its mass"),
			WhyOf: inUnits(func(u quantity.Units) string {
				return fmt.Sprintf("Container taken off. %s of water at %s fill %s.",
					u.FormatMass(1000), u.FormatTemperature(20), u.FormatVolume(1003))
			}),
			Unknown: "not checked",
		},
		{
			Topic: reading, Unknown: "not read",
			Ask:  "The marks say of that water",
			When: func(s *Known, p job.Place) bool { _, ok := s.Num(p.Of(water)); return ok && when(s, p) },
			Check: func(s *Known, p job.Place, v job.Value) error {
				massG, _ := s.Num(p.Of(water))
				_, err := s.CheckWithWater(device(s, p), massG, v.Number)
				return err
			},
		},
	}
}

func rigBlocks() []Block {
	vessel := []Spec{
		choosing(job.Filler, fillerOptions, "Oil pushed in by", ""),
		{
			Topic: job.VesselRating, Check: between(10, 1000), When: usesFiller(job.PressurisedVessel),
			Ask: "Vessel or relief rating", Hint: "the lower; . none: use a hand pump",
			Why:     "It stands on the vessel, or on its relief valve. Without one: no pressure.",
			Unknown: "none: no pressure, use a hand pump",
		},
	}
	marks := []Spec{{
		Topic: job.VesselGraduation, Default: offering(job.Value{Number: 10, Unit: job.DimML}), Check: between(0.1, 2000),
		Ask:     "Vessel: marks every",
		Why:     "What is poured into it is rounded up to them.",
		Unknown: "it has no marks",
	}}
	marks = append(marks, waterSpecs(job.VesselWater, job.VesselWaterReading, func(s *Known, _ job.Place) device.Device {
		g, _ := s.Num(job.Place{Topic: job.VesselGraduation})
		return device.Device{GraduationML: g, ErrorShare: device.VesselErrorShare}
	}, known(job.VesselGraduation))...)
	return []Block{
		ofGarage(once(vessel...)),
		ofGarage(once(hoseHolds())),
		ofGarage(again(hoseSpecs()...)),
		ofGarage(once(marks...)),
		ofGarage(once(append(pushSpecs(), rigOilSpecs()...)...)),
	}
}

// hoseHolds asks what the hose keeps, unless its bore and length tell it.
func hoseHolds() Spec {
	return Spec{
		Topic: job.HoseHolds, Check: between(0, 2000), Hint: "or 6*1.5: bore, length",
		When: func(s *Known, p job.Place) bool {
			v, sized := s.Offered.Answers[job.Place{Topic: job.HoseBore}]
			return drainOnly(s, p) && !s.HoseBySize() && (!sized || v.Unknown || s.Has(job.HoseHolds))
		},
		Ask: "Hose holds",
		Why: "What the hose keeps never reaches the unit.",
		UnknownOf: inUnits(func(u quantity.Units) string {
			return "not known: " + u.FormatVolumeU(estimate.DefaultHoldUpML, estimate.Coverage*estimate.DefaultHoldUpUML) + " is taken"
		}),
		Unknown: "not known",
	}
}

// hoseSpecs ask for the size of a hose, piece by piece.
func hoseSpecs() []Spec {
	sized := func(s *Known, p job.Place) bool {
		return drainOnly(s, p) && (p.Item > 0 || s.HoseBySize() || !s.Has(job.HoseHolds))
	}
	return []Spec{
		{Topic: job.HoseBore, Optional: true, Check: between(1, 60), When: sized, Ask: "Hose: bore", Unknown: "not known"},
		{Topic: job.HoseLength, Check: between(0.01, 20), When: hoseKnown, Ask: "Hose: length"},
		choosing(job.HoseMore, moreOptions, "Another piece of hose", "").when(hoseKnown).notNeeded(),
	}
}

func pushSpecs() []Spec {
	pressurised := usesFiller(job.PressurisedVessel)
	heel := optional(job.VesselHeel, between(0, 5000), "Oil below the vessel's tube",
		"Push it into a jug once: what it leaves is what counts.", "not known")
	heel.UnknownOf = inUnits(func(u quantity.Units) string {
		return "not known: " + u.FormatVolumeU(estimate.HeelML, estimate.Coverage*estimate.HeelUML) + " is taken"
	})
	spill := optional(job.EscapeExpected, checkEscapeExpected, "Spill at the swap",
		"On offer is what earlier jobs with this rig taught. A range, or one figure.", "not known")
	spill.Default = offerEscape
	spill.When = func(s *Known, p job.Place) bool { return drainOnly(s, p) && notFrom(job.EscapeExpected)(s, p) }
	spill.UnknownOf = inUnits(func(u quantity.Units) string {
		return "not known: " + u.FormatVolumeU(estimate.EscapeML, estimate.Coverage*estimate.EscapeUML)
	})
	return []Spec{
		heel, spill,
		optional(job.StrokeVolume, between(0.5, 2000), "One stroke of the pump",
			"A rough second reading: cold oil and air shorten each stroke.", "not known").when(usesFiller(job.HandPump)),
		{
			Topic: job.PushPressure, Check: checkPressure,
			Default: func(s *Known, _ job.Place) (job.Value, bool) {
				return job.Value{Number: math.Min(push.UsualKPa, s.AllowedKPa()), Unit: job.DimKPa}, true
			},
			When: func(s *Known, p job.Place) bool { return pressurised(s, p) && s.VesselRated() },
			Stale: func(s *Known, p job.Place, e job.Entry) bool {
				return !s.FillBegun(0) && checkPressure(s, p, e.Value) != nil
			},
			Ask: "Pushed with",
			WhyOf: inUnits(func(u quantity.Units) string {
				return u.FormatPressure(30) + " to " + u.FormatPressure(verdict.UsualMostKPa) +
					" does it. Slow? Warm oil, a wider hose; not more air."
			}),
		},
	}
}

func always(*Known, job.Place) bool { return true }

func drainOnly(s *Known, _ job.Place) bool { return !s.Path().PouredIn() }

// known reports whether a number was given in answer to a topic.
func known(t job.Topic) condition {
	return func(s *Known, _ job.Place) bool { _, ok := s.Num(job.Place{Topic: t}); return ok }
}

func hoseKnown(s *Known, p job.Place) bool {
	_, ok := s.Num(p.Of(job.HoseBore))
	return ok && !s.Path().PouredIn() && s.HoseBySize()
}

func usesFiller(k job.FillerKind) condition {
	return func(s *Known, _ job.Place) bool { return s.FillerKind() == k }
}

// offerEscape offers what jobs with this rig taught, as the range that covers one
// swap 19 times in 20.
func offerEscape(s *Known, _ job.Place) (job.Value, bool) {
	l := s.Offered.Escape
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
	return func(s *Known, _ job.Place) bool {
		return s.EverSaid(t) || !s.Follows() && !s.Has(job.PlugOut) && !s.PushBegun(0)
	}
}

func checkEscapeExpected(s *Known, _ job.Place, v job.Value) error {
	if v.High > RoomML {
		return fmt.Errorf("at most %s spills at a swap", s.Show(RoomML, job.DimML))
	}
	return nil
}

func checkPressure(s *Known, _ job.Place, v job.Value) error {
	if most := s.AllowedKPa(); v.Number <= 0 || v.Number > most {
		return fmt.Errorf("pressure must be above 0 and at most %s, the vessel's limit: warm the oil or take a wider hose instead",
			s.Units().FormatPressure(most))
	}
	return nil
}
