// Package jobtest makes jobs for the tests of what is printed of them: from prompt
// to prompt through the model's own API, or drawn at random. All figures and names
// are invented.
package jobtest

import (
	"testing"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// Started is when each job begins.
var Started = time.Date(2026, 4, 18, 7, 5, 12, 0, time.UTC)

// Script is what is typed in answer to a topic, in the order asked. A choice
// is given by its token; "-" is "don't know", "" the offer.
type Script map[job.Topic][]string

// usuallySeen is what is seen at the car in an ordinary job: none of it has an
// offer.
var usuallySeen = map[job.Topic]string{
	job.TemperatureHow: "measured", job.MagnetLook: "paste", job.OilLook: "clean", job.OilHistory: "undisturbed",
	job.DrainedTemperature: "20", job.HoseBefore: "dry", job.LoadedTemperature: "20 C", job.FillOilTemperature: "20 C",
	job.LevelWeeps: "weeps", job.UnitName: "rear axle",
	job.AirInLine: "none", job.NothingEscaped: "dry", job.PanLookedAgain: "pan_wrong", job.HoseAfter: "full", job.EscapedAtCap: "0",
	job.OverflowCaught: "0",
	job.WasherFitted:   "new", job.EscapedHow: "caught", job.LeakedHow: "caught", job.TightenedHow: "wrench",
}

// Driver answers the questions of one job.
type Driver struct {
	t      *testing.T
	Job    job.Job
	Lines  Script
	used   map[job.Topic]int
	At     time.Time
	Offers guide.Offers
}

// New begins a job, of which lines are typed.
func New(t *testing.T, lines Script) *Driver {
	t.Helper()
	return &Driver{t: t, Job: job.Job{ID: job.NewID(Started, 7), Started: Started}, Lines: lines, used: map[job.Topic]int{}, At: Started}
}

// Guide is the job as far as it has come.
func (d *Driver) Guide() *guide.Guide { return guide.Fold(d.Job, d.Offers) }

// Until drives on until a topic is asked; NoTopic until the end.
func (d *Driver) Until(stop job.Topic) *guide.Guide {
	d.t.Helper()
	for range 500 {
		s := d.Guide()
		p, ok := d.UpNext(s)
		if !ok || (p.Topic == stop && stop != job.NoTopic) {
			return s
		}
		d.At = d.At.Add(100 * time.Second)
		d.wait(s, p)
		d.Answer(s, p)
	}
	d.t.Fatal("the flow does not end")
	return nil
}

// UpNext is the next question: one that is asked, or that the script speaks of.
func (d *Driver) UpNext(s *guide.Guide) (guide.Prompt, bool) {
	if _, more := s.Next(); !more {
		return guide.Prompt{}, false
	}
	for p, open := range s.Prompts() {
		left := func(t job.Topic) bool { return d.used[t] < len(d.Lines[t]) }
		if skip := p.Topic == job.HoseHolds && left(job.HoseBore); open && !skip && (p.Asked(s) || left(p.Topic)) {
			return p, true
		}
	}
	return guide.Prompt{}, false
}

// unoffered is what a script that does not speak of it answers to a choice with
// nothing on offer.
var unoffered = map[job.Topic]string{
	job.CapacityMeans: "dry", job.Basis: "capacity", job.WrongBoxDecision: "stop", job.ChipsDecision: "stop", job.HotOilGoOn: "wait",
	job.LookedAgain: "nothing_more", job.DrainedMore: "done", job.LoadedMore: "done",
}

// wait lets the time pass that the job is to wait, but takes drip readings as
// they come.
func (d *Driver) wait(s *guide.Guide, p guide.Prompt) {
	w, waits := s.Wait()
	if reads := p.Topic == job.DripReading && d.used[p.Topic] < len(d.Lines[p.Topic]); waits && !reads && d.At.Before(w.Ends()) {
		d.At = w.Ends()
	}
}

// Answer answers with the next line for its topic, or with what is usual.
func (d *Driver) Answer(s *guide.Guide, p guide.Prompt) {
	d.t.Helper()
	line := unoffered[p.Topic]
	if n := d.used[p.Topic]; n < len(d.Lines[p.Topic]) {
		line = d.Lines[p.Topic][n]
		d.used[p.Topic]++
	}
	d.enter(s, p, line)
}

// enter answers with a line, or with what is usual where it is empty.
func (d *Driver) enter(s *guide.Guide, p guide.Prompt, line string) {
	d.t.Helper()
	_, offered := p.DefaultValue(s)
	if line == "" && !offered && p.Kind != job.Acknowledge && p.Kind != job.Event {
		line = usuallySeen[p.Topic]
		if _, figure := s.Num(job.Place{Topic: job.TorqueFigure}); p.Topic == job.TightenedHow && !figure {
			line = "feel"
		}
		if line == "" && p.Kind == job.Choose { // of a question that no test is about, the first answer
			line = p.Choices(s)[0].Token
		}
	}
	if line == "" && !offered && p.Kind == job.Free {
		line = "not said"
	}
	if line == "" && (p.Topic == job.HoseHolds || p.Topic == job.LostOrAdded) || line == "-" {
		d.Add(p.Entry(s, job.Value{Unknown: true}, "", d.At))
		return
	}
	e, err := p.Answer(s, line, d.At)
	if err != nil {
		d.t.Fatalf("%v: %q refused: %v", p.Topic, line, err)
	}
	d.Add(e)
}

// Add appends an entry.
func (d *Driver) Add(e job.Entry) {
	d.t.Helper()
	if err := e.Check(); err != nil {
		d.t.Fatal(err)
	}
	d.Job.Entries = append(d.Job.Entries, e)
}

// Correct answers a standing entry again.
func (d *Driver) Correct(t job.Topic, round, item int, line string) {
	d.t.Helper()
	s := d.Guide()
	e, ok := s.Answer(job.Place{Topic: t, Round: round, Item: item})
	p, can := s.Correcting(e.Seq)
	if !ok || !can {
		d.t.Fatalf("%v cannot be corrected", t)
	}
	d.At = d.At.Add(30 * time.Second)
	d.enter(s, p, line)
}

// DrainPort is a whole job through the drain port, with a second measure for
// what was loaded. Figures and names are invented.
func DrainPort() Script {
	return Script{
		job.Vehicle: {"blue estate"}, job.UnitName: {"rear axle"}, job.Capacity: {"900"}, job.Odometer: {"123456"},
		job.ToleranceTopic: {"+60 -50"},
		job.OilGrade:       {"75W-90 GL-5"}, job.OilDensity: {"872"}, job.PlugThread: {"M18x1.5"}, job.PlugKey: {"hex 10mm"},
		job.WasherKind: {"copper 18x24x1.5"}, job.TorqueFigure: {"35"}, job.TorqueSource: {"the maker's manual, chapter 4"},
		job.IntervalKm: {"60000"}, job.IntervalMonths: {"36"},
		job.ContainerName: {"measuring jug"}, job.ScaleDivision: {"1"},
		job.HoseBore: {"6"}, job.HoseLength: {"1.5"},
		job.OilTemperature: {"44"}, job.DripReading: {"700", "790", "815", "822"},
		job.DrainedAmount: {"500+330"}, job.DrainedTemperature: {"38"},
		job.LoadedWith: {"c0"}, job.LoadedAmount: {"930"}, job.LoadedTemperature: {"24"},
		job.BottlesOpened: {"500+500"}, job.VesselWeighedFull: {"1512"},
		job.FillReading: {"600", "300"}, job.LeftWith: {"c0"}, job.LeftInVessel: {"15"}, job.VesselWeighedAfter: {"720"},
		job.BottlesLeft: {"70"}, job.EscapedAtCap: {"5"}, job.EscapedAmount: {"46"},
		job.WasteHandedIn: {"collection point"}, job.Remark: {"prime the hose next time"},
		job.LeakCheck: {"dry"}, job.WasherRecheck: {"dry"},
	}
}

// LevelPort is a whole job with a fill port and a level hole, in US units. The
// fill stopped short of the hole and was put right in a second round; the
// plug was tightened by feel.
func LevelPort() Script {
	return Script{
		job.DisplayUnits: {"us"}, job.Vehicle: {"green van"}, job.UnitName: {"transfer case"}, job.UnitKind: {"transfer_case"},
		job.FillPath: {"level_port"}, job.Capacity: {"1.5 qt"}, job.CapacityMeans: {"level"}, job.Odometer: {"88123"},
		job.OilGrade: {"75W-85"}, job.IntervalMonths: {"24"}, job.ContainerName: {"beaker"}, job.ContainerGraduation: {"10ml"},
		job.Filler: {"suction_gun"}, job.OilTemperature: {"100F"}, job.DrainedAmount: {"1.4 qt"}, job.DrainedTemperature: {"100F"},
		job.LoadedAmount: {"1.2 qt", "9 floz"}, job.LeftInVessel: {"0", "1 floz"}, job.LevelWeeps: {"not_yet", "weeps"},
		job.OverflowCaught: {"0", "0.5 floz"}, job.WasherFitted: {"new", "reused"},
		job.LeakCheck: {"dry"}, job.WasherRecheck: {"dry"},
	}
}

// ToTheEnd drives on through the looks of the same day and the next.
func (d *Driver) ToTheEnd() job.Job {
	d.t.Helper()
	d.Until(job.LeakCheck)
	d.At = d.At.Add(3 * time.Hour)
	d.Until(job.WasherRecheck)
	d.At = d.At.Add(20 * time.Hour)
	d.Until(job.NoTopic)
	return d.Job
}
