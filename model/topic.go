package model

// This file names everything that an entry can speak of, and the step to
// which it belongs. The wording, limits and conditions of each topic stand in
// the file of its step (step_*.go).

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
	stepCount
)

var stepNames = [stepCount]string{"prepare", "isolate", "drain", "measure", "pre-load", "fill", "cap", "seat washer", "close out"}

// String is the step's name as it is shown.
func (s Step) String() string {
	if s < stepCount {
		return stepNames[s]
	}
	return fmt.Sprintf("step %d", uint8(s))
}

// Topic says what an entry speaks of. Its number is not stable and is never
// stored; its text form (topicTokens) is.
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
	topicCount
)

var topicTokens = [topicCount]string{
	NoTopic: "", Undo: "undo",

	DisplayUnits: "prepare.units", Vehicle: "prepare.vehicle", UnitName: "prepare.unit", UnitKind: "prepare.kind",
	DriveKind: "prepare.drive", FillPath: "prepare.fill_path", Capacity: "prepare.capacity",
	CapacityMeans: "prepare.capacity_means", ToleranceTopic: "prepare.tolerance", PriorLevel: "prepare.prior_level",
	ResidualExpected: "prepare.residual", Odometer: "prepare.odometer",
	OilGrade: "prepare.oil_grade", OilDensity: "prepare.oil_density", OilKV40: "prepare.oil_kv40",
	OilKV100: "prepare.oil_kv100", AdditiveVolume: "prepare.additive",
	PlugThread: "prepare.plug_thread", PlugKey: "prepare.plug_key", WasherKind: "prepare.washer",
	TorqueFigure: "prepare.torque", TorqueSource: "prepare.torque_source",
	IntervalKm: "prepare.interval_distance", IntervalMonths: "prepare.interval_months",
	ContainerName: "prepare.container", ContainerGraduation: "prepare.container_graduation",
	ContainerError: "prepare.container_error", ContainerWater: "prepare.container_water",
	ContainerWaterReading: "prepare.container_water_reading", ContainerMore: "prepare.container_more",
	ScaleDivision: "prepare.scale_division",
	Filler:        "prepare.filler", VesselGraduation: "prepare.vessel_graduation", VesselWater: "prepare.vessel_water",
	VesselWaterReading: "prepare.vessel_water_reading", VesselRating: "prepare.vessel_rating",
	HoseBore: "prepare.hose_bore", HoseLength: "prepare.hose_length", HoseMore: "prepare.hose_more",
	VesselHeel: "prepare.vessel_heel", EscapeExpected: "prepare.escape_expected",
	StrokeVolume: "prepare.stroke_volume", PushPressure: "prepare.push_pressure", AtHand: "prepare.at_hand",
	DryStart: "prepare.dry_start",

	ElectricOff: "isolate.electric_off", GroundAndChocks: "isolate.ground_and_chocks",
	StandsAndShake: "isolate.stands_and_shake", RightUnit: "isolate.right_unit", RightPlug: "isolate.right_plug",
	BreatherFree: "isolate.breather_free", WayInProved: "isolate.way_in_proved", MakersManual: "isolate.makers_manual",

	OilTemperature: "drain.oil_temperature", TemperatureHow: "drain.temperature_how", HotOilGoOn: "drain.hot_oil",
	GlovesAndEyes: "drain.gloves_and_eyes", TagAndKey: "drain.tag_and_key", PlugOut: "drain.plug_out",
	DripReading: "drain.drip_reading", DripsEnded: "drain.drips_ended", MagnetLook: "drain.magnet",
	OilLook: "drain.oil_look", OilHistory: "drain.oil_history", ChipsDecision: "drain.chips_decision",

	DrainedWith: "measure.with", DrainedAmount: "measure.amount", DrainedTemperature: "measure.temperature",
	DrainedMore: "measure.more", StruckWhy: "measure.struck_why", WitnessTrusted: "measure.trusted",
	WrongBoxDecision: "measure.wrong_box", LookedAgain: "measure.looked_again",
	Basis: "measure.basis", BasisWhy: "measure.basis_why", PanLookedAgain: "measure.pan_looked_again",

	BackUp: "preload.back_up", DrainPlugIn: "preload.drain_plug_in", HoseBefore: "preload.hose",
	PlanAccepted: "preload.plan", LoadedWith: "preload.with", LoadedAmount: "preload.amount",
	LoadedTemperature: "preload.temperature", LoadedMore: "preload.more", BottlesOpened: "preload.bottles_opened",
	VesselWeighedFull: "preload.vessel_weighed",

	AdapterIn: "fill.adapter_in", BreatherBeforePush: "fill.breather_open", PressureSafe: "fill.pressure_safe",
	FillOilTemperature: "fill.oil_temperature", FillReading: "fill.vessel_reading", StrokesCounted: "fill.strokes",
	FillEnded: "fill.ended", AirInLine: "fill.air_in_line", LeftWith: "fill.left_with",
	LeftInVessel: "fill.left_in_vessel", VesselWeighedAfter: "fill.vessel_weighed",
	BottlesLeftWith: "fill.bottles_left_with", BottlesLeft: "fill.bottles_left", HoseAfter: "fill.hose_after",
	LevelWeeps: "fill.level_weeps", OverflowCaughtWith: "fill.overflow_with", OverflowCaught: "fill.overflow",

	PressureOff: "cap.pressure_off", Capped: "cap.capped",
	EscapedAtCapWith: "cap.escaped_with", EscapedAtCap: "cap.escaped",

	FloorAndExhaust: "seat.floor_and_exhaust", WasherFitted: "seat.washer", PlugSeated: "seat.plug_seated",
	BreatherReopened: "seat.breather_reopened", EscapedHow: "seat.escaped_how", EscapedWith: "seat.escaped_with",
	EscapedAmount: "seat.escaped", PadsBefore: "seat.pads_before", PadsAfter: "seat.pads_after",
	EscapedMore: "seat.escaped_more", TightenedHow: "seat.tightened",
	NothingEscaped: "seat.nothing_escaped",

	LetOutWith: "letout.with", LetOutAmount: "letout.amount",

	Decision: "close.decision", LeftWhy: "close.left_why", BalanceSuspect: "close.balance_suspect",
	LevelLookedAgain: "close.level_looked_again", WheelsTurned: "close.wheels_turned", TagOff: "close.tag_off",
	WasteOil: "close.waste_oil", WasteHandedIn: "close.waste_handed_in", Remark: "close.remark",
	LeakCheck: "close.leak_check", WasherRecheck: "close.washer_recheck", WasherRenewed: "close.washer_renewed",
	LeakedHow: "close.leaked_how", LeakedWith: "close.leaked_with", LeakedAmount: "close.leaked",
	LeakedPadsBefore: "close.leaked_pads_before", LeakedPadsAfter: "close.leaked_pads_after",

	ResumedStands: "resume.stands", ResumedPlug: "resume.plug",
}

// String is the topic's name in files.
func (t Topic) String() string {
	if t < topicCount {
		return topicTokens[t]
	}
	return fmt.Sprintf("topic %d", uint8(t))
}

// MarshalText writes the topic's name in files.
func (t Topic) MarshalText() ([]byte, error) {
	if t == NoTopic || t >= topicCount {
		return nil, fmt.Errorf("topic %d has no name", uint8(t))
	}
	return []byte(topicTokens[t]), nil
}

// UnmarshalText reads a topic's name; a name that is not known is an error
// that shows it.
func (t *Topic) UnmarshalText(text []byte) error {
	for i := NoTopic + 1; i < topicCount; i++ {
		if topicTokens[i] == string(text) {
			*t = i
			return nil
		}
	}
	return fmt.Errorf("topic %q is not one this program knows", text)
}
