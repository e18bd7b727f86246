package guide

import (
	"math"
	"testing"

	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// small is a whole drain-port job: 550 ml out of 600 at 20 °C with the default
// settings, a hose of 25 ml (bore 4.6066 mm, 1.5 m), 625 in, nothing left over,
// the hose left full, 50 caught. Invented figures.
var small = script{
	job.Capacity:       {"600"},
	job.HoseBore:       {"4.6066"},
	job.HoseLength:     {"1.5"},
	job.VesselHeel:     {"0"},
	job.OilTemperature: {"20"},
	job.DrainedAmount:  {"550"},
	job.LoadedAmount:   {"625"},
	job.LeftInVessel:   {"0"},
	job.EscapedAtCap:   {"0"},
	job.EscapedAmount:  {"50"},
	job.LeakCheck:      {"dry"},
	job.WasherRecheck:  {"dry"},
}

// The plan for 550 out of 600 is 600 to 640 ml: common practice, no source.
func TestSmallJobFromStartToFinish(t *testing.T) {
	d := newDrive(t, small)
	s := d.until(job.PlanAccepted)
	plan, err := s.Plan(0)
	if err != nil {
		t.Fatal(err)
	}
	if plan.PreloadML < 600 || plan.PreloadML > 640 {
		t.Errorf("pre-load %.1f ml, want 600 to 640", plan.PreloadML)
	}
	if s.UnitState() != verdict.Empty {
		t.Errorf("with the plug out the unit is %v, want empty", s.UnitState())
	}
	s = d.until(job.Decision)
	if s.UnitState() != verdict.Unproven {
		t.Errorf("before the decision the unit is %v, want unproven", s.UnitState())
	}
	v, err := s.Verdict(0)
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(s.NetFill(0).Nominal-550) > 0.5 {
		t.Errorf("net fill %.2f ml, want 550", s.NetFill(0).Nominal)
	}
	if v.Conformity != verdict.Within && v.Conformity != verdict.LikelyWithin {
		t.Errorf("verdict %v (P within %.3f), want within or likely within", v.Conformity, v.PWithin)
	}
	s = d.until(job.LeakCheck)
	if s.UnitState() != verdict.Proven || s.Phase() != ToRecheck {
		t.Errorf("after the decision: %v, %v; want proven, to re-check", s.UnitState(), s.Phase())
	}
	s = d.until(job.NoTopic)
	if s.Phase() != Done {
		t.Errorf("at the end the job is %v, want done", s.Phase())
	}
	t.Logf("%d entries, preload %.0f, P %.3f, target %.1f±%.1f", s.Count, plan.PreloadML, v.PWithin, plan.Target.Nominal, plan.Target.U())
}
