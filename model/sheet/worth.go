package sheet

// This file says what the lines that are not on a sheet would gain.

import (
	"fmt"

	"garage/tundish/model/estimate"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// gains are what an answer is good for that no figure tells.
var gains = map[job.Topic]string{
	job.VesselHeel:     "moves the STOP mark",
	job.EscapeExpected: "moves what is poured in",
	job.OilKV40:        "how long the push takes",
	job.OilKV100:       "how long the push takes",
	job.StrokeVolume:   "a rough second reading, once counted",
	job.RigLastOil:     "how much of it gets into this fill",
	job.StrokesCounted: "a rough second reading",
	job.AdditiveVolume: "counts in the total",
	job.OilDensity:     "needed with a scale only",
	job.PushPressure:   "how long the push takes",
	job.ToleranceTopic: "what counts as right",
	job.ClubKind:       "jobs of one kind can be put on a card",
	job.DrainedMore:    "a second reading finds a misread mark",
	job.DripReading:    "how much is still to come",
	job.DropsCounted:   "how much is still to come",
	job.LoadedMore:     "a second load is added",
	job.EscapedAtCap:   "only if it is poured away before the swap",
	job.EscapedMore:    "pads beside the pan: it is added",
	job.EscapedHow:     "pads weighed dry and wet, or a guess",
	job.OilTemperature: "surer than by feel; or for oil that is hot",
	job.BottlesLeft:    "with the bottles noted, a second reading",
}

// worth says what an answer to an optional line would gain, "" where nothing is known
// of it.
func worth(live *guide.Guide, l Line) string {
	for _, t := range l.Topics() {
		if t == job.BottlesOpened {
			return "a slip of " + live.Units().FormatVolume(live.LeastLoadSlipML(l.Place.Round)) + " would show"
		}
		if from, to, ok := live.WorthOf(t); ok {
			u := live.Units()
			return fmt.Sprintf("± %s becomes ± %s", u.BareVolume(estimate.Coverage*from), u.FormatVolume(estimate.Coverage*to))
		}
		if text, ok := gains[t]; ok {
			return text
		}
	}
	return ""
}
