package demo

// This file holds the tour of the demo: what to type at each line and what to look
// at. All figures are invented.

import (
	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
)

// Stop is a line at which the tour says something of its own.
type Stop struct {
	look  string
	Typed []string // what it says to type, answer by answer; "" is Enter alone
}

// Stops are the lines from where the demo opens, and after a break, by the first of
// their questions that is named here.
func Stops() map[job.Topic]Stop {
	return map[job.Topic]Stop{
		job.ResumedPlug:   {"back at a job: press 3, the port is open", []string{"3"}},
		job.DrainedAmount: {"type 830, Enter: the bars move with each digit", []string{"830"}},
		job.HoseBefore:    {"press 1: this hose is dry", []string{"1"}},
		job.LoadedAmount:  {"that much goes into the vessel. Type 1000, Enter", []string{"1000"}},
		job.FillReading:   {"type 700 Enter, 400 Enter, then Enter alone", []string{"700", "400", ""}},
		job.FillEnded:     {"press 1: pushed until the STOP mark", []string{"1"}},
		job.Capped:        {"press 1: the hose is full of oil now", []string{"1"}},
		job.LeftInVessel:  {"type 50, then Enter", []string{"50"}},
		job.PlugSeated:    {"press 1: a new washer", []string{"1"}},
		job.TightenedHow:  {"press 1: by the torque wrench", []string{"1"}},
		job.EscapedAmount: {"type 35, Enter: what is in is known now", []string{"35"}},
		job.Decision:      {"the verdict. + how it was worked out, 6 accepts it", []string{"6"}},
		job.LeakCheck:     {"the end of the tour. To leave: * then 10, Enter", nil},
	}
}

// coachMark sets a line of the tour apart from what the job itself says.
const coachMark = "demo: "

// Tour is the coach of the demo: what it says at a line of a sheet, -1 where all of
// it is answered.
func Tour() func(sheet.Sheet, int) string {
	stops := Stops()
	return func(s sheet.Sheet, line int) string {
		if line < 0 || line >= len(s.Lines) {
			return coachMark + "all is answered here: Enter; / looks back"
		}
		l := s.Lines[line]
		for _, t := range l.Topics() {
			if stop, ok := stops[t]; ok {
				return coachMark + stop.look
			}
		}
		switch {
		case l.Kind == sheet.Confirm:
			return coachMark + "press " + string(l.Key) + ": each caution has a digit of its own"
		case l.Kind == sheet.Choice:
			return coachMark + "press " + string(l.Options[0].Key) + "; at a car, what you see"
		}
		return coachMark + "Enter leaves it as it stands"
	}
}
