package job

// This file names everything that an entry can speak of, with what holds of it
// in every job. How it is asked for is the guide's (step_*.go).

import "fmt"

// Step is one stage of the job, in the order in which the work is done.
type Step uint8

// The steps of a job.
const (
	Prepare  Step = iota // facts, containers, rig, what to have at hand
	Isolate              // right unit, right plug, car safe, way to fill confirmed
	Drain                // plug out, oil drips out
	Measure              // how much came out
	Preload              // the plan, and what went into the vessel
	Fill                 // push it in
	Cap                  // adapter capped, vessel let off
	Seat                 // cap swapped for plug and new washer
	CloseOut             // verdict, breather, tag, leak check, waste, next due
	NumSteps
)

var stepNames = [NumSteps]string{"prepare", "isolate", "drain", "measure", "pre-load", "fill", "cap", "seat washer", "close out"}

// String is the step's name as it is shown.
func (s Step) String() string {
	if s < NumSteps {
		return stepNames[s]
	}
	return fmt.Sprintf("step %d", uint8(s))
}

// Topic says what an entry speaks of. Its number is not stable and is never
// stored; its token is.
type Topic uint8

// The topics, step by step.
const (
	NoTopic Topic = iota
	Undo          // strikes out the entry that it names; asked by no step

	// Prepare: the unit.
	DisplayUnits
	Vehicle
	UnitName
	UnitKind
	DriveKind
	FillPath
	Capacity
	CapacityMeans
	ToleranceTopic
	PriorLevel
	ResidualExpected
	Odometer
	// Prepare: the oil.
	OilGrade
	OilDensity
	OilKV40
	OilKV100
	AdditiveVolume
	// Prepare: plug and interval.
	PlugThread
	PlugKey
	WasherKind
	TorqueFigure
	TorqueSource
	IntervalKm
	IntervalMonths
	// Prepare: what measures.
	ContainerName
	ContainerGraduation
	ContainerError
	ContainerWater
	ContainerWaterReading
	ContainerMore
	ScaleDivision
	// Prepare: the rig.
	Filler
	VesselGraduation
	VesselWater
	VesselWaterReading
	VesselRating
	HoseBore
	HoseLength
	HoseMore
	VesselHeel
	EscapeExpected
	StrokeVolume
	PushPressure
	AtHand
	// Prepare: the unit, once more.
	DryStart

	// Isolate.
	ElectricOff
	GroundAndChocks
	StandsAndShake
	RightUnit
	RightPlug
	BreatherFree
	WayInProved
	MakersManual

	// Drain.
	OilTemperature
	TemperatureHow
	HotOilGoOn
	GlovesAndEyes
	TagAndKey
	PlugOut
	DripReading
	DripsEnded
	MagnetLook
	OilLook
	OilHistory
	ChipsDecision

	// Measure.
	DrainedWith
	DrainedAmount
	DrainedTemperature
	DrainedMore
	StruckWhy
	WitnessTrusted
	WrongBoxDecision
	LookedAgain
	Basis
	BasisWhy
	PanLookedAgain

	// Pre-load, once a round.
	BackUp
	DrainPlugIn
	HoseBefore
	PlanAccepted
	LoadedWith
	LoadedAmount
	LoadedTemperature
	LoadedMore
	BottlesOpened
	VesselWeighedFull

	// Fill, once a round.
	AdapterIn
	BreatherBeforePush
	PressureSafe
	FillOilTemperature
	FillReading
	StrokesCounted
	FillEnded
	AirInLine
	LeftWith
	LeftInVessel
	VesselWeighedAfter
	BottlesLeftWith
	BottlesLeft
	HoseAfter
	LevelWeeps
	OverflowCaughtWith
	OverflowCaught

	// Cap, once a round.
	PressureOff
	Capped
	EscapedAtCapWith
	EscapedAtCap

	// Seat washer, once a round.
	FloorAndExhaust
	WasherFitted
	PlugSeated
	BreatherReopened
	EscapedHow
	EscapedWith
	EscapedAmount
	PadsBefore
	PadsAfter
	EscapedMore
	TightenedHow
	NothingEscaped

	// Let-out, a round of its own kind.
	LetOutWith
	LetOutAmount

	// Close out.
	Decision
	LeftWhy
	BalanceSuspect
	LevelLookedAgain
	WheelsTurned
	TagOff
	WasteOil
	WasteHandedIn
	Remark
	LeakCheck
	WasherRecheck
	WasherRenewed
	LeakedHow
	LeakedWith
	LeakedAmount
	LeakedPadsBefore
	LeakedPadsAfter

	// At any time.
	ResumedStands
	ResumedPlug
	NumTopics
)

// TopicInfo is what holds of a topic in every job.
type TopicInfo struct {
	Token string // name in files: never changed
	Name  string // of the answer in a word or two, for lists; no two of a step are one
	Step  Step
	Kind  Kind
	Dim   Dim   // of a Number
	With  Topic // of an Amount: chose what measures it; NoTopic where only a volume is taken
	Ends  Topic // an empty line is this event instead
	// OldOil is about oil that is drained: not asked, and void, where a unit
	// starts dry.
	OldOil bool
	// Observed is what only a person at the car can tell: seen, felt, caught or
	// read there. Nothing of it is on offer, neither the usual answer nor that of
	// an earlier job, so that Enter alone never notes what nobody looked at.
	Observed bool
	Once     bool // of the first step: holds for this job alone, the next does not take it over
}

var topics = [NumTopics]TopicInfo{
	Undo: {Token: "undo"},
	// Prepare: the unit.
	DisplayUnits:     {Token: "prepare.units", Name: "units", Step: Prepare, Kind: Choose},
	Vehicle:          {Token: "prepare.vehicle", Name: "car", Step: Prepare, Kind: Free},
	UnitName:         {Token: "prepare.unit", Name: "unit", Step: Prepare, Kind: Free},
	UnitKind:         {Token: "prepare.kind", Name: "kind of unit", Step: Prepare, Kind: Choose},
	DriveKind:        {Token: "prepare.drive", Name: "drivetrain", Step: Prepare, Kind: Choose},
	FillPath:         {Token: "prepare.fill_path", Name: "filled through", Step: Prepare, Kind: Choose},
	Capacity:         {Token: "prepare.capacity", Name: "stated quantity", Step: Prepare, Kind: Range},
	CapacityMeans:    {Token: "prepare.capacity_means", Name: "what that means", Step: Prepare, Kind: Choose},
	ToleranceTopic:   {Token: "prepare.tolerance", Name: "tolerance", Step: Prepare, Kind: Bounds},
	PriorLevel:       {Token: "prepare.prior_level", Name: "level before", Step: Prepare, Kind: Choose, OldOil: true, Once: true},
	ResidualExpected: {Token: "prepare.residual", Name: "stays behind at a drain", Step: Prepare, Kind: Range, Once: true},
	Odometer:         {Token: "prepare.odometer", Name: "odometer", Step: Prepare, Kind: Number, Dim: DimKm, Once: true},

	// Prepare: the oil.
	OilGrade:       {Token: "prepare.oil_grade", Name: "grade of the oil", Step: Prepare, Kind: Free},
	OilDensity:     {Token: "prepare.oil_density", Name: "density at 15 °C", Step: Prepare, Kind: Number, Dim: DimKgM3},
	OilKV40:        {Token: "prepare.oil_kv40", Name: "viscosity at 40 °C", Step: Prepare, Kind: Number, Dim: DimCSt},
	OilKV100:       {Token: "prepare.oil_kv100", Name: "viscosity at 100 °C", Step: Prepare, Kind: Number, Dim: DimCSt},
	AdditiveVolume: {Token: "prepare.additive", Name: "additive", Step: Prepare, Kind: Amount},

	// Prepare: plug and interval.
	PlugThread:     {Token: "prepare.plug_thread", Name: "thread of the plug", Step: Prepare, Kind: Free},
	PlugKey:        {Token: "prepare.plug_key", Name: "key for the plug", Step: Prepare, Kind: Free},
	WasherKind:     {Token: "prepare.washer", Name: "washer", Step: Prepare, Kind: Free},
	TorqueFigure:   {Token: "prepare.torque", Name: "torque of the plug", Step: Prepare, Kind: Number, Dim: DimNm},
	TorqueSource:   {Token: "prepare.torque_source", Name: "torque from", Step: Prepare, Kind: Free},
	IntervalKm:     {Token: "prepare.interval_distance", Name: "interval by distance", Step: Prepare, Kind: Number, Dim: DimKm},
	IntervalMonths: {Token: "prepare.interval_months", Name: "interval by time", Step: Prepare, Kind: Number, Dim: DimMonths},

	// Prepare: what measures.
	ContainerName:       {Token: "prepare.container", Name: "container", Step: Prepare, Kind: Free},
	ContainerGraduation: {Token: "prepare.container_graduation", Name: "container marks", Step: Prepare, Kind: Amount},
	ContainerError:      {Token: "prepare.container_error", Name: "container error", Step: Prepare, Kind: Number, Dim: DimShare},
	ContainerWater: {
		Token: "prepare.container_water", Name: "container check, water",
		Step: Prepare, Kind: Number, Dim: DimG,
	},
	ContainerWaterReading: {Token: "prepare.container_water_reading", Name: "container check, marks", Step: Prepare, Kind: Amount},
	ContainerMore:         {Token: "prepare.container_more", Name: "another container", Step: Prepare, Kind: Choose},
	ScaleDivision:         {Token: "prepare.scale_division", Name: "step of the scale", Step: Prepare, Kind: Number, Dim: DimG},

	// Prepare: the rig.
	Filler:             {Token: "prepare.filler", Name: "filled with", Step: Prepare, Kind: Choose},
	VesselGraduation:   {Token: "prepare.vessel_graduation", Name: "vessel marks", Step: Prepare, Kind: Amount},
	VesselWater:        {Token: "prepare.vessel_water", Name: "vessel check, water", Step: Prepare, Kind: Number, Dim: DimG},
	VesselWaterReading: {Token: "prepare.vessel_water_reading", Name: "vessel check, marks", Step: Prepare, Kind: Amount},
	VesselRating:       {Token: "prepare.vessel_rating", Name: "vessel pressure rating", Step: Prepare, Kind: Number, Dim: DimKPa},
	HoseBore:           {Token: "prepare.hose_bore", Name: "hose bore", Step: Prepare, Kind: Number, Dim: DimMM},
	HoseLength:         {Token: "prepare.hose_length", Name: "hose length", Step: Prepare, Kind: Number, Dim: DimM},
	HoseMore:           {Token: "prepare.hose_more", Name: "another piece of hose", Step: Prepare, Kind: Choose},
	VesselHeel:         {Token: "prepare.vessel_heel", Name: "heel of the vessel", Step: Prepare, Kind: Amount},
	EscapeExpected:     {Token: "prepare.escape_expected", Name: "will escape at the swap", Step: Prepare, Kind: Range, Once: true},
	StrokeVolume:       {Token: "prepare.stroke_volume", Name: "volume of a stroke", Step: Prepare, Kind: Amount},
	PushPressure:       {Token: "prepare.push_pressure", Name: "pressure to push with", Step: Prepare, Kind: Number, Dim: DimKPa},
	AtHand:             {Token: "prepare.at_hand", Name: "all at hand", Step: Prepare, Kind: Acknowledge},

	// Prepare: the unit, once more.
	DryStart: {Token: "prepare.dry_start", Name: "in it at the start", Step: Prepare, Kind: Choose, Once: true},

	// Isolate.
	ElectricOff:     {Token: "isolate.electric_off", Name: "high voltage off", Step: Isolate, Kind: Acknowledge},
	GroundAndChocks: {Token: "isolate.ground_and_chocks", Name: "ground and chocks", Step: Isolate, Kind: Acknowledge},
	StandsAndShake:  {Token: "isolate.stands_and_shake", Name: "stands and shake test", Step: Isolate, Kind: Acknowledge},
	RightUnit:       {Token: "isolate.right_unit", Name: "right unit", Step: Isolate, Kind: Acknowledge},
	RightPlug:       {Token: "isolate.right_plug", Name: "right plug", Step: Isolate, Kind: Acknowledge},
	BreatherFree:    {Token: "isolate.breather_free", Name: "breather free", Step: Isolate, Kind: Acknowledge},
	WayInProved:     {Token: "isolate.way_in_proved", Name: "way in proved", Step: Isolate, Kind: Acknowledge},
	MakersManual:    {Token: "isolate.makers_manual", Name: "maker's manual read", Step: Isolate, Kind: Acknowledge},

	// Drain.
	OilTemperature: {
		Token: "drain.oil_temperature", Name: "oil at the plug",
		Step: Drain, Kind: Number, Dim: DimC, OldOil: true, Observed: true,
	},
	TemperatureHow: {
		Token: "drain.temperature_how", Name: "temperature taken",
		Step: Drain, Kind: Choose, OldOil: true, Observed: true,
	},
	HotOilGoOn:    {Token: "drain.hot_oil", Name: "hot oil", Step: Drain, Kind: Choose, OldOil: true},
	GlovesAndEyes: {Token: "drain.gloves_and_eyes", Name: "gloves and eyes", Step: Drain, Kind: Acknowledge},
	TagAndKey:     {Token: "drain.tag_and_key", Name: "tag and key", Step: Drain, Kind: Acknowledge},
	PlugOut:       {Token: "drain.plug_out", Name: "plug out", Step: Drain, Kind: Event, OldOil: true},
	DripReading: {
		Token: "drain.drip_reading", Name: "in the pan so far",
		Step: Drain, Kind: Amount, Ends: DripsEnded, OldOil: true,
	},
	DripsEnded: {Token: "drain.drips_ended", Name: "drips ended", Step: Drain, Kind: Event, OldOil: true},
	MagnetLook: {Token: "drain.magnet", Name: "magnet", Step: Drain, Kind: Choose, Observed: true},
	OilLook:    {Token: "drain.oil_look", Name: "look of the oil", Step: Drain, Kind: Choose, OldOil: true, Observed: true},
	OilHistory: {
		Token: "drain.oil_history", Name: "oil lost or added",
		Step: Drain, Kind: Choose, OldOil: true, Observed: true,
	},
	ChipsDecision: {Token: "drain.chips_decision", Name: "chips of metal", Step: Drain, Kind: Choose},

	// Measure.
	DrainedWith: {Token: "measure.with", Name: "measured with", Step: Measure, Kind: Choose, OldOil: true},
	DrainedAmount: {
		Token: "measure.amount", Name: "came out",
		Step: Measure, Kind: Amount, With: DrainedWith, OldOil: true, Observed: true,
	},
	DrainedTemperature: {
		Token: "measure.temperature", Name: "oil as it was measured",
		Step: Measure, Kind: Number, Dim: DimC, OldOil: true, Observed: true,
	},
	DrainedMore:      {Token: "measure.more", Name: "all of it", Step: Measure, Kind: Choose, OldOil: true},
	StruckWhy:        {Token: "measure.struck_why", Name: "why read again", Step: Measure, Kind: Free, OldOil: true},
	WitnessTrusted:   {Token: "measure.trusted", Name: "measure trusted", Step: Measure, Kind: Choose, OldOil: true},
	WrongBoxDecision: {Token: "measure.wrong_box", Name: "wrong box", Step: Measure, Kind: Choose, OldOil: true},
	LookedAgain: {
		Token: "measure.looked_again", Name: "second look",
		Step: Measure, Kind: Choose, OldOil: true, Observed: true,
	},
	Basis:    {Token: "measure.basis", Name: "basis of the fill", Step: Measure, Kind: Choose, OldOil: true},
	BasisWhy: {Token: "measure.basis_why", Name: "why that basis", Step: Measure, Kind: Free, OldOil: true},
	PanLookedAgain: {
		Token: "measure.pan_looked_again", Name: "pan against measure",
		Step: Measure, Kind: Choose, OldOil: true, Observed: true,
	},

	// Pre-load, once a round.
	BackUp:       {Token: "preload.back_up", Name: "car up again", Step: Preload, Kind: Acknowledge},
	DrainPlugIn:  {Token: "preload.drain_plug_in", Name: "drain plug in", Step: Preload, Kind: Event},
	HoseBefore:   {Token: "preload.hose", Name: "hose before the push", Step: Preload, Kind: Choose, Observed: true},
	PlanAccepted: {Token: "preload.plan", Name: "pre-load", Step: Preload, Kind: Acknowledge},
	LoadedWith:   {Token: "preload.with", Name: "loaded, measured with", Step: Preload, Kind: Choose},
	LoadedAmount: {
		Token: "preload.amount", Name: "loaded into the vessel",
		Step: Preload, Kind: Amount, With: LoadedWith, Observed: true,
	},
	LoadedTemperature: {Token: "preload.temperature", Name: "new oil", Step: Preload, Kind: Number, Dim: DimC, Observed: true},
	LoadedMore:        {Token: "preload.more", Name: "more to load", Step: Preload, Kind: Choose},
	BottlesOpened:     {Token: "preload.bottles_opened", Name: "bottles opened", Step: Preload, Kind: Amount},
	VesselWeighedFull: {Token: "preload.vessel_weighed", Name: "vessel weighed, loaded", Step: Preload, Kind: Number, Dim: DimG},

	// Fill, once a round.
	AdapterIn:          {Token: "fill.adapter_in", Name: "adapter in", Step: Fill, Kind: Event},
	BreatherBeforePush: {Token: "fill.breather_open", Name: "breather open", Step: Fill, Kind: Acknowledge},
	PressureSafe:       {Token: "fill.pressure_safe", Name: "pressure safe", Step: Fill, Kind: Acknowledge},
	FillOilTemperature: {
		Token: "fill.oil_temperature", Name: "oil as it was pushed",
		Step: Fill, Kind: Number, Dim: DimC, Observed: true,
	},
	FillReading: {
		Token: "fill.vessel_reading", Name: "left in the vessel so far",
		Step: Fill, Kind: Amount, Ends: FillEnded,
	},
	StrokesCounted: {Token: "fill.strokes", Name: "strokes of the pump", Step: Fill, Kind: Number, Dim: DimCount},
	FillEnded:      {Token: "fill.ended", Name: "push ended", Step: Fill, Kind: Event},
	AirInLine:      {Token: "fill.air_in_line", Name: "air in the line", Step: Fill, Kind: Choose, Observed: true},
	LeftWith:       {Token: "fill.left_with", Name: "left over, measured with", Step: Cap, Kind: Choose},
	LeftInVessel: {
		Token: "fill.left_in_vessel", Name: "left in the vessel",
		Step: Cap, Kind: Amount, With: LeftWith, Observed: true,
	},
	VesselWeighedAfter: {Token: "fill.vessel_weighed", Name: "vessel weighed, after", Step: Cap, Kind: Number, Dim: DimG},
	BottlesLeftWith:    {Token: "fill.bottles_left_with", Name: "bottles, measured with", Step: Cap, Kind: Choose},
	BottlesLeft:        {Token: "fill.bottles_left", Name: "left in the bottles", Step: Cap, Kind: Amount, With: BottlesLeftWith},
	HoseAfter:          {Token: "fill.hose_after", Name: "hose after the push", Step: Cap, Kind: Choose, Observed: true},
	LevelWeeps:         {Token: "fill.level_weeps", Name: "level hole", Step: Fill, Kind: Choose, Observed: true},
	OverflowCaughtWith: {Token: "fill.overflow_with", Name: "ran over, measured with", Step: Fill, Kind: Choose},
	OverflowCaught: {
		Token: "fill.overflow", Name: "ran over",
		Step: Fill, Kind: Amount, With: OverflowCaughtWith, Observed: true,
	},

	// Cap, once a round.
	PressureOff:      {Token: "cap.pressure_off", Name: "pressure off", Step: Cap, Kind: Acknowledge},
	Capped:           {Token: "cap.capped", Name: "adapter capped", Step: Cap, Kind: Event},
	EscapedAtCapWith: {Token: "cap.escaped_with", Name: "escaped, measured with", Step: Cap, Kind: Choose},
	EscapedAtCap: {
		Token: "cap.escaped", Name: "escaped round the adapter",
		Step: Cap, Kind: Amount, With: EscapedAtCapWith, Observed: true,
	},

	// Seat washer, once a round.
	FloorAndExhaust:  {Token: "seat.floor_and_exhaust", Name: "exhaust cold, pan under", Step: Seat, Kind: Acknowledge},
	WasherFitted:     {Token: "seat.washer", Name: "washer fitted", Step: Seat, Kind: Choose, Observed: true},
	PlugSeated:       {Token: "seat.plug_seated", Name: "plug seated", Step: Seat, Kind: Event},
	BreatherReopened: {Token: "seat.breather_reopened", Name: "breather open again", Step: Seat, Kind: Acknowledge},
	EscapedHow:       {Token: "seat.escaped_how", Name: "how it was measured", Step: Seat, Kind: Choose, Observed: true},
	EscapedWith:      {Token: "seat.escaped_with", Name: "escaped, measured with", Step: Seat, Kind: Choose},
	EscapedAmount: {
		Token: "seat.escaped", Name: "escaped at the swap",
		Step: Seat, Kind: Amount, With: EscapedWith, Observed: true,
	},
	PadsBefore:   {Token: "seat.pads_before", Name: "pads, dry", Step: Seat, Kind: Number, Dim: DimG},
	PadsAfter:    {Token: "seat.pads_after", Name: "pads, with the oil", Step: Seat, Kind: Number, Dim: DimG},
	EscapedMore:  {Token: "seat.escaped_more", Name: "more escaped", Step: Seat, Kind: Choose},
	TightenedHow: {Token: "seat.tightened", Name: "how it was tightened", Step: Seat, Kind: Choose, Observed: true},
	NothingEscaped: {
		Token: "seat.nothing_escaped", Name: "nothing escaped, second look",
		Step: Seat, Kind: Choose, Observed: true,
	},

	// Let-out, a round of its own kind.
	LetOutWith:   {Token: "letout.with", Name: "let out, measured with", Step: Fill, Kind: Choose},
	LetOutAmount: {Token: "letout.amount", Name: "let out", Step: Fill, Kind: Amount, With: LetOutWith, Observed: true},

	// Close out.
	Decision:       {Token: "close.decision", Name: "decision", Step: CloseOut, Kind: Choose},
	LeftWhy:        {Token: "close.left_why", Name: "why it is left", Step: CloseOut, Kind: Free},
	BalanceSuspect: {Token: "close.balance_suspect", Name: "reading in doubt", Step: CloseOut, Kind: Choose, Observed: true},
	LevelLookedAgain: {
		Token: "close.level_looked_again", Name: "second look at the level",
		Step: CloseOut, Kind: Choose, Observed: true,
	},
	WheelsTurned:  {Token: "close.wheels_turned", Name: "wheels turned", Step: CloseOut, Kind: Acknowledge},
	TagOff:        {Token: "close.tag_off", Name: "tag off", Step: CloseOut, Kind: Acknowledge},
	WasteOil:      {Token: "close.waste_oil", Name: "waste oil", Step: CloseOut, Kind: Amount},
	WasteHandedIn: {Token: "close.waste_handed_in", Name: "waste handed in", Step: CloseOut, Kind: Free},
	Remark:        {Token: "close.remark", Name: "remark", Step: CloseOut, Kind: Free},
	LeakCheck:     {Token: "close.leak_check", Name: "look after the drive", Step: CloseOut, Kind: Choose, Observed: true},
	WasherRecheck: {Token: "close.washer_recheck", Name: "look next day, cold", Step: CloseOut, Kind: Choose, Observed: true},
	WasherRenewed: {Token: "close.washer_renewed", Name: "washer renewed", Step: CloseOut, Kind: Acknowledge},
	LeakedHow:     {Token: "close.leaked_how", Name: "how it was measured", Step: CloseOut, Kind: Choose, Observed: true},
	LeakedWith:    {Token: "close.leaked_with", Name: "lost, measured with", Step: CloseOut, Kind: Choose},
	LeakedAmount: {
		Token: "close.leaked", Name: "lost at the plug",
		Step: CloseOut, Kind: Amount, With: LeakedWith, Observed: true,
	},
	LeakedPadsBefore: {Token: "close.leaked_pads_before", Name: "pads for the leak, dry", Step: CloseOut, Kind: Number, Dim: DimG},
	LeakedPadsAfter: {
		Token: "close.leaked_pads_after", Name: "pads for the leak, with oil",
		Step: CloseOut, Kind: Number, Dim: DimG,
	},

	// At any time.
	ResumedStands: {Token: "resume.stands", Name: "stands, after a break", Step: Isolate, Kind: Acknowledge},
	ResumedPlug:   {Token: "resume.plug", Name: "drain port, after a break", Step: Isolate, Kind: Choose, Observed: true},
}

// Info is what holds of the topic in every job; the zero TopicInfo for one that
// is not known.
func (t Topic) Info() TopicInfo {
	if t < NumTopics {
		return topics[t]
	}
	return TopicInfo{}
}

// IsFact reports whether the answer is a fact about unit, oil, containers or rig
// that the next job can take over.
func (t Topic) IsFact() bool {
	info := t.Info()
	return info.Name != "" && info.Step == Prepare && info.Kind != Acknowledge && !info.Once
}

// String is the topic's name in files.
func (t Topic) String() string {
	if t < NumTopics {
		return topics[t].Token
	}
	return fmt.Sprintf("topic %d", uint8(t))
}

// MarshalText writes the topic's name in files.
func (t Topic) MarshalText() ([]byte, error) {
	if t == NoTopic || t >= NumTopics {
		return nil, fmt.Errorf("topic %d has no name", uint8(t))
	}
	return []byte(topics[t].Token), nil
}

// UnmarshalText reads a topic's name; a name that is not known is an error
// that shows it.
func (t *Topic) UnmarshalText(text []byte) error {
	for i := NoTopic + 1; i < NumTopics; i++ {
		if topics[i].Token == string(text) {
			*t = i
			return nil
		}
	}
	return fmt.Errorf("topic %q is not one this program knows", text)
}

// Kind says how a topic is answered.
type Kind uint8

// The kinds of answer.
const (
	Acknowledge Kind = iota // seen to and confirmed by a deliberate key
	Event                   // it happened now: the entry's time counts; deliberate key
	Choose                  // one of Options
	Amount                  // volume, or mass where a scale measures
	Number                  // a number of dimension Dim
	Range                   // a volume, or a lowest and a highest
	Bounds                  // a tolerance: minus and plus
	Free                    // a line of text
)

func TokenOf[T ~uint8](tokens []string, v T) string {
	if int(v) < len(tokens) {
		return tokens[v]
	}
	return fmt.Sprintf("%d", uint8(v))
}

func UnmarshalToken[T ~uint8](into *T, tokens []string, text []byte, what string) error {
	for i, token := range tokens {
		if token == string(text) {
			*into = T(i)
			return nil
		}
	}
	return fmt.Errorf("%s %q is not one this program knows", what, text)
}

// Temperatures of the oil at the plug, °C. Burns: bare metal at 51 °C hurts
// within a minute, hot water at 60 °C scalds in 3 to 5 s (commonly quoted);
// the gates themselves are trade judgement.
const (
	HotAskC    = 50.0 // above: asks to wait
	HotInsistC = 60.0 // above: insists
)
