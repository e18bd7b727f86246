package model

// This file asks for the facts that the job rests on: unit, oil, plug,
// containers and rig. Each has a sensible answer on offer or a "don't know";
// the next job of the same unit offers what this one was told.

import (
	"fmt"
	"math"
)

// Parts of the first step: one heading each.
const (
	partUnit    = "the car and the unit"
	partOil     = "the new oil"
	partPlug    = "plug and interval"
	partMeasure = "what you measure with"
	partRig     = "what you fill with"
	partHand    = "at hand"
)

func prepareBlocks() []block {
	return join(unitBlocks(), oilBlocks(), plugBlocks(), containerBlocks(), rigBlocks(), atHandBlocks())
}

func unitBlocks() []block {
	return []block{{specs: []Spec{
		{Topic: DisplayUnits, Kind: Choose, Part: partUnit, Ask: "Which units do you work in?", Why: "Shown everywhere; any other unit can still be typed with its name.", Options: unitsOptions, Default: offerChoice("metric")},
		{Topic: Vehicle, Kind: Free, Part: partUnit, Ask: "Name the car", Why: "Any name that you will know it by next year.", Default: offerText("the car")},
		{Topic: UnitName, Kind: Free, Part: partUnit, Ask: "Name the unit", Why: "Its oil changes are kept together under this name.", Default: offerText("rear axle")},
		{Topic: UnitKind, Kind: Choose, Part: partUnit, Ask: "What is it?", Options: unitKindOptions, Default: offerChoice("final_drive")},
		{Topic: DriveKind, Kind: Choose, Part: partUnit, Ask: "What drives the car?", Why: "High voltage near the unit changes how the job is begun.", Options: driveOptions, Default: offerChoice("combustion")},
		{Topic: FillPath, Kind: Choose, Part: partUnit, Ask: "How can oil get in?", Options: pathOptions, Default: offerChoice("drain_only")},
		{Topic: Capacity, Kind: Range, Part: partUnit, Ask: "Stated quantity, from the maker's manual", Why: "A range such as 4.3-4.5 L is taken as it stands.", Check: checkCapacity},
		{Topic: CapacityMeans, Kind: Choose, Part: partUnit, Ask: "What does that quantity mean?", Why: "Dry fill and refill differ by what stays behind: about 8 %.", Options: meansOptions, Default: offerChoice("dry")},
		{Topic: ToleranceTopic, Kind: Bounds, Part: partUnit, Ask: "How far off may it be?", Why: "As the manual gives it: 50, or +20 -50, or 5 %.", Unknown: "not published: the larger of 50 ml and 5 %", Default: offerUnknown, Check: checkTolerance},
		{Topic: PriorLevel, Kind: Choose, Part: partUnit, Ask: "How sure is the level it had until today?", Why: "It says how far what comes out can be believed.", Options: trustOptions, Default: offerChoice("believed")},
		{Topic: Odometer, Kind: Number, Dim: DimKm, Part: partUnit, Ask: "Odometer now", Why: "For the next change, and for loss over distance.", Unknown: "not known", Default: offerUnknown, Check: between(0, 3e6)},
	}}}
}

func oilBlocks() []block {
	return []block{{specs: []Spec{
		{Topic: OilGrade, Kind: Free, Part: partOil, Ask: "Grade on the bottle, such as 75W-90", Why: "The maker's manual decides the grade; it tells how thick the oil is when cold.", Unknown: "not known", Default: offerUnknown},
		{Topic: OilDensity, Kind: Number, Dim: DimKgM3, Part: partOil, Ask: "Density at 15 °C from the data sheet, kg/m³", Why: "A scale needs it. 860 to 905 for gear oils.", Unknown: "not known: 870 ± 20", Default: offerUnknown, Check: between(600, 1200)},
		{Topic: OilKV40, Kind: Number, Dim: DimCSt, Part: partOil, Ask: "Viscosity at 40 °C from the data sheet, mm²/s", Why: "Tells how long the push takes when cold.", Unknown: "not known", Default: offerUnknown, Check: between(2, 5000)},
		{Topic: OilKV100, Kind: Number, Dim: DimCSt, Part: partOil, Ask: "Viscosity at 100 °C from the data sheet, mm²/s", When: func(s *State, _ Place) bool { _, ok := s.num(Place{Topic: OilKV40}); return ok }, Unknown: "not known", Default: offerUnknown, Check: checkKV100},
	}}}
}

func plugBlocks() []block {
	return []block{{specs: []Spec{
		{Topic: PlugThread, Kind: Free, Part: partPlug, Ask: "Thread of the drain plug, such as M18x1.5", Why: "The adapter must have the very same thread: some metric and pipe threads nearly fit.", Unknown: "not known yet: try by hand, never force", Default: offerUnknown},
		{Topic: PlugKey, Kind: Free, Part: partPlug, Ask: "Key or socket for the plug", Unknown: "not known", Default: offerUnknown},
		{Topic: WasherKind, Kind: Free, Part: partPlug, Ask: "Washer for the plug: kind and size", Why: "A new one every time.", Unknown: "not known", Default: offerUnknown},
		{Topic: TorqueFigure, Kind: Number, Dim: DimNm, Part: partPlug, Ask: "Torque for the plug, from the maker's manual", Why: "This tool has no figure of its own to give.", Unknown: "none published", Default: offerUnknown, Check: between(1, 400)},
		{Topic: TorqueSource, Kind: Free, Part: partPlug, Ask: "Where does that torque figure stand?", Why: "Manual and page, so that a reader can look it up.", When: func(s *State, _ Place) bool { _, ok := s.num(Place{Topic: TorqueFigure}); return ok }, Unknown: "not noted", Default: offerUnknown},
		{Topic: IntervalKm, Kind: Number, Dim: DimKm, Part: partPlug, Ask: "Change interval by distance, from the manual", Unknown: "none", Default: offerUnknown, Check: between(500, 500000)},
		{Topic: IntervalMonths, Kind: Number, Dim: DimMonths, Part: partPlug, Ask: "Change interval in months, from the manual", Unknown: "none", Default: offerUnknown, Check: between(1, 240)},
	}}}
}

func containerBlocks() []block {
	return []block{
		{more: moreOf(ContainerMore), specs: []Spec{
			{Topic: ContainerName, Kind: Free, Part: partMeasure, Ask: "Name a measuring container", Why: "Use the same jug for out and in: its error then cancels.", Default: offerText("jug")},
			{Topic: ContainerGraduation, Kind: Amount, Part: partMeasure, Ask: "Its graduation: the volume between two marks", Default: offerML(10), Check: between(0.1, 2000)},
			{Topic: ContainerError, Kind: Number, Dim: DimShare, Part: partMeasure, Ask: "How far off may its scale be, in %?", Why: "Kitchen jug 5, good jug 2, glass cylinder 0.5 (common practice).", Default: offerNumber(0.02, DimShare), Check: between(0, 0.2)},
			{Topic: ContainerMore, Kind: Choose, Part: partMeasure, Ask: "Another container to measure with?", Options: moreOptions, Default: offerChoice(moreDone)},
		}},
		{specs: []Spec{
			{Topic: ScaleDivision, Kind: Number, Dim: DimG, Part: partMeasure, Ask: "A scale? Its smallest step, in grams", Why: "Weighing beats reading marks: no froth, no slant, no temperature.", Unknown: "no scale", Default: offerUnknown, Check: between(0.01, 100)},
		}},
	}
}

func rigBlocks() []block {
	drainOnly := func(s *State, _ Place) bool { return s.Path() == DrainPortOnly }
	return []block{
		{specs: []Spec{
			{Topic: Filler, Kind: Choose, Part: partRig, Ask: "What pushes the oil in?", Options: fillerOptions, Default: offerChoice("hand_pump")},
			{Topic: VesselGraduation, Kind: Amount, Part: partRig, Ask: "Graduation of the fill vessel", Why: "The pre-load is rounded up to it.", Unknown: "it has no marks", Default: offerML(10), Check: between(0.1, 2000)},
		}},
		{more: moreOf(HoseMore), specs: []Spec{
			{Topic: HoseBore, Kind: Number, Dim: DimMM, Part: partRig, Ask: "Hose: bore (inside diameter)", Why: "What the hose keeps never reaches the unit.", When: drainOnly, Unknown: "no hose, or not known: 25 ± 15 ml is taken", Default: offerNumber(6, DimMM), Check: between(1, 60)},
			{Topic: HoseLength, Kind: Number, Dim: DimM, Part: partRig, Ask: "Hose: length", When: hoseKnown, Default: offerNumber(1.5, DimM), Check: between(0.01, 20)},
			{Topic: HoseMore, Kind: Choose, Part: partRig, Ask: "Another piece of hose with another bore?", When: hoseKnown, Options: moreOptions, Default: offerChoice(moreDone)},
		}},
		{specs: []Spec{
			{Topic: VesselHeel, Kind: Amount, Part: partRig, Ask: "What can the vessel not push out (its heel)?", Why: "Run it with oil into a jug once: what is left is the heel.", Default: offerML(0), Check: between(0, 5000)},
			{Topic: EscapeExpected, Kind: Amount, Part: partRig, Ask: "What will escape at the swap to the plug?", Why: "50 ml is usual at a first go; earlier jobs with this rig teach better.", When: drainOnly, Unknown: "not known: 50 ± 20 ml", Default: offerUnknown, Check: between(0, 2000)},
			{Topic: StrokeVolume, Kind: Amount, Part: partRig, Ask: "Volume of one stroke of the pump", Why: "A hint of progress only: cold oil and air shorten each stroke.", When: usesFiller(HandPump), Unknown: "not known", Default: offerUnknown, Check: between(0.5, 2000)},
			{Topic: PushPressure, Kind: Number, Dim: DimKPa, Part: partRig, Ask: "Pressure in the vessel, no more than its rating", Why: "30 to 100 kPa does it. Relief valve and gauge, or do not pressurise it.", When: usesFiller(PressurisedVessel), Default: offerNumber(50, DimKPa), Check: checkPressure},
		}},
	}
}

func atHandBlocks() []block {
	return []block{{specs: []Spec{
		{Topic: AtHand, Kind: Acknowledge, Part: partHand, Ask: "Have all of it at hand before the car goes up", AskOf: nil, WhyOf: func(s *State, _ Place) string {
			return "Once the plug is out there is no going to the shop: " + s.Units().FormatVolume(s.OilToBuyML()) + " of oil."
		}},
	}}}
}

// AtHandList is what to have at hand, a line each.
func (s *State) AtHandList() []string {
	u := s.Units()
	list := []string{fmt.Sprintf("oil of one grade: %s at least", u.FormatVolume(s.OilToBuyML()))}
	if grade := s.text(OilGrade); grade != "" {
		list[0] += ", " + grade
	}
	washer := s.text(WasherKind)
	if washer == "" {
		washer = "the right kind and size"
	}
	list = append(list, "a NEW washer: "+washer)
	if s.Path() == DrainPortOnly {
		list = append(list, "adapter, hose and cap; the rig run once into a jug", "pads or a second pan for what escapes")
	}
	return append(list, "clean dry pan, jug"+s.scaleWord()+", thermometer", "gloves, eye protection, rags, lidded can for waste",
		"stands rated for the car, chocks", "the maker's manual, and the tag (tundish tag)")
}

func (s *State) scaleWord() string {
	if _, ok := s.ScaleDivisionG(); ok {
		return ", scale"
	}
	return ""
}

// OilToBuyML is the oil to have at hand: stated quantity, what hose and vessel
// keep, what escapes, and one small corrective push, rounded up to 100 ml.
func (s *State) OilToBuyML() float64 {
	c, _ := s.capacity()
	need := c.Nominal + s.HoldUp().Nominal + s.heel().Nominal + 2*s.escapeExpected().Nominal + DefaultTolerance(c.Nominal).PlusML
	return math.Ceil(need/100) * 100
}

func hoseKnown(s *State, p Place) bool {
	_, ok := s.num(Place{Topic: HoseBore, Item: p.Item})
	return ok && s.Path() == DrainPortOnly
}

func usesFiller(k FillerKind) func(*State, Place) bool {
	return func(s *State, _ Place) bool { return s.FillerKind() == k }
}

func checkCapacity(_ *State, _ Place, v Value) error {
	if v.Number < 20 || v.High > 200000 {
		return fmt.Errorf("capacity must be 20 ml to 200 L")
	}
	if v.High > 1.5*v.Number {
		return fmt.Errorf("a range this wide says nothing: upper end at most 1.5 times the lower")
	}
	return nil
}

func checkTolerance(s *State, _ Place, v Value) error {
	c, ok := s.capacity()
	if ok && math.Max(v.Number, v.High) > c.Nominal/2 {
		return fmt.Errorf("tolerance must be below half the capacity (%s)", s.Units().FormatVolume(c.Nominal/2))
	}
	if v.Number+v.High <= 0 {
		return fmt.Errorf("tolerance must be above 0, such as 50 or +20 -50")
	}
	return nil
}

func checkKV100(s *State, p Place, v Value) error {
	if err := between(1, 1000)(s, p, v); err != nil {
		return err
	}
	if kv40, ok := s.num(Place{Topic: OilKV40}); ok && v.Number >= kv40 {
		return fmt.Errorf("must be below the figure at 40 °C, which is %g mm²/s", kv40)
	}
	return nil
}

func checkPressure(s *State, _ Place, v Value) error {
	if v.Number <= 0 || v.Number > 200 {
		return fmt.Errorf("pressure must be above 0 and at most %s; 30 to 100 kPa does it, never above the vessel's rating", s.Units().FormatPressure(200))
	}
	return nil
}
