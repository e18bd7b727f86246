package ask

// This file asks for the facts that the job rests on: unit, oil, plug and
// interval. Each has a sensible answer on offer or a "don't know"; the next
// job of the same unit offers what this one was told. What measures and what
// fills is step_prepare_tools.go's.

import (
	"fmt"
	"math"
	"slices"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/quantity"
	"garage/tundish/model/verdict"
)

func prepareBlocks() []Block {
	blocks := []Block{inStep(job.Prepare, once(caution(job.MakersManual, "The manual for this unit is open here: read",
		"It decides, and so do local rules. Not sure: a licensed workshop.")))}
	blocks = append(blocks,
		once(append(nameSpecs(), quantitySpecs()...)...),
		inStep(job.Prepare, once(pastSpec(true), changedSpec())),
		once(slices.Concat(levelSettingSpecs(), toleranceSpecs(), cardSpecs())...))
	blocks = append(append(blocks, rigBlocks()...), containerBlocks()...)
	return append(blocks, once(oilSpecs()...), once(append(plugSpecs(), fillPlugSpecs()...)...), once(Spec{
		Topic: job.AtHand,
		Ask:   "All of it is here, before the car goes up",
		WhyOf: func(s *Known, _ job.Place) string {
			return "Once the plug is out there is no going to the shop: " + s.Units().FormatVolume(s.OilToBuyML()) + " of oil."
		},
	}))
}

func nameSpecs() []Spec {
	return []Spec{
		{
			Topic: job.Vehicle, Default: offering(job.Value{Text: "car 1"}), Check: longest(40),
			Ask: "Car",
			Why: "Any name that you will know it by next year.",
		},
		{
			Topic: job.UnitKind, Options: unitKindOptions,
			Ask: "Which unit?",
			Why: "The level of an automatic, twin-clutch or belt box needs the engine running.",
		},
		{
			Topic: job.UnitName, Check: longest(40),
			Ask: "Its name",
			Why: "Its oil changes are kept together under this name.",
		},
		choosing(job.DriveKind, driveOptions, "Driven by", "High voltage near the unit changes how the job is begun."),
		waySpec(),
		choosing(job.DisplayUnits, unitsOptions, "Units shown", "Any other unit can still be typed with its name.").notNeeded(),
	}
}

func quantitySpecs() []Spec {
	return []Spec{
		{
			Topic: job.Capacity, Check: checkCapacity,
			Ask: "Fill quantity, manual",
			HintOf: inUnits(func(u quantity.Units) string {
				return fmt.Sprintf("%s, or %s-%s", u.BareVolume(640), u.BareVolume(600), u.BareVolume(680))
			}),
			WhyOf: inUnits(func(u quantity.Units) string {
				u = u.Large()
				return fmt.Sprintf("A range such as %s-%s %s is the tolerance too.", u.BareVolume(4300), u.BareVolume(4500), u.Volume)
			}),
		},
		choosing(job.CapacityMeans, meansOptions, "That figure means", // nothing on offer: taken unread it is the largest error
			"An oil change and a dry fill differ by what stays inside: about 8 %."),
		{
			Topic: job.DryStart, Options: dryOptions, Default: offering(job.Value{Choice: dryOptions[0].Token}),
			When: func(s *Known, _ job.Place) bool { // not of a job that went past it before it was asked
				return !s.Has(job.GroundAndChocks) || s.EverSaid(job.DryStart)
			},
			Ask: "In the unit as the job begins",
			Why: "A dry unit has kept nothing back: it takes all that belongs in.",
		},
		choosing(job.PriorLevel, trustOptions, "Level until today",
			"It says how far what comes out can be believed.").when(notFrom(job.PriorLevel)),
	}
}

// pastSpec asks what happened to the oil since the last fill: before the car goes up,
// or, of a job that was past that when it was asked later, at the look of the oil.
func pastSpec(early bool) Spec {
	past := choosing(job.OilHistory, pastOptions, "Since the last fill",
		"If oil was lost or added, what comes out does not tell what belongs in.")
	return past.when(func(s *Known, p job.Place) bool {
		said, up := s.SeqOf(p), s.SeqOf(job.Place{Topic: job.GroundAndChocks})
		return early == (up == 0 || said != 0 && said < up)
	})
}

// changedSpec asks how much was lost or added, where some was; not of a job that was past
// it before it was asked.
func changedSpec() Spec {
	return Spec{
		Topic: job.LostOrAdded, Optional: true, Unknown: "not known: what comes out proves nothing then", Check: checkAdditive,
		When: func(s *Known, p job.Place) bool {
			past := s.Past()
			return (past == job.PastLeaked || past == job.PastToppedUp) && (s.EverSaid(p.Topic) || !s.Has(job.GroundAndChocks))
		},
		Ask: "How much, about?", Hint: ". not known",
		Why: "Taken as the guess ± 70 % of it.",
	}
}

func toleranceSpecs() []Spec {
	tolerance := optional(job.ToleranceTopic, checkTolerance, "How far off may it be", "", "not given")
	tolerance.UnknownOf = unknownTolerance
	tolerance.WhyOf = inUnits(func(u quantity.Units) string {
		return fmt.Sprintf("As the manual gives it: %s, or +%s -%[1]s, or 5 %%.", u.BareVolume(50), u.BareVolume(20))
	})
	residual := optional(job.ResidualExpected, checkResidual, "Stays inside at a drain", "", "not known: 8 % of all that belongs in, ± 8 %")
	residual.WhyOf = whyResidual
	residual.When = func(s *Known, p job.Place) bool { return s.ResidualMatters() && notFrom(job.ResidualExpected)(s, p) }
	return []Spec{tolerance, residual}
}

func oilSpecs() []Spec {
	density := optional(job.OilDensity, between(600, 1200), "Oil, kg/m³ at 15 °C, data sheet",
		"A scale needs it. 860 to 905 for gear oils; 0.885 kg/L is 885.", "not known: 870 ± 40")
	return []Spec{
		optional(job.OilGrade, longest(40), "Oil, as on the bottle",
			"The maker's manual decides it. It tells how thick the oil is when cold.", "not noted"),
		density,
		optional(job.OilKV40, between(2, 5000), "Viscosity at 40 °C, mm²/s",
			"From the data sheet. Tells how long the push takes.", "not known"),
		optional(job.OilKV100, checkKV100, "Viscosity at 100 °C, mm²/s", "From the data sheet.", "not known").when(known(job.OilKV40)),
		optional(job.AdditiveVolume, checkAdditive, "Additive for a limited slip",
			"If the manual asks for one. It counts in the total.", "none"),
	}
}

func plugSpecs() []Spec {
	return []Spec{
		optional(job.PlugThread, longest(40), "Plug: its thread",
			"The adapter must have that very thread: some pipe threads nearly fit.", "not noted"),
		optional(job.PlugKey, longest(40), "Plug: its socket", "", "not noted"),
		optional(job.WasherKind, longest(40), "Plug: its washer", "A new one every time.", "not noted"),
		torqueSpec(),
		torqueLookedSpec(),
		optional(job.TorqueSource, longest(60), "Where it stands",
			"Manual and page, so that a reader can look it up.", "not noted").when(known(job.TorqueFigure)),
	}
}

// nextSpecs ask for what the next change goes by.
func nextSpecs() []Spec {
	return []Spec{
		optional(job.Odometer, between(0, 3e6), "Odometer", "For the next change, and for loss over distance.", "not noted"),
		optional(job.IntervalKm, between(500, 500000), "Next change, by distance", "From the manual.", "not set"),
		optional(job.IntervalMonths, between(1, verdict.MaxIntervalMonths), "Next change, months", "From the manual.", "not set"),
	}
}

// AtHandList is what to have at hand, a line each.
func (s *Known) AtHandList() []string {
	u := s.Units()
	list := []string{fmt.Sprintf("oil of one grade: %s at least", u.FormatVolume(s.OilToBuyML()))}
	if grade := s.Text(job.OilGrade); grade != "" {
		list[0] += ", " + grade
	}
	if ml := s.AdditiveML(); ml > 0 {
		list = append(list, "additive: "+u.FormatVolume(ml))
	}
	washer := s.Text(job.WasherKind)
	if washer == "" {
		washer = "the right kind and size"
	}
	if s.Path().PouredIn() && s.Path() != job.Dipstick {
		washer += "; one for each plug"
	}
	list = append(list, "a NEW washer: "+washer)
	if !s.Path().PouredIn() {
		list = append(list, "adapter, hose and cap; the rig run once into a jug", "pads or a second pan for the spill")
	}
	return append(list, "clean dry pan, jug"+s.scaleWord()+", thermometer", "gloves, eye protection, rags, lidded can for waste",
		"stands rated for the car, chocks", "the maker's manual, and the tag (tundish tag)")
}

func (s *Known) scaleWord() string {
	if _, ok := s.ScaleDivisionG(); ok {
		return ", scale"
	}
	return ""
}

func whyResidual(s *Known, _ job.Place) string {
	if s.DryStart() {
		return "A dry unit takes it on top of a refill. A range, or one figure."
	}
	return "On offer is what this unit's earlier jobs taught. A range, or one figure."
}

func checkCapacity(s *Known, _ job.Place, v job.Value) error {
	if v.Number < estimate.MinCapacityML || v.High > estimate.MaxCapacityML {
		u := s.Units().Large()
		return fmt.Errorf("capacity must be %s to %s %s", s.Show(estimate.MinCapacityML, job.DimML), u.BareVolume(estimate.MaxCapacityML),
			u.Volume)
	}
	if v.High > 1.5*v.Number {
		return fmt.Errorf("a range this wide says nothing: upper end at most 1.5 times the lower")
	}
	return nil
}

// mostResidualShare is the most that is believed to stay behind: 8 to 15 % do
// where the plug is not at the lowest point (common practice, no source). More
// than half stays only in an automatic gearbox.
const mostResidualShare = 0.4

// MostResidualML is mostResidualShare of a unit, or what stays in an automatic gearbox.
func (s *Known) MostResidualML() float64 {
	if s.Automatic() {
		return 2 * s.CapacityML() // of a refill that is a third of all
	}
	return mostResidualShare * s.CapacityML()
}

func checkResidual(s *Known, _ job.Place, v job.Value) error {
	if c := s.CapacityML(); c > 0 && v.High > s.MostResidualML() {
		return fmt.Errorf("at most %s of a unit of %s stays behind", s.Show(s.MostResidualML(), job.DimML), s.Show(c, job.DimML))
	}
	return nil
}

func checkAdditive(s *Known, _ job.Place, v job.Value) error {
	if c := s.CapacityML(); c > 0 && v.Number > c/2 {
		return fmt.Errorf("at most half of %s", s.Show(c, job.DimML))
	}
	return nil
}

func checkKV100(s *Known, p job.Place, v job.Value) error {
	if err := between(1, 1000)(s, p, v); err != nil {
		return err
	}
	if kv40, ok := s.Num(job.Place{Topic: job.OilKV40}); ok && v.Number >= kv40 {
		return fmt.Errorf("must be below the figure at 40 °C, which is %g mm²/s", kv40)
	}
	return nil
}

// checkTolerance refuses what would not count, and says what would.
func checkTolerance(s *Known, _ job.Place, v job.Value) error {
	t := s.BoundsML(v)
	if v.Number+v.High <= 0 {
		return fmt.Errorf("tolerance must be above 0, such as %s", s.Units().BareVolume(s.Tolerance().MinusML))
	}
	low, high := s.Stated()
	if most := estimate.MostTolerance(low, high); low > 0 && math.Max(t.MinusML, t.PlusML) > most*(1+1e-9) {
		if most < estimate.MostToleranceShare*s.CapacityML() {
			return fmt.Errorf("the maker's own range allows %s each way, and not more", s.Show(most, job.DimML))
		}
		return fmt.Errorf("at most %s, a tenth of what is stated: further off is put right, not called right", s.Show(most, job.DimML))
	}
	return nil
}

// unknownTolerance says what counts where the owner gives no tolerance.
func unknownTolerance(s *Known, _ job.Place) string {
	if t, ok := s.LevelTolerance(); ok {
		return "what the maker's level leaves: ± " + s.Show(t.MinusML, job.DimML)
	}
	low, high := s.Stated()
	t := "± " + s.Show(estimate.StatedTolerance(low, high).MinusML, job.DimML)
	if high > low {
		return "what the stated range allows: " + t
	}
	return "not given: " + t
}
