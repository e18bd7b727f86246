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
	p.t.Fatalf("no end\n%s", p.log.String())
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
		p.keys++
	default:
		for _, t := range l.Topics() {
			if said, ok := p.typed[t]; ok {
				a.Typed = said
			}
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
		job.EscapedAmount: "46", job.OilTemperature: "2", job.PriorLevel: "2",
	}}
}

func TestFirstDrainOnlyJobByTheNumberPad(t *testing.T) {
	p := firstJob(t)
	p.play(Later)
	t.Logf("%d answers, %d keys, sheets %v\n%s", p.answers, p.keys, p.sheets, p.log.String())
	t.Log(p.guide().StateWords())
}
