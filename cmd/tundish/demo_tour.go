package main

// This file holds the tour of the demo: what to type at each question and what
// to look at. All figures are invented.

import (
	"cmp"
	"slices"
	"strings"

	"garage/tundish/model"
)

// demoStop is a question at which the tour says something of its own.
type demoStop struct {
	look  string
	typed []string // what it says to type, answer by answer; "" is Enter alone
}

// demoStops are the questions from where the demo opens, and after a break.
func demoStops() map[model.Topic]demoStop {
	return map[model.Topic]demoStop{
		model.ResumedStands:      {look: "back at a job: the car first. Press the key shown"},
		model.ResumedPlug:        {"3 and Enter: the port is open", []string{"3"}},
		model.DrainedAmount:      {"type 830, Enter; the bars move with each digit", []string{"830"}},
		model.DrainedTemperature: {"type 40: what is read or seen is never on offer", []string{"40"}},
		model.DrainedMore:        {look: "/ shows the sum so far, Esc is back, Enter goes on"},
		model.PlanAccepted:       {look: "/ opens each figure to its sum; Esc; the key shown"},
		model.HoseBefore:         {"1 and Enter: this hose is dry", []string{"1"}},
		model.LoadedAmount:       {"type 920, then Enter", []string{"920"}},
		model.LoadedTemperature:  {"type 20, then Enter", []string{"20"}},
		model.LoadedMore:         {look: "* is the menu: undo, record, leave. Enter goes on"},
		model.FillReading:        {"700 Enter, 400 Enter, Enter alone: it sees the push", []string{"700", "400", ""}},
		model.AirInLine:          {"1 and Enter: no air was seen", []string{"1"}},
		model.HoseAfter:          {"1 and Enter: it is full of oil now", []string{"1"}},
		model.LeftInVessel:       {"type 20, then Enter", []string{"20"}},
		model.EscapedAtCap:       {"type 5, then Enter", []string{"5"}},
		model.WasherFitted:       {"1 and Enter: a new one", []string{"1"}},
		model.EscapedHow:         {"1 and Enter: caught in the pan", []string{"1"}},
		model.TightenedHow:       {"1 and Enter: by the torque wrench", []string{"1"}},
		model.EscapedAmount:      {"type 30, then Enter: what is inside is known now", []string{"30"}},
		model.Decision:           {look: "the verdict, and how sure it is. Enter accepts it"},
		model.WasteOil:           {"type 1.2 L, then Enter", []string{"1.2 L"}},
		model.LeakCheck:          {look: "the end of the tour. To leave: * then 9, Enter"},
	}
}

// chooseFirst is what the tour says where nothing is on offer, since only
// whoever stands at the car can know: in the demo it is the first.
const chooseFirst = "type 1, then Enter; at a car, what you see"

// coachMark sets a line of the tour apart from what the job itself says.
const coachMark = "demo: "

// spokenTour is the coach of the demo in line mode, which has none of the keys:
// what to type is all that it says.
func spokenTour() func(model.Prompt) string {
	stops := demoStops()
	return func(p model.Prompt) string {
		typed := slices.Clone(stops[p.Topic].typed)
		switch {
		case len(typed) > 0:
		case p.Kind == model.Choose && p.Default == nil:
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

// demoTour is the coach of the demo.
func demoTour() func(model.Prompt) string {
	stops := demoStops()
	return func(p model.Prompt) string {
		look := stops[p.Topic].look
		switch {
		case look != "":
		case p.Kind == model.Acknowledge || p.Kind == model.Event:
			look = "press the key shown"
		case p.Kind == model.Choose && p.Default == nil:
			look = chooseFirst
		default:
			look = "Enter takes what is on offer"
		}
		return coachMark + look
	}
}
