package guide

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/job"
	"garage/tundish/model/quantity"
	"garage/tundish/model/verdict"
)

// settling is a drain that settles at 600 ml, half a share a minute, read to
// 0.1 ml each minute: V = 600(1 − e^(−t/2)).
func settling(readings int) []string {
	var lines []string
	for t := 1; t <= readings; t++ {
		lines = append(lines, fmt.Sprintf("%.1f", 600*(1-math.Exp(-float64(t)/2))))
	}
	return lines
}

// dripping drives a job with these looks at the pan, one a minute, up to the
// moment after the last.
func dripping(t *testing.T, lines ...string) (*drive, time.Time) {
	t.Helper()
	d := newDrive(t, small.with(script{job.Capacity: {"620"}, job.DripReading: lines}))
	d.until(job.DripReading)
	for range lines {
		s := d.state()
		p, _ := s.Next()
		d.at = d.at.Add(time.Minute)
		d.answer(s, p)
	}
	out, _ := d.state().When(job.PlugOut, 0)
	return d, out
}

// By hand: after 8 min 600·e^(−4) = 10.99 ml are to come, below 5 ml after
// 2·ln(10.99/5) = 1.575 min more.
func TestDripsTellWhatIsToCome(t *testing.T) {
	d, out := dripping(t, settling(8)...)
	drips := d.state().Drips(out.Add(8 * time.Minute))
	if !drips.Fitted || !drips.Running || drips.Ended {
		t.Fatalf("fitted %v, running %v, ended %v: %s", drips.Fitted, drips.Running, drips.Ended, drips.Why)
	}
	near(t, "minutes", drips.Minutes, 8, 1e-9)
	near(t, "to come", drips.ToCome.Nominal, 10.99, 0.2)
	near(t, "wait", drips.WaitMin, 1.575, 0.05)
	if got, want := drips.Text(quantity.Metric()), "below 5.0 ml in 2 min"; !strings.Contains(got, want) {
		t.Errorf("text %q, want %q in it", got, want)
	}
	later := d.state().Drips(out.Add(14 * time.Minute)) // 600·e^(−7) = 0.55
	near(t, "to come at 14 min", later.ToCome.Nominal, 0.55, 0.05)
	if later.WaitMin != 0 {
		t.Errorf("wait %v min for what is already below 5 ml", later.WaitMin)
	}
	if lost := d.state().Drips(out.AddDate(30, 0, 0)); lost.Fitted || lost.Why == "" { // a clock that was set wrong
		t.Errorf("30 years later fitted: %v, %q", lost.Fitted, lost.Why)
	}
}

// By hand: after 7 min 600·e^(−3.5) = 18.12 ml are to come, below 5 ml after 2·ln(18.12/5) = 2.575 min more, at 9.6 min. Whoever goes on
// at 9 min is told so, at 10 min not.
func TestDrainEndedSoonerThanItsDripsAsk(t *testing.T) {
	soon, _ := dripping(t, append(settling(7), "")...)
	if f := found(t, soon.until(job.LoadedAmount), verdict.DrainShort); !strings.HasPrefix(f.Text, "Drained for 9 min; it takes 10 min") {
		t.Errorf("%q", f.Text)
	}
	late, _ := dripping(t, append(settling(8), "")...)
	notFound(t, late.until(job.LoadedAmount), verdict.DrainShort)
}

// Three readings leave one degree of freedom, for which ± is 12.71 standard uncertainties
// (JCGM 100:2008, table G.2).
func TestDripsOfThreeReadingsAreDoubtful(t *testing.T) {
	d, out := dripping(t, "236", "380", "466")
	drips := d.state().Drips(out.Add(3 * time.Minute))
	want := quantity.Metric().FormatVolumeU(drips.ToCome.Nominal, 12.706*drips.ToCome.U())
	if got := drips.Text(quantity.Metric()); !drips.Fitted || !strings.Contains(got, want) {
		t.Errorf("%q, want %q in it", got, want)
	}
}

// When the owner ends the drips the clock stands, whatever the time is now.
func TestDripsEndedStopTheClock(t *testing.T) {
	lines := append(settling(8), "")
	d, out := dripping(t, lines...)
	for _, now := range []time.Time{out, out.Add(9 * time.Minute), out.Add(72 * time.Hour)} {
		drips := d.state().Drips(now)
		if !drips.Ended || drips.Running {
			t.Fatalf("ended %v, running %v", drips.Ended, drips.Running)
		}
		near(t, "minutes", drips.Minutes, 9, 1e-9)
		near(t, "left in", drips.ToCome.Nominal, 6.67, 0.2) // 600·e^(−4.5)
	}
}

// A correction puts right what was read; the reading was taken when it was.
func TestCorrectedDripKeepsItsTime(t *testing.T) {
	lines := settling(8)
	lines[3] = "500.0" // 518.8 misread
	d, out := dripping(t, lines...)
	d.at = d.at.Add(5 * time.Minute)
	s := d.correct(job.DripReading, 0, 3, "518.8")
	drips := s.Drips(out.Add(8 * time.Minute))
	near(t, "time of the corrected reading", drips.Readings[3].Minutes, 4, 1e-9)
	near(t, "to come", drips.ToCome.Nominal, 10.99, 0.2)
	s = d.correct(job.DripReading, 0, 3, "518.7") // and once more
	near(t, "time of the reading corrected twice", s.Drips(out).Readings[3].Minutes, 4, 1e-9)
}

func TestDripsSayWhyNot(t *testing.T) {
	for _, tt := range []struct {
		name  string
		lines []string
		want  string
	}{
		{"none", nil, "3 more readings tell what is to come"},
		{"one", settling(1), "2 more readings tell what is to come"},
		{"two", settling(2), "1 more reading tells what is to come"},
		{"none, ended", []string{""}, "too few readings to tell what was left"},
		{"still running", []string{"100", "200", "300", "400"}, "still running: read again in 5 minutes"},
		{"still running, ended", []string{"100", "200", "300", "400", ""}, "the readings do not tell what was left"},
		{"nothing", []string{"0", "0", "0"}, "nothing has come out: check that the port is open and read again in 5 minutes"},
	} {
		t.Run(tt.name, func(t *testing.T) {
			d, out := dripping(t, tt.lines...)
			drips := d.state().Drips(out.Add(10 * time.Minute))
			if got := drips.Text(quantity.Metric()); got != tt.want || drips.Fitted {
				t.Errorf("text %q, want %q", got, tt.want)
			}
		})
	}
	s := newDrive(t, small).state()
	if got := s.Drips(start).Why; got != "the plug is not out yet" {
		t.Errorf("before the plug is out: %q", got)
	}
}

// A clock set back, or a job from a stranger, gives no wild figure.
func TestDripsOfAClockSetBack(t *testing.T) {
	d, out := dripping(t, settling(6)...)
	if drips := d.state().Drips(out.Add(-time.Hour)); drips.Minutes != 0 {
		t.Errorf("%v minutes since a time to come", drips.Minutes)
	}
	for i, e := range d.job.Entries {
		if e.Topic == job.DripReading && e.Item == 2 {
			d.job.Entries[i].At = out.Add(-time.Hour)
		}
	}
	if drips := d.state().Drips(out.Add(time.Hour)); drips.Fitted || drips.Why == "" {
		t.Errorf("fitted %v, why %q", drips.Fitted, drips.Why)
	}
}

// What may be more than it is not told as less than nothing.
func TestDripsInDoubtSayAtMost(t *testing.T) {
	d, out := dripping(t, "500", "575", "590", "597")
	drips := d.state().Drips(out.Add(4 * time.Minute))
	if !drips.Fitted {
		t.Fatal(drips.Why)
	}
	if got := drips.Text(quantity.Metric()); !strings.Contains(got, "at most") {
		t.Errorf("text %q of %v ± %v", got, drips.ToCome.Nominal, drips.ToCome.U())
	}
}
