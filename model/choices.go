package model

// This file holds the answers of the topics that are chosen from a list, each
// with its name in files. What is read beside them is the guide's (options.go).

// The units that a job is shown in.
const (
	unitsMetric   = "metric"
	unitsUS       = "us"
	unitsImperial = "imperial"
)

// Path says through what the unit is filled.
type Path uint8

// The fill paths.
const (
	DrainPortOnly Path = iota
	LevelPort
)

var pathTokens = []string{"drain_only", "level_port"}

// String is the path's name in files.
func (p Path) String() string { return tokenOf(pathTokens, p) }

// dryUnit is the choice of dryOptions that says that there is nothing to drain.
const dryUnit = "dry"

// automaticBox is the choice of unitKindOptions that is refused: a quantity that
// is measured in does not set the level of such a gearbox.
const automaticBox = "automatic_gearbox"

// Drivetrain says what can move the car.
type Drivetrain uint8

// The drivetrains.
const (
	Combustion Drivetrain = iota
	Hybrid
	Electric
)

var driveTokens = []string{"combustion", "hybrid", "electric"}

// String is the drivetrain's name in files.
func (d Drivetrain) String() string { return tokenOf(driveTokens, d) }

// FillerKind says what pushes the oil in.
type FillerKind uint8

// The fillers.
const (
	HandPump FillerKind = iota
	PressurisedVessel
	SuctionGun
	RaisedFunnel
)

var fillerTokens = []string{"hand_pump", "pressurised", "suction_gun", "funnel"}

// String is the filler's name in files.
func (f FillerKind) String() string { return tokenOf(fillerTokens, f) }

// How a temperature was taken.
const (
	howMeasured = "measured"
	howFelt     = "felt"
)

// Choices in the drain step.
const (
	hotWait = "wait"
	hotGo   = "go_on"
)

// notLooked is the choice of somebody who has not looked.
const notLooked = "not_looked"

// Magnet says what the drain plug's magnet carried.
type Magnet uint8

// The looks of a magnet.
const (
	MagnetClean Magnet = iota
	MagnetPaste
	MagnetChips
	NoMagnet
	MagnetNotLooked
)

var magnetTokens = []string{"clean", "paste", "chips", "none", notLooked}

// String is the look's name in files.
func (m Magnet) String() string { return tokenOf(magnetTokens, m) }

// Look says what the drained oil looked like.
type Look uint8

// The looks of drained oil.
const (
	LookClean Look = iota
	LookDark
	LookMilky
	LookForeign
	LookNotLooked
)

var lookTokens = []string{"clean", "dark", "milky", "foreign", notLooked}

// String is the look's name in files.
func (l Look) String() string { return tokenOf(lookTokens, l) }

// Past says what happened to the oil since the last fill.
type Past uint8

// The pasts of an oil.
const (
	PastUndisturbed Past = iota
	PastLeaked
	PastToppedUp
	PastNotKnown
)

var pastTokens = []string{"undisturbed", "leaked", "topped_up", "unknown"}

// String is the past's name in files.
func (p Past) String() string { return tokenOf(pastTokens, p) }

const (
	chipsStop = "stop"
	chipsMove = "keep_from_rust"
)

const (
	moreDone    = "done"
	moreAnother = "another"
	moreAgain   = "again"
	moreLate    = "late"
)

// What a second look found, where far too little or too much came out.
const (
	lookedTyped      = "typed_wrong"
	lookedMore       = "more"
	lookedSame       = "nothing_more"
	lookedNeighbour  = "neighbour"
	lookedWater      = "water"
	lookedOverfilled = "overfilled"
)

// What is wrong where the pan held more than was measured.
const (
	panWrong = "pan_wrong"
	panMore  = "more"
	panLost  = "lost"
)

const (
	boxStop = "stop"
	boxGoOn = "right_unit"
)

// Hose says how full the hose is before a push.
type Hose uint8

// The states of a hose before a push.
const (
	HoseDry Hose = iota
	HoseFull
)

var hoseTokens = []string{"dry", "primed"}

// String is the state's name in files.
func (h Hose) String() string { return tokenOf(hoseTokens, h) }

// HoseEnd says where the oil of the hose is after a push.
type HoseEnd uint8

// The ends of the oil of a hose.
const (
	HoseLeftFull HoseEnd = iota
	HoseRanBack
	HoseRanToPan
	HoseBlownClear
)

var hoseEndTokens = []string{"full", "back", "pan", "cleared"}

// String is the end's name in files.
func (h HoseEnd) String() string { return tokenOf(hoseEndTokens, h) }

const (
	airNone = "none"
	airYes  = "air"
)

const (
	weepsLevel = "weeps"
	weepsNot   = "not_yet"
)

// What a second look at a level said that contradicts the sums.
const (
	levelHolds = "holds"
	levelGone  = "gone"

	levelTilted    = "tilted" // the causes that void it
	levelWrongHole = "wrong_hole"
	levelFroth     = "froth"
	levelShut      = "breather_shut"
)

// Washer says what seals the plug.
type Washer uint8

// The washers.
const (
	WasherNew Washer = iota
	WasherReused
	WasherNone
)

var washerTokens = []string{"new", "reused", "none"}

// String is the washer's name in files.
func (w Washer) String() string { return tokenOf(washerTokens, w) }

const (
	escapeCaught = "caught"
	escapePads   = "pads"
	escapeGuess  = "guess"
	escapeNone   = "none"
	escapeDamp   = "damp"
)

// What a second look at a dry swap found.
const (
	noneDry       = "dry"
	noneSome      = "some"
	noneNotLooked = "not_looked"
)

const (
	tightWrench = "wrench"
	tightFeel   = "feel"
)

// Decided is what the owner does after a verdict.
type Decided uint8

// The decisions after a verdict.
const (
	Undecided Decided = iota
	DecideAccept
	DecideAdd
	DecideLetOut
	DecideLeave
)

var decisionTokens = []string{"", "accept", "add", "let_out", "leave"}

// String is the decision's name in files.
func (d Decided) String() string { return tokenOf(decisionTokens, d) }

const (
	checkDry   = "dry"
	checkWeeps = "weeps"
)

const portOpen = "open"
