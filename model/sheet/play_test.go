package sheet

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// player goes through a job sheet by sheet, by the number pad alone.
type player struct {
	t       testing.TB
	offers  guide.Offers
	job     job.Job
	now     time.Time
	typed   map[job.Topic]string // what is typed, or the digit of a choice
	answers int
	keys    int
	sheets  []At
	log     strings.Builder
}

func (p *player) guide() *guide.Guide { return guide.Fold(p.job, p.offers) }

// play answers until nothing is left to ask, or a sheet is reached.
func (p *player) play(until ID) {
	for range 200 {
		g := p.guide()
		s, more := Now(g, p.now)
		if !more || s.ID == until {
			return
		}
		if n := len(p.sheets); n == 0 || p.sheets[n-1] != s.At {
			p.sheets = append(p.sheets, s.At)
			fmt.Fprintf(&p.log, "== %v %d\n", s.ID, s.Round)
		}
		p.one(s)
	}
	p.t.Fatalf("no end\n%s", p.log.String())
}

// one answers the first open line of a sheet, or says that it is complete.
func (p *player) one(s Sheet) {
	g := p.guide()
	var entries []job.Entry
	var err error
	if i := s.FirstOpen(); i >= 0 {
		entries, err = p.answer(g, s, i)
	} else {
		p.keys++
		entries, err = s.Complete(g, p.now)
	}
	if err != nil {
		p.t.Fatalf("%v: %v\n%s", s.ID, err, p.log.String())
	}
	if len(entries) == 0 {
		p.t.Fatalf("%v: nothing to store\n%s", s.ID, p.log.String())
	}
	p.job.Entries = append(p.job.Entries, entries...)
	p.now = p.now.Add(4 * time.Minute)
}

func (p *player) answer(g *guide.Guide, s Sheet, i int) ([]job.Entry, error) {
	l := s.Lines[i]
	p.answers++
	a := Answer{}
	switch l.Kind {
	case Confirm:
		a.Key = l.Key
		p.keys++
	case Choice:
		a.Key = l.Options[0].Key
		for _, t := range l.Topics() {
			if said, ok := p.typed[t]; ok {
				a.Key = rune(said[0])
			}
		}
		if s.ID == Stop && p.typed[l.Topics()[0]] == "" {
			a.Key = l.Options[1].Key
		}
		p.keys++
	default:
		for _, t := range l.Topics() {
			if said, ok := p.typed[t]; ok {
				a.Typed = said
			}
		}
		if a.Typed == "" && len(l.Options) > 0 {
			a.Key = l.Options[0].Key
		}
		p.keys += len(a.Typed) + 1
	}
	fmt.Fprintf(&p.log, "  %-45s %c %s\n", l.Ask, a.Key, a.Typed)
	return s.Take(g, i, a, p.now)
}

func firstJob(t testing.TB) *player {
	start := time.Date(2026, 4, 18, 9, 0, 0, 0, time.UTC)
	return &player{t: t, job: job.Job{ID: "b7k2", Started: start}, now: start, typed: map[job.Topic]string{
		job.Capacity: "600-680", job.HoseHolds: "25", job.DrainedAmount: "588", job.LoadedAmount: "730", job.LeftInVessel: "22",
		job.EscapedAmount: "46", job.OilTemperature: "2", job.PriorLevel: "2", job.LetOutAmount: "40",
	}}
}

func TestFirstDrainOnlyJobByTheNumberPad(t *testing.T) {
	p := firstJob(t)
	p.play(Close)
	if p.answers > 38 || p.keys > 64 || len(p.sheets) != 11 {
		t.Errorf("%d answers, %d keys, sheets %v\n%s", p.answers, p.keys, p.sheets, p.log.String())
	}
	if state := p.guide().StateWords(); !strings.HasPrefix(state, "ACCEPTED, LIKELY ") {
		t.Errorf("it ends %s", state)
	}
}

// Jobs of each kind end as they must, and every sheet on the way says what comes next.
func TestJobsOfEachKind(t *testing.T) {
	for name, want := range map[string]string{"second": "ACCEPTED, LIKELY", "level": "FILLED, PROVEN", "hybrid": "ACCEPTED, LIKELY"} {
		p := variants(t)[name]
		for range 80 {
			s, more := Now(p.guide(), p.now)
			if !more || s.ID == Later {
				break
			}
			if s.ID != Stop && s.Next == "" {
				t.Errorf("%s: nothing comes after\n%s", name, show(s))
			}
			p.one(s)
		}
		if state := p.guide().StateWords(); !strings.HasPrefix(state, want) {
			t.Errorf("%s: %s, want %s\n%s", name, state, want, p.log.String())
		}
	}
}

func variants(t testing.TB) map[string]*player {
	first := firstJob(t)
	first.play(Later)
	second := firstJob(t)
	second.job.ID, second.now = "c8m3", first.now.AddDate(1, 0, 0)
	second.job.Started = second.now
	before := first.guide()
	second.offers = guide.OffersOf([]*guide.Guide{before}, nil)
	second.offers.Before = before
	second.job.Entries = []job.Entry{
		{Seq: 1, At: second.now, Topic: job.Vehicle, Value: job.Value{Text: before.Vehicle()}},
		{Seq: 2, At: second.now, Topic: job.UnitName, Value: job.Value{Text: before.UnitName()}},
	}
	second.typed[job.PriorLevel], second.typed[job.DrainedAmount] = "1", "640"
	level := firstJob(t)
	for topic, said := range map[job.Topic]string{job.FillPath: "2", job.Capacity: "1500", job.CapacityMeans: "3",
		job.DrainedAmount: "1420", job.LoadedAmount: "1600",
		job.LeftInVessel: "160", job.OverflowCaught: "20"} {
		level.typed[topic] = said
	}
	dry := firstJob(t)
	dry.typed[job.PriorLevel] = "6"
	hybrid := firstJob(t)
	hybrid.typed[job.DriveKind], hybrid.typed[job.Filler], hybrid.typed[job.VesselRating] = "2", "2", "300 kPa"
	stop := firstJob(t)
	stop.typed[job.DrainedAmount], stop.typed[job.LookedAgain], stop.typed[job.Basis] = "430", "2", "9"
	low := firstJob(t)
	low.typed[job.LoadedAmount] = "600"
	return map[string]*player{"second": second, "level": level, "dry": dry, "hybrid": hybrid, "stop": stop, "low": low}
}

func show(s Sheet) string {
	var b strings.Builder
	fmt.Fprintf(&b, "== %v\n%s\n%s: %s\n%s\n", s.ID, strings.Join(s.Intro, "\n"), s.Caption, s.Figure, strings.Join(s.After, "\n"))
	for _, l := range s.Lines {
		fmt.Fprintf(&b, "%v%v%v %c %-40s [%s] %s %s", l.Kind, l.Standing, map[bool]string{true: "+"}[l.Folded], l.Key, l.Ask,
			l.Value, l.Unit, l.Hint+l.Worth)
		for _, o := range l.Options {
			fmt.Fprintf(&b, " %c %s", o.Key, o.Label)
		}
		b.WriteString("\n")
	}
	fmt.Fprintf(&b, "%s\nNext: %s\n", strings.Join(s.Notes, "\n"), s.Next)
	return b.String()
}

// What was lost, as it was told, counts: so much less is expected to come out, and it
// is a reading that tells.
func TestKnownLossIsPartOfTheLevelBefore(t *testing.T) {
	told, untold := firstJob(t), firstJob(t)
	for _, p := range []*player{told, untold} {
		p.typed[job.PriorLevel], p.typed[job.DrainedAmount] = "4", "480"
	}
	told.play(Prepare2)
	s := Of(told.guide(), At{ID: Prepare1}, told.now)
	told.take(s, line(t, s, job.LostOrAdded), Answer{Typed: "100"})
	told.play(Preload)
	untold.play(Preload)
	if told.guide().DrainedVoid() || !untold.guide().DrainedVoid() {
		t.Errorf("void: told %t, untold %t; want false, true", told.guide().DrainedVoid(), untold.guide().DrainedVoid())
	}
	plan, err := told.guide().Plan(0)
	if err != nil || plan.Conflict {
		t.Fatalf("plan %+v, %v: 480 of 640 with 100 lost contradict nothing", plan, err)
	}
}
