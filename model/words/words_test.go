package words

import (
	"fmt"
	"testing"
)

// Each word is found in any case of letters and any form of it, and where it may
// stand it is let stand. Sentences are invented.
func TestCheckFindsWords(t *testing.T) {
	for text, faults := range map[string]int{
		"Stated quantity  900 ml":                         1,
		"Net fill by the ledger: 40 ml escaped":           3,
		"the largest part of the doubt":                   1,
		"UNIT UNPROVEN, the neighbour's oil":              2,
		"pre-load 910 ml: charge, rounded up":             1,
		"calc plan --heel 10ml --residual=8% --escape 5":  0,
		"most of the doubt: spill at the swap":            0,
		"prepare isolate drain measure pre-load fill":     0,
		"another window may list; make the window larger": 0,
		"the window is 780 to 890 ml":                     1,
		"LIKELY if the assumptions hold; 90 in 100 right": 0,
		"poured in, went in, spilled, stays inside, vent": 0,
		"key in your pocket; the plug key":                1,
		"the window is 780 ml, the window of old":         2,
		"2.0 bar, 29 psi":                                 0,
		"200 kPa":                                         1,
	} {
		if got := Check(text); len(got) != faults {
			t.Errorf("%q: %q, want %d", text, got, faults)
		}
	}
}

// A fault is said with the line that it stands in, the first, the last or between.
func TestCheckSaysWhere(t *testing.T) {
	for text, line := range map[string]string{"200 kPa\nof it\n": "200 kPa", "that is\n200 kPa or so\nof it": "200 kPa or so",
		"that is\n\n  200 kPa ": "200 kPa"} {
		if got := Check(text); len(got) != 1 || got[0] != fmt.Sprintf("%q: say bar, psi: %q", "kPa", line) {
			t.Errorf("%q: %q", text, got)
		}
	}
}
