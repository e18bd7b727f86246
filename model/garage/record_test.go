package garage

// This file plays many oil changes and keeps of each what the statistics need.

import (
	"math"
	"testing"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// record is one oil change as it ended.
type record struct {
	n        int     // 0 the car's first
	told     bool    // there is a verdict
	saysML   float64 // how far off it says the fill is, and that ± U
	u        float64
	offML    float64 // how far off it is
	said     float64 // how probably it is within the tolerance
	within   bool    // it is
	accepted bool    // as right: 80 in 100 or more
	stands   bool    // a contradiction was let stand
	stopped  bool    // the guide doubted what came out
	cardStop bool    // it was far from what others measured
	weeps    bool    // from the level hole, after the first push
	doubts   int     // readings of the load that do not add up
	asksNone bool    // "nothing escaped" was asked again
	lost     float64 // it says that the unit loses, from one change to the next, a share of what belongs in
}

func (r record) covered() bool          { return math.Abs(r.saysML-r.offML) <= estimate.Coverage*r.u }
func (r record) beyond(ml float64) bool { return math.Abs(r.offML) > ml }

// saidRight is the probability from which a fill counts as accepted as right;
// below it the owner takes a stated risk.
const saidRight = 0.80

func recordOf(v *Visit, r Result) record {
	rec := record{n: v.n, offML: r.OffML, doubts: v.suspects, weeps: v.choice(job.Place{Topic: job.LevelWeeps}) == job.WeepsLevel}
	for p := range v.asked {
		rec.stopped = rec.stopped || (p.Topic == job.LookedAgain || p.Topic == job.Basis)
		rec.cardStop = rec.cardStop || p.Topic == job.CardLookedAgain
		rec.asksNone = rec.asksNone || p.Topic == job.NothingEscaped
	}
	verd, err := r.State.Verdict(r.Round)
	if err != nil {
		return rec
	}
	tol := r.State.Tolerance()
	rec.told, rec.saysML, rec.u, rec.said = true, verd.Error.Nominal, verd.Error.U(), verd.PWithin
	rec.within = r.OffML >= -tol.MinusML && r.OffML <= tol.PlusML
	rec.lost = r.State.LostRate().Nominal / v.Unit.RightML
	rec.accepted = r.Accepted && verd.PWithin >= saidRight
	for _, f := range r.State.ForbidsProven() {
		rec.stands = rec.stands || f == verdict.ForbidsOverruled
	}
	return rec
}

// run is so many cars with so many oil changes each.
type run struct {
	Config
	cars, jobs int
	change     func(*Car)           // what is otherwise so of a car
	slips      func(i, n int) Slips // of the nth oil change of the ith car; nil: those of Config
}

// drive plays it.
func (r run) drive(t *testing.T) []record {
	t.Helper()
	var list []record
	for i := range r.cars {
		c := r.Config
		c.Seed = uint64(i)
		if r.slips != nil {
			c.Slips = r.slips(i, 0)
		}
		car := NewCar(c)
		if r.change != nil {
			r.change(car)
		}
		for n := range r.jobs {
			if r.slips != nil {
				c.Slips = r.slips(i, n)
			}
			v := car.Visit(c.Slips)
			end, err := v.Straight()
			if err != nil {
				t.Fatalf("%s, %v, car %d, job %d with %v: %v", c.World.Name, c.Kind, i, n, c.Slips, err)
			}
			list = append(list, recordOf(v, end))
		}
	}
	return list
}

// oneSlip is one slip for each car.
func oneSlip(i, _ int) Slips { return Of(slipsOfADay[i%len(slipsOfADay)]) }

// slipsOfADay are those of which a person may make one a job.
var slipsOfADay = []Slip{HundredOut, HundredLoaded, WrongFigure, WrongMeaning, ForgottenCatch, HoseWrong, HotReadAsCold}

// only keeps the records that hold of keep.
func only(list []record, keep func(record) bool) []record {
	var kept []record
	for _, r := range list {
		if keep(r) {
			kept = append(kept, r)
		}
	}
	return kept
}

// share is the share of the records that holds of is; 0 of none.
func share(list []record, is func(record) bool) float64 {
	if len(list) == 0 {
		return 0
	}
	return float64(len(only(list, is))) / float64(len(list))
}

func accepted(r record) bool { return r.accepted }
func within(r record) bool   { return r.within }
func told(r record) bool     { return r.told }

// saidMean is the mean probability said.
func saidMean(list []record) float64 {
	sum := 0.0
	for _, r := range list {
		sum += r.said
	}
	return sum / math.Max(float64(len(list)), 1)
}
