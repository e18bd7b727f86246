package guide

// This file checks that "nothing escaped", a pan that held more than was
// measured, and readings that cannot be told apart are not believed by halves.
// All figures are invented.

import (
	"math"
	"slices"
	"strings"
	"testing"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

func TestFalseWord08NothingEscapedIsLookedAtAgain(t *testing.T) {
	d := newDrive(t, small.with(script{job.EscapedHow: {"none", "caught"}, job.EscapedAmount: {"48"}, job.NothingEscaped: {"some"}}))
	s := d.until(job.NothingEscaped)
	if v, ok := asked(t, s, job.NothingEscaped).DefaultValue(s); ok {
		t.Errorf("%+v is on offer", v)
	}
	near(t, "until then, what usually escapes", s.Escaped(0).Nominal, estimate.EscapeML, 1e-9)
	near(t, "with its usual doubt", s.Escaped(0).U(), estimate.EscapeUML, 1e-9)
	s = d.until(job.Decision)
	near(t, "some did, and was measured", s.Escaped(0).Nominal, 48, 0.5)

	for token, want := range map[string][2]float64{job.NoneDry: {0, estimate.DryLookUML},
		job.NoneNotLooked: {estimate.EscapeML, estimate.EscapeUML}} {
		s = newDrive(t, small.with(script{job.EscapedHow: {"none"}, job.NothingEscaped: {token}})).until(job.Decision)
		near(t, token, s.Escaped(0).Nominal, want[0], 1e-9)
		near(t, token, s.Escaped(0).U(), want[1], 1e-9)
		if _, told := s.EscapedAtSwap(0); told != (token == job.NoneDry) {
			t.Errorf("%s: it teaches what escapes: %v", token, told)
		}
	}
}

// "Nothing" said twice is looked at twice.
func TestFalseWord08NothingSaidAgainIsAskedAgain(t *testing.T) {
	d := newDrive(t, small.with(script{job.EscapedHow: {"none", "none"}, job.NothingEscaped: {"some", "dry"}}))
	d.until(job.Decision)
	looks := 0
	for _, e := range d.job.Entries {
		if e.Topic == job.NothingEscaped {
			looks++
		}
	}
	if looks != 2 {
		t.Errorf("%d second looks, want 2", looks)
	}
}

// A job that was past the swap before a second look was asked for counts as it
// did, and is not opened again.
func TestFalseWord08OlderJobsWithoutTheSecondLook(t *testing.T) {
	d := newDrive(t, small.with(script{job.LoadedAmount: {"575"}, job.EscapedHow: {"none"}}))
	d.until(job.LeakCheck)
	var old []job.Entry
	for _, e := range d.job.Entries {
		if e.Topic != job.NothingEscaped {
			e.Seq = len(old) + 1
			old = append(old, e)
		}
	}
	s := Fold(job.Job{ID: d.job.ID, Started: d.job.Started, Entries: old}, Offers{})
	asked(t, s, job.LeakCheck)
	if e := s.Escaped(0); e.Nominal != 0 || e.U() != 0 {
		t.Errorf("escaped %v ± %v", e.Nominal, e.U())
	}
}

var fullPan = small.with(script{job.DripReading: {"500", "560", ""}, job.DrainedAmount: {"480@20"}, job.OilTemperature: {"20"},
	job.PriorLevel: {"unknown"}})

func TestFalseWord08PanAboveWhatWasMeasured(t *testing.T) {
	d := newDrive(t, fullPan.with(script{job.PanLookedAgain: {"more"}, job.DrainedAmount: {"480@20", "78@20"}}))
	s := d.until(job.PanLookedAgain)
	p := asked(t, s, job.PanLookedAgain)
	if v, ok := p.DefaultValue(s); ok {
		t.Errorf("%+v is on offer", v)
	}
	if ask := p.AskText(s); !strings.Contains(ask, "560 ml") || !strings.Contains(ask, "480 ml") {
		t.Errorf("%q does not name both", ask)
	}
	if !slices.Contains(s.ForbidsProven(), verdict.ForbidsPan) {
		t.Error("until it is answered it may be proven")
	}
	s = d.until(job.PlanAccepted)
	near(t, "with the rest", s.Drained().Total.Nominal, 558, 0.5)

	s = newDrive(t, fullPan.with(script{job.PanLookedAgain: {"lost"}})).until(job.PlanAccepted)
	near(t, "by the stated quantity alone", planFor(t, s, 0).Target.Nominal, planFor(t, s, 0).FromCapacity.Nominal, 1e-9)
	s = newDrive(t, fullPan.with(script{job.PanLookedAgain: {"pan_wrong"}})).until(job.PlanAccepted)
	near(t, "what was measured counts", s.Drained().Total.Nominal, 480, 0.5)

	s = newDrive(t, fullPan.with(script{job.DripReading: {"490", ""}})).until(job.PlanAccepted)
	if s.EverSaid(job.PanLookedAgain) {
		t.Error("10 ml are less than both can err")
	}
}

// A measure corrected after the fill, to less than the pan held, takes PROVEN
// away until somebody says which is wrong; a job of before the question does not.
func TestFalseWord08MeasureCorrectedBelowThePan(t *testing.T) {
	d := newDrive(t, small.with(script{job.DripReading: {"550", ""}}))
	d.until(job.LeakCheck)
	if s := d.correct(job.DrainedAmount, 0, 0, "470"); !slices.Contains(s.ForbidsProven(), verdict.ForbidsPan) {
		t.Error("it may be proven as it stands")
	}
	d = newDrive(t, fullPan)
	d.until(job.LoadedMore)
	i := slices.IndexFunc(d.job.Entries, func(e job.Entry) bool { return e.Topic == job.PanLookedAgain })
	old := slices.Delete(slices.Clone(d.job.Entries), i, i+1)
	for k := range old {
		old[k].Seq = k + 1
	}
	s := Fold(job.Job{ID: d.job.ID, Started: d.job.Started, Entries: old}, Offers{})
	if p, _ := s.Next(); p.Topic == job.PanLookedAgain || slices.Contains(s.ForbidsProven(), verdict.ForbidsPan) {
		t.Errorf("asked of an older job: %v", p.Topic)
	}
}

// Two readings of one quantity: the balance cannot tell which is wrong, whatever
// their doubts. Both are named, the result lies between them, and its doubt
// reaches to both.
func TestFalseWord08NeitherOfTwoIsDroppedAlone(t *testing.T) {
	s := newDrive(t, twoLoads).until(job.BalanceSuspect)
	b := s.Balance(0)
	if len(b.Suspects) != 2 {
		t.Fatalf("suspects %q", b.Suspects)
	}
	p := asked(t, s, job.BalanceSuspect)
	for _, name := range b.Suspects {
		if !strings.Contains(p.AskText(s)+p.WhyText(s), name) {
			t.Errorf("%q, %q do not name %s", p.AskText(s), p.WhyText(s), name)
		}
	}
	for _, st := range s.Balance(0).Streams {
		if off := math.Abs(st.Value.Nominal - b.Passed.Nominal); off > 1.5*b.Passed.U() {
			t.Errorf("%s is %.0f off, of %.0f", st.Name, off, b.Passed.U())
		}
	}
	if !slices.Contains(s.ForbidsProven(), verdict.ForbidsBalance) {
		t.Error("it may be proven")
	}
}

// With a third reading on one side, the one that stands alone is told apart, and
// left out.
func TestFalseWord08OneToldApartIsLeftOut(t *testing.T) {
	s := newDrive(t, small.with(script{
		job.ScaleDivision: {"1 g"}, job.OilDensity: {"885"}, job.DrainedWith: {"scale"}, job.DrainedAmount: {"487 g"},
		job.LoadedWith: {"c0"}, job.LoadedAmount: {"725"}, job.LeftWith: {"c0"},
		job.BottlesOpened: {"1000"}, job.BottlesLeftWith: {"scale"}, job.BottlesLeft: {"324 g"}, job.VesselWeighedFull: {"1553 g"},
		job.VesselWeighedAfter: {"1003 g"},
	})).until(job.BalanceSuspect)
	b := s.Balance(0)
	if !slices.Equal(b.Suspects, []string{"poured in less left over"}) {
		t.Fatalf("suspects %q", b.Suspects)
	}
	near(t, "passed, by the scale", b.Passed.Nominal, 550/0.8815, 3)
}
