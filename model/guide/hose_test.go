package guide

// This file checks that the oil of the hose is counted once, wherever it went.

import (
	"testing"

	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// drainedHose is a hose of 10 mm by 2 m, 157 ml, of which a film of 16 stays
// when it has run out. 1000 loaded and 45 spilt: 738 of the 740 that belong in.
// Worked by hand from the contents of a cylinder and the film of a draining
// plate; invented figures.
var drainedHose = small.with(script{
	job.Capacity: {"740"}, job.CapacityMeans: {"refill"}, job.PriorLevel: {"verified"}, job.DrainedAmount: {"740@20"},
	job.HoseBore: {"10"}, job.HoseLength: {"2"},
	job.LoadedAmount: {"1000"}, job.LoadedTemperature: {"20"},
})

func TestFalseWord05OilOfTheHoseIsBookedOnce(t *testing.T) {
	for _, row := range []struct {
		after, left, atCap, atSwap string
		inUnit                     float64
	}{
		{"full", "60", "0", "45", 738},
		{"pan", "60", "0", "185", 739},
		{"pan", "60", "140", "45", 739},
		{"back", "200", "0", "45", 739},
	} {
		d := newDrive(t, drainedHose.with(script{
			job.HoseAfter: {row.after}, job.LeftInVessel: {row.left}, job.EscapedAtCap: {row.atCap}, job.EscapedAmount: {row.atSwap},
		}))
		s := d.until(job.Decision)
		v := verdictOf(t, s, 0)
		near(t, row.after, s.NetFill(0).Nominal, row.inUnit, 2)
		if v.Conformity != verdict.Within {
			t.Errorf("%s: %v, %v ml to put right; want within", row.after, v.Conformity, v.ActML)
		}
	}
}

// What the pan does not hold of the hose's oil never got into the unit.
func TestFalseWord05PanThatHoldsLessThanTheHose(t *testing.T) {
	s := newDrive(t, drainedHose.with(script{
		job.HoseAfter: {"pan"}, job.LeftInVessel: {"60"}, job.EscapedAtCap: {"0"}, job.EscapedAmount: {"20"},
	})).until(job.Decision)
	near(t, "in the unit", s.NetFill(0).Nominal, 1000-60-157, 1)
}

// The end of a hose is seen by somebody: it is never taken by Enter alone, and
// with its oil in the pan nothing is on offer for what was spilled so far.
func TestFalseWord05EndOfTheHoseIsNotOnOffer(t *testing.T) {
	d := newDrive(t, drainedHose.with(script{job.HoseAfter: {"pan"}, job.LeftInVessel: {"60"}}))
	s := d.until(job.HoseAfter)
	if v, ok := asked(t, s, job.HoseAfter).DefaultValue(s); ok {
		t.Errorf("%+v is on offer", v)
	}
	s = d.until(job.EscapedAtCap)
	p := asked(t, s, job.EscapedAtCap)
	if v, ok := p.DefaultValue(s); ok {
		t.Errorf("on offer %+v", v)
	}
}

// Both words of older files mean what they meant.
func TestFalseWord05OlderEndsOfTheHoseKeepTheirMeaning(t *testing.T) {
	for after, inUnit := range map[string]float64{"full": 1000 - 60 - 157.08 - 45, "cleared": 1000 - 60 - 45} {
		s := newDrive(t,
			drainedHose.with(script{job.HoseAfter: {after}, job.LeftInVessel: {"60"}, job.EscapedAtCap: {"0"},
				job.EscapedAmount: {"45"}})).until(job.Decision)
		near(t, after, s.NetFill(0).Nominal, inUnit, 0.5)
	}
}

// A hose that was full before and ran back leaves more in the vessel than was
// loaded: 120 loaded, nothing pushed, 25 from the hose.
func TestHoseThatRanBackMayLeaveMoreThanWasLoaded(t *testing.T) {
	t.Parallel()
	lines := small.with(script{job.HoseBefore: {"primed"}, job.LoadedAmount: {"120"}, job.HoseAfter: {"back"}})
	s := newDrive(t, lines).until(job.LeftInVessel)
	p := asked(t, s, job.LeftInVessel)
	for text, taken := range map[string]bool{"145": true, "200": false} {
		if _, err := p.Parse(s, text); (err == nil) != taken {
			t.Errorf("%s ml left: %v", text, err)
		}
	}
}

// Marks 100 ml apart show 150 to 250 ml as 200: that more is read off than was
// loaded is no mistake of anybody's. Worked by hand: half a mark each time.
func TestCoarseMarksMayShowMoreLeftThanWasLoaded(t *testing.T) {
	t.Parallel()
	lines := small.with(script{job.VesselGraduation: {"100"}, job.LoadedWith: {"vessel"}, job.LeftWith: {"vessel"},
		job.LoadedAmount: {"200"}})
	s := newDrive(t, lines).until(job.LeftInVessel)
	p := asked(t, s, job.LeftInVessel)
	for text, taken := range map[string]bool{"300": true, "400": false} {
		if _, err := p.Parse(s, text); (err == nil) != taken {
			t.Errorf("%s ml left: %v", text, err)
		}
	}
}

// The oil that came back weighs: the vessel may be heavier than before. Of 120 ml
// nothing was pushed, 25 ml of the hose are about 22 g.
func TestHoseThatRanBackMayMakeTheVesselHeavier(t *testing.T) {
	t.Parallel()
	for after, most := range map[string]string{"back": "922", "full": "900"} {
		lines := small.with(script{
			job.ScaleDivision: {"1"}, job.VesselWeighedFull: {"900"}, job.LoadedAmount: {"120"}, job.LeftInVessel: {"120"},
			job.HoseBefore: {"primed"}, job.HoseAfter: {after},
		})
		s := newDrive(t, lines).until(job.VesselWeighedAfter)
		p := asked(t, s, job.VesselWeighedAfter)
		for text, taken := range map[string]bool{most: true, "1000": false} {
			if _, err := p.Parse(s, text); (err == nil) != taken {
				t.Errorf("hose %s, %s g after: %v", after, text, err)
			}
		}
	}
}
