package model

// This file names the answer to each topic in a word or two, for lists in which
// the question would be too long.

// topicNames are lower case but for units, and no two of a step are one.
var topicNames = [topicCount]string{
	DisplayUnits: "units", Vehicle: "car", UnitName: "unit", UnitKind: "kind of unit", DriveKind: "drivetrain",
	FillPath: "filled through", DryStart: "in it at the start",
	Capacity: "stated quantity", CapacityMeans: "what that means", ToleranceTopic: "tolerance",
	PriorLevel: "level before", ResidualExpected: "stays behind at a drain", Odometer: "odometer",
	OilGrade: "grade of the oil", OilDensity: "density at 15 °C", OilKV40: "viscosity at 40 °C", OilKV100: "viscosity at 100 °C",
	AdditiveVolume: "additive",
	PlugThread:     "thread of the plug", PlugKey: "key for the plug", WasherKind: "washer",
	TorqueFigure: "torque of the plug", TorqueSource: "torque from",
	IntervalKm: "interval by distance", IntervalMonths: "interval by time",
	ContainerName: "container", ContainerGraduation: "container marks", ContainerError: "container error",
	ContainerWater: "container check, water", ContainerWaterReading: "container check, marks", ContainerMore: "another container",
	ScaleDivision: "step of the scale",
	Filler:        "filled with", VesselGraduation: "vessel marks", VesselWater: "vessel check, water",
	VesselWaterReading: "vessel check, marks", VesselRating: "vessel pressure rating",
	HoseBore: "hose bore", HoseLength: "hose length", HoseMore: "another piece of hose",
	VesselHeel: "heel of the vessel", EscapeExpected: "will escape at the swap",
	StrokeVolume: "volume of a stroke", PushPressure: "pressure to push with", AtHand: "all at hand",

	ElectricOff: "high voltage off", GroundAndChocks: "ground and chocks", StandsAndShake: "stands and shake test",
	RightUnit: "right unit", RightPlug: "right plug", BreatherFree: "breather free", WayInProved: "way in proved",
	MakersManual: "maker's manual read", ResumedStands: "stands, after a break", ResumedPlug: "drain port, after a break",

	OilTemperature: "oil at the plug", TemperatureHow: "temperature taken", HotOilGoOn: "hot oil",
	GlovesAndEyes: "gloves and eyes", TagAndKey: "tag and key", PlugOut: "plug out",
	DripReading: "in the pan so far", DripsEnded: "drips ended", MagnetLook: "magnet", OilLook: "look of the oil",
	OilHistory: "oil lost or added", ChipsDecision: "chips of metal",

	DrainedWith: "measured with", DrainedAmount: "came out", DrainedTemperature: "oil as it was measured",
	DrainedMore: "all of it", StruckWhy: "why read again", WitnessTrusted: "measure trusted", WrongBoxDecision: "wrong box",
	LookedAgain: "second look", Basis: "basis of the fill", BasisWhy: "why that basis", PanLookedAgain: "pan against measure",

	BackUp: "car up again", DrainPlugIn: "drain plug in", HoseBefore: "hose before the push", PlanAccepted: "pre-load",
	LoadedWith: "loaded, measured with", LoadedAmount: "loaded into the vessel", LoadedTemperature: "new oil",
	LoadedMore: "more to load", BottlesOpened: "bottles opened", VesselWeighedFull: "vessel weighed, loaded",

	AdapterIn: "adapter in", BreatherBeforePush: "breather open", PressureSafe: "pressure safe",
	FillOilTemperature: "oil as it was pushed", FillReading: "left in the vessel so far", FillEnded: "push ended",
	StrokesCounted: "strokes of the pump", AirInLine: "air in the line", HoseAfter: "hose after the push",
	LeftWith: "left over, measured with", LeftInVessel: "left in the vessel", VesselWeighedAfter: "vessel weighed, after",
	BottlesLeftWith: "bottles, measured with", BottlesLeft: "left in the bottles",
	LevelWeeps: "level hole", OverflowCaughtWith: "ran over, measured with", OverflowCaught: "ran over",
	LetOutWith: "let out, measured with", LetOutAmount: "let out",

	PressureOff: "pressure off", Capped: "adapter capped",
	EscapedAtCapWith: "escaped, measured with", EscapedAtCap: "escaped round the adapter",

	FloorAndExhaust: "exhaust cold, pan under", WasherFitted: "washer fitted", PlugSeated: "plug seated",
	BreatherReopened: "breather open again", EscapedHow: "how it was measured", EscapedWith: "escaped, measured with",
	EscapedAmount: "escaped at the swap", PadsBefore: "pads, dry", PadsAfter: "pads, with the oil",
	EscapedMore: "more escaped", TightenedHow: "how it was tightened",
	NothingEscaped: "nothing escaped, second look",

	BalanceSuspect: "reading in doubt", LevelLookedAgain: "second look at the level", Decision: "decision",
	LeftWhy: "why it is left", WheelsTurned: "wheels turned", TagOff: "tag off",
	WasteOil: "waste oil", WasteHandedIn: "waste handed in", Remark: "remark",
	LeakCheck: "look after the drive", WasherRecheck: "look next day, cold", WasherRenewed: "washer renewed",
	LeakedHow: "how it was measured", LeakedWith: "lost, measured with", LeakedAmount: "lost at the plug",
	LeakedPadsBefore: "pads for the leak, dry", LeakedPadsAfter: "pads for the leak, with oil",
}
