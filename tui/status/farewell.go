package status

// This file says what stays to be read on the terminal when the guide is left:
// how each unit that is open stands, and how to go on.

import (
	"garage/tundish/model/car"
	"garage/tundish/model/guide"
	"garage/tundish/model/text"
	"garage/tundish/model/verdict"
	"garage/tundish/tui/theme"
)

// Farewell is what is to be read when the guide is gone, a line each: of the job that was
// on, or, where none was, of those that are not finished. A passing job is not kept.
func Farewell(s *guide.Guide, unfinished []guide.Head, passing bool, glyphs theme.Glyphs) []string {
	var lines []string
	switch {
	case passing:
		lines = []string{"That was an invented job: nothing of it is kept."}
	case s != nil && s.Count > 0:
		lines = farewellJob(s)
	case len(unfinished) > 0:
		for _, h := range unfinished {
			drives := h.UnitState == verdict.AsFound || h.UnitState.Settled()
			lines = append(lines, standsLine(h.Vehicle, h.UnitName, h.StateWords(), drives))
		}
		lines = append(lines, "To go on: tundish")
	default:
		lines = []string{"No job is open."}
	}
	for i := range lines {
		lines[i] = glyphs.Spell(text.Visible(lines[i]))
	}
	return lines
}

// farewellJob says how a job stands that has been begun.
func farewellJob(s *guide.Guide) []string {
	stands := standsLine(s.Vehicle(), s.UnitName(), s.StateWords(), s.MayDrive())
	if words := car.Beside(s); words != "" {
		stands += " On this car: " + words + "."
	}
	switch s.Phase() {
	case guide.Open:
		return []string{stands, "Every accepted answer is kept. To go on where you stopped: tundish"}
	case guide.ToRecheck:
		return []string{stands, "The look at plug and seals after a drive is still to come. To go on: tundish"}
	}
	return []string{stands, End(s)}
}

// standsLine is one line on a unit: which, how it stands, and whether the car
// has to stay where it is.
func standsLine(vehicle, unit, state string, mayDrive bool) string {
	line := JobName(vehicle, unit) + ": " + state + "."
	if !mayDrive {
		line += " Do not move the car."
	}
	return line
}
