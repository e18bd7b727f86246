package runs

import (
	"testing"

	"pgregory.net/rapid"
)

func TestCheckDrawsNoMoreThanAsked(t *testing.T) {
	for long, want := range map[string]int{"": 7, "1": 100} { // 100 is what rapid draws
		t.Setenv("TUNDISH_LONG", long)
		drawn := 0
		Check(t, 7, func(*rapid.T) { drawn++ })
		if drawn != want || Of(1, 2) != len(long)+1 {
			t.Errorf("TUNDISH_LONG=%q: %d cases, want %d", long, drawn, want)
		}
	}
}
