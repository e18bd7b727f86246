package verdict

// This file splits the uncertainty of a sum by its causes, as a person would name them, and
// says what would make it smaller.

import (
	"cmp"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"garage/tundish/model/device"
	"garage/tundish/model/estimate"
	"garage/tundish/model/measure"
)

// DoubtShare is the share that one cause has in the variance of a sum.
type DoubtShare struct {
	Name  string         // of the thing, in words
	Share float64        // 0 to 1
	Thing measure.Source // of ThingOf
}

// Budget is an uncertainty budget: the contributions to a variance added up by cause, the
// largest first.
func Budget(contributions []measure.Contribution) []DoubtShare {
	shares := map[measure.Source]float64{}
	for _, c := range contributions {
		if c.C != 0 {
			shares[ThingOf(c.Source)] += c.Share
		}
	}
	doubt := make([]DoubtShare, 0, len(shares))
	for thing, share := range shares {
		doubt = append(doubt, DoubtShare{WordsOf(thing), share, thing})
	}
	slices.SortFunc(doubt, func(a, b DoubtShare) int {
		return cmp.Or(cmp.Compare(b.Share, a.Share), cmp.Compare(a.Name, b.Name))
	})
	return doubt
}

// mostOfIt is the share of a variance from which one cause dominates.
const mostOfIt = 0.5

// adviceOn is what would make a sum surer, by the largest share; "" where it is
// exact.
func (s *Assessment) adviceOn(doubt []DoubtShare) string {
	if len(doubt) == 0 {
		return ""
	}
	first := doubt[0]
	advice := "Most of the doubt"
	if first.Share < mostOfIt {
		advice = "The largest share of it"
	}
	return advice + ": " + first.Name + ". " + sentence(s.Remedy(first.Thing))
}

// Remedy is what makes the uncertainty from one cause smaller.
func (s *Assessment) Remedy(thing measure.Source) string {
	_, scale := s.ScaleDivisionG()
	switch {
	case device.IsMarks(thing) && scale:
		return "use the scale, or check them with water on the scale"
	case device.IsMarks(thing) && s.SharedJugNote() != "":
		return "only a scale helps; between out and in it cancels already"
	case device.IsMarks(thing) && s.onlyStated():
		return "only a scale helps"
	case device.IsMarks(thing):
		return "use a scale, or the same container for out and in"
	case thing.Kind == device.ScaleErrorSource:
		return "weigh something that is marked with its mass"
	case thing.Kind == device.WeighSource || thing.Kind == device.ScaleSource:
		return "a scale that reads finer helps"
	case thing.Kind == device.ReadSource && scale:
		return "use the scale, or finer marks"
	case thing.Kind == device.ReadSource:
		return "use finer marks or a scale"
	case thing.Kind == device.ContradictionSource:
		return "read all of them again: one is wrong"
	case thing.Kind != 0:
		return NoRemedy
	case thing.Name == estimate.AboutHose && !s.HoseKnown():
		return "measure the hose's bore and length, or prime it"
	case thing.Name == estimate.StaysBehind && s.DryStart():
		return "the figure for a dry fill from the manual helps"
	}
	if text, ok := remedies[thing.Name]; ok {
		return text
	}
	return NoRemedy
}

// remeasurable reports whether what a cause stands for can be measured again, once the oil
// is in.
func remeasurable(thing measure.Source) bool {
	if thing.Kind != 0 {
		return true
	}
	switch thing.Name {
	case estimate.LevelBefore, estimate.StaysBehind, estimate.StatedQuantity, estimate.ContradictionStands, estimate.DampPlug,
		estimate.BelowSource, estimate.LossRate, estimate.LossSince, estimate.DryOrRefill, estimate.CardSays:
		return false
	}
	return true
}

// RemeasureName names the cause of most of the uncertainty that another measurement can
// remove.
func RemeasureName(doubt []measure.Contribution) string {
	if thing := remeasure(doubt); thing.Name != "" {
		return thing.Name
	}
	return "none"
}

// remeasure is that cause; zero where there is none.
func remeasure(doubt []measure.Contribution) DoubtShare {
	for _, d := range Budget(doubt) {
		if remeasurable(d.Thing) {
			return d
		}
	}
	return DoubtShare{}
}

const NoRemedy = "measure that better"

// onlyStated reports whether the stated quantity alone says what belongs in, and
// what came out, if anything did, does not count.
func (s *Assessment) onlyStated() bool {
	plan, err := s.Plan(0)
	return err == nil && plan.Basis == estimate.ByCapacity && (s.Measured() || s.DryStart())
}

// remedies are those that do not depend on the job.
var remedies = map[string]string{
	estimate.Temperature:         "take it with a thermometer, or let the oil cool to the air around",
	estimate.AboutOil:            "take it from the data sheet, or weigh a full bottle",
	estimate.OldOil:              "measure it with a jug as well",
	estimate.LevelBefore:         "nothing helps now; a level seen at the end makes the next job surer",
	estimate.StaysBehind:         "the figure for an oil change from the manual helps, or this unit's own proven jobs",
	estimate.DryOrRefill:         "find out whether the figure is for an oil change or a dry fill",
	estimate.ContradictionStands: "find out which of the two is wrong: it stays until then",
	estimate.StatedQuantity:      "no measurement makes the maker's figure surer",
	estimate.AboutHose:           "prime the hose and leave it full, and it cancels",
	estimate.CatchFilm:           "weigh the pads before and after",
	estimate.StaysCold:           "warm it next time, or count the drops of a minute",
	estimate.HoseFilm:            "leave the hose full, and it cancels",
	estimate.DrySwap:             "weigh the pads before and after",
	estimate.WillEscape:          "catch it, or weigh the pads before and after: measured, it does not matter",
	estimate.DampPlug:            "weigh a pad before and after",
	estimate.HeelKept:            "run the vessel empty once, and measure what is left in it",
	estimate.JobsBefore:          "a level seen at the end makes the next job surer",
	estimate.LossRate:            "a level seen at the end makes the next job surer",
	estimate.LossSince:           "a level seen at the end makes the next job surer",
	estimate.Strokes:             "measure what is left in the vessel",
	estimate.Bottles:             "weigh them, or measure what was poured in",
	estimate.BelowSource:         "go on until it weeps",
	estimate.LevelSource:         "car level, let it settle, look again",
	estimate.CardSays:            "no measurement here makes what others measured surer",
}

// cancelShare is the share of the variance of what went in from which it is said that a
// container's own error cancels.
const cancelShare = 0.05

// cancelling names the container whose own error is a good part of what went
// in, but hardly any of the difference; "" where there is none.
func cancelling(net, difference measure.Value) string {
	left := map[measure.Source]float64{}
	for _, c := range difference.Contributions() {
		left[c.Source] = math.Abs(c.C)
	}
	for _, c := range net.Contributions() {
		if device.IsMarks(c.Source) && c.Share > cancelShare && left[c.Source] < math.Abs(c.C)/2 {
			return "the " + c.Source.Name
		}
	}
	return ""
}

// sentence begins with a capital letter and ends with a full stop.
func sentence(text string) string {
	if text == "" {
		return ""
	}
	r, n := utf8.DecodeRuneInString(text)
	return string(unicode.ToUpper(r)) + strings.TrimSuffix(text[n:], ".") + "."
}

// ThingOf is the cause that a source belongs to: all readings of one jug are one cause.
func ThingOf(s measure.Source) measure.Source {
	if s.Kind == 0 && s.Name == estimate.GuessSource {
		s.Name = estimate.WillEscape
	}
	switch s.Kind {
	case device.WaterSource:
		s.Kind = device.MarksSource
	case device.FillingSource, device.FilmSource:
		s.Kind = 0
	}
	return measure.Source{Kind: s.Kind, Name: s.Name}
}

// WordsOf is what a cause is called.
func WordsOf(thing measure.Source) string {
	switch thing.Kind {
	case device.MarksSource:
		return "marks of the " + thing.Name
	case device.ReadSource, device.ScaleSource:
		return "reading of the " + thing.Name
	case device.WeighSource:
		return "weighing the " + thing.Name
	case device.ScaleErrorSource:
		return "error of the " + thing.Name
	case device.ContradictionSource:
		return "contradiction of " + thing.Name
	}
	return thing.Name
}
