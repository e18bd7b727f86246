package guide

// This file drives a job from prompt to prompt the way a person does, for all
// tests of the flow.

import (
	"testing"
	"time"

	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// start is when the jobs of the tests begin.
var start = time.Date(2026, 4, 18, 9, 0, 0, 0, time.UTC)

// script is what is typed in answer to a topic, one line an item or round in
// the order asked. A choice is given by its token. "-" is "don't know", ""
// Enter on an empty field (the offer, or the end of the readings).
type script map[job.Topic][]string

// drive answers prompts until the topic `until` is asked, or nothing is.
type drive struct {
	t      *testing.T
	job    job.Job
	offers Offers
	lines  script
	used   map[job.Topic]int
	at     time.Time
	hasty  bool                 // waits for nothing
	seen   func(*Guide, Prompt) // called with each prompt before it is answered; nil not
}

func newDrive(t *testing.T, lines script) *drive {
	t.Helper()
	return &drive{t: t, job: job.Job{ID: job.NewID(start, 7), Started: start}, lines: lines, used: map[job.Topic]int{}, at: start}
}

// earlierJob is a job that an earlier one of the unit may be.
func earlierJob(t *testing.T) *Guide {
	d := newDrive(t, small)
	d.job.ID, d.job.Started, d.at = "earlier", start.AddDate(-1, 0, 0), start.AddDate(-1, 0, 0)
	return d.until(job.NoTopic)
}

func (d *drive) state() *Guide { return Fold(d.job, d.offers) }

func (d *drive) add(e job.Entry) {
	d.t.Helper()
	if err := e.Check(); err != nil {
		d.t.Fatalf("entry does not pass its own check: %v", err)
	}
	d.job.Entries = append(d.job.Entries, e)
}

// until drives on until a topic is asked; NoTopic until the end.
func (d *drive) until(stop job.Topic) *Guide {
	d.t.Helper()
	for range 400 {
		s := d.state()
		p, ok := d.asked(s, stop)
		if !ok || (p.Topic == stop && stop != job.NoTopic) {
			return s
		}
		if p.Topic != job.MagnetLook && p.Topic != job.OilLook { // looked at as it drips
			d.at = d.at.Add(time.Minute)
			d.wait(s, p)
		}
		if d.seen != nil {
			d.seen(s, p)
		}
		d.answer(s, p)
	}
	p, _ := d.state().Next()
	d.t.Fatalf("the flow does not end; stuck at %v", p.Place)
	return nil
}

// asked is what is answered next: of the questions before the one that is asked, the
// first that need not be answered and that the script speaks of, or that is usually
// told, or at which it stops; else the one that is asked.
func (d *drive) asked(s *Guide, stop job.Topic) (Prompt, bool) {
	asked, more := s.Next()
	for p, open := range s.Prompts() {
		if !more || p.Place == asked.Place && p.Topic != job.HoseHolds {
			break
		}
		tells := d.used[p.Topic] < len(d.lines[p.Topic]) || usuallyTold[p.Topic] && len(d.lines[p.Topic]) == 0
		if p.Topic == job.HoseBore && len(d.lines[job.HoseHolds]) > 0 {
			tells = false
		}
		if open && p.Optional && (tells || p.Topic == stop) {
			return p, true
		}
		if asked.Topic == job.HoseHolds && p.Topic == job.HoseBore { // stands after it, and is told instead
			break
		}
	}
	return asked, more
}

// usuallyTold are questions that need not be answered and that an ordinary job answers.
var usuallyTold = map[job.Topic]bool{
	job.HoseBore: true, job.DrainedTemperature: true, job.LoadedTemperature: true, job.EscapedAtCap: true,
}

// wait lets the time pass that the job is to wait, but takes drip readings as
// they come.
func (d *drive) wait(s *Guide, p Prompt) {
	w, waits := s.Wait()
	if d.hasty {
		d.at = d.at.Add(-50 * time.Second) // ten seconds an answer
		return
	}
	if reads := p.Topic == job.DripReading && d.used[p.Topic] < len(d.lines[p.Topic]); waits && !reads && d.at.Before(w.Ends()) {
		d.at = w.Ends()
	}
}

func (d *drive) answer(s *Guide, p Prompt) {
	d.t.Helper()
	line, given := d.next(p.Topic)
	if _, offered := p.DefaultValue(s); !given && !offered {
		line = unoffered[p.Topic]
	}
	if line == "" && p.Topic == job.Decision {
		line = advised(s, p.Place)
	}
	if v, seen := ordinary(s, p); line == "" && p.Observed && seen {
		d.accept(s, p, v, "")
		return
	}
	if line == "-" {
		line = UnknownLine
	}
	e, err := p.Answer(s, line, d.at)
	if err != nil {
		d.t.Fatalf("%v (item %d, round %d): %q refused (given %v): %v", p.Topic, p.Place.Item, p.Place.Round, line, given, err)
	}
	d.add(e)
}

// advised is what the verdict says to do, "" where it says nothing.
func advised(s *Guide, p job.Place) string {
	v, err := s.Verdict(p.Round)
	if err != nil || v.Act == verdict.Remeasure || v.Act == verdict.Nothing && v.Conformity == verdict.NotProven {
		return ""
	}
	return map[verdict.Act]job.OwnerDecision{verdict.Nothing: job.DecideAccept, verdict.AddOil: job.DecideAdd,
		verdict.LetOut: job.DecideLetOut}[v.Act].String()
}

// answered is the entry that a line makes.
func answered(s *Guide, p Prompt, line string, at time.Time) job.Entry {
	e, err := p.Answer(s, line, at)
	if err != nil {
		panic(err)
	}
	return e
}

func (d *drive) accept(s *Guide, p Prompt, v job.Value, typed string) {
	d.t.Helper()
	if err := p.Accept(s, v); err != nil {
		d.t.Fatalf("%v: %+v refused: %v", p.Topic, v, err)
	}
	d.add(p.Entry(s, v, typed, d.at))
}

// unoffered is what a script that does not speak of it answers to a choice with
// nothing on offer.
var unoffered = map[job.Topic]string{
	job.CapacityMeans: "dry", job.Basis: "capacity", job.WrongBoxDecision: job.BoxStop, job.ChipsDecision: job.ChipsStop,
	job.HotOilGoOn: job.HotWait, job.LookedAgain: job.LookedMore,
	job.UnitKind: "final_drive", job.UnitName: "rear axle", job.DriveKind: "combustion", job.FillPath: "drain_only",
	job.PriorLevel: "believed", job.Filler: "hand_pump", job.HoseBore: "6", job.HoseLength: "1.5",
	job.VesselRating: "-", job.LostOrAdded: "-",
}

func (d *drive) next(t job.Topic) (string, bool) {
	lines := d.lines[t]
	n := d.used[t]
	if n >= len(lines) {
		return "", false
	}
	d.used[t]++
	return lines[n], true
}

// correct answers a standing entry again.
func (d *drive) correct(t job.Topic, round, item int, line string) *Guide {
	d.t.Helper()
	s := d.state()
	e, ok := s.Answer(job.At(t, round, item))
	if !ok {
		d.t.Fatalf("%v has no answer to correct", t)
	}
	p, ok := s.Correcting(e.Seq)
	if !ok {
		d.t.Fatalf("%v cannot be corrected", t)
	}
	e, err := p.Answer(s, line, d.at)
	if err != nil {
		d.t.Fatalf("%v: %q refused: %v", t, line, err)
	}
	d.add(e)
	return d.state()
}

// tell answers a question that need not be answered, whenever somebody thinks of it.
func (d *drive) tell(t job.Topic, line string) *Guide {
	d.t.Helper()
	p, _ := PromptOf(job.Entry{Topic: t})
	e, err := p.Answer(d.state(), line, d.at)
	if err != nil {
		d.t.Fatalf("%v: %q refused: %v", t, line, err)
	}
	d.add(e)
	return d.state()
}

// with is a copy of a script with other lines for some topics.
func (sc script) with(other script) script {
	out := script{}
	for t, lines := range sc {
		out[t] = lines
	}
	for t, lines := range other {
		out[t] = lines
	}
	return out
}

// entryOf is the entry of a line of the ledger.
func entryOf(s *Guide, seq int) job.Entry {
	entries, _ := s.Ledger()
	return entries[seq-1]
}
