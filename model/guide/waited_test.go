package guide

import (
	"slices"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// kindsCut are the kinds of what was cut short in a job, each once.
func kindsCut(s *Guide) []verdict.FindingKind {
	var kinds []verdict.FindingKind
	for _, f := range s.CutShort() {
		if !slices.Contains(kinds, f.Kind) {
			kinds = append(kinds, f.Kind)
		}
	}
	return kinds
}

// What is waited for in full is not found; what is cut short is, at its step and
// with its times, and keeps the fill from being proven where it decides. The
// lengths of the waits are common practice, no source.
func TestFalseWord10WaitsCutShortAreFound(t *testing.T) {
	t.Parallel()
	short := small.with(script{job.DrainedAmount: {"200"}, job.LookedAgain: {"nothing_more"}, job.BasisWhy: {"so"}, job.Decision: {"leave"},
		job.LeftWhy: {"late"}})
	for name, c := range map[string]struct {
		lines script
		hasty bool
		want  []verdict.FindingKind
	}{
		"all waited for":            {small, false, nil},
		"a level, all waited for":   {level, false, nil},
		"looked again, waited":      {short, false, nil},
		"nothing waited for":        {small, true, []verdict.FindingKind{verdict.DrainShort, verdict.CapShort, verdict.CheckShort}},
		"a level, nothing waited":   {level, true, []verdict.FindingKind{verdict.DrainShort, verdict.SettleShort, verdict.CheckShort}},
		"looked again at once":      {short, true, []verdict.FindingKind{verdict.DrainShort, verdict.LookShort, verdict.CapShort}},
		"cold":                      {small.with(script{job.OilTemperature: {"5"}}), false, []verdict.FindingKind{verdict.DrainCold}},
		"a dry unit drains nothing": {dry, true, []verdict.FindingKind{verdict.CapShort, verdict.CheckShort}},
	} {
		d := newDrive(t, c.lines)
		d.hasty = c.hasty
		s := d.until(job.NoTopic)
		if got := kindsCut(s); !slices.Equal(got, c.want) {
			t.Errorf("%s: %v, want %v", name, got, c.want)
		}
		if s.UnitState() == verdict.Proven && c.hasty && c.want[0] == verdict.DrainShort {
			t.Errorf("%s: proven", name)
		}
	}
}

func TestFalseWord10AJobClickedThroughIsNotProven(t *testing.T) {
	t.Parallel()
	for name, sc := range map[string]script{"drain port": small, "level port": level} {
		d := newDrive(t, sc)
		if s := d.until(job.NoTopic); s.UnitState() != verdict.Proven {
			t.Fatalf("%s: %v where all was waited for: %v", name, s.UnitState(), s.WhyNotProven())
		}
		for i := range d.job.Entries { // the same job, clicked through
			d.job.Entries[i].At = start.Add(time.Duration(i) * time.Second)
		}
		s := d.state()
		if s.UnitState() != verdict.Accepted || !slices.Contains(s.ForbidsProven(), verdict.ForbidsHaste) {
			t.Errorf("%s: %v, %v", name, s.UnitState(), s.WhyNotProven())
		}
	}
}

// The drain counts from plug out to the last measure of what came out; putting a
// reading right later makes it no longer, and a clock that was set back tells no
// time. Readings of the drips say sooner that it is over.
func TestFalseWord10DrainTime(t *testing.T) {
	t.Parallel()
	d := newDrive(t, small)
	d.hasty = true
	d.until(job.LoadedAmount)
	took, ok := d.state().DrainedFor()
	if !ok || took <= 0 || took > 10*time.Minute {
		t.Fatalf("drained for %v, %v", took, ok)
	}
	d.at = d.at.Add(time.Hour)
	if now, _ := d.correct(job.DrainedAmount, 0, 0, "551").DrainedFor(); now != took {
		t.Errorf("corrected an hour later it drained for %v, not %v", now, took)
	}
	f := found(t, d.state(), verdict.DrainShort)
	if f.Step != job.Measure || !strings.Contains(f.Text, verdict.SpanWords(took)) || !strings.Contains(f.Text, "14 min") {
		t.Errorf("%+v", f)
	}
	for i, e := range d.job.Entries {
		if e.Topic == job.DrainedAmount {
			d.job.Entries[i].At = start.Add(-time.Hour)
		}
	}
	if now, ok := d.state().DrainedFor(); !ok || now != 0 {
		t.Errorf("with the clock set back it drained for %v, %v", now, ok)
	}
}

// Whoever looks at the level again, late enough, has waited.
func TestFalseWord10LookingAgainPutsItRight(t *testing.T) {
	t.Parallel()
	d := newDrive(t, level)
	d.hasty = true
	found(t, d.until(job.PlugSeated), verdict.SettleShort)
	d.at = d.at.Add(verdict.SettleWait)
	if got := kindsCut(d.correct(job.LevelWeeps, 0, 0, "weeps")); slices.Contains(got, verdict.SettleShort) {
		t.Errorf("%v after looking again", got)
	}
}
