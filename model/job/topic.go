package job

// This file names everything that an entry can speak of, with what holds of it
// in every job. How it is asked for is the guide's (step_*.go).

import (
	"fmt"
	"sync"
)

// Step is one stage of the job, in the order in which the work is done.
type Step uint8

const (
	Prepare  Step = iota // facts, containers, rig, what to have at hand
	Isolate              // right unit, right plug, car safe, way to fill confirmed
	Drain                // plug out, oil drips out
	Measure              // how much came out
	Preload              // the plan, and what was poured into the vessel
	Fill                 // push it in
	Cap                  // adapter capped, vessel vented
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
	TorqueLooked
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
	HoseHolds
	VesselHeel
	EscapeExpected
	StrokeVolume
	PushPressure
	RigLastOil
	RigLeft
	RigRinse
	AtHand
	// Prepare: the unit, once more.
	DryStart
	LostOrAdded
	// Prepare: the car.
	Session
	// Prepare: what others measured of such a unit.
	ClubKind
	Card
	CardResidual
	// Prepare: how its level is set.
	MakersPage
	LevelWindow
	SelectorAt
	FirstCharge
	StickBand
	StickBandMM
	LipBelow
	LipStands
	OilSurface
	LipDistance
	FillTorque
	FillWasher

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
	DropsCounted

	// Measure.
	DrainedWith
	DrainedAmount
	DrainedTemperature
	DrainedMore
	StruckWhy
	MeasureTrusted
	WrongBoxDecision
	LookedAgain
	Basis
	BasisWhy
	PanLookedAgain
	CardLookedAgain

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
	FillHalted
	FillMended
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
	// Fill: a level that is read.
	ExhaustOut
	SecondPerson
	EngineOn
	SelectorMoved
	AddedWith
	AddedRunning
	OilRunning
	RunEnded
	TubeSaid
	StickFirst
	StickSecond
	LevelAtC
	LevelBelow
	CarTilt
	EngineOff

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
	PortOpenFor
	SpillLooked
	HoseLooked

	// Drained off, a round of its own kind.
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
	NextUnit

	// At any time.
	ResumedStands
	ResumedTag
	ResumedPlug
	FromPaper
	NumTopics
)

// TopicInfo is what holds of a topic in every job.
type TopicInfo struct {
	Token string // name in files: never changed
	Name  string // of the answer in a word or two, for lists; no two of a step are one
	Step  Step
	Kind  Kind
	Dim   Dim   // of a Number or a Range; of a Range DimML where none is given
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

// topicsOf are the topics by their step.
var topicsOf = [NumSteps]map[Topic]TopicInfo{
	Prepare: {
		Undo: {Token: "undo"}, // of no step
		// The unit.
		DisplayUnits:     {Token: "prepare.units", Name: "units", Kind: Choose},
		Vehicle:          {Token: "prepare.vehicle", Name: "car", Kind: Free},
		UnitName:         {Token: "prepare.unit", Name: "unit", Kind: Free},
		UnitKind:         {Token: "prepare.kind", Name: "kind of unit", Kind: Choose},
		DriveKind:        {Token: "prepare.drive", Name: "drivetrain", Kind: Choose},
		FillPath:         {Token: "prepare.fill_path", Name: "filled through", Kind: Choose},
		Capacity:         {Token: "prepare.capacity", Name: "fill quantity (manual)", Kind: Range},
		CapacityMeans:    {Token: "prepare.capacity_means", Name: "what that is for", Kind: Choose},
		ToleranceTopic:   {Token: "prepare.tolerance", Name: "tolerance", Kind: Bounds},
		PriorLevel:       {Token: "prepare.prior_level", Name: "level before", Kind: Choose, OldOil: true, Once: true},
		ResidualExpected: {Token: "prepare.residual", Name: "stays inside at a drain", Kind: Range, Once: true},
		Odometer:         {Token: "prepare.odometer", Name: "odometer", Kind: Number, Dim: DimKm, Once: true},
		// The oil.
		OilGrade:       {Token: "prepare.oil_grade", Name: "grade of the oil", Kind: Free},
		OilDensity:     {Token: "prepare.oil_density", Name: "density at 15 °C", Kind: Number, Dim: DimKgM3},
		OilKV40:        {Token: "prepare.oil_kv40", Name: "viscosity at 40 °C", Kind: Number, Dim: DimCSt},
		OilKV100:       {Token: "prepare.oil_kv100", Name: "viscosity at 100 °C", Kind: Number, Dim: DimCSt},
		AdditiveVolume: {Token: "prepare.additive", Name: "additive", Kind: Amount},
		// Plug and interval.
		PlugThread:     {Token: "prepare.plug_thread", Name: "thread of the plug", Kind: Free},
		PlugKey:        {Token: "prepare.plug_key", Name: "socket for the plug", Kind: Free},
		WasherKind:     {Token: "prepare.washer", Name: "washer", Kind: Free},
		TorqueFigure:   {Token: "prepare.torque", Name: "torque of the plug", Kind: Number, Dim: DimNm},
		TorqueSource:   {Token: "prepare.torque_source", Name: "torque from", Kind: Free},
		TorqueLooked:   {Token: "prepare.torque_again", Name: "torque, second look", Kind: Choose, Once: true},
		IntervalKm:     {Token: "prepare.interval_distance", Name: "interval by distance", Kind: Number, Dim: DimKm},
		IntervalMonths: {Token: "prepare.interval_months", Name: "interval by time", Kind: Number, Dim: DimMonths},
		// What measures.
		ContainerName:         {Token: "prepare.container", Name: "container", Kind: Free},
		ContainerGraduation:   {Token: "prepare.container_graduation", Name: "container, marks every", Kind: Amount},
		ContainerError:        {Token: "prepare.container_error", Name: "container error", Kind: Number, Dim: DimShare},
		ContainerWater:        {Token: "prepare.container_water", Name: "container check, water", Kind: Number, Dim: DimG},
		ContainerWaterReading: {Token: "prepare.container_water_reading", Name: "container check, marks", Kind: Amount},
		ContainerMore:         {Token: "prepare.container_more", Name: "another container", Kind: Choose},
		ScaleDivision:         {Token: "prepare.scale_division", Name: "scale reads to", Kind: Number, Dim: DimG},
		// The rig.
		Filler:             {Token: "prepare.filler", Name: "filled with", Kind: Choose},
		VesselGraduation:   {Token: "prepare.vessel_graduation", Name: "vessel, marks every", Kind: Amount},
		VesselWater:        {Token: "prepare.vessel_water", Name: "vessel check, water", Kind: Number, Dim: DimG},
		VesselWaterReading: {Token: "prepare.vessel_water_reading", Name: "vessel check, marks", Kind: Amount},
		VesselRating:       {Token: "prepare.vessel_rating", Name: "vessel pressure rating", Kind: Number, Dim: DimKPa},
		HoseBore:           {Token: "prepare.hose_bore", Name: "hose bore", Kind: Number, Dim: DimMM},
		HoseLength:         {Token: "prepare.hose_length", Name: "hose length", Kind: Number, Dim: DimM},
		HoseMore:           {Token: "prepare.hose_more", Name: "another piece of hose", Kind: Choose},
		HoseHolds:          {Token: "prepare.hose_holds", Name: "hose holds", Kind: Amount},
		VesselHeel:         {Token: "prepare.vessel_heel", Name: "oil below the vessel's tube", Kind: Amount},
		EscapeExpected:     {Token: "prepare.escape_expected", Name: "spill expected at the swap", Kind: Range, Once: true},
		StrokeVolume:       {Token: "prepare.stroke_volume", Name: "volume of a stroke", Kind: Amount},
		PushPressure:       {Token: "prepare.push_pressure", Name: "pressure to push with", Kind: Number, Dim: DimKPa},
		RigLastOil:         {Token: "prepare.rig_last_oil", Name: "last oil of the rig", Kind: Choose, Once: true},
		RigLeft:            {Token: "prepare.rig_left", Name: "how the rig was left", Kind: Choose, Once: true},
		RigRinse:           {Token: "prepare.rig_rinse", Name: "rinse of the rig", Kind: Choose, Once: true},
		AtHand:             {Token: "prepare.at_hand", Name: "all at hand", Kind: Acknowledge},
		// The unit, once more.
		LostOrAdded: {Token: "prepare.lost_or_added", Name: "lost or added, about", Kind: Amount, OldOil: true, Once: true},
		DryStart:    {Token: "prepare.dry_start", Name: "in it at the start", Kind: Choose, Once: true},
		// The car.
		Session:  {Token: "prepare.session", Name: "done with other units", Kind: Free, Once: true},
		ClubKind: {Token: "prepare.club_kind", Name: "kind of unit, for the club", Kind: Free},
		// What others measured of such a unit: ends of ± twice its standard uncertainty.
		Card:         {Token: "prepare.card", Name: "others: came out", Kind: Range, Once: true},
		CardResidual: {Token: "prepare.card_residual", Name: "others: stays inside", Kind: Range, Once: true},
		// How its level is set.
		MakersPage:  {Token: "prepare.makers_page", Name: "maker's page, running check", Kind: Free},
		LevelWindow: {Token: "prepare.level_window", Name: "oil, for the level", Kind: Range, Dim: DimC},
		SelectorAt:  {Token: "prepare.selector", Name: "selector at the level", Kind: Choose},
		FirstCharge: {Token: "prepare.first_charge", Name: "first part, engine off", Kind: Amount},
		StickBand:   {Token: "prepare.stick_band", Name: "dipstick, low to high", Kind: Amount},
		StickBandMM: {Token: "prepare.stick_band_length", Name: "dipstick, length of that", Kind: Number, Dim: DimMM},
		LipBelow:    {Token: "prepare.lip_below", Name: "level below the lip", Kind: Range, Dim: DimMM},
		LipStands:   {Token: "prepare.lip_stands", Name: "level holds for a car", Kind: Choose},
		OilSurface:  {Token: "prepare.oil_surface", Name: "oil's surface", Kind: Number, Dim: DimCM2},
		LipDistance: {Token: "prepare.lip_distance", Name: "lip to the middle of the oil", Kind: Number, Dim: DimMM},
		FillTorque:  {Token: "prepare.fill_torque", Name: "torque of the fill plug", Kind: Number, Dim: DimNm},
		FillWasher:  {Token: "prepare.fill_washer", Name: "washer of the fill plug", Kind: Free},
	},
	Isolate: {
		ElectricOff:     {Token: "isolate.electric_off", Name: "high voltage off", Kind: Acknowledge},
		GroundAndChocks: {Token: "isolate.ground_and_chocks", Name: "ground and chocks", Kind: Acknowledge},
		StandsAndShake:  {Token: "isolate.stands_and_shake", Name: "stands and shake test", Kind: Acknowledge},
		RightUnit:       {Token: "isolate.right_unit", Name: "right unit", Kind: Acknowledge},
		RightPlug:       {Token: "isolate.right_plug", Name: "right plug", Kind: Acknowledge},
		BreatherFree:    {Token: "isolate.breather_free", Name: "breather free", Kind: Acknowledge},
		WayInProved:     {Token: "isolate.way_in_proved", Name: "way in proved", Kind: Acknowledge},
		MakersManual:    {Token: "isolate.makers_manual", Name: "maker's manual read", Kind: Acknowledge},
		// At any time.
		ResumedStands: {Token: "resume.stands", Name: "stands, after a break", Kind: Acknowledge},
		ResumedTag:    {Token: "resume.tag", Name: "tag, after a break", Kind: Acknowledge},
		FromPaper:     {Token: "paper.typed", Name: "typed from paper", Kind: Event},
		ResumedPlug:   {Token: "resume.plug", Name: "drain port, after a break", Kind: Choose, Observed: true},
	},
	Drain: {
		OilTemperature: {Token: "drain.oil_temperature", Name: "oil at the plug", Kind: Number, Dim: DimC, OldOil: true, Observed: true},
		TemperatureHow: {Token: "drain.temperature_how", Name: "temperature taken", Kind: Choose, OldOil: true, Observed: true},
		HotOilGoOn:     {Token: "drain.hot_oil", Name: "hot oil", Kind: Choose, OldOil: true},
		GlovesAndEyes:  {Token: "drain.gloves_and_eyes", Name: "gloves and eyes", Kind: Acknowledge},
		TagAndKey:      {Token: "drain.tag_and_key", Name: "tag and key", Kind: Acknowledge},
		PlugOut:        {Token: "drain.plug_out", Name: "plug out", Kind: Event, OldOil: true},
		DripReading:    {Token: "drain.drip_reading", Name: "in the pan so far", Kind: Amount, Ends: DripsEnded, OldOil: true},
		DripsEnded:     {Token: "drain.drips_ended", Name: "drips ended", Kind: Event, OldOil: true},
		MagnetLook:     {Token: "drain.magnet", Name: "magnet", Kind: Choose, Observed: true},
		OilLook:        {Token: "drain.oil_look", Name: "look of the oil", Kind: Choose, OldOil: true, Observed: true},
		OilHistory:     {Token: "drain.oil_history", Name: "oil lost or added", Kind: Choose, OldOil: true, Observed: true},
		ChipsDecision:  {Token: "drain.chips_decision", Name: "chips of metal", Kind: Choose},
		DropsCounted:   {Token: "drain.drops", Name: "drops in a minute", Kind: Number, Dim: DimCount, OldOil: true, Observed: true},
	},
	Measure: {
		DrainedWith:   {Token: "measure.with", Name: "measured with", Kind: Choose, OldOil: true},
		DrainedAmount: {Token: "measure.amount", Name: "came out", Kind: Amount, With: DrainedWith, OldOil: true, Observed: true},
		DrainedTemperature: {
			Token: "measure.temperature", Name: "oil as it was measured", Kind: Number, Dim: DimC, OldOil: true, Observed: true,
		},
		DrainedMore:      {Token: "measure.more", Name: "all of it", Kind: Choose, OldOil: true},
		StruckWhy:        {Token: "measure.struck_why", Name: "why read again", Kind: Free, OldOil: true},
		MeasureTrusted:   {Token: "measure.trusted", Name: "measure trusted", Kind: Choose, OldOil: true},
		WrongBoxDecision: {Token: "measure.wrong_box", Name: "wrong unit", Kind: Choose, OldOil: true},
		LookedAgain:      {Token: "measure.looked_again", Name: "second look", Kind: Choose, OldOil: true, Observed: true},
		Basis:            {Token: "measure.basis", Name: "basis of the fill", Kind: Choose, OldOil: true},
		BasisWhy:         {Token: "measure.basis_why", Name: "why that basis", Kind: Free, OldOil: true},
		PanLookedAgain:   {Token: "measure.pan_looked_again", Name: "pan against measure", Kind: Choose, OldOil: true, Observed: true},
		CardLookedAgain:  {Token: "measure.card_looked_again", Name: "others against measure", Kind: Choose, OldOil: true, Observed: true},
	},
	Preload: {
		BackUp:            {Token: "preload.back_up", Name: "car up again", Kind: Acknowledge},
		DrainPlugIn:       {Token: "preload.drain_plug_in", Name: "drain plug in", Kind: Event},
		HoseBefore:        {Token: "preload.hose", Name: "hose before the push", Kind: Choose, Observed: true},
		PlanAccepted:      {Token: "preload.plan", Name: "amount to pour in", Kind: Acknowledge},
		LoadedWith:        {Token: "preload.with", Name: "poured in, measured with", Kind: Choose},
		LoadedAmount:      {Token: "preload.amount", Name: "poured into the vessel", Kind: Amount, With: LoadedWith, Observed: true},
		LoadedTemperature: {Token: "preload.temperature", Name: "new oil", Kind: Number, Dim: DimC, Observed: true},
		LoadedMore:        {Token: "preload.more", Name: "more to pour in", Kind: Choose},
		BottlesOpened:     {Token: "preload.bottles_opened", Name: "bottles opened", Kind: Amount},
		VesselWeighedFull: {Token: "preload.vessel_weighed", Name: "vessel weighed, full", Kind: Number, Dim: DimG},
	},
	Fill: {
		AdapterIn:          {Token: "fill.adapter_in", Name: "adapter in", Kind: Event},
		BreatherBeforePush: {Token: "fill.breather_open", Name: "breather open", Kind: Acknowledge},
		PressureSafe:       {Token: "fill.pressure_safe", Name: "pressure safe", Kind: Acknowledge},
		FillOilTemperature: {Token: "fill.oil_temperature", Name: "oil as it was pushed", Kind: Number, Dim: DimC, Observed: true},
		FillReading:        {Token: "fill.vessel_reading", Name: "left in the vessel so far", Kind: Amount, Ends: FillEnded},
		StrokesCounted:     {Token: "fill.strokes", Name: "strokes of the pump", Kind: Number, Dim: DimCount},
		FillEnded:          {Token: "fill.ended", Name: "push ended", Kind: Event},
		FillHalted:         {Token: "fill.halted", Name: "push halted", Kind: Choose, Observed: true},
		FillMended:         {Token: "fill.mended", Name: "put right after the halt", Kind: Acknowledge},
		AirInLine:          {Token: "fill.air_in_line", Name: "air in the line", Kind: Choose, Observed: true},
		LevelWeeps:         {Token: "fill.level_weeps", Name: "level hole", Kind: Choose, Observed: true},
		OverflowCaughtWith: {Token: "fill.overflow_with", Name: "ran over, measured with", Kind: Choose},
		OverflowCaught:     {Token: "fill.overflow", Name: "ran over", Kind: Amount, With: OverflowCaughtWith, Observed: true},
		ExhaustOut:         {Token: "fill.exhaust_out", Name: "exhaust led out", Kind: Acknowledge},
		SecondPerson:       {Token: "fill.second_person", Name: "second person, at the wheel", Kind: Free, Observed: true},
		EngineOn:           {Token: "fill.engine_on", Name: "engine on", Kind: Event},
		SelectorMoved:      {Token: "fill.selector_moved", Name: "selector moved", Kind: Acknowledge},
		AddedWith:          {Token: "fill.added_with", Name: "added running, measured with", Kind: Choose},
		AddedRunning:       {Token: "fill.added_running", Name: "added, engine running", Kind: Amount, With: AddedWith, Observed: true},
		OilRunning: {Token: "fill.oil_running", Name: "oil, engine running", Kind: Number, Dim: DimC, Ends: RunEnded,
			Observed: true},
		RunEnded:    {Token: "fill.run_ended", Name: "level looked at", Kind: Event},
		TubeSaid:    {Token: "fill.tube", Name: "out of the overflow tube", Kind: Choose, Observed: true},
		StickFirst:  {Token: "fill.stick", Name: "dipstick, one side", Kind: Number, Dim: DimOver, Observed: true},
		StickSecond: {Token: "fill.stick_back", Name: "dipstick, other side", Kind: Number, Dim: DimOver, Observed: true},
		LevelAtC:    {Token: "fill.level_at", Name: "oil as the level was read", Kind: Number, Dim: DimC, Observed: true},
		LevelBelow:  {Token: "fill.level_below", Name: "oil below the lip", Kind: Number, Dim: DimMM, Observed: true},
		CarTilt:     {Token: "fill.tilt", Name: "car off level by", Kind: Number, Dim: DimDeg, Observed: true},
		EngineOff:   {Token: "fill.engine_off", Name: "engine off", Kind: Acknowledge},
		// Drained off, a round of its own kind.
		LetOutWith:   {Token: "letout.with", Name: "drained off, measured with", Kind: Choose},
		LetOutAmount: {Token: "letout.amount", Name: "drained off", Kind: Amount, With: LetOutWith, Observed: true},
	},
	Cap: {
		LeftWith:           {Token: "fill.left_with", Name: "left over, measured with", Kind: Choose},
		LeftInVessel:       {Token: "fill.left_in_vessel", Name: "left in the vessel", Kind: Amount, With: LeftWith, Observed: true},
		VesselWeighedAfter: {Token: "fill.vessel_weighed", Name: "vessel weighed, after", Kind: Number, Dim: DimG},
		BottlesLeftWith:    {Token: "fill.bottles_left_with", Name: "bottles, measured with", Kind: Choose},
		BottlesLeft:        {Token: "fill.bottles_left", Name: "left in the bottles", Kind: Amount, With: BottlesLeftWith},
		HoseAfter:          {Token: "fill.hose_after", Name: "hose after the push", Kind: Choose, Observed: true},
		PressureOff:        {Token: "cap.pressure_off", Name: "vessel vented", Kind: Acknowledge},
		Capped:             {Token: "cap.capped", Name: "adapter capped", Kind: Event},
		EscapedAtCapWith:   {Token: "cap.escaped_with", Name: "spilled, measured with", Kind: Choose},
		EscapedAtCap:       {Token: "cap.escaped", Name: "spilled at the adapter", Kind: Amount, With: EscapedAtCapWith, Observed: true},
	},
	Seat: {
		FloorAndExhaust:  {Token: "seat.floor_and_exhaust", Name: "exhaust cold, pan under", Kind: Acknowledge},
		WasherFitted:     {Token: "seat.washer", Name: "washer fitted", Kind: Choose, Observed: true},
		PlugSeated:       {Token: "seat.plug_seated", Name: "plug seated", Kind: Event},
		BreatherReopened: {Token: "seat.breather_reopened", Name: "breather open again", Kind: Acknowledge},
		EscapedHow:       {Token: "seat.escaped_how", Name: "how it was measured", Kind: Choose, Observed: true},
		EscapedWith:      {Token: "seat.escaped_with", Name: "spilled, measured with", Kind: Choose},
		EscapedAmount:    {Token: "seat.escaped", Name: "spilled at the swap", Kind: Amount, With: EscapedWith, Observed: true},
		PadsBefore:       {Token: "seat.pads_before", Name: "pads, dry", Kind: Number, Dim: DimG},
		PadsAfter:        {Token: "seat.pads_after", Name: "pads, with the oil", Kind: Number, Dim: DimG},
		EscapedMore:      {Token: "seat.escaped_more", Name: "more spilled", Kind: Choose},
		TightenedHow:     {Token: "seat.tightened", Name: "how it was tightened", Kind: Choose, Observed: true},
		NothingEscaped:   {Token: "seat.nothing_escaped", Name: "nothing spilled, second look", Kind: Choose, Observed: true},
		PortOpenFor:      {Token: "seat.port_open", Name: "port open", Kind: Number, Dim: DimSeconds, Observed: true},
		SpillLooked:      {Token: "seat.spill_again", Name: "spill, second look", Kind: Choose, Observed: true},
		HoseLooked:       {Token: "seat.hose_again", Name: "hose, second look", Kind: Choose, Observed: true},
	},
	CloseOut: {
		Decision:         {Token: "close.decision", Name: "decision", Kind: Choose},
		LeftWhy:          {Token: "close.left_why", Name: "why it is left", Kind: Free},
		BalanceSuspect:   {Token: "close.balance_suspect", Name: "reading that is wrong", Kind: Choose, Observed: true},
		LevelLookedAgain: {Token: "close.level_looked_again", Name: "second look at the level", Kind: Choose, Observed: true},
		WheelsTurned:     {Token: "close.wheels_turned", Name: "wheels turned", Kind: Acknowledge},
		TagOff:           {Token: "close.tag_off", Name: "tag off", Kind: Acknowledge},
		WasteOil:         {Token: "close.waste_oil", Name: "waste oil", Kind: Amount},
		WasteHandedIn:    {Token: "close.waste_handed_in", Name: "waste handed in", Kind: Free},
		Remark:           {Token: "close.remark", Name: "remark", Kind: Free},
		LeakCheck:        {Token: "close.leak_check", Name: "look after the drive", Kind: Choose, Observed: true},
		WasherRecheck:    {Token: "close.washer_recheck", Name: "look next day, cold", Kind: Choose, Observed: true},
		WasherRenewed:    {Token: "close.washer_renewed", Name: "washer renewed", Kind: Acknowledge},
		LeakedHow:        {Token: "close.leaked_how", Name: "how it was measured", Kind: Choose, Observed: true},
		LeakedWith:       {Token: "close.leaked_with", Name: "lost, measured with", Kind: Choose},
		LeakedAmount:     {Token: "close.leaked", Name: "lost at the plug", Kind: Amount, With: LeakedWith, Observed: true},
		LeakedPadsBefore: {Token: "close.leaked_pads_before", Name: "pads for the leak, dry", Kind: Number, Dim: DimG},
		LeakedPadsAfter:  {Token: "close.leaked_pads_after", Name: "pads for the leak, with oil", Kind: Number, Dim: DimG},
		NextUnit:         {Token: "close.next_unit", Name: "car stays for another unit", Kind: Acknowledge},
	},
}

// topics finds what holds of a topic.
var topics = func() (all [NumTopics]TopicInfo) {
	for step, infos := range topicsOf {
		for t, info := range infos {
			info.Step = Step(step)
			all[t] = info
		}
	}
	return all
}()

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

// topicsByToken finds topics by their names in files.
var topicsByToken = sync.OnceValue(func() map[string]Topic {
	by := make(map[string]Topic, NumTopics)
	for t := NoTopic + 1; t < NumTopics; t++ {
		by[topics[t].Token] = t
	}
	return by
})

// UnmarshalText reads a topic's name; a name that is not known is an error
// that shows it.
func (t *Topic) UnmarshalText(text []byte) error {
	if topic, known := topicsByToken()[string(text)]; known {
		*t = topic
		return nil
	}
	return fmt.Errorf("topic %q is not one this program knows", text)
}

// Kind says how a topic is answered.
type Kind uint8

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
