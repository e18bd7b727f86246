package garage

// This file writes the entries of a job straight, in the order of the guide's
// questions, up to where the answer goes by what the guide says.

import (
	"garage/tundish/model/ask"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// The questions that are certain to come, in their order, each as far as isAsked
// says so.
var (
	toMeasure = []job.Topic{
		job.MakersManual, job.Vehicle, job.UnitKind, job.UnitName, job.DriveKind, job.FillPath, job.DisplayUnits, job.Capacity,
		job.CapacityMeans, job.DryStart, job.PriorLevel, job.OilHistory, job.ToleranceTopic, job.ClubKind, job.Card, job.CardResidual,
		job.Filler,
		job.HoseBore, job.HoseLength,
		job.HoseHolds, job.VesselGraduation, job.VesselHeel, job.ContainerName, job.ContainerGraduation, job.ContainerError,
		job.ScaleDivision, job.OilDensity, job.AtHand,

		job.GroundAndChocks, job.StandsAndShake, job.RightUnit, job.RightPlug, job.WayInProved, job.BreatherFree, job.GlovesAndEyes,
		job.OilTemperature, job.TemperatureHow, job.TagAndKey, job.PlugOut,

		job.MagnetLook, job.OilLook, job.DripsEnded,
	}
	cameOut = []job.Topic{job.DrainedWith, job.DrainedAmount, job.DrainedTemperature, job.DrainedMore}
	toPlan  = []job.Topic{job.DrainPlugIn, job.HoseBefore}
	fill    = []job.Topic{
		job.LoadedWith, job.LoadedAmount, job.LoadedTemperature, job.BottlesOpened, job.VesselWeighedFull,
		job.AdapterIn, job.BreatherBeforePush, job.FillEnded, job.PressureOff,
		job.LevelWeeps, job.OverflowCaughtWith, job.OverflowCaught, job.AirInLine, job.Capped, job.HoseAfter,
		job.LeftWith, job.LeftInVessel, job.VesselWeighedAfter, job.BottlesLeftWith, job.BottlesLeft, job.EscapedAtCapWith,
		job.EscapedAtCap, job.FloorAndExhaust, job.WasherFitted, job.PlugSeated, job.TightenedHow, job.BreatherReopened,
		job.EscapedHow, job.EscapedWith, job.EscapedAmount, job.PadsBefore, job.PadsAfter, job.NothingEscaped,
	}
	letOut = []job.Topic{job.LetOutWith, job.LetOutAmount, job.WasherFitted, job.PlugSeated, job.TightenedHow, job.BreatherReopened}
)

// isAsked reports whether a question is asked of this car and person. Of the first
// step the guide itself says it: little is written by then.
func (v *Visit) isAsked(p job.Place) bool {
	level, scale := v.Unit.LevelPort, v.Tools.ScaleStepG > 0
	how := v.choice(p.Of(job.EscapedHow))
	if p.Topic.Info().OldOil && v.Unit.StartsDry {
		return false
	}
	spec := ask.SpecOf(p.Topic)
	if spec.Optional && spec.Default == nil && !v.knows(p) {
		return false
	}
	if spec.Step == job.Prepare {
		return spec.When == nil || spec.When(v.fold().Known, p)
	}
	switch p.Topic {
	case job.MagnetLook:
		return !v.Unit.StartsDry
	case job.DrainPlugIn:
		return level && p.Round == 0
	case job.DrainedTemperature:
		return v.said[p.Of(job.DrainedAmount)].Unit == job.DimML
	case job.LoadedTemperature:
		return v.said[p.Of(job.LoadedAmount)].Unit == job.DimML
	case job.BottlesOpened:
		return p.Round == 0
	case job.BottlesLeft:
		return v.Tools.BottlesNoted && p.Round == 0
	case job.BottlesLeftWith:
		return v.Tools.BottlesNoted && p.Round == 0 && scale
	case job.VesselWeighedAfter:
		return v.weighsVessel()
	case job.LevelWeeps, job.OverflowCaught:
		return level
	case job.OverflowCaughtWith:
		return level && scale
	case job.DrainedWith, job.LetOutWith, job.VesselWeighedFull:
		return scale
	case job.EscapedAtCapWith:
		return !level && scale
	case job.EscapedWith:
		return how == job.EscapeCaught && scale
	case job.EscapedAmount:
		return how == job.EscapeCaught || how == job.EscapeGuess
	case job.PadsBefore, job.PadsAfter:
		return how == job.EscapePads
	case job.NothingEscaped:
		return how == job.EscapeNone
	case job.HoseBefore, job.AdapterIn, job.AirInLine, job.PressureOff, job.Capped, job.HoseAfter,
		job.EscapedAtCap, job.FloorAndExhaust, job.BreatherReopened, job.EscapedHow:
		return !level
	}
	return true
}

// begin writes what comes before the first plan.
func (v *Visit) begin() {
	s := v.fold()
	v.write(s, 0, 0, toMeasure)
	v.write(s, 0, 0, cameOut)
	if v.choice(job.Place{Topic: job.DrainedMore}) == job.MoreAgain {
		v.write(s, 0, 1, cameOut)
	}
	v.write(s, 0, 0, toPlan)
}

// goOn writes what is certain to come after an answer.
func (v *Visit) goOn(s *guide.Guide, p job.Place) {
	switch {
	case p.Topic == job.PlanAccepted:
		v.write(s, p.Round, 0, fill)
	case p.Topic == job.Decision && v.choice(job.At(job.Decision, p.Round, 0)) == job.DecideLetOut.String():
		v.write(s, p.Round+1, 0, letOut)
	case p.Topic == job.Decision:
		v.write(s, p.Round+1, 0, toPlan)
	}
}

// write writes entries; s is the job as it was last folded.
func (v *Visit) write(s *guide.Guide, round, item int, topics []job.Topic) {
	for _, t := range topics {
		place := job.At(t, round, item)
		if !v.isAsked(place) {
			continue
		}
		e := job.Entry{Seq: len(v.Job.Entries) + 1, Topic: t, Round: round, Item: item}
		p, _ := guide.PromptOf(e)
		v.ask(s, place)
		e.Value = v.value(s, p)
		v.add(e, v.takes(t))
	}
}

// value is the answer to a question that is not weighed against the state.
func (v *Visit) value(s *guide.Guide, p guide.Prompt) job.Value {
	switch p.Kind {
	case job.Acknowledge, job.Event:
		return job.Value{}
	case job.Choose:
		if token := v.token(s, p, p.Options); token != "" || len(p.Options) == 0 {
			return job.Value{Choice: token}
		}
		return job.Value{Choice: p.Options[0].Token}
	}
	x, lines := v.offerOrLines(s, p)
	for _, line := range lines {
		var err error
		if x, err = p.TopicInfo.Parse(line, v.units(), v.deviceAt(p.Place) == "scale"); err == nil {
			break
		}
	}
	return x
}
