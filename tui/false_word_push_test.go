package tui

// This file does jobs in the line mode in which a person says where the oil
// went; what is said of it at the end must be true.

import (
	"slices"
	"strings"
	"testing"
)

// say goes through a job to a question; those that begin with these words are
// answered so.
func (l *listener) say(until string, lines map[string]string) string {
	l.t.Helper()
	heard := l.hear()
	for range 200 {
		question := strings.TrimPrefix(lastLine(heard), "CAUTION: ")
		if strings.HasPrefix(question, until) {
			return heard
		}
		typed := reply(lastLine(heard))
		for begins, line := range lines {
			if strings.HasPrefix(question, begins) {
				typed = line
			}
		}
		heard = l.types(typed)
	}
	l.t.Fatalf("never asked: %s\n%s", until, l.said)
	return ""
}

// 10 mm by 2 m hold 157 ml: run into the pan, they are in the 185 caught, and
// 739 of 740 are in. Worked by hand; invented figures.
func TestFalseWord05HoseDrainedIntoThePan(t *testing.T) {
	l := listening(t, newMemory())
	heard := l.say("In the unit", map[string]string{
		"Stated quantity": "740", "What does that quantity": "2", "Hose: bore": "10", "Hose: length": "2", "How much came out?": "740",
		"Really in the vessel now?": "1000", "The oil of the hose": "3", "Left in the vessel now?": "60",
		"In the pan so far": "0", "Escaped at the swap?": "185",
	})
	if !strings.Contains(heard, "In the unit: 739") || !strings.Contains(heard, "VERDICT: likely within") {
		t.Errorf("a right fill is told:\n%s", heard)
	}
}

// A vessel under air is vented, the hose is off and the adapter capped before
// anybody looks at what is left in it.
func TestFalseWord04VentComesBeforeTheVesselIsTouched(t *testing.T) {
	l := listening(t, newMemory())
	l.say("In the unit", map[string]string{"What pushes the oil in?": "2", "Pressure rating": "100 kPa", "Pressure to push with": "40 kPa"})
	said := l.said.String()
	var at []int
	for _, words := range []string{"Push with 40 kPa, never above 100 kPa", "Left in the vessel as you push",
		"vented to zero BEFORE", "adapter capped", "Left in the vessel now?"} {
		at = append(at, strings.Index(said, words))
	}
	if at[0] < 0 || !slices.IsSorted(at) {
		t.Errorf("said at %v, want one after the other", at)
	}
}

// "Nothing escaped" is asked for a second time, with nothing on offer.
func TestFalseWord08NothingEscapedIsAskedTwice(t *testing.T) {
	l := listening(t, newMemory())
	heard := l.say("Nothing at all?", map[string]string{"What escaped at the swap": "4"})
	if !strings.Contains(lastLine(heard), "(a number from 1 to 3)") {
		t.Errorf("on offer: %s", lastLine(heard))
	}
	heard = l.types("2") // some did
	if !strings.Contains(lastLine(heard), "What escaped at the swap") {
		t.Errorf("asked after that some escaped: %s", lastLine(heard))
	}
}

// 560 in the pan and 480 measured: one of the two is wrong, and the guide stops
// for it.
func TestFalseWord08PanAboveTheMeasure(t *testing.T) {
	l := listening(t, newMemory())
	l.say("How much is out by now?", nil)
	heard := l.types("560")
	for range 20 {
		question := strings.TrimPrefix(lastLine(heard), "CAUTION: ")
		if strings.HasPrefix(question, "STOP: ") {
			break
		}
		answer := reply(lastLine(heard))
		if strings.HasPrefix(question, "How much came out?") {
			answer = "480"
		}
		heard = l.types(answer)
	}
	if last := lastLine(heard); !strings.Contains(last, "in the pan, 480 ml measured. What is wrong?") {
		t.Errorf("asked: %s", last)
	}
}
