package garage

// This file asks of simulated jobs what no table of cases can show: that what
// is called proven is never far off, whatever the person got wrong, and that the
// odds said are the odds there are.

import (
	"flag"
	"math"
	"os"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
	"garage/tundish/testdata/runs"
)

// alone are slips of which one is made at a time: those that no second reading
// shows, and those about what belongs in, of which any two can tell the same
// lie. TestWhatSlipsDo says how often they do.
var alone = []Slip{
	SlipCount, MisreadLoaded, MisreadLeft, ForgottenCatch, HoseWrong, // SlipCount: none
	WrongFigure, WrongMeaning, PriorWrong, LevelLies, GrossOut,
}

// beside are slips that come on top, any number of them. The gross ones among
// them are made only where something else is read that can show them; where
// nothing is, a reading is wrong by one mark.
var beside = []Slip{
	MisreadOut, GrossLoaded, GrossLeft, UnitSlip, HotReadAsCold, ToleranceWide, DrainShort, DrainCold, WaitsSkipped,
	WrongBasis, RandomStops, ClicksOn,
}

// outcome is what a job came to.
type outcome struct {
	proven  bool
	beyond  Result // the first moment at which it was proven and beyond driving
	last    Result
	tangled error
}

func play(c Config) (o outcome) {
	o.tangled = New(c).Play(func(r Result) bool {
		o.last = r
		if r.State.UnitState() == verdict.Proven {
			o.proven = true
			far := r.OffShare < -verdict.DoNotDriveShort || r.OffShare > verdict.DoNotDriveOver // the car must not be driven
			if far && o.beyond.State == nil {
				o.beyond = r
			}
		}
		return true
	})
	return o
}

// longRun is the number that jobsEnv asks for; false where it does not.
func longRun() (n int, asked bool) {
	n, _ = strconv.Atoi(os.Getenv(jobsEnv))
	return n, n > 0
}

// sized is the number of jobs of a short run, or, where a long one is asked for,
// of that.
func sized(short, long int) int {
	if _, asked := longRun(); asked {
		return long
	}
	return short
}

func TestNeverProvenBeyondDriving(t *testing.T) {
	if f := flag.Lookup("rapid.seed"); f.Value.String() == "0" {
		f.Value.Set("20260418") // the same jobs every time; other seeds are for .ci
		defer f.Value.Set("0")
	}
	jobs, proven, jobsACase := 0, 0, uint64(sized(2, 5))
	runs.Check(t, sized(60, 100), func(t *rapid.T) {
		slips := Of(rapid.SliceOfNDistinct(rapid.SampledFrom(beside), 0, 3, rapid.ID[Slip]).Draw(t, "slips")...)
		if one := rapid.SampledFrom(alone).Draw(t, "alone"); one != SlipCount {
			slips |= Of(one)
		}
		seed := rapid.Uint64().Draw(t, "seed")
		for i := range jobsACase {
			o := play(Config{Seed: seed + i, Slips: slips})
			if o.tangled != nil {
				t.Fatalf("job %d with %v: %v", seed+i, slips, o.tangled)
			}
			if o.beyond.State != nil {
				t.Fatalf("job %d with %v is proven, and off by %+.0f ml, %+.0f %%", seed+i, slips, o.beyond.OffML, 100*o.beyond.OffShare)
			}
			jobs++
			if o.proven {
				proven++
			}
		}
	})
	t.Logf("%d jobs with slips, %d of them proven, none of those beyond driving", jobs, proven)
	if proven < jobs/50 {
		t.Errorf("%d of %d jobs are proven: too few to show anything", proven, jobs)
	}
}

// Without slips most jobs come to an end that is accepted, a good part of them
// proven, and what is said of the odds is so.
func TestJobsWithoutSlips(t *testing.T) {
	jobs := sized(runs.Of(100, 150), 500)
	var proven, settled, right int
	var said float64
	for seed := range uint64(jobs) {
		o := play(Config{Seed: seed})
		if o.tangled != nil {
			t.Fatalf("job %d: %v", seed, o.tangled)
		}
		s := o.last.State
		v, judged := s.Judged()
		plan, err := s.Plan(0)
		if !judged || err != nil || s.Decision(s.Round()) != job.DecideAccept {
			continue
		}
		settled++
		said += v.PWithin
		if o.last.OffML >= plan.Low-plan.Target.Nominal && o.last.OffML <= plan.High-plan.Target.Nominal {
			right++
		}
		if s.UnitState() == verdict.Proven {
			proven++
		}
	}
	told, was := said/float64(settled), float64(right)/float64(settled)
	t.Logf("of %d jobs %d are accepted and %d proven; said to be right %.1f %%, right %.1f %%", jobs, settled, proven, 100*told, 100*was)
	if settled < jobs*6/10 || proven < jobs/5 {
		t.Errorf("of %d jobs %d are accepted and %d proven", jobs, settled, proven)
	}
	if told-was > 0.06 || was-told > 0.10 {
		t.Errorf("said to be right %.1f %%, right %.1f %%", 100*told, 100*was)
	}
}

// jobsEnv says how many jobs of each kind of slip, and how many units of each
// kind, the long run plays.
const jobsEnv = "TUNDISH_GARAGE_JOBS"

// The long run prints what each slip does: how many jobs are proven, and how
// many of these are beyond driving, which one in a thousand may be, where the level
// before the job and the marks of the jug are off as far as they may be together
// and in the same direction as the slip; the same where it may hit what nothing else
// checks; and for every two slips that can tell one lie.
func TestWhatSlipsDo(t *testing.T) {
	jobs, asked := longRun()
	if !asked {
		t.Skip("set " + jobsEnv + " to a number of jobs")
	}
	row := func(slips Slips, blind bool) int {
		proven, wrong, tangled, worst := 0, 0, 0, 0.0
		for seed := range uint64(jobs) {
			o := play(Config{Seed: seed, Slips: slips, Blind: blind})
			if o.tangled != nil {
				tangled++
				t.Errorf("job %d with %v: %v", seed, slips, o.tangled)
			}
			if o.proven {
				proven++
			}
			if o.beyond.State != nil {
				wrong++
				worst = max(worst, math.Abs(o.beyond.OffShare))
			}
		}
		t.Logf("%-40v blind %-5v proven %5d of %d, beyond driving %3d, at worst by %.0f %%", slips, blind, proven, jobs, wrong, 100*worst)
		return wrong
	}
	for s := range SlipCount + 1 {
		if wrong := row(Of(s), false); wrong > jobs/1000 {
			t.Errorf("%v: %d jobs are proven and beyond driving", Of(s), wrong)
		}
	}
	for _, s := range []Slip{GrossLoaded, GrossLeft, UnitSlip} {
		row(Of(s), true)
	}
	for i, a := range alone[1:] {
		for _, b := range alone[i+2:] {
			row(Of(a, b), false)
		}
	}
}
