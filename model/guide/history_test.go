package guide

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/job"
	"garage/tundish/model/learn"
	"garage/tundish/model/measure"
	"garage/tundish/model/quantity"
	"garage/tundish/model/verdict"
	"garage/tundish/testdata/runs"
)

// visit is one job in the history of a unit: how much came out and went in.
type visit struct {
	outML, inML float64
	km          float64 // odometer; 0 not known
	with        script
	stop        job.Topic // drive no further than to this question; NoTopic to the end
}

// levelUnit is a unit of 900 ml with a level port, dry quantity stated; what
// went in stays below the hole unless a visit says that it weeps.
var levelUnit = script{
	job.FillPath: {"level_port"}, job.Capacity: {"900"}, job.ToleranceTopic: {"60"}, job.OilTemperature: {"20"},
	job.VesselHeel: {"0"}, job.LookedAgain: {"nothing_more"}, job.BasisWhy: {"so"},
	job.LevelWeeps: {"not_yet"}, job.Decision: {"accept"}, job.LeakCheck: {"dry"}, job.WasherRecheck: {"dry"},
}

// pushUnit is a unit of 600 ml with a drain port only; 50 ml escape each time.
var pushUnit = small.with(script{job.LookedAgain: {"nothing_more"}, job.Basis: {"capacity"}, job.BasisWhy: {"so"}})

// visits drives the jobs of a unit, a year apart, and returns them newest first.
func visits(t *testing.T, unit script, list ...visit) []*Guide {
	t.Helper()
	var states []*Guide
	for i, v := range list {
		kept := 75.0 // what hose and escape take of a push
		if _, ok := unit[job.FillPath]; ok {
			kept = 0
		}
		sc := unit.with(script{job.DrainedAmount: {fmt.Sprint(v.outML)}, job.LoadedAmount: {fmt.Sprint(v.inML + kept + 100)},
			job.LeftInVessel: {"100"}}).with(v.with)
		if v.km > 0 {
			sc = sc.with(script{job.Odometer: {fmt.Sprint(v.km)}})
		}
		d := newDrive(t, sc)
		d.at = start.AddDate(i, 0, 0)
		d.job.ID, d.job.Started = fmt.Sprintf("visit-%d", i+1), d.at
		if i > 0 {
			d.offers.Before = states[i-1]
		}
		d.until(v.stop)
		if v.km > 0 && !d.state().Has(job.Odometer) { // asked at the end of a job
			d.tell(job.Odometer, fmt.Sprint(v.km))
		}
		states = append(states, d.state())
	}
	slices.Reverse(states)
	return states
}

// caseTen is a unit that was known to hold 900 ml in all, then had 812, 818 and
// 806 drained and 815, 812 and 806 put in, so that it held 903, 897 and 897;
// today 740 come out. What stayed behind was 88, 85 and 91. Invented figures, a
// case of the trade.
func caseTen(t *testing.T) []*Guide {
	t.Helper()
	return visits(t, levelUnit,
		visit{outML: 812, inML: 812, km: 100000, with: script{job.LevelWeeps: {"weeps"}}},
		visit{outML: 812, inML: 815, km: 110000},
		visit{outML: 818, inML: 812, km: 121000},
		visit{outML: 806, inML: 806, km: 131000},
		visit{outML: 740, km: 143000, stop: job.PlanAccepted})
}

// By the case 69 are missing, with what stayed behind last time counted at 91
// and now at the mean 88. Put in less come out alone it is 806 − 740 = 66, and
// 66/12 = 5.5 ml in 1,000 km. Either is a leak, and neither goes into the mean.
func TestCaseTenIsALeak(t *testing.T) {
	unit := caseTen(t)
	points := verdict.History(Assessments(unit))
	for i, want := range []float64{66, 6, -3, 0} {
		if !points[i].Known {
			t.Fatalf("%s tells nothing", points[i].JobID)
		}
		near(t, points[i].JobID+" missing", points[i].LossML.Nominal, want, 0.2)
	}
	if points[4].Known {
		t.Error("the first visit tells a loss, with nothing before it")
	}
	for i, want := range []learn.Sign{learn.Leak, learn.NoSign, learn.NoSign, learn.NoSign, learn.NoSign} {
		if points[i].Sign != want {
			t.Errorf("%s: %v, want %v (%v ± %v)", points[i].JobID, points[i].Sign, want, points[i].LossML.Nominal, points[i].LossML.U())
		}
	}
	near(t, "per 1,000 km", points[0].LossPer1000Km.Nominal, 5.5, 0.05)
	leaks := verdict.Leaks(points)
	if text := leaks.Text(quantity.Metric()); leaks.Sign != learn.Leak || !strings.HasPrefix(text, "the unit is losing oil: 66 ± ") ||
		!strings.HasSuffix(text, " ml in 12 000 km") {
		t.Errorf("%v: %q", leaks.Sign, text)
	}
}

// Five times 19 ml: none of them proves anything, together they do. What stays
// behind cancels in all but the first and the last drain.
func TestSlowLossShowsOverSeveralJobs(t *testing.T) {
	list := []visit{{outML: 550, inML: 550, km: 10000}}
	for i := range 5 {
		list = append(list, visit{outML: 531, inML: 550, km: float64(20000 + 10000*i)})
	}
	unit := visits(t, pushUnit, list...)
	points := verdict.History(Assessments(unit))
	for _, p := range points[:5] {
		if p.Sign == learn.Leak {
			t.Errorf("%s alone proves a leak: %v ± %v", p.JobID, p.LossML.Nominal, p.LossML.U())
		}
	}
	l := verdict.Leaks(points)
	near(t, "in all", l.Total.ML.Nominal, 95, 0.5)
	near(t, "over", l.Total.Km, 50000, 0)
	if l.Sign != learn.Leak || !strings.HasSuffix(l.Text(quantity.Metric()), " in 50 000 km, 5 jobs together") {
		t.Errorf("%v: %q", l.Sign, l.Text(quantity.Metric()))
	}
}

func TestWhatTellsNoLoss(t *testing.T) {
	first := visit{outML: 550, inML: 550, km: 10000}
	for _, tt := range []struct {
		name  string
		list  []visit
		known bool
		perKm bool
	}{
		{"a sound pair", []visit{first, {outML: 548, inML: 550, km: 20000}}, true, true},
		{"odometer not known", []visit{first, {outML: 548, inML: 550}}, true, false},
		{"odometer changed", []visit{first, {outML: 548, inML: 550, km: 300}}, true, false},
		{"not proven before", []visit{{outML: 550, inML: 550, stop: job.Decision}, {outML: 548, inML: 550}}, false, false},
		{"water", []visit{first, {outML: 548, inML: 550, with: script{job.OilLook: {"milky"}}}}, false, false},
		{"oil of the unit beside it", []visit{first, {outML: 548, inML: 550, with: script{job.OilLook: {"foreign"}}}}, false, false},
		{"topped up", []visit{first, {outML: 548, inML: 550, with: script{job.OilHistory: {"topped_up"}}}}, false, false},
		{"known to leak", []visit{first, {outML: 500, inML: 550, km: 20000, with: script{job.OilHistory: {"leaked"}}}}, true, true},
		{"not drained yet", []visit{first, {stop: job.PlugOut}}, false, false},
		{"drained, not measured yet", []visit{first, {stop: job.DrainedAmount}}, false, false},
	} {
		t.Run(tt.name, func(t *testing.T) {
			p := verdict.History(Assessments(visits(t, pushUnit, tt.list...)))[0]
			if p.Known != tt.known || p.PerKm != tt.perKm {
				t.Errorf("known %v, per distance %v; want %v, %v", p.Known, p.PerKm, tt.known, tt.perKm)
			}
		})
	}
}

// A job that was only begun has done nothing to the unit.
func TestJobThatWasOnlyBegunIsPassedOver(t *testing.T) {
	unit := visits(t, pushUnit, visit{outML: 550, inML: 550}, visit{stop: job.PlugOut}, visit{outML: 548, inML: 550})
	points := verdict.History(Assessments(unit))
	near(t, "missing", points[0].LossML.Nominal, 2, 0.2)
	if !points[0].Known || points[1].Known || points[1].Drained {
		t.Errorf("known %v and %v, drained %v", points[0].Known, points[1].Known, points[1].Drained)
	}
}

// Late drips are no part of an ordinary drain: 25 more overnight neither make
// up for a loss nor, in the next job, make one.
func TestLateDripsAreNoLoss(t *testing.T) {
	late := script{job.DrainedMore: {"late", "done"}, job.DrainedAmount: {"550", "25"}}
	unit := visits(t, pushUnit, visit{outML: 550, inML: 550}, visit{inML: 575, with: late}, visit{outML: 550, inML: 550})
	points := verdict.History(Assessments(unit))
	near(t, "missing in the job with late drips", points[1].LossML.Nominal, 0, 0.2)
	near(t, "missing after it", points[0].LossML.Nominal, 0, 0.2)
	near(t, "all that came out", points[1].DrainedML.Nominal, 575, 0.2)
}

func TestWasteWaits(t *testing.T) {
	jobs := visits(t, pushUnit,
		visit{outML: 550, inML: 550, with: script{job.WasteOil: {"610"}, job.WasteHandedIn: {"the depot"}}},
		visit{outML: 550, inML: 550, with: script{job.WasteOil: {"600"}}},
		visit{outML: 550, inML: 550, with: script{job.WasteOil: {"620"}}, stop: job.WasteHandedIn},
		visit{outML: 550, inML: 550, stop: job.WasteOil})
	waits := func(jobs []*Guide) (w verdict.Waste) {
		for _, s := range jobs {
			w.Add(s.Assessment)
		}
		return w
	}
	w := waits(jobs)
	near(t, "waiting", w.ML, 1220, 1e-9)
	if at, _ := jobs[2].When(job.WasteOil, 0); !w.Since.Equal(at) {
		t.Errorf("since %v, want %v", w.Since, at)
	}
	if w := waits(jobs[3:]); w.ML != 0 || !w.Since.IsZero() {
		t.Errorf("%v since %v, but it was handed in", w.ML, w.Since)
	}
}

// No moment of any job makes the history, what it teaches or its judgement
// anything but finite, whatever stands before it.
func TestHistoryAtEveryMoment(t *testing.T) {
	before := caseTen(t)
	for _, name := range jobNames() {
		job := driven(t, name)
		for n := 0; n <= len(job.Entries); n += runs.Of(27, 9) {
			part := job
			part.Entries = job.Entries[:n]
			unit := append([]*Guide{Fold(part, Offers{Before: before[0]})}, before...)
			points := verdict.History(Assessments(unit))
			if len(points) != len(unit) {
				t.Fatalf("%s: %d points of %d jobs", name, len(points), len(unit))
			}
			for _, p := range points {
				if !p.LossML.Finite() || !p.DrainedML.Finite() || !p.NetML.Finite() || !p.LossPer1000Km.Finite() {
					t.Fatalf("%s, %d entries: %+v", name, n, p)
				}
			}
			l := unit[0].Lessons()
			if math.IsNaN(l.Residual.ML+l.Residual.UML+l.Escape.ML+l.Escape.UML) || verdict.Leaks(points).Text(quantity.US()) == "" {
				t.Fatalf("%s, %d entries: %+v", name, n, l)
			}
			unit[0].Drips(start.Add(time.Hour))
			unit[0].Push(unit[0].Round(), 10)
		}
	}
	if got := verdict.Leaks(nil).Text(quantity.Metric()); got != "nothing can be told yet: it takes a proven job and the next drain" {
		t.Errorf("of nothing: %q", got)
	}
}

func TestLeakageInWords(t *testing.T) {
	missing := func(ml, uML, km float64) learn.Missing {
		return learn.Missing{ML: measure.Gaussian("x", ml, uML), Km: km}
	}
	for _, tt := range []struct {
		told learn.Missing
		want string
	}{
		{missing(66, 15, 12000), "the unit is losing oil: 66 ± 30 ml in 12 000 km"},
		{missing(-66, 15, 0), "more came out than can be: 66 ± 30 ml; water, oil of the unit beside it, or a top-up"},
		{missing(40, 25, 0), "perhaps losing oil, not proven: 40 ± 50 ml"},
		{missing(-40, 25, 0), "perhaps more came out than went in, not proven: 40 ± 50 ml"},
		{missing(5, 25, 0), "no sign of a leak; a loss of 50 ml would have shown"},
		{missing(5, 1, 0), "no sign of a leak; a loss of 20 ml would have shown"},
	} {
		point := verdict.HistoryPoint{Known: true, LossML: tt.told.ML, SinceKm: tt.told.Km}
		if got := verdict.Leaks([]verdict.HistoryPoint{point}).Text(quantity.Metric()); got != tt.want {
			t.Errorf("%v ± %v: %q, want %q", tt.told.ML.Nominal, tt.told.ML.U(), got, tt.want)
		}
	}
}

// A leak that was mended is no leak for ever, and what the unit teaches after
// it counts again.
func TestMendedLeakIsOver(t *testing.T) {
	weeps := script{job.LevelWeeps: {"weeps"}}
	unit := visits(t, levelUnit,
		visit{outML: 828, inML: 828, with: weeps},
		visit{outML: 740, inML: 830, with: weeps.with(script{job.OilHistory: {"leaked"}})},
		visit{outML: 829, inML: 829, with: weeps},
		visit{outML: 828, inML: 828, with: weeps})
	points := verdict.History(Assessments(unit))
	if points[2].Sign != learn.Leak {
		t.Fatalf("88 ml missing are %v", points[2].Sign)
	}
	if l := verdict.Leaks(points); l.Sign != learn.NoSign || l.Jobs != 2 {
		t.Errorf("%v from %d jobs, want no sign from the 2 since", l.Sign, l.Jobs)
	}
}

// Where the level at the hole contradicted the sums, the sums tell no loss.
func TestLevelAgainstTheSumsTellsNoLoss(t *testing.T) {
	unit := visits(t, levelUnit,
		visit{outML: 828, inML: 960,
			with: script{job.LevelWeeps: {"weeps"}, job.LevelLookedAgain: {"holds"}, job.Decision: {"leave"}, job.LeftWhy: {"it weeps"}}},
		visit{outML: 828, inML: 828})
	if unit[1].UnitState() != verdict.LeftOff {
		t.Fatalf("the first visit leaves %v", unit[1].UnitState())
	}
	if p := verdict.History(Assessments(unit))[0]; p.Known {
		t.Errorf("%v ml missing by sums that the level contradicts", p.LossML.Nominal)
	}
}
