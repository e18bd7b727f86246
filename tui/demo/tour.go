package demo

// This file holds the tour of the demo: what to type at each question and what
// to look at. All figures are invented.

import (
	"cmp"
	"slices"
	"strings"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// Stop is a question at which the tour says something of its own.
type Stop struct {
	look  string
	Typed []string // what it says to type, answer by answer; "" is Enter alone
}

// Stops are the questions from where the demo opens, and after a break.
func Stops() map[job.Topic]Stop {
	return map[job.Topic]Stop{
		job.ResumedStands:      {look: "back at a job: the car first. Press the key shown"},
		job.ResumedPlug:        {"3 and Enter: the port is open", []string{"3"}},
		job.DrainedAmount:      {"type 830, Enter; the bars move with each digit", []string{"830"}},
		job.DrainedTemperature: {"type 40: what is read or seen is never on offer", []string{"40"}},
		job.DrainedMore:        {look: "/ shows the sum so far, Esc is back, Enter goes on"},
		job.PlanAccepted:       {look: "/ opens each figure to its sum; Esc; the key shown"},
		job.HoseBefore:         {"1 and Enter: this hose is dry", []string{"1"}},
		job.LoadedAmount:       {"type 920, then Enter", []string{"920"}},
		job.LoadedTemperature:  {"type 20, then Enter", []string{"20"}},
		job.LoadedMore:         {look: "* is the menu: undo, record, leave. Enter goes on"},
		job.FillReading:        {"700 Enter, 400 Enter, Enter alone: it sees the push", []string{"700", "400", ""}},
		job.AirInLine:          {"1 and Enter: no air was seen", []string{"1"}},
		job.HoseAfter:          {"1 and Enter: it is full of oil now", []string{"1"}},
		job.LeftInVessel:       {"type 20, then Enter", []string{"20"}},
		job.EscapedAtCap:       {"type 5, then Enter", []string{"5"}},
		job.WasherFitted:       {"1 and Enter: a new one", []string{"1"}},
		job.EscapedHow:         {"1 and Enter: caught in the pan", []string{"1"}},
		job.TightenedHow:       {"1 and Enter: by the torque wrench", []string{"1"}},
		job.EscapedAmount:      {"type 30, then Enter: what is inside is known now", []string{"30"}},
		job.Decision:           {look: "the verdict, and how sure it is. Enter accepts it"},
		job.WasteOil:           {"type 1.2 L, then Enter", []string{"1.2 L"}},
		job.LeakCheck:          {look: "the end of the tour. To leave: * then 9, Enter"},
	}
}

// chooseFirst is what the tour says where nothing is on offer, since only
// whoever stands at the car can know: in the demo it is the first.
const chooseFirst = "type 1, then Enter; at a car, what you see"

// coachMark sets a line of the tour apart from what the job itself says.
const coachMark = "demo: "

// SpokenTour is the coach of the demo in line mode, which has none of the keys:
// what to type is all that it says.
func SpokenTour() func(guide.Prompt) string {
	stops := Stops()
	return func(p guide.Prompt) string {
		typed := slices.Clone(stops[p.Topic].Typed)
		switch {
		case len(typed) > 0:
		case p.Kind == job.Choose && p.Default == nil:
			return coachMark + chooseFirst
		default:
			return ""
		}
		for i := range typed {
			typed[i] = cmp.Or(typed[i], "Enter alone")
		}
		return coachMark + "type " + strings.Join(typed, ", then ")
	}
}

// Tour is the coach of the demo.
func Tour() func(guide.Prompt) string {
	stops := Stops()
	return func(p guide.Prompt) string {
		look := stops[p.Topic].look
		switch {
		case look != "":
		case p.Kind == job.Acknowledge || p.Kind == job.Event:
			look = "press the key shown"
		case p.Kind == job.Choose && p.Default == nil:
			look = chooseFirst
		default:
			look = "Enter takes what is on offer"
		}
		return coachMark + look
	}
}
