package sheet

// This file holds somebody who answers any line of any sheet with what fits, to finish
// whatever job there is.

import (
	"cmp"
	"fmt"
	"slices"
	"testing"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/quantity"
)

// honest finishes a job sheet by sheet.
type honest struct {
	job    job.Job
	offers guide.Offers
	now    time.Time
	says   map[job.Topic][]string // tokens and what is typed, in place of what is usual and fits, one a time
	also   []job.Topic            // lines that need not be answered and are, by what says has of them
	seen   func(*guide.Guide, Sheet)
	visits []At
}

func (h *honest) guide() *guide.Guide { return guide.Fold(h.job, h.offers) }

// usual are the options of an ordinary job, by the topic that a line stands for.
var usualTokens = map[job.Topic]string{
	job.PriorLevel: "believed", job.OilTemperature: "warm", job.OilLook: "clean", job.MagnetLook: "clean", job.HotOilGoOn: job.HotGo,
	job.ChipsDecision: job.ChipsMove, job.LookedAgain: job.LookedSame, job.PanLookedAgain: job.PanWrong, job.Basis: "capacity",
	job.WrongBoxDecision: job.BoxGoOn, job.HoseBefore: "dry", job.FillHalted: job.AirNone, job.LevelWeeps: job.WeepsLevel,
	job.NothingEscaped: job.NoneDry, job.LeakCheck: job.CheckDry, job.WasherRecheck: job.CheckDry, job.BalanceSuspect: "stands",
	job.LevelLookedAgain: job.LevelHolds, job.LeakedHow: job.EscapeDamp, job.Filler: job.HandPump.String(),
	job.TubeSaid: job.TubeDrops.String(),
}

// finish goes on to the end, or to a sheet.
func (h *honest) finish(until ID) error {
	for range 250 {
		g := h.guide()
		s, more := Now(g, h.now)
		if !more || s.ID == until {
			return nil
		}
		if n := len(h.visits); n == 0 || h.visits[n-1] != s.At {
			h.visits = append(h.visits, s.At)
		}
		if err := h.one(g, s); err != nil {
			return fmt.Errorf("sheet %v, round %d: %w", s.ID, s.Round, err)
		}
	}
	return fmt.Errorf("no end, sheets %v", h.visits)
}

// one answers the first line that is open, or says that the sheet is complete.
func (h *honest) one(g *guide.Guide, s Sheet) error {
	if h.seen != nil {
		h.seen(g, s)
	}
	i := s.FirstOpen()
	for k, l := range s.Lines {
		if slices.ContainsFunc(l.Topics(), func(t job.Topic) bool { return slices.Contains(h.also, t) && len(h.says[t]) > 0 }) &&
			l.Standing != Said {
			i = k
			break
		}
	}
	if i < 0 {
		entries, err := s.Complete(g, h.now)
		return h.store(entries, err)
	}
	var err error
	for _, a := range h.answers(s, s.Lines[i]) {
		var entries []job.Entry
		if entries, err = s.Take(g, i, a, h.now); err == nil {
			for _, t := range s.Lines[i].Topics() {
				h.says[t] = h.says[t][min(1, len(h.says[t])):]
			}
			return h.store(entries, nil)
		}
	}
	return fmt.Errorf("%q takes no answer: %v", s.Lines[i].Ask, err)
}

func (h *honest) store(entries []job.Entry, err error) error {
	if err == nil && len(entries) == 0 {
		err = fmt.Errorf("nothing to store")
	}
	for i, e := range entries {
		err = cmp.Or(err, e.Check(), e.CheckSense())
		if err == nil && e.Seq != len(h.job.Entries)+i+1 {
			err = fmt.Errorf("%v has seq %d after %d entries", e.Topic, e.Seq, len(h.job.Entries)+i)
		}
	}
	h.job.Entries = append(h.job.Entries, entries...)
	h.now = h.now.Add(16 * time.Minute)
	return err
}

// answers are those that fit a line, the likeliest first.
func (h *honest) answers(s Sheet, l Line) []Answer {
	var list []Answer
	switch l.Kind {
	case Confirm:
		return []Answer{{Key: l.Key}}
	case Choice:
		for _, t := range l.Topics() {
			token := cmp.Or(h.next(t), usualTokens[t])
			if t == job.Decision && token == "" && l.Place.Round > 1 { // enough of it
				token = job.DecideLeave.String()
			}
			for _, o := range l.Options {
				if token != "" && o.Token == token {
					list = append(list, Answer{Key: o.Key})
				}
			}
		}
		for _, o := range l.Options {
			if len(o.back) == 0 {
				list = append(list, Answer{Key: o.Key})
			}
		}
		return list
	}
	for _, t := range l.Topics() {
		switch typed := cmp.Or(h.next(t), h.figure(s, l, t)); typed {
		case "":
		case guide.UnknownLine:
			list = append(list, Answer{Unknown: true})
		default:
			list = append(list, Answer{Typed: typed})
		}
	}
	for _, o := range l.Options {
		list = append(list, Answer{Key: o.Key})
	}
	for _, typed := range []string{"0 ml", "10 ml", "100 ml", "40 g", "90 g", "20 C", "1", "as it was", "0 g"} {
		list = append(list, Answer{Typed: typed})
	}
	return append(list, Answer{Unknown: true})
}

// next is what is said of a topic next, "" nothing in particular.
func (h *honest) next(t job.Topic) string {
	if len(h.says[t]) == 0 {
		return ""
	}
	return h.says[t][0]
}

// figure is what is read of an amount where all goes as it is planned.
func (h *honest) figure(s Sheet, l Line, t job.Topic) string {
	r, ml := l.Place.Round, 0.0
	switch t {
	case job.Capacity:
		ml = 900
	case job.DrainedAmount:
		ml = 0.92 * s.Live().CapacityML()
		if s.Live().Path().RunsEngine() { // its old level was right
			ml = s.Live().CapacityML()
		}
	case job.LoadedAmount:
		if plan, err := s.Live().Plan(r); err == nil {
			ml = plan.PreloadML
			if r == 0 && s.Live().Path().RunsEngine() {
				ml = s.Live().FirstChargeML(plan)
			}
		}
	case job.AddedRunning:
		if plan, err := s.Live().Plan(r); err == nil {
			ml = max(plan.PreloadML-s.Live().Loaded(r).Nominal, 0)
		}
	case job.OverflowCaught:
		if s.Live().Path() == job.OverflowTube {
			ml = max(s.Live().NetFill(r).Nominal-s.Live().Drained().Total.Nominal, 0)
		}
	case job.LevelWindow:
		return "35-45 C"
	case job.LevelAtC, job.OilRunning:
		return "40 C"
	case job.StickFirst:
		return "7, 7.5"
	case job.MakersPage:
		return "manual, page 412"
	case job.SecondPerson:
		return "Ada"
	case job.LevelBelow:
		return "3 mm"
	case job.LeftInVessel:
		if !s.Live().Path().RunsEngine() { // all of it is poured in, what is too much runs out
			ml = s.Live().EndReadingML(r)
		}
	case job.EscapedAmount:
		ml = 45
	case job.VesselWeighedAfter:
		full, _ := s.Live().Num(l.Place.Of(job.VesselWeighedFull))
		return quantity.Metric().FormatMass(full - 0.87*s.Live().Passed(r).Nominal)
	case job.LetOutAmount:
		if v, err := s.Live().Verdict(r - 1); err == nil {
			ml = max(v.Error.Nominal, 5)
		}
	default:
		return ""
	}
	return quantity.Metric().FormatVolume(ml)
}

// fitting is somebody at the start of a job.
func fitting(id string) *honest {
	start := time.Date(2026, 4, 18, 9, 0, 0, 0, time.UTC)
	return &honest{job: job.Job{ID: id, Started: start}, now: start, says: map[job.Topic][]string{}}
}

// An honest job ends, on every path.
func TestHonestJobsEnd(t *testing.T) {
	for _, path := range []job.Path{job.DrainPortOnly, job.LevelPort, job.OverflowTube, job.Dipstick, job.FillAbove} {
		h := fitting("a1")
		h.says[job.FillPath] = []string{path.String()}
		if err := h.finish(numIDs); err != nil {
			t.Fatalf("%v: %v", path, err)
		}
		if g := h.guide(); g.Phase() != guide.Done || !g.UnitState().Settled() {
			h, _ := g.Headline(g.Round())
			t.Errorf("%v ends %v, %v: %v %v, %v; %v", path, g.StateWords(), g.Phase(), h.Text(), h.Sentence, h.Why, h.Odds)
		}
	}
}
