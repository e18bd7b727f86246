package sheet

// This file holds the rules of a sheet: what confirms what, what an answer stores, and
// what it does not.

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"garage/tundish/model/ask"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/testdata/runs"
)

// at is a job played up to a sheet, and that sheet.
func at(t *testing.T, p *player, id ID) Sheet {
	t.Helper()
	p.play(id)
	s, more := Now(p.guide(), p.now)
	if !more || s.ID != id {
		t.Fatalf("at %v, want %v", s.ID, id)
	}
	return s
}

// line is the line of a sheet that stands for a topic.
func line(t *testing.T, s Sheet, topic job.Topic) int {
	t.Helper()
	for i, l := range s.Lines {
		for _, x := range l.Topics() {
			if x == topic {
				return i
			}
		}
	}
	t.Fatalf("%v: no line for %v", s.ID, topic)
	return 0
}

func (p *player) take(s Sheet, i int, a Answer) {
	p.t.Helper()
	entries, err := s.Take(p.guide(), i, a, p.now)
	if err != nil {
		p.t.Fatal(err)
	}
	p.job.Entries = append(p.job.Entries, entries...)
}

func TestOnlyItsOwnDigitConfirmsALine(t *testing.T) {
	p := firstJob(t)
	s := at(t, p, Isolate)
	for i, l := range s.Lines {
		if l.Kind != Confirm {
			continue
		}
		for _, a := range []Answer{{}, {Typed: string(l.Key)}, {Unknown: true}, {Key: l.Key + 1}, {Key: '\r'}} {
			if entries, err := s.Take(p.guide(), i, a, p.now); err == nil || len(entries) > 0 {
				t.Errorf("%q is confirmed by %+v", l.Ask, a)
			}
		}
	}
}

// Somebody who presses Enter and reads nothing gets nowhere and leaves no word behind.
func TestEnterAloneSaysNothing(t *testing.T) {
	p := firstJob(t)
	for _, id := range []ID{Prepare1, Prepare2, Isolate, Drain, Measure, Preload, Fill, Cap, Seat, Verdict, Close, Later} {
		s := at(t, p, id)
		entries, err := s.Complete(p.guide(), p.now)
		if err == nil || len(entries) > 0 || !strings.HasPrefix(err.Error(), "open: ") {
			t.Errorf("%v is complete: %v, %v", id, entries, err)
		}
		i := s.FirstOpen()
		if entries, err := s.Take(p.guide(), i, Answer{}, p.now); err == nil {
			t.Errorf("%v: Enter answers %q: %v", id, s.Lines[i].Ask, entries)
		}
	}
}

// A finger that runs over the pad, up or down, confirms at most two lines of any sheet.
func TestNoSweepOverThePadConfirmsMoreThanTwoLines(t *testing.T) {
	p := firstJob(t)
	p.typed[job.DriveKind], p.typed[job.Filler], p.typed[job.VesselRating] = "2", "2", "300 kPa"
	sheets := map[ID]job.Job{}
	for _, id := range []ID{Isolate, Fill, Seat, Close} {
		p.play(id)
		sheets[id] = p.job
	}
	runs.Check(t, 25, func(t *rapid.T) {
		for id, j := range sheets {
			j.ID = rapid.StringMatching(`[a-z0-9]{4}`).Draw(t, "job")
			for _, sweep := range []string{"123456789", "987654321"} {
				g, n := guide.Fold(j, p.offers), 0
				for _, key := range sweep {
					s := Of(g, At{ID: id}, p.now)
					i := s.FirstOpen()
					if i < 0 || s.Lines[i].Kind != Confirm {
						break
					}
					if entries, err := s.Take(g, i, Answer{Key: key}, p.now); err == nil {
						g, n = g.With(entries...), n+1
					}
				}
				if n > 2 {
					t.Fatalf("%v of %s: %s confirms %d lines", id, j.ID, sweep, n)
				}
			}
		}
	})
}

// Digits that are seen together are different ones.
func TestDigitsSeenTogetherAreDifferent(t *testing.T) {
	p := firstJob(t)
	p.typed[job.DriveKind], p.typed[job.Filler], p.typed[job.VesselRating] = "2", "2", "300 kPa"
	for _, id := range []ID{Isolate, Fill, Seat, Close} {
		seen := map[rune]string{}
		for _, l := range at(t, p, id).Lines {
			if l.Kind == Confirm {
				if other, twice := seen[l.Key]; twice {
					t.Errorf("%v: %c is of %q and of %q", id, l.Key, other, l.Ask)
				}
				seen[l.Key] = l.Ask
			}
		}
	}
}

func TestTheCaseFeelsHot(t *testing.T) {
	p := firstJob(t)
	s := at(t, p, Isolate)
	for s.Lines[s.FirstOpen()].Place.Topic != job.OilTemperature {
		i := s.FirstOpen()
		p.take(s, i, Answer{Key: s.Lines[i].Key})
		s, _ = Now(p.guide(), p.now)
	}
	p.take(s, s.FirstOpen(), Answer{Key: '3'})
	s, _ = Now(p.guide(), p.now)
	i := s.FirstOpen()
	if l := s.Lines[i]; l.Place != (job.At(job.OilTemperature, 0, 1)) || p.guide().Emptied() {
		t.Fatalf("after HOT: %q at %v", l.Ask, l.Place)
	}
	p.take(s, i, Answer{Key: '2'})
	if c := p.guide().OilTempC(); c != ask.FeelsWarm {
		t.Errorf("the oil has %g °C, want %g", c, ask.FeelsWarm)
	}
}

func TestWhatIsTypedForSeveralQuestions(t *testing.T) {
	p := firstJob(t)
	s := at(t, p, Prepare2)
	p.take(s, line(t, s, job.HoseHolds), Answer{Typed: "6*1.5"})
	p.take(s, line(t, s, job.PlugThread), Answer{Typed: "M18x1.5, hex 10, copper 18x24"})
	p.take(s, line(t, s, job.TorqueFigure), Answer{Typed: "35, manual p. 212"})
	g := p.guide()
	// π/4 · 0.6² cm² · 150 cm = 42.4 ml.
	if ml := g.HoldUp().Nominal; ml < 42.3 || ml > 42.5 {
		t.Errorf("6 mm by 1.5 m holds %g ml", ml)
	}
	got := fmt.Sprint(g.Text(job.PlugThread), "|", g.Text(job.PlugKey), "|", g.Text(job.WasherKind), "|", g.Text(job.TorqueSource))
	if want := "M18x1.5|hex 10|copper 18x24|manual p. 212"; got != want {
		t.Errorf("%s, want %s", got, want)
	}
	if nm, _ := g.Num(job.Place{Topic: job.TorqueFigure}); nm != 35 {
		t.Errorf("torque %g", nm)
	}
}

func TestWhatWasSpilled(t *testing.T) {
	for typed, want := range map[string]struct {
		how   string
		stops bool
	}{"46": {job.EscapeCaught, false}, "0": {job.EscapeNone, true}, guide.UnknownLine: {job.EscapeNone, false}} {
		p := firstJob(t)
		s := at(t, p, Seat)
		for s.Lines[s.FirstOpen()].Place.Topic != job.EscapedHow {
			i := s.FirstOpen()
			p.take(s, i, Answer{Key: s.Lines[i].firstKey()})
			s, _ = Now(p.guide(), p.now)
		}
		a := Answer{Typed: typed}
		if typed == guide.UnknownLine {
			a = Answer{Unknown: true}
		}
		p.take(s, s.FirstOpen(), a)
		if how := p.guide().Choice(job.Place{Topic: job.EscapedHow}); how != want.how {
			t.Errorf("%s: %s, want %s", typed, how, want.how)
		}
		if s, _ := Now(p.guide(), p.now); (s.ID == Stop) != want.stops {
			t.Errorf("%s: at %v", typed, s.ID)
		}
	}
}

func (l Line) firstKey() rune {
	if l.Kind == Confirm {
		return l.Key
	}
	return l.Options[0].Key
}

// A push that must not go on is halted, put right and goes on.
func TestAPushIsHalted(t *testing.T) {
	for _, key := range "34" {
		p := firstJob(t)
		s := at(t, p, Fill)
		for s.Lines[s.FirstOpen()].Kind == Confirm {
			i := s.FirstOpen()
			p.take(s, i, Answer{Key: s.Lines[i].Key})
			s, _ = Now(p.guide(), p.now)
		}
		p.take(s, line(t, s, job.FillHalted), Answer{Key: key})
		s, _ = Now(p.guide(), p.now)
		if s.ID != Stop || s.Lines[0].Kind != Confirm || !strings.Contains(s.Lines[0].Ask, "vented to ZERO") {
			t.Fatalf("%c: %s", key, show(s))
		}
		p.take(s, 0, Answer{Key: s.Lines[0].Key})
		if s, _ = Now(p.guide(), p.now); s.ID != Fill {
			t.Errorf("%c: then at %v", key, s.ID)
		}
		p.take(s, line(t, s, job.FillHalted), Answer{Key: '1'})
		if !p.guide().HasIn(job.FillEnded, 0) {
			t.Errorf("%c: the push has not ended", key)
		}
	}
}

// A stop has nothing chosen, and first leads back to the reading that it doubts.
func TestAStopLeadsBackToTheReading(t *testing.T) {
	p := firstJob(t)
	p.typed[job.DrainedAmount] = "300"
	s := at(t, p, Stop)
	l := s.Lines[0]
	if l.Standing != Open || l.Value != "" || l.Options[0].Token != job.LookedTyped {
		t.Fatalf("%s", show(s))
	}
	_, err := s.Take(p.guide(), 0, Answer{Key: l.Options[0].Key}, p.now)
	var back *Back
	if !errors.As(err, &back) || back.Places[0].Topic != job.DrainedAmount {
		t.Fatalf("%v", err)
	}
	measure := Of(p.guide().With(), At{ID: Measure}, p.now)
	if measure.ID != Stop {
		t.Errorf("the doubt goes away by itself: %v", measure.ID)
	}
	entries, err := Correct(p.guide(), back.Places[0], Answer{Typed: "588"}, p.now)
	if err != nil || entries[0].Strikes == 0 {
		t.Fatalf("%v, %v", entries, err)
	}
	p.job.Entries = append(p.job.Entries, entries...)
	if s, _ := Now(p.guide(), p.now); s.ID != Measure {
		t.Errorf("then at %v", s.ID)
	}
}

func TestMoments(t *testing.T) {
	now := time.Date(2026, 4, 18, 14, 20, 0, 0, time.UTC)
	for typed, want := range map[string]string{"-15": "14:05", "14.05": "14:05", "14:05": "14:05", "-0": "14:20"} {
		if got, err := momentOf(typed, now); err != nil || got.Format("15:04") != want {
			t.Errorf("%s: %v, %v", typed, got, err)
		}
	}
	if got, err := momentOf("23.50", now); err != nil || got.Day() != 17 {
		t.Errorf("23.50 of yesterday: %v, %v", got, err)
	}
	for _, typed := range []string{"", "15", "-", "25.00", "-2000", "14.65"} {
		if got, err := momentOf(typed, now); err == nil {
			t.Errorf("%q is %v", typed, got)
		}
	}
}

// The plug came out when it is said to have, and the waits are counted from then.
func TestThePlugCameOutEarlierThanItWasTyped(t *testing.T) {
	p := firstJob(t)
	s := at(t, p, Drain)
	p.now = p.now.Add(30 * time.Minute)
	i := line(t, s, job.PlugOut)
	entries, err := s.Take(p.guide(), i, Answer{Typed: "-15"}, p.now)
	if err != nil {
		t.Fatal(err)
	}
	p.job.Entries = append(p.job.Entries, entries...)
	if out, _ := p.guide().When(job.PlugOut, 0); !out.Equal(p.now.Add(-15 * time.Minute)) {
		t.Errorf("out at %v, now %v", out, p.now)
	}
	if _, err := s.Take(p.guide(), i, Answer{Typed: "-600"}, p.now); err == nil {
		t.Error("out before the list was confirmed")
	}
}

// Undo takes back all that an answer said.
func TestUndoTakesBackTheWholeLine(t *testing.T) {
	p := firstJob(t)
	s := at(t, p, Isolate)
	for s.Lines[s.FirstOpen()].Place.Topic != job.BreatherFree {
		i := s.FirstOpen()
		p.take(s, i, Answer{Key: s.Lines[i].Key})
		s, _ = Now(p.guide(), p.now)
	}
	for range 2 { // the way back in; right unit and right plug
		entries, ok := Undo(p.guide(), p.now)
		if !ok {
			t.Fatal("nothing to undo")
		}
		p.job.Entries = append(p.job.Entries, entries...)
	}
	g := p.guide()
	if g.Has(job.RightUnit) || g.Has(job.RightPlug) || !g.Has(job.StandsAndShake) {
		t.Errorf("right unit %t, plug %t, stands %t", g.Has(job.RightUnit), g.Has(job.RightPlug), g.Has(job.StandsAndShake))
	}
}

// A merged line of which one half is confirmed is open.
func TestHalfAMergedLineIsOpen(t *testing.T) {
	p := firstJob(t)
	s := at(t, p, Isolate)
	for s.Lines[s.FirstOpen()].Place.Topic != job.RightUnit {
		i := s.FirstOpen()
		p.take(s, i, Answer{Key: s.Lines[i].Key})
		s, _ = Now(p.guide(), p.now)
	}
	p.job.Entries = append(p.job.Entries, job.Entry{Seq: len(p.job.Entries) + 1, At: p.now, Topic: job.RightUnit})
	s, _ = Now(p.guide(), p.now)
	if l := s.Lines[s.FirstOpen()]; l.Place.Topic != job.RightUnit {
		t.Fatalf("open is %q", l.Ask)
	}
	p.take(s, s.FirstOpen(), Answer{Key: s.Lines[s.FirstOpen()].Key})
	if g := p.guide(); !g.Has(job.RightPlug) || g.SeqOf(job.Place{Topic: job.RightUnit}) == len(p.job.Entries) {
		t.Errorf("right plug %t; the half that stood was struck", g.Has(job.RightPlug))
	}
}

// Oil between 50 and 60 °C, by a thermometer, may be drained with long gloves; felt hot, it
// must wait.
func TestTheOilByAThermometer(t *testing.T) {
	p := firstJob(t)
	s := at(t, p, Isolate)
	for s.Lines[s.FirstOpen()].Place.Topic != job.OilTemperature {
		i := s.FirstOpen()
		p.take(s, i, Answer{Key: s.Lines[i].Key})
		s, _ = Now(p.guide(), p.now)
	}
	for i, l := range s.Lines {
		if l.Kind == Reading && l.Place.Topic == job.OilTemperature {
			p.take(s, i, Answer{Typed: "55"})
		}
	}
	g := p.guide()
	if c := g.OilTempC(); c != 55 || g.Choice(job.Place{Topic: job.TemperatureHow}) != job.HowMeasured {
		t.Errorf("%g °C, %s", c, g.Choice(job.Place{Topic: job.TemperatureHow}))
	}
	if s, _ := Now(g, p.now); s.ID != Stop || s.Lines[0].Place.Topic != job.HotOilGoOn {
		t.Errorf("then %v", s.ID)
	}
}

// The spill is weighed with pads, or guessed.
func TestTheSpillAnotherWay(t *testing.T) {
	for key, want := range map[rune][]job.Topic{'1': {job.PadsBefore, job.PadsAfter}, '2': {job.EscapedAmount}} {
		p := firstJob(t)
		s := at(t, p, Seat)
		for s.Lines[s.FirstOpen()].Place.Topic != job.EscapedHow {
			i := s.FirstOpen()
			p.take(s, i, Answer{Key: s.Lines[i].firstKey()})
			s, _ = Now(p.guide(), p.now)
		}
		for i, l := range s.Lines {
			if l.Kind == Choice && l.Place.Topic == job.EscapedHow {
				p.take(s, i, Answer{Key: key})
			}
		}
		for _, topic := range want {
			s, _ = Now(p.guide(), p.now)
			i := s.FirstOpen()
			if l := s.Lines[i]; l.Prompt().Topic != topic {
				t.Fatalf("%c: open is %q", key, l.Ask)
			}
			p.take(s, i, Answer{Typed: map[job.Topic]string{job.PadsBefore: "100 g", job.PadsAfter: "140 g",
				job.EscapedAmount: "40"}[topic]})
		}
		if s, _ = Now(p.guide(), p.now); s.FirstOpen() >= 0 && s.ID == Seat {
			t.Errorf("%c: still open: %q", key, s.Lines[s.FirstOpen()].Ask)
		}
		if ml := p.guide().Escaped(0).Nominal; ml < 38 || ml > 49 {
			t.Errorf("%c: %g ml", key, ml)
		}
	}
}
