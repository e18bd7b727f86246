package job

// This file holds the answers of the topics that are chosen from a list, each
// with its name in files. What is read beside them is the guide's (options.go).

// The units that a job is shown in.
const (
	UnitsMetric   = "metric"
	UnitsUS       = "us"
	UnitsImperial = "imperial"
)

// Path says through what the unit is filled, and what sets its level.
type Path uint8

const (
	DrainPortOnly Path = iota // pushed in through the drain: a quantity
	LevelPort                 // from above, to a level hole
	OverflowTube              // from above, to an overflow tube, warm, engine running
	Dipstick                  // from above, to the marks of a dipstick, warm, engine running
	FillAbove                 // from above, through a plug above the level: a quantity
)

var pathTokens = []string{"drain_only", "level_port", "overflow_tube", "dipstick", "fill_above"}

// PouredIn reports whether oil goes in from above, at an opening of its own.
func (p Path) PouredIn() bool { return p != DrainPortOnly }

// ShowsLevel reports whether the unit shows its level when it is full.
func (p Path) ShowsLevel() bool { return p == LevelPort || p.RunsEngine() }

// RunsEngine reports whether the level is read with the oil warm and the engine
// running.
func (p Path) RunsEngine() bool { return p == OverflowTube || p == Dipstick }

// DryUnit is the choice of dryOptions that says that there is nothing to drain.
const DryUnit = "dry"

// Kinds of gearbox that change gear by themselves: a quantity that is measured in
// does not set their level.
const (
	AutomaticBox  = "automatic_gearbox"
	TwinClutchBox = "twin_clutch_gearbox"
	BeltBox       = "belt_gearbox"
)

// Where the selector stands as the level is read.
const (
	SelectorPark    = "park"
	SelectorNeutral = "neutral"
)

// How the car stands where a level is stated for it.
const (
	LipLifted = "lifted"    // level, lifted or on a pit
	LipWheels = "on_wheels" // level, on its wheels
)

// TubeLook says what came out of an overflow tube with the engine running.
type TubeLook uint8

const (
	TubeDrops     TubeLook = iota // a thread that turned to drops, or drops that do not end
	TubeNothing                   // no more than the tube's own content
	TubeThread                    // a thread that goes on
	TubeFlow                      // a heavy flow
	TubeWaves                     // a small wave now and then, dry between
	TubeEngineOff                 // the engine was off
)

var tubeTokens = []string{"drops", "nothing", "thread", "flow", "waves", "engine_off"}

// Drivetrain says what can move the car.
type Drivetrain uint8

const (
	Combustion Drivetrain = iota
	Hybrid
	Electric
)

var driveTokens = []string{"combustion", "hybrid", "electric"}

// FillerKind says what pushes the oil in.
type FillerKind uint8

const (
	HandPump FillerKind = iota
	PressurisedVessel
	SuctionGun
	RaisedFunnel
)

var fillerTokens = []string{"hand_pump", "pressurised", "suction_gun", "funnel"}

// How a temperature was taken.
const (
	HowMeasured = "measured"
	HowFelt     = "felt"
)

// Choices in the drain step.
const (
	HotWait = "wait"
	HotGo   = "go_on"
)

// NotLooked is the choice of somebody who has not looked.
const NotLooked = "not_looked"

// Magnet says what the drain plug's magnet carried.
type Magnet uint8

const (
	MagnetClean Magnet = iota
	MagnetPaste
	MagnetHairs
	MagnetFlakes
	MagnetChips
	NoMagnet
	MagnetNotLooked
)

var magnetTokens = []string{"clean", "paste", "hairs", "flakes", "chips", "none", NotLooked}

// Look says what the drained oil looked like.
type Look uint8

const (
	LookClean Look = iota
	LookDark
	LookMilky
	LookForeign
	LookNotLooked
	LookGlitter
)

var lookTokens = []string{"clean", "dark", "milky", "foreign", NotLooked, "glitter"}

// Past says what happened to the oil since the last fill.
type Past uint8

const (
	PastUndisturbed Past = iota
	PastLeaked
	PastToppedUp
	PastNotKnown
)

var pastTokens = []string{"undisturbed", "leaked", "topped_up", "unknown"}

const (
	ChipsStop = "stop"
	ChipsMove = "keep_from_rust"
)

const (
	MoreDone    = "done"
	MoreAnother = "another"
	MoreAgain   = "again"
	MoreLate    = "late"
)

// What a second look found, where far too little or too much came out.
const (
	LookedTyped      = "typed_wrong"
	LookedMore       = "more"
	LookedSame       = "nothing_more"
	LookedNeighbour  = "neighbour"
	LookedWater      = "water"
	LookedOverfilled = "overfilled"
)

// What is wrong where the pan held more than was measured.
const (
	PanWrong = "pan_wrong"
	PanMore  = "more"
	PanLost  = "lost"
)

// What is wrong where what came out is far from what others measured of such a unit.
const (
	CardOtherUnit = "other_unit" // theirs is of another
	CardLevelOff  = "level_off"  // it was not filled as it should be
	CardBoth      = "both_stand"
)

const (
	BoxStop = "stop"
	BoxGoOn = "right_unit"
)

// Hose says how full the hose is before a push.
type Hose uint8

const (
	HoseDry Hose = iota
	HoseFull
)

var hoseTokens = []string{"dry", "primed"}

// HoseEnd says where the oil of the hose is after a push.
type HoseEnd uint8

const (
	HoseLeftFull HoseEnd = iota
	HoseRanBack
	HoseRanToPan
	HoseBlownClear
)

var hoseEndTokens = []string{"full", "back", "pan", "cleared"}

// What a second look found of a hose that cannot be as it was said to be.
const (
	HoseStill = "still_in_it"
	HoseRan   = "ran_to_pan"
)

// What the rig held last, against what goes in now, and how it was left.
const (
	RigSameOil       = "same_oil"
	RigSameClass     = "same_class"
	RigIntoSynchro   = "into_synchro"
	RigIntoAxle      = "into_axle"
	RigIntoAutomatic = "into_automatic"

	RigFull   = "full"
	RigHung   = "hung"
	RigRinsed = "rinsed"
	RigOwn    = "own"
)

// What stands after a second look.
const (
	SpillStands  = "stands"
	TorqueStands = "stands"
)

// Why a push was halted.
const (
	HaltLeaks   = "leaks"   // at the adapter
	HaltBlocked = "blocked" // nothing moves, or no air comes out of the breather
)

const (
	AirNone = "none"
	AirYes  = "air"
)

const (
	WeepsLevel = "weeps"
	WeepsNot   = "not_yet"
)

// What a second look at a level said that contradicts the sums.
const (
	LevelHolds = "holds"
	LevelGone  = "gone"

	LevelTilted    = "tilted" // the causes that void it
	LevelWrongHole = "wrong_hole"
	LevelFroth     = "froth"
	LevelShut      = "breather_shut"
	LevelTube      = "tube_loose"
	LevelSelector  = "selector"
	LevelTooWarm   = "temperature"
)

// What seals the plug.
const (
	WasherNew    = "new"
	WasherReused = "reused"
	WasherNone   = "none"
)

const (
	EscapeCaught = "caught"
	EscapePads   = "pads"
	EscapeGuess  = "guess"
	EscapeNone   = "none"
	EscapeDamp   = "damp"
)

// What a second look at a dry swap found.
const (
	NoneDry       = "dry"
	NoneSome      = "some"
	NoneNotLooked = "not_looked"
)

const (
	TightWrench = "wrench"
	TightFeel   = "feel"
)

// OwnerDecision is what the owner does after a verdict.
type OwnerDecision uint8

const (
	Undecided OwnerDecision = iota
	DecideAccept
	DecideAdd
	DecideLetOut
	DecideLeave
)

var decisionTokens = []string{"", "accept", "add", "let_out", "leave"}

const (
	CheckDry   = "dry"
	CheckWeeps = "weeps"
)

const PortOpen = "open"

// The names in files.

func (p Path) String() string       { return TokenOf(pathTokens, p) }
func (d Drivetrain) String() string { return TokenOf(driveTokens, d) }
func (f FillerKind) String() string { return TokenOf(fillerTokens, f) }
func (m Magnet) String() string     { return TokenOf(magnetTokens, m) }
func (l Look) String() string       { return TokenOf(lookTokens, l) }
func (p Past) String() string       { return TokenOf(pastTokens, p) }

func (h Hose) String() string          { return TokenOf(hoseTokens, h) }
func (h HoseEnd) String() string       { return TokenOf(hoseEndTokens, h) }
func (d OwnerDecision) String() string { return TokenOf(decisionTokens, d) }
func (t TubeLook) String() string      { return TokenOf(tubeTokens, t) }
