package sheet

// This file names the sheets and says which one a question belongs to.

import (
	"fmt"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// ID says which visit a sheet is for.
type ID uint8

// The sheets, in the order of the work. Preload to Verdict come once a round.
const (
	Prepare1 ID = iota // the car, the unit and what it takes; of a known unit, all of the first step
	Prepare2           // what measures and what fills
	Prepare3           // what to have at hand
	Isolate
	Drain
	Measure
	Preload
	Fill
	Level // the engine runs, and the level is read
	Cap
	Seat
	Verdict
	Close
	Later  // the looks after a drive and the next day
	Resume // a job is taken up again
	Stop   // something does not fit, and is settled before anything else
	numIDs
)

var tokens = [numIDs]string{"prepare.1", "prepare.2", "prepare.3", "isolate", "drain", "measure", "preload", "fill", "level", "cap",
	"seat", "verdict",
	"close", "close", "resume", "stop"}

// String is the name of a sheet in files and streams.
func (id ID) String() string {
	if id < numIDs {
		return tokens[id]
	}
	return fmt.Sprintf("sheet %d", uint8(id))
}

var steps = [numIDs]job.Step{job.Prepare, job.Prepare, job.Prepare, job.Isolate, job.Drain, job.Measure, job.Preload, job.Fill, job.Fill,
	job.Cap,
	job.Seat, job.CloseOut, job.CloseOut, job.CloseOut, job.NumSteps, job.NumSteps}

// Step is the step of the job that a sheet is part of; job.NumSteps of Resume and
// Stop, which are of any.
func (id ID) Step() job.Step { return steps[min(id, numIDs-1)] }

// At is a sheet of a round. Sheets that come once a job have round 0.
type At struct {
	ID    ID
	Round int
}

// home is the sheet that a question belongs to.
func home(g *guide.Guide, p guide.Prompt) At {
	at := At{Round: p.Place.Round}
	switch p.Step {
	case job.Prepare:
		at.ID = prepareSheet(g, p.Topic)
	case job.Fill:
		at.ID = fillSheet(g, p.Topic)
	case job.CloseOut:
		at.ID = closeSheet(p.Topic)
	default:
		for at.ID = Isolate; at.ID.Step() != p.Step; at.ID++ { // the sheets between are those of a step
		}
	}
	if at.ID == Close {
		at.Round = 0 // of the last round alone
	}
	return at
}

// fillSheet is one sheet where oil is only put in, and a second one for what is done and
// read while the engine runs.
func fillSheet(g *guide.Guide, t job.Topic) ID {
	if !g.Path().RunsEngine() {
		return Fill
	}
	switch t {
	case job.PressureSafe, job.FillOilTemperature, job.FillHalted, job.FillMended, job.FillReading, job.FillEnded, job.LetOutWith,
		job.LetOutAmount, job.ExhaustOut, job.SecondPerson:
		return Fill
	}
	return Level
}

func prepareSheet(g *guide.Guide, t job.Topic) ID {
	if g.KnowsUnit() {
		return Prepare1
	}
	switch t {
	case job.MakersManual, job.Vehicle, job.UnitKind, job.UnitName, job.DriveKind, job.FillPath, job.DisplayUnits, job.Capacity,
		job.CapacityMeans,
		job.DryStart, job.PriorLevel, job.OilHistory, job.LostOrAdded, job.ToleranceTopic, job.ResidualExpected,
		job.ClubKind, job.Card, job.CardResidual, job.MakersPage,
		job.LevelWindow, job.SelectorAt, job.FirstCharge, job.StickBand, job.StickBandMM, job.LipBelow, job.LipStands, job.OilSurface,
		job.LipDistance:
		return Prepare1
	case job.AtHand:
		return Prepare3
	}
	return Prepare2
}

func closeSheet(t job.Topic) ID {
	switch t {
	case job.Decision, job.LeftWhy, job.BalanceSuspect, job.LevelLookedAgain:
		return Verdict
	case job.LeakCheck, job.WasherRecheck, job.WasherRenewed, job.LeakedHow, job.LeakedWith, job.LeakedAmount, job.LeakedPadsBefore,
		job.LeakedPadsAfter:
		return Later
	}
	return Close
}
