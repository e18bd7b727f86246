package tui

// This file is the help: what this question is, and the keys.

import (
	"garage/tundish/model/job"
	"garage/tundish/model/text"
)

// keyHelp is what the keys do, on a number pad and on a keyboard.
var keyHelp = [][2]string{
	{"Enter, PgDn", "accept what is typed or chosen, or what is on offer"},
	{"the digit shown", "confirms a caution; it changes, and Enter never does"},
	{".  then Enter", "don't know, where that is allowed"},
	{"1 to 9, arrows", "choose from a list"},
	{"+", "first step: take over all that is shown"},
	{"*  or Esc", "menu: undo, correct, record, other job, leave"},
	{"*", "clears a figure that is half typed"},
	{"PgUp", "correct an earlier answer"},
	{"/  or F2", "the sums behind every number"},
	{"?  or F1", "this help"},
	{"F3", "write the record to a file; - does it once the job is done"},
	{"the mouse", "points at an item, its wheel scrolls; never needed"},
	{"Ctrl+C", "leave; everything accepted is kept"},
}

// amountHelp is how amounts are typed.
var amountHelp = [][2]string{
	{"830  0.83 L  28.1 floz", "a volume, in your unit or another"},
	{"500+330", "two goes with one jug: two readings"},
	{"830@60", "read at 60 degrees"},
	{"1235-330 g", "on the scale: gross less tare"},
	{"1 1/2 qt", "fractions"},
}

// stepHelp is what a step is for, in plain words.
var stepHelp = [...]string{
	job.Prepare: "Everything the sums rest on. Enter takes what is on offer; a figure that you do not know is worth " +
		"saying so: the doubt is then counted.",
	job.Isolate: "Nothing is opened yet. Each caution has its own key, so that none is passed by leaning on Enter.",
	job.Drain: "Warm, not hot. From plug out to the verdict the unit counts as EMPTY or UNPROVEN. Readings while it " +
		"drips tell what is still to come.",
	job.Measure: "What came out, measured once or twice. A scale beats marks; the same jug out and in cancels its own error.",
	job.Preload: "The plan is a sum: what belongs in, what the hose keeps, what stays in the vessel, what will " +
		"escape. Load it, and say what is really in.",
	job.Fill: "Push slowly. Type what is left in the vessel as you go; Enter alone at the end.",
	job.Cap: "Shut, vent to zero, hose off, cap, and let it settle. Say where the hose's oil went, what is left " +
		"over and what leaked so far.",
	job.Seat:     "The swap: cap out, plug and new washer in, everything that escapes is caught and counted.",
	job.CloseOut: "The verdict compares what is in with what belongs in and says how sure that is. Correct while the car is up.",
}

func helpLines(sc scene) []string {
	t := sc.app.theme
	p := sc.app.guide.answer.prompt
	var lines []string
	if p.Spec != nil {
		lines = append(lines, " "+t.Strong.Render(p.AskText(sc.state)))
		lines = append(lines, styledLines(t.Text, "  ", text.Wrap(stepHelp[p.Step], sc.width-4))...)
		if p.Unknown != "" {
			lines = append(lines, "  "+t.Dim.Render("don't know means: "+p.UnknownText(sc.state)))
		}
		lines = append(lines, "")
	}
	lines = append(lines, " "+t.Strong.Render("Keys"))
	lines = append(lines, columns(keyHelp, 24)...)
	lines = append(lines, "", " "+t.Strong.Render("Amounts"))
	lines = append(lines, columns(amountHelp, 24)...)
	return lines
}
