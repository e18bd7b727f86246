package model

// This file reads every text that a job can show and checks that it fits the
// screen: at most 72 signs to ask, 76 to say why, 60 for an answer, 70 for its
// hint, 76 for a finding.

import (
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"
)

const (
	askFits    = 72
	whyFits    = 76
	labelFits  = 60
	hintFits   = 70
	findingFit = 76
	noteFits   = 104 // over two lines, with the longest name
)

// named is what a job is called where every name is as long as it may be.
var named = script{
	Vehicle: {strings.Repeat("m", 40)}, UnitName: {strings.Repeat("u", 40)}, WasherKind: {strings.Repeat("w", 40)},
	ContainerName: {strings.Repeat("j", 20), strings.Repeat("k", 20)}, TorqueFigure: {"39 Nm"},
}

// shown are jobs that between them show every text.
func shown() map[string]script {
	all := map[string]script{
		"small": small, "level": level, "sheet": sheet.with(script{Capacity: {"600"}, DrainedAmount: {"600"}, LoadedAmount: {"625"}, EscapedAmount: {"25"}}),
		"adapter": leakyAdapter, "loads": twoLoads.with(script{BalanceSuspect: {"stands"}, Decision: {"leave"}, LeftWhy: {"marks to be checked"}}), "jugs": twoJugs,
		"electric, hot":   small.with(script{DriveKind: {"electric"}, OilTemperature: {"70", "55", "45"}, HotOilGoOn: {"wait"}}),
		"pressed, guess":  small.with(script{Filler: {"pressurised"}, EscapedHow: {"guess"}, EscapedAmount: {"50"}, ToleranceTopic: {"30"}, Decision: {"leave"}, LeftWhy: {"late"}}),
		"pan against jug": small.with(script{DripReading: {"650", ""}}),
		"pads":            small.with(script{EscapedHow: {"pads"}, PadsBefore: {"40"}, PadsAfter: {"84"}}),
		"chips":           small.with(script{MagnetLook: {"chips"}, ChipsDecision: {"keep_from_rust"}}),
		"wrong box":       small.with(script{DrainedAmount: {"1900"}}),
		"let out": small.with(script{
			ScaleDivision: {"1"}, DrainedWith: {"c0"}, LoadedWith: {"c0"}, LeftWith: {"c0"}, LoadedAmount: {"760"}, LetOutAmount: {"130"},
			Decision: {"let_out", "accept"}, LeakCheck: {"weeps", "dry"}, LeakedHow: {"damp"},
		}),
		"level and sums":    level.with(script{LeftInVessel: {"290"}, LevelLookedAgain: {"holds"}, Decision: {"leave"}, LeftWhy: {"it weeps"}}),
		"two witnesses":     twoJugs.with(script{DrainedWith: {"c0", "c1"}, DrainedAmount: {"830", "600"}, DrainedMore: {"again"}, WitnessTrusted: {"first"}}),
		"additive, weighed": small.with(script{AdditiveVolume: {"100"}, ScaleDivision: {"1"}, OilKV40: {"100"}, DrainedWith: {"c0"}, LoadedWith: {"scale"}, LoadedAmount: {"540 g"}, LeftWith: {"scale"}, LeftInVessel: {"0 g"}, EscapedAtCap: {"0"}, VesselWeighedFull: {"1000"}, VesselWeighedAfter: {"460"}}),
		"air, strokes":      small.with(script{StrokeVolume: {"25"}, StrokesCounted: {"30"}, AirInLine: {"air"}, LeftInVessel: {"150"}, WasherFitted: {"reused"}, Decision: {"leave"}, LeftWhy: {"rain"}}),
	}
	all["dry"] = dry.with(script{CapacityMeans: {"refill"}, ToleranceTopic: {"60"}, LoadedAmount: {"725"}})
	all["dry, level, two jugs"] = dry.with(script{
		FillPath: {"level_port"}, CapacityMeans: {"level"}, ContainerName: {"jug", "can"}, ContainerMore: {"another", "done"},
		LoadedAmount: {"600"}, EscapedAmount: {"0"},
	})
	leak := sheet.with(script{
		Capacity: {"600"}, DrainedAmount: {"600@20"}, HoseBefore: {"primed"}, LoadedAmount: {"650", "145"}, LeftInVessel: {"0", "0"},
		EscapedAtCap: {"0", "0"}, EscapedWith: {"c0", "c0"}, EscapedAmount: {"50", "100"}, LeakCheck: {"weeps", "dry"},
		LeakedWith: {"scale"}, LeakedAmount: {"40 g"}, Decision: {"accept", "add", "accept"}, TightenedHow: {"feel"},
	})
	all["leak"] = leak
	all["leak into pads"] = leak.with(script{LeakedHow: {"pads"}, LeakedPadsBefore: {"40"}, LeakedPadsAfter: {"80"}})
	all["small unit"] = small.with(script{Capacity: {"200"}, DrainedAmount: {"170"}, LoadedAmount: {"225"}, Decision: {"leave"}, LeftWhy: {"late"}})
	all["level, two jugs"] = twoJugs.with(script{FillPath: {"level_port"}, CapacityMeans: {"level"}})
	all["marks off, high pressure"] = small.with(script{
		ContainerWater: {"1000"}, ContainerWaterReading: {"920"}, VesselWater: {"1000"}, VesselWaterReading: {"980"}, OilLook: {"foreign"},
		Filler: {"pressurised"}, VesselRating: {"200 kPa"}, PushPressure: {"150 kPa"}, ToleranceTopic: {"10"}, Decision: {"leave"}, LeftWhy: {"doubt"},
	})
	for _, cause := range []string{"nothing_more", "neighbour", "water", "overfilled"} {
		all["above, "+cause] = small.with(script{DrainedAmount: {"830"}, LookedAgain: {cause}, BasisWhy: {"so"}, Decision: {"leave"}, LeftWhy: {"late"}})
	}
	all["below"] = small.with(script{DrainedAmount: {"200"}, LookedAgain: {"nothing_more"}, BasisWhy: {"so"}, Decision: {"leave"}, LeftWhy: {"late"}})
	return all
}

// inML gives the bare numbers of a script their metric units, so that it can
// be typed in any.
func inML(sc script) script {
	out := script{}
	for topic, lines := range sc {
		for _, line := range lines {
			out[topic] = append(out[topic], metric(SpecOf(topic), line))
		}
	}
	return out
}

func metric(sp *Spec, line string) string {
	if sp == nil || line == "" || line == "-" || strings.IndexFunc(line, unicode.IsLetter) >= 0 {
		return line
	}
	amount, at, hot := strings.Cut(line, "@")
	switch {
	case sp.Kind == Amount || sp.Kind == Range || sp.Kind == Bounds:
		line = strings.ReplaceAll(amount, "+", " ml+") + " ml"
		if sp.Kind == Range {
			line = amount + " ml"
		}
		if hot {
			line = amount + "ml@" + at + "C"
		}
	case sp.Dim == DimC:
		line += "C"
	case sp.Dim == DimG:
		line += " g"
	}
	return line
}

// fits reports a text that is too long or carelessly made.
func fits(t *testing.T, what, text string, most int) {
	t.Helper()
	switch n := utf8.RuneCountInString(text); {
	case n > most:
		t.Errorf("%s: %d signs, %d fit: %q", what, n, most, text)
	case strings.ContainsAny(text, "\n\t") || strings.Contains(text, "  ") || strings.TrimSpace(text) != text:
		t.Errorf("%s: space out of place: %q", what, text)
	case strings.Contains(text, "%!") || strings.Contains(text, "NaN") || strings.Contains(text, "—"):
		t.Errorf("%s: not a text to be shown: %q", what, text)
	}
}

// reader reads all that a screen could show, and notes what it has read.
type reader struct {
	asked map[Topic]bool
	found map[FindingKind]bool
}

func (r reader) prompt(t *testing.T, s *State, p Prompt) {
	t.Helper()
	r.asked[p.Topic] = true
	what := p.Topic.String()
	fits(t, what+", ask", p.AskText(s), askFits)
	fits(t, what+", why", p.WhyText(s), whyFits)
	fits(t, what+", unknown", p.UnknownText(s), labelFits)
	if p.AskText(s) == "" {
		t.Errorf("%s: asks nothing", what)
	}
	for _, o := range p.Choices(s) {
		fits(t, what+", "+o.Token, o.Label, labelFits)
		fits(t, what+", hint of "+o.Token, o.Hint, hintFits)
	}
	if v, ok := p.DefaultValue(s); ok {
		fits(t, what+", offer", p.Echo(s, v), labelFits)
	}
}

func (r reader) state(t *testing.T, s *State) {
	t.Helper()
	for _, f := range s.Findings() {
		r.found[f.Kind] = true
		fits(t, f.Kind.String(), f.Text, findingFit)
		fits(t, f.Kind.String()+", do", f.Do, findingFit)
	}
	fits(t, "same jug", s.SharedJugNote(), noteFits)
}

func TestEveryTextFits(t *testing.T) {
	r := reader{map[Topic]bool{}, map[FindingKind]bool{}}
	for name, sc := range shown() {
		for _, units := range []string{"metric", "us", "imperial"} {
			t.Run(name+", "+units, func(t *testing.T) { r.job(t, inML(sc).with(named).with(script{DisplayUnits: {units}})) })
		}
	}
	t.Run("waited for nothing", func(t *testing.T) { r.hasty(t) })
	t.Run("after a break and a correction", func(t *testing.T) { r.brokenOff(t) })
	for topic := Undo + 1; topic < topicCount; topic++ {
		if !r.asked[topic] && topic != DripsEnded && topic != FillEnded { // those are Enter on an empty field
			t.Errorf("%v is shown in none of these jobs", topic)
		}
	}
	for k := range findingKindCount {
		if !r.found[k] {
			t.Errorf("%v is found in none of these jobs", k)
		}
	}
}

// job reads a whole job.
func (r reader) job(t *testing.T, sc script) {
	d := newDrive(t, sc)
	d.offers = Offers{Residual: Learned{ML: 48, UML: 12, Jobs: 2}, Escape: Learned{ML: 47, UML: 11, Jobs: 2}}
	d.seen = func(s *State, p Prompt) { r.prompt(t, s, p); r.state(t, s) }
	s := d.until(NoTopic)
	r.prompt(t, s, Prompt{Spec: specs[ResumedStands]})
	r.prompt(t, s, Prompt{Spec: specs[ResumedPlug]})
	r.state(t, s)
	for _, line := range s.AtHandList() {
		fits(t, "at hand", line, whyFits)
	}
}

// hasty reads what shows where nothing was waited for.
func (r reader) hasty(t *testing.T) {
	for _, sc := range []script{small.with(script{OilTemperature: {"5"}, DrainedAmount: {"200"}, LookedAgain: {"nothing_more"}, BasisWhy: {"so"}, Decision: {"leave"}, LeftWhy: {"late"}}), small, level} {
		d := newDrive(t, inML(sc).with(named))
		d.hasty = true
		r.state(t, d.until(NoTopic))
	}
}

// brokenOff reads what shows only after a correction, and after a break.
func (r reader) brokenOff(t *testing.T) {
	d := newDrive(t, inML(shown()["two witnesses"]).with(named))
	d.until(WitnessTrusted)
	d.correct(DrainedAmount, 0, 1, "820 ml")
	s := d.until(StruckWhy)
	r.prompt(t, s, asked(t, s, StruckWhy))
	d.at = d.at.Add(30 * time.Hour)
	r.state(t, d.until(LoadedAmount))
}
