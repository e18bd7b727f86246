package guide

// This file tests the second look where far too little or too much came out:
// nothing is chosen beforehand, what is added says to what, and an amount that
// was typed wrong is asked again.

import (
	"strings"
	"testing"

	"garage/tundish/model/ask"
	"garage/tundish/model/job"
)

// typedWrong says of what came out that it was typed wrong, as a second look of an older
// job may: a stop leads back to the reading by itself now.
func typedWrong(d *drive) *Guide {
	d.t.Helper()
	s := d.until(job.LookedAgain)
	p := asked(d.t, s, job.LookedAgain)
	d.add(p.Entry(s, p.ChoiceValue(s, ask.Option{Token: job.LookedTyped}), "", d.at))
	return d.state()
}

// What such a look says is still put into words.
func TestTypedWrongIsStillWorded(t *testing.T) {
	s := typedWrong(newDrive(t, small.with(script{job.DrainedAmount: {"55"}})))
	e, _ := s.Answer(job.Place{Topic: job.LookedAgain})
	o, ok := s.PickedOption(job.Place{Topic: job.LookedAgain})
	if !ok || !strings.HasPrefix(o.Label, "I read or typed it wrong") || s.AnswerText(e) != o.Label {
		t.Errorf("%q, %q", o.Label, s.AnswerText(e))
	}
}

func TestTypedWrongAsksTheAmountAgain(t *testing.T) {
	d := newDrive(t, small.with(script{job.DrainedAmount: {"55", "550"}}))
	s := typedWrong(d)
	wrong, ok := s.Answer(job.Place{Topic: job.DrainedAmount})
	if p := asked(t, s, job.DrainedAmount); !ok || p.Strikes != wrong.Seq || p.Place.Item != 0 {
		t.Fatalf("asked for item %d, striking %d; want item 0, striking %d", p.Place.Item, p.Strikes, wrong.Seq)
	}
	s = d.until(job.PlanAccepted)
	near(t, "came out", s.Drained().Total.Nominal, 550, 0.01)
	entries, stands := s.Ledger()
	if e := entries[wrong.Seq-1]; e.Typed != "55" || stands[wrong.Seq-1] {
		t.Errorf("the wrong amount, %q, is kept and struck out: %v", e.Typed, !stands[wrong.Seq-1])
	}
}

// Typed wrong twice, it is looked at twice.
func TestTypedWrongTwice(t *testing.T) {
	d := newDrive(t, small.with(script{job.DrainedAmount: {"55", "56", "550"}}))
	typedWrong(d)
	typedWrong(d)
	near(t, "came out", d.until(job.PlanAccepted).Drained().Total.Nominal, 550, 0.01)
}

// Taking "typed wrong" back gives the amount back.
func TestTypedWrongTakenBack(t *testing.T) {
	d := newDrive(t, small.with(script{job.DrainedAmount: {"55"}}))
	typedWrong(d)
	e, ok := d.state().UndoEntry(d.at)
	if !ok {
		t.Fatal("nothing to undo")
	}
	d.add(e)
	asked(t, d.state(), job.LookedAgain)
}

func TestMoreSaysWhatItIsAddedTo(t *testing.T) {
	for _, row := range []struct {
		units, first, want string
	}{
		{"metric", "150 ml", "Added to 150 ml"},
		{"metric", "100+50 ml", "Added to 150 ml"},
		{"us", "5 floz", "Added to 5.00 US fl oz"},
	} {
		d := newDrive(t, small.with(script{
			job.DisplayUnits: {row.units}, job.Capacity: {"600 ml"}, job.OilTemperature: {"45C"}, job.DrainedAmount: {row.first},
			job.LookedAgain: {job.LookedMore},
		}))
		s := d.until(job.LookedAgain)
		d.answer(s, asked(t, s, job.LookedAgain))
		p := asked(t, d.state(), job.DrainedAmount)
		if got := p.AskText(d.state()); !strings.Contains(got, "How much MORE came out?") || !strings.HasSuffix(got, row.want) {
			t.Errorf("%s, %s: %q, want %q", row.units, row.first, got, row.want)
		}
	}
}

// Where the guide says STOP, or warns and leaves a choice, nothing is chosen
// beforehand.
func TestCautionsOfferNothing(t *testing.T) {
	for topic := range job.NumTopics {
		if sp := ask.SpecOf(topic); sp != nil && sp.Safety && sp.Kind == job.Choose && sp.Default != nil {
			t.Errorf("%v has an answer on offer", topic)
		}
	}
}
