package agenda

import "testing"

func TestDaysInWords(t *testing.T) {
	for days, want := range map[int]string{
		-1: "overdue by 1 day", -59: "overdue by 59 days", -60: "overdue by 2 months", -4 * 365: "overdue by 4 years",
		0: "today", 1: "tomorrow", 2: "in 2 days", 61: "in 2 months", 365: "in 12 months", 731: "in 2 years",
	} {
		if got := daysWords(days); got != want {
			t.Errorf("%d days: %q, want %q", days, got, want)
		}
	}
}
