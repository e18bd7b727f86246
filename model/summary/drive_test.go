package summary

// This file drives jobs from prompt to prompt through the model's own API, for
// all tests of the package. All figures and names are invented.

import (
	"testing"
	"time"

	"garage/tundish/model"
)

var started = time.Date(2026, 4, 18, 7, 5, 12, 0, time.UTC)

// script is what is typed in answer to a topic, in the order asked. A choice
// is given by its token; "-" is "don't know", "" the offer.
type script map[model.Topic][]string

// usuallySeen is what is seen at the car in an ordinary job: none of it has an
// offer.
var usuallySeen = map[model.Topic]string{
	model.TemperatureHow: "measured", model.MagnetLook: "paste", model.OilLook: "clean", model.OilHistory: "undisturbed",
	model.DrainedTemperature: "20", model.HoseBefore: "dry", model.LoadedTemperature: "20 C", model.FillOilTemperature: "20 C", model.LevelWeeps: "weeps",
	model.AirInLine: "none", model.NothingEscaped: "dry", model.PanLookedAgain: "pan_wrong", model.HoseAfter: "full", model.EscapedAtCap: "0", model.OverflowCaught: "0",
	model.WasherFitted: "new", model.EscapedHow: "caught", model.LeakedHow: "caught", model.TightenedHow: "wrench",
}

type driver struct {
	t     *testing.T
	job   model.Job
	lines script
	used  map[model.Topic]int
	at    time.Time
}

func newDriver(t *testing.T, lines script) *driver {
	t.Helper()
	return &driver{t: t, job: model.Job{ID: model.NewID(started, 7), Started: started}, lines: lines, used: map[model.Topic]int{}, at: started}
}

func (d *driver) state() *model.State { return model.Fold(d.job, model.Offers{}) }

// until drives on until a topic is asked; NoTopic until the end.
func (d *driver) until(stop model.Topic) *model.State {
	d.t.Helper()
	for range 500 {
		s := d.state()
		p, ok := s.Next()
		if !ok || (p.Topic == stop && stop != model.NoTopic) {
			return s
		}
		d.at = d.at.Add(100 * time.Second)
		d.wait(s, p)
		d.answer(s, p)
	}
	d.t.Fatal("the flow does not end")
	return nil
}

// unoffered is what a script that does not speak of it answers to a choice with
// nothing on offer.
var unoffered = map[model.Topic]string{
	model.CapacityMeans: "dry", model.Basis: "capacity", model.WrongBoxDecision: "stop", model.ChipsDecision: "stop", model.HotOilGoOn: "wait", model.LookedAgain: "more",
}

// wait lets the time pass that the job is to wait, but takes drip readings as
// they come.
func (d *driver) wait(s *model.State, p model.Prompt) {
	w, waits := s.Wait()
	if reads := p.Topic == model.DripReading && d.used[p.Topic] < len(d.lines[p.Topic]); waits && !reads && d.at.Before(w.Ends()) {
		d.at = w.Ends()
	}
}

func (d *driver) answer(s *model.State, p model.Prompt) {
	d.t.Helper()
	line := unoffered[p.Topic]
	if n := d.used[p.Topic]; n < len(d.lines[p.Topic]) {
		line = d.lines[p.Topic][n]
		d.used[p.Topic]++
	}
	switch {
	case p.Kind == model.Acknowledge || p.Kind == model.Event:
		d.add(p.Entry(s, p.AckValue(s), "", d.at))
	case line == "-":
		d.add(p.Entry(s, model.Value{Unknown: true}, "", d.at))
	case line == "" && p.Ends != model.NoTopic:
		d.add(p.EndEntry(s, d.at))
	default:
		d.type_(s, p, line)
	}
}

// type_ answers with a line, or with the offer where it is empty.
func (d *driver) type_(s *model.State, p model.Prompt, line string) {
	d.t.Helper()
	v, ok := p.DefaultValue(s)
	if line == "" && p.Observed {
		line, ok = usuallySeen[p.Topic], true
		if _, figure := s.TorqueNm(); p.Topic == model.TightenedHow && !figure {
			line = "feel"
		}
	}
	var err error
	switch {
	case line == "" && !ok:
		d.t.Fatalf("%v has no offer and the script says nothing", p.Topic)
	case p.Kind == model.Choose:
		if line == "" {
			line = v.Choice
		}
		v = p.ChoiceValue(s, model.Option{Token: line})
		err = p.Accept(s, v)
	case line != "":
		v, err = p.Parse(s, line)
	}
	if err != nil {
		d.t.Fatalf("%v: %q refused: %v", p.Topic, line, err)
	}
	if p.Kind == model.Choose {
		line = ""
	}
	d.add(p.Entry(s, v, line, d.at))
}

func (d *driver) add(e model.Entry) {
	d.t.Helper()
	if err := e.Check(); err != nil {
		d.t.Fatal(err)
	}
	d.job.Entries = append(d.job.Entries, e)
}

// correct answers a standing entry again.
func (d *driver) correct(t model.Topic, round, item int, line string) {
	d.t.Helper()
	s := d.state()
	e, ok := s.Answer(model.Place{Topic: t, Round: round, Item: item})
	p, can := s.Correcting(e.Seq)
	if !ok || !can {
		d.t.Fatalf("%v cannot be corrected", t)
	}
	d.at = d.at.Add(30 * time.Second)
	d.type_(s, p, line)
}

// drainPort is a whole job through the drain port, with a second witness for
// what was loaded. Figures and names are invented.
func drainPort() script {
	return script{
		model.Vehicle: {"blue estate"}, model.UnitName: {"rear axle"}, model.Capacity: {"900"}, model.Odometer: {"123456"},
		model.ToleranceTopic: {"+60 -50"},
		model.OilGrade:       {"75W-90 GL-5"}, model.OilDensity: {"872"}, model.PlugThread: {"M18x1.5"}, model.PlugKey: {"hex 10mm"},
		model.WasherKind: {"copper 18x24x1.5"}, model.TorqueFigure: {"35"}, model.TorqueSource: {"the maker's manual, chapter 4"},
		model.IntervalKm: {"60000"}, model.IntervalMonths: {"36"},
		model.ContainerName: {"measuring jug"}, model.ScaleDivision: {"1"},
		model.HoseBore: {"6"}, model.HoseLength: {"1.5"},
		model.OilTemperature: {"44"}, model.DripReading: {"700", "790", "815", "822"},
		model.DrainedAmount: {"500+330"}, model.DrainedTemperature: {"38"},
		model.LoadedWith: {"c0"}, model.LoadedAmount: {"930"}, model.LoadedTemperature: {"24"},
		model.BottlesOpened: {"500+500"}, model.VesselWeighedFull: {"1512"},
		model.FillReading: {"600", "300"}, model.LeftWith: {"c0"}, model.LeftInVessel: {"15"}, model.VesselWeighedAfter: {"720"},
		model.BottlesLeft: {"70"}, model.EscapedAtCap: {"5"}, model.EscapedAmount: {"46"},
		model.WasteHandedIn: {"collection point"}, model.Remark: {"prime the hose next time"},
		model.LeakCheck: {"dry"}, model.WasherRecheck: {"dry"},
	}
}

// levelPort is a whole job with a fill port and a level hole, in US units. The
// fill stopped short of the hole and was put right in a second round; the
// plug was tightened by feel.
func levelPort() script {
	return script{
		model.DisplayUnits: {"us"}, model.Vehicle: {"green van"}, model.UnitName: {"transfer case"}, model.UnitKind: {"transfer_case"},
		model.FillPath: {"level_port"}, model.Capacity: {"1.5 qt"}, model.CapacityMeans: {"level"}, model.Odometer: {"88123"},
		model.OilGrade: {"75W-85"}, model.IntervalMonths: {"24"}, model.ContainerName: {"beaker"}, model.ContainerGraduation: {"10ml"},
		model.Filler: {"suction_gun"}, model.OilTemperature: {"100F"}, model.DrainedAmount: {"1.4 qt"}, model.DrainedTemperature: {"100F"},
		model.LoadedAmount: {"1.2 qt", "9 floz"}, model.LeftInVessel: {"0", "1 floz"}, model.LevelWeeps: {"not_yet", "weeps"},
		model.OverflowCaught: {"0", "0.5 floz"}, model.WasherFitted: {"new", "reused"},
		model.LeakCheck: {"dry"}, model.WasherRecheck: {"dry"},
	}
}

// wholeDrainPort is that job driven to its end, with what came out read again
// twice.
func wholeDrainPort(t *testing.T) model.Job {
	t.Helper()
	d := newDriver(t, drainPort())
	d.until(model.LoadedMore)
	d.correct(model.DrainedAmount, 0, 0, "500+350")
	d.correct(model.DrainedAmount, 0, 0, "500+345")
	return d.toTheEnd()
}

func wholeLevelPort(t *testing.T) model.Job {
	t.Helper()
	d := newDriver(t, levelPort())
	d.job.ID = model.NewID(started, 8)
	return d.toTheEnd()
}

// toTheEnd drives on through the looks of the same day and the next.
func (d *driver) toTheEnd() model.Job {
	d.t.Helper()
	d.until(model.LeakCheck)
	d.at = d.at.Add(3 * time.Hour)
	d.until(model.WasherRecheck)
	d.at = d.at.Add(20 * time.Hour)
	d.until(model.NoTopic)
	return d.job
}
