package model

import (
	"strings"
	"testing"
)

// vague is a unit of which too little is known to prove any fill.
var vague = small.with(script{
	Capacity: {"1000"}, CapacityMeans: {"unknown"}, PriorLevel: {"unknown"}, ToleranceTopic: {"40"}, DrainedAmount: {"950@20"},
	LoadedAmount: {"1035", "100"}, LeftInVessel: {"0", "0"}, EscapedAtCap: {"0", "0"}, EscapedAmount: {"50", "100"},
})

// That no reading could ever prove the fill is said before the plug is out, with
// what would, and at the load again; where it is known, it is not said.
func TestFalseWord06BeyondProofIsSaidBeforeThePlugIsOut(t *testing.T) {
	t.Parallel()
	d := newDrive(t, vague)
	s := d.until(PlugOut)
	f := found(t, s, BeyondProof)
	if f.Step != Isolate || !strings.HasPrefix(f.Text, "No fill can be proven better than ") || !strings.Contains(f.Do, "what the quantity means (") || !strings.Contains(f.Do, "a level seen (") {
		t.Errorf("%v: %q %q", f.Step, f.Text, f.Do)
	}
	if f := found(t, d.until(LoadedAmount), BeyondProof); f.Step != Preload {
		t.Errorf("at the load it is said at %v", f.Step)
	}
	known := newDrive(t, vague.with(script{CapacityMeans: {"refill"}, PriorLevel: {"verified"}, ToleranceTopic: {"100"}})).until(PlugOut)
	notFound(t, known, BeyondProof)
}

// A help is what it is said to be: with the level before known, the best fill is
// right as often as was foretold.
func TestHelpIsWorkedOut(t *testing.T) {
	t.Parallel()
	s := newDrive(t, vague).until(PlugOut)
	now, ok := s.foresee()
	if !ok {
		t.Fatal("nothing is foreseen")
	}
	p, _ := s.bestFill(now)
	for _, h := range s.helps(now, p) {
		if h.p <= p || h.p > 1 {
			t.Errorf("%s: %.3f becomes %.3f", h.what, p, h.p)
		}
		if h.what != "the level before" {
			continue
		}
		better := newDrive(t, vague.with(script{PriorLevel: {"verified"}})).until(PlugOut)
		f, _ := better.foresee()
		q, _ := better.bestFill(f)
		near(t, "foretold", h.p, q, 1e-9)
	}
}

// Where nothing can be measured again and oil would put it right, that is the
// act, with the odds before and after; where nothing would, the owner may take
// the risk that is named, and Enter takes it for nobody.
func TestFalseWord06WhatHelpsIsAsked(t *testing.T) {
	t.Parallel()
	d := newDrive(t, vague.with(script{LoadedAmount: {"995"}}))
	s := d.until(Decision)
	v := verdictOf(t, s, 0)
	if v.Word != NotProven || v.Act != AddOil || v.PBest <= v.PWithin {
		t.Fatalf("%v, %v, %.2f becomes %.2f", v.Word, v.Act, v.PWithin, v.PBest)
	}
	if why := asked(t, s, Decision).WhyText(s); !strings.Contains(why, " becomes ") || !strings.Contains(why, " in 100") {
		t.Errorf("%q", why)
	}
	stuck := vague.with(script{CapacityMeans: {"refill"}, ToleranceTopic: {"30"}, DrainedAmount: {"1000@20"}, LoadedAmount: {"1075"}})
	s = newDrive(t, stuck).until(Decision)
	v = verdictOf(t, s, 0)
	if v.Word != NotProven || v.Act != Nothing {
		t.Fatalf("%v, %v, off by %.0f ± %.0f: nothing helps there", v.Word, v.Act, v.Error.Nominal, 2*v.Error.U())
	}
	if offered, ok := asked(t, s, Decision).DefaultValue(s); ok || !offersAccept(t, s) {
		t.Errorf("on offer: %v", offered.Choice)
	}
	s = newDrive(t, stuck.with(script{Decision: {"accept"}})).until(LeakCheck)
	wantUnit(t, s, Accepted, ToRecheck)
	if words := s.StateWords(); !strings.HasPrefix(words, "ACCEPTED, LIKELY ") {
		t.Errorf("%q", words)
	}
}

// A reading is asked for again only where it would help: here all the doubt is a
// guess of what escaped.
func TestFalseWord06MeasureAgainOnlyWhatCanBe(t *testing.T) {
	t.Parallel()
	s := newDrive(t, small.with(script{EscapedHow: {"guess"}, EscapedAmount: {"110"}, LoadedAmount: {"685"}, ToleranceTopic: {"50"}})).until(Decision)
	v := verdictOf(t, s, 0)
	if v.Word != NotProven || v.Act != Remeasure || RemeasureName(v.Doubt) != guessSource {
		t.Errorf("%v, %v, %s", v.Word, v.Act, RemeasureName(v.Doubt))
	}
}
