// Package status says how a job stands, in the words that the screen and the line mode
// share: its state, since when, which unit it is of, what an entry is, how it ended.
package status

import (
	"fmt"
	"strconv"
	"time"

	"garage/tundish/model/car"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// Line is what is known of the oil in the unit, since when where it has none, and
// whether the car has to stay where it is.
func Line(s *guide.Guide, now time.Time) string {
	words := s.StateWords()
	switch since := sinceWords(s, now); {
	case since != "":
		words += " " + since + ": do not move"
	case !s.MayDrive():
		words += ": do not move"
	case s.Phase() == guide.Open && s.UnitState().Settled():
		words += ": close out"
	case s.UnitState().Settled() && car.Beside(s) != "":
		words += ": car stays"
	case s.UnitState().Settled():
		words += ": may be driven"
	}
	return words
}

// sinceWords say how long the unit has been empty.
func sinceWords(s *guide.Guide, now time.Time) string {
	if s.UnitState() != verdict.Empty {
		return ""
	}
	out, ok := s.When(job.PlugOut, 0)
	switch {
	case !ok:
		return "from the start"
	case !fits(s, now):
		return "for a time not known"
	}
	return sinceClock(now.Sub(out))
}

// sinceClock is how long something has lasted: hours and minutes, then as Ago says it.
func sinceClock(d time.Duration) string {
	if d = max(d, 0); d < 10*time.Hour {
		return fmt.Sprintf("%d:%02d", int(d.Hours()), int(d.Minutes())%60)
	}
	return Ago(d)
}

// JobName is what a job is called: its car and unit, as far as they are known.
func JobName(vehicle, unit string) string {
	switch {
	case vehicle == "" && unit == "":
		return "new job"
	case vehicle == "":
		return unit
	case unit == "":
		return vehicle
	}
	return vehicle + ", " + unit
}

// EntryWords are the name of an entry, and what was answered.
func EntryWords(s *guide.Guide, e job.Entry) (name, echo string) {
	p, ok := guide.PromptOf(e)
	if !ok {
		return "line " + strconv.Itoa(e.Seq), ""
	}
	return p.NameText(), s.AnswerText(e)
}

// Entry is an entry in words: its name, and what was answered.
func Entry(s *guide.Guide, e job.Entry) string {
	name, echo := EntryWords(s, e)
	return name + ": " + echo
}

// End says how a job has ended.
func End(s *guide.Guide) string {
	if s.StoppedByOwner() {
		return "Stopped: the unit is not to be used as it is. The tag stays on."
	}
	return "Nothing is left to do in this job."
}
