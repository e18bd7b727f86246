package status

import (
	"testing"
	"time"
)

func TestSinceClock(t *testing.T) {
	for d, want := range map[time.Duration]string{
		-time.Minute: "0:00", 56 * time.Minute: "0:56", 9*time.Hour + 59*time.Minute: "9:59", 14 * time.Hour: "14 h",
		72 * time.Hour: "3 days",
	} {
		if got := sinceClock(d); got != want {
			t.Errorf("%v: %q, want %q", d, got, want)
		}
	}
}

// What is counted changes at whole units from where it is counted, be that past or to come.
func TestNextChange(t *testing.T) {
	noon := time.Date(2026, 4, 18, 12, 0, 0, 0, time.UTC)
	for _, row := range []struct{ since, unit, want time.Duration }{
		{-90 * time.Second, time.Minute, 30 * time.Second},
		{-2 * time.Minute, time.Minute, time.Minute},
		{90 * time.Second, time.Minute, 30 * time.Second},
		{-1250 * time.Millisecond, time.Second, 750 * time.Millisecond},
	} {
		n := Next{Now: noon}
		n.Count(noon.Add(row.since), row.unit)
		n.Count(noon.Add(row.since), time.Hour) // later: of no effect
		if got := n.At.Sub(noon); got != row.want {
			t.Errorf("counted by %v from %v: in %v, want %v", row.unit, row.since, got, row.want)
		}
	}
}
