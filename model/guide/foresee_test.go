package guide

import (
	"strings"
	"testing"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// vague is a unit of which too little is known to prove any fill.
var vague = small.with(script{
	job.Capacity: {"1000"}, job.CapacityMeans: {"unknown"}, job.PriorLevel: {"unknown"}, job.ToleranceTopic: {"40"},
	job.DrainedAmount: {"950@20"},
	job.LoadedAmount:  {"1035", "100"}, job.LeftInVessel: {"0", "0"}, job.EscapedAtCap: {"0", "0"}, job.EscapedAmount: {"50", "100"},
})

// That no reading could ever prove the fill is said before the plug is out, with
// what would, and at the load again; where it is known, it is not said.
func TestFalseWord06BeyondProofIsSaidBeforeThePlugIsOut(t *testing.T) {
	t.Parallel()
	d := newDrive(t, vague)
	s := d.until(job.PlugOut)
	f := found(t, s, verdict.BeyondProof)
	if f.Step != job.Isolate || !strings.HasPrefix(f.Text, "No fill can be proven better than ") ||
		!strings.Contains(f.Do, "what the quantity means (") || !strings.Contains(f.Do, "a level seen (") {
		t.Errorf("%v: %q %q", f.Step, f.Text, f.Do)
	}
	if f := found(t, d.until(job.LoadedAmount), verdict.BeyondProof); f.Step != job.Preload {
		t.Errorf("at the load it is said at %v", f.Step)
	}
	known := newDrive(t,
		vague.with(script{job.CapacityMeans: {"refill"}, job.PriorLevel: {"verified"}, job.ToleranceTopic: {"100"}})).until(job.PlugOut)
	notFound(t, known, verdict.BeyondProof)
}

// A help is what it is said to be: with the level before known, the best fill is
// right as often as was foretold.
func TestHelpIsWorkedOut(t *testing.T) {
	t.Parallel()
	s := newDrive(t, vague).until(job.PlugOut)
	p, ok := s.BestFill()
	if !ok {
		t.Fatal("nothing is foreseen")
	}
	for _, h := range s.Worth() {
		if h.PWithin <= p || h.PWithin > 1 || h.ToML >= h.FromML {
			t.Errorf("%s: %.3f becomes %.3f, ± %.0f becomes %.0f", h.What, p, h.PWithin, h.FromML, h.ToML)
		}
		if h.What != "the level before" {
			continue
		}
		better := newDrive(t, vague.with(script{job.PriorLevel: {"verified"}})).until(job.PlugOut)
		q, _ := better.BestFill()
		near(t, "foretold", h.PWithin, q, 1e-6)
	}
}

// What is foretold before the plug is out holds once as much has come out as was expected, by the jug that was
// at hand.
func TestWhatIsForetoldComesTrue(t *testing.T) {
	t.Parallel()
	refill := vague.with(script{job.CapacityMeans: {"refill"}, job.PriorLevel: {"believed"}})
	off := func(drained string, stop job.Topic) float64 {
		f, ok := newDrive(t, refill.with(script{job.DrainedAmount: {drained}})).until(stop).Foresee()
		if !ok {
			t.Fatal("nothing is foreseen")
		}
		return f.Off.U()
	}
	foretold := off("1000@20", job.PlugOut)
	near(t, "± of the best fill, ml", off("1000@20", job.LoadedAmount), foretold, 0.02)
}

// Where nothing can be measured again and oil would put it right, that is the
// act, with the odds before and after; where nothing would, the owner may take
// the risk that is named, and Enter takes it for nobody.
func TestFalseWord06WhatHelpsIsAsked(t *testing.T) {
	t.Parallel()
	d := newDrive(t, vague.with(script{job.LoadedAmount: {"995"}}))
	s := d.until(job.Decision)
	v := verdictOf(t, s, 0)
	if v.Conformity != verdict.NotProven || v.Act != verdict.AddOil || v.PBest <= v.PWithin {
		t.Fatalf("%v, %v, %.2f becomes %.2f", v.Conformity, v.Act, v.PWithin, v.PBest)
	}
	if why := asked(t, s, job.Decision).WhyText(s); !strings.Contains(why, " becomes ") || !strings.Contains(why, " in 100") {
		t.Errorf("%q", why)
	}
	stuck := vague.with(script{job.CapacityMeans: {"refill"}, job.ToleranceTopic: {"30"}, job.DrainedAmount: {"1000@20"},
		job.LoadedAmount: {"1075"}})
	s = newDrive(t, stuck).until(job.Decision)
	v = verdictOf(t, s, 0)
	if v.Conformity != verdict.NotProven || v.Act != verdict.Nothing {
		t.Fatalf("%v, %v, off by %.0f ± %.0f: nothing helps there", v.Conformity, v.Act, v.Error.Nominal, 2*v.Error.U())
	}
	if offered, ok := asked(t, s, job.Decision).DefaultValue(s); ok || !offersAccept(t, s) {
		t.Errorf("on offer: %v", offered.Choice)
	}
	s = newDrive(t, stuck.with(script{job.Decision: {"accept"}})).until(job.LeakCheck)
	wantUnit(t, s, verdict.Accepted, ToRecheck)
	if words := s.StateWords(); !strings.HasPrefix(words, "ACCEPTED, NOT SURE: ") {
		t.Errorf("%q", words)
	}
}

// A reading is asked for again only where it would help: here all the doubt is a
// guess of what escaped.
func TestFalseWord06MeasureAgainOnlyWhatCanBe(t *testing.T) {
	t.Parallel()
	s := newDrive(t,
		small.with(script{job.EscapedHow: {"guess"}, job.EscapedAmount: {"110"}, job.LoadedAmount: {"685"},
			job.EscapeExpected: {"60-160"}, job.ToleranceTopic: {"30"}})).until(job.Decision)
	v := verdictOf(t, s, 0)
	if v.Conformity != verdict.NotProven || v.Act != verdict.Remeasure || verdict.RemeasureName(v.Doubt) != estimate.WillEscape {
		t.Errorf("%v, %v, %s", v.Conformity, v.Act, verdict.RemeasureName(v.Doubt))
	}
}
