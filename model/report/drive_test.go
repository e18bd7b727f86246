package report

// This file drives jobs from prompt to prompt through the model's own API, for
// all tests of the package. All figures and names are invented.

import (
	"os"
	"path/filepath"
	"testing"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

var started = time.Date(2026, 4, 18, 7, 5, 12, 0, time.UTC)

// script is what is typed in answer to a topic, in the order asked. A choice
// is given by its token; "-" is "don't know", "" the offer.
type script map[job.Topic][]string

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

type driver struct {
	t      *testing.T
	job    job.Job
	lines  script
	used   map[job.Topic]int
	at     time.Time
	offers guide.Offers
}

func newDriver(t *testing.T, lines script) *driver {
	t.Helper()
	return &driver{t: t, job: job.Job{ID: job.NewID(started, 7), Started: started}, lines: lines, used: map[job.Topic]int{}, at: started}
}

func (d *driver) state() *guide.Guide { return guide.Fold(d.job, d.offers) }

// until drives on until a topic is asked; NoTopic until the end.
func (d *driver) until(stop job.Topic) *guide.Guide {
	d.t.Helper()
	for range 500 {
		s := d.state()
		p, ok := d.upNext(s)
		if !ok || (p.Topic == stop && stop != job.NoTopic) {
			return s
		}
		d.at = d.at.Add(100 * time.Second)
		d.wait(s, p)
		d.answer(s, p)
	}
	d.t.Fatal("the flow does not end")
	return nil
}

// upNext is the next question: one that is asked, or that the script speaks of.
func (d *driver) upNext(s *guide.Guide) (guide.Prompt, bool) {
	if _, more := s.Next(); !more {
		return guide.Prompt{}, false
	}
	for p, open := range s.Prompts() {
		left := func(t job.Topic) bool { return d.used[t] < len(d.lines[t]) }
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
func (d *driver) wait(s *guide.Guide, p guide.Prompt) {
	w, waits := s.Wait()
	if reads := p.Topic == job.DripReading && d.used[p.Topic] < len(d.lines[p.Topic]); waits && !reads && d.at.Before(w.Ends()) {
		d.at = w.Ends()
	}
}

func (d *driver) answer(s *guide.Guide, p guide.Prompt) {
	d.t.Helper()
	line := unoffered[p.Topic]
	if n := d.used[p.Topic]; n < len(d.lines[p.Topic]) {
		line = d.lines[p.Topic][n]
		d.used[p.Topic]++
	}
	d.enter(s, p, line)
}

// enter answers with a line, or with what is usual where it is empty.
func (d *driver) enter(s *guide.Guide, p guide.Prompt, line string) {
	d.t.Helper()
	_, offered := p.DefaultValue(s)
	if line == "" && !offered && p.Kind != job.Acknowledge && p.Kind != job.Event {
		line = usuallySeen[p.Topic]
		if _, figure := s.TorqueNm(); p.Topic == job.TightenedHow && !figure {
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
		d.add(p.Entry(s, job.Value{Unknown: true}, "", d.at))
		return
	}
	e, err := p.Answer(s, line, d.at)
	if err != nil {
		d.t.Fatalf("%v: %q refused: %v", p.Topic, line, err)
	}
	d.add(e)
}

func (d *driver) add(e job.Entry) {
	d.t.Helper()
	if err := e.Check(); err != nil {
		d.t.Fatal(err)
	}
	d.job.Entries = append(d.job.Entries, e)
}

// correct answers a standing entry again.
func (d *driver) correct(t job.Topic, round, item int, line string) {
	d.t.Helper()
	s := d.state()
	e, ok := s.Answer(job.Place{Topic: t, Round: round, Item: item})
	p, can := s.Correcting(e.Seq)
	if !ok || !can {
		d.t.Fatalf("%v cannot be corrected", t)
	}
	d.at = d.at.Add(30 * time.Second)
	d.enter(s, p, line)
}

// drainPort is a whole job through the drain port, with a second measure for
// what was loaded. Figures and names are invented.
func drainPort() script {
	return script{
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

// levelPort is a whole job with a fill port and a level hole, in US units. The
// fill stopped short of the hole and was put right in a second round; the
// plug was tightened by feel.
func levelPort() script {
	return script{
		job.DisplayUnits: {"us"}, job.Vehicle: {"green van"}, job.UnitName: {"transfer case"}, job.UnitKind: {"transfer_case"},
		job.FillPath: {"level_port"}, job.Capacity: {"1.5 qt"}, job.CapacityMeans: {"level"}, job.Odometer: {"88123"},
		job.OilGrade: {"75W-85"}, job.IntervalMonths: {"24"}, job.ContainerName: {"beaker"}, job.ContainerGraduation: {"10ml"},
		job.Filler: {"suction_gun"}, job.OilTemperature: {"100F"}, job.DrainedAmount: {"1.4 qt"}, job.DrainedTemperature: {"100F"},
		job.LoadedAmount: {"1.2 qt", "9 floz"}, job.LeftInVessel: {"0", "1 floz"}, job.LevelWeeps: {"not_yet", "weeps"},
		job.OverflowCaught: {"0", "0.5 floz"}, job.WasherFitted: {"new", "reused"},
		job.LeakCheck: {"dry"}, job.WasherRecheck: {"dry"},
	}
}

// wholeDrainPort and wholeLevelPort are those jobs as an earlier version of this
// program left them in testdata, driven to their end; of the first, what came out
// was read again twice.
func wholeDrainPort(t *testing.T) job.Job { return stored(t, "drain-port") }
func wholeLevelPort(t *testing.T) job.Job { return stored(t, "level-port") }

func stored(t *testing.T, name string) job.Job {
	t.Helper()
	file, err := os.Open(filepath.Join(jobsFolder, name+".json"))
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	j, _, err := ReadJSON(file)
	if err != nil {
		t.Fatal(err)
	}
	return j
}

// toTheEnd drives on through the looks of the same day and the next.
func (d *driver) toTheEnd() job.Job {
	d.t.Helper()
	d.until(job.LeakCheck)
	d.at = d.at.Add(3 * time.Hour)
	d.until(job.WasherRecheck)
	d.at = d.at.Add(20 * time.Hour)
	d.until(job.NoTopic)
	return d.job
}
