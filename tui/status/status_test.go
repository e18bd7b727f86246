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
