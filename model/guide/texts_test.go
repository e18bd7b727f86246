package guide

// This file reads every text that a job can show and checks that it fits the
// screen: at most 72 signs to ask, 76 to say why, 60 for an answer, 70 for its
// hint, 76 for a finding.

import (
	"strings"
	"testing"
	"time"
	"unicode"
	"unicode/utf8"

	"garage/tundish/model/ask"
	"garage/tundish/model/card"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
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
	job.Vehicle: {strings.Repeat("m", 40)}, job.UnitName: {strings.Repeat("u", 40)}, job.WasherKind: {strings.Repeat("w", 40)},
	job.ContainerName: {strings.Repeat("j", 20), strings.Repeat("k", 20)}, job.TorqueFigure: {"34 Nm"},
}

// shown are jobs that between them show every text.
func shown() map[string]script {
	all := map[string]script{
		"small": small, "level": level,
		"sheet": sheet.with(script{job.Capacity: {"600"}, job.DrainedAmount: {"600"}, job.LoadedAmount: {"625"},
			job.EscapedAmount: {"25"}}),
		"adapter": leakyAdapter,
		"loads":   twoLoads.with(script{job.BalanceSuspect: {"stands"}, job.Decision: {"leave"}, job.LeftWhy: {"marks to be checked"}}),
		"jugs":    twoJugs,
		"electric, hot": small.with(script{job.DriveKind: {"electric"}, job.OilTemperature: {"70", "55", "45"},
			job.HotOilGoOn: {"wait"}}),
		"pressed, guess": small.with(script{job.Filler: {"pressurised"}, job.EscapedHow: {"guess"}, job.EscapedAmount: {"110"},
			job.EscapeExpected: {"60-160"}, job.LoadedAmount: {"685"}, job.ToleranceTopic: {"30"}, job.Decision: {"leave"},
			job.LeftWhy: {"late"}}),
		"pan against jug": small.with(script{job.DripReading: {"650", ""}}),
		"pads":            small.with(script{job.EscapedHow: {"pads"}, job.PadsBefore: {"40"}, job.PadsAfter: {"84"}}),
		"chips":           small.with(script{job.MagnetLook: {"chips"}, job.ChipsDecision: {"keep_from_rust"}}),
		"wrong box":       small.with(script{job.DrainedAmount: {"1900"}}),
		"let out": small.with(script{
			job.ScaleDivision: {"1"}, job.DrainedWith: {"c0"}, job.LoadedWith: {"c0"}, job.LeftWith: {"c0"}, job.LoadedAmount: {"760"},
			job.LetOutAmount: {"130"},
			job.Decision:     {"let_out", "accept"}, job.LeakCheck: {"weeps", "dry"}, job.LeakedHow: {"damp"},
		}),
		"level and sums": level.with(script{job.LeftInVessel: {"290"}, job.LevelLookedAgain: {"holds"}, job.Decision: {"leave"},
			job.LeftWhy: {"it weeps"}}),
		"two witnesses": twoJugs.with(script{job.DrainedWith: {"c0", "c1"}, job.DrainedAmount: {"830", "750"},
			job.DrainedMore: {"again"}, job.MeasureTrusted: {"first"}, job.Decision: {"leave"}, job.LeftWhy: {"two measures"}}),
		"additive, weighed": small.with(script{job.AdditiveVolume: {"100"}, job.ScaleDivision: {"1"}, job.OilKV40: {"100"},
			job.DrainedWith: {"c0"}, job.LoadedWith: {"scale"}, job.LoadedAmount: {"540 g"}, job.LeftWith: {"scale"},
			job.LeftInVessel: {"0 g"},
			job.EscapedAtCap: {"0"}, job.VesselWeighedFull: {"1000"}, job.VesselWeighedAfter: {"460"}}),
		"air, strokes": small.with(script{job.StrokeVolume: {"25"}, job.StrokesCounted: {"30"}, job.AirInLine: {"air"},
			job.LeftInVessel: {"150"}, job.WasherFitted: {"reused"}, job.Decision: {"leave"}, job.LeftWhy: {"rain"}}),
	}
	all["dry"] = dry.with(script{job.CapacityMeans: {"refill"}, job.ToleranceTopic: {"60"}, job.LoadedAmount: {"725"}})
	for answer, out := range map[string]string{job.CardOtherUnit: "550", job.CardLevelOff: "650"} {
		all["far from a card, "+answer] = small.with(script{job.Card: {"580-620"}, job.CardResidual: {"30-70"}, job.DrainedAmount: {out},
			job.CardLookedAgain: {answer}, job.LookedAgain: {job.LookedSame}, job.BasisWhy: {"so"}, job.Decision: {"leave"},
			job.LeftWhy: {"late"}})
	}
	all["dry, level, two jugs"] = dry.with(script{
		job.FillPath: {"level_port"}, job.CapacityMeans: {"level"}, job.ContainerName: {"jug", "can"},
		job.ContainerMore: {"another", "done"},
		job.LoadedAmount:  {"600"}, job.EscapedAmount: {"0"},
	})
	leak := sheet.with(script{
		job.Capacity: {"600"}, job.DrainedAmount: {"600@20"}, job.HoseBefore: {"primed"}, job.LoadedAmount: {"650", "145"},
		job.LeftInVessel: {"0", "0"},
		job.EscapedAtCap: {"0", "0"}, job.EscapedWith: {"c0", "c0"}, job.EscapedAmount: {"50", "100"}, job.LeakCheck: {"weeps", "dry"},
		job.LeakedWith: {"scale"}, job.LeakedAmount: {"40 g"}, job.Decision: {"accept", "add", "accept"}, job.TightenedHow: {"feel"},
	})
	all["leak"] = leak
	all["leak into pads"] = leak.with(script{job.LeakedHow: {"pads"}, job.LeakedPadsBefore: {"40"}, job.LeakedPadsAfter: {"80"}})
	for _, halt := range []string{job.HaltLeaks, job.HaltBlocked} {
		all["halted, "+halt] = small.with(script{job.FillHalted: {halt}, job.OilKV40: {"100"}, job.HoseHolds: {"25"}})
	}
	all["leaked"] = small.with(script{job.OilHistory: {"leaked"}, job.Decision: {"leave"}, job.LeftWhy: {"a seal"}})
	all["small unit"] = small.with(script{job.Capacity: {"200"}, job.DrainedAmount: {"170"}, job.LoadedAmount: {"225"},
		job.Decision: {"leave"}, job.LeftWhy: {"late"}})
	all["level, two jugs"] = twoJugs.with(script{job.FillPath: {"level_port"}, job.CapacityMeans: {"level"}})
	all["marks off, high pressure"] = small.with(script{
		job.ContainerWater: {"1000"}, job.ContainerWaterReading: {"920"}, job.VesselWater: {"1000"}, job.VesselWaterReading: {"980"},
		job.OilLook: {"foreign"},
		job.Filler:  {"pressurised"}, job.VesselRating: {"200 kPa"}, job.PushPressure: {"150 kPa"}, job.ToleranceTopic: {"10"},
		job.Decision: {"leave"}, job.LeftWhy: {"doubt"},
	})
	for _, cause := range []string{"nothing_more", "neighbour", "water", "overfilled"} {
		all["above, "+cause] = small.with(script{job.DrainedAmount: {"830"}, job.LookedAgain: {cause}, job.BasisWhy: {"so"},
			job.Decision: {"leave"}, job.LeftWhy: {"late"}})
	}
	runs := small.with(script{job.UnitKind: {"automatic_gearbox"}, job.FillPath: {"overflow_tube"}, job.Capacity: {"5000"},
		job.CapacityMeans: {"refill"},
		job.LevelWindow:   {"35-45 C"}, job.SelectorAt: {"park"}, job.FirstCharge: {"3500"}, job.DrainedAmount: {"5000"},
		job.LoadedAmount: {"3500"}, job.SecondPerson: {"Ada"}, job.AddedRunning: {"1600"}, job.OilRunning: {"30 C", "38 C", ""},
		job.TubeSaid: {"drops"}, job.LevelAtC: {"40 C"}, job.OverflowCaught: {"100"}, job.LeftInVessel: {"0"}})
	all["overflow tube"] = runs
	all["overflow tube, low"] = runs.with(script{job.TubeSaid: {"nothing", "drops"}, job.OverflowCaught: {"0", "0"},
		job.Decision: {"add", "leave"}, job.LeftWhy: {"late"}, job.LoadedAmount: {"3500", "300"}, job.AddedRunning: {"1000", "0"},
		job.SecondPerson: {"Ada", "Ada"}, job.LevelAtC: {"40 C", "40 C"}, job.LeftInVessel: {"0", "0"}})
	all["overflow tube, too warm"] = runs.with(script{job.LevelAtC: {"52 C"}, job.Decision: {"leave"}, job.LeftWhy: {"late"}})
	all["overflow tube, engine off, leaning"] = runs.with(script{job.TubeSaid: {"engine_off"}, job.CarTilt: {"3"}, job.Decision: {"leave"},
		job.LeftWhy: {"late"}})
	all["overflow tube, dry"] = runs.with(script{job.TubeSaid: {"nothing"}, job.OverflowCaught: {"0"}, job.AddedRunning: {"2300"},
		job.Decision: {"leave"}, job.LeftWhy: {"late"}})
	all["overflow tube, apart"] = runs.with(script{job.AddedRunning: {"600"}, job.LevelLookedAgain: {"holds"}, job.Decision: {"leave"},
		job.LeftWhy: {"late"}, job.ContainerName: {"jug", "can"}, job.ContainerMore: {"another", "done"}})
	all["dipstick, hybrid"] = runs.with(script{job.FillPath: {"dipstick"}, job.DriveKind: {"hybrid"}, job.MakersPage: {"manual, page 12"},
		job.StickBand: {"400"}, job.StickBandMM: {"15"}, job.StickFirst: {"7"}, job.StickSecond: {"8"}, job.AddedRunning: {"1500"}})
	all["dipstick, unsteady"] = runs.with(script{job.FillPath: {"dipstick"}, job.StickFirst: {"7"}, job.StickSecond: {"-2"},
		job.Decision: {"leave"}, job.LeftWhy: {"late"}})
	all["below the lip"] = level.with(script{job.LipBelow: {"0-5 mm"}, job.LipStands: {"on_wheels"}, job.LevelBelow: {"3 mm"},
		job.Decision: {"leave"}, job.LeftWhy: {"late"}})
	all["quantity from above"] = level.with(script{job.FillPath: {"fill_above"}, job.CapacityMeans: {"refill"},
		job.Decision: {"leave"}, job.LeftWhy: {"late"}})
	for name, sc := range map[string]script{
		"flakes, brass": {job.MagnetLook: {"flakes"}, job.OilLook: {"glitter"}},
		"hairs, burnt":  {job.MagnetLook: {"hairs"}, job.OilLook: {"dark"}},
		"odd torque":    {job.PlugThread: {"M10x1"}, job.TorqueLooked: {job.TorqueStands}},
		"rig":           {job.RigLastOil: {job.RigIntoAutomatic}, job.RigLeft: {job.RigFull}, job.RigRinse: {job.RigRinsed}},
		"odd spill": {job.PlugThread: {"M8"}, job.TorqueLooked: {job.TorqueStands}, job.EscapedAmount: {"400"},
			job.SpillLooked: {job.SpillStands}, job.Decision: {"leave"}, job.LeftWhy: {"late"}},
		"cold, known oil": {job.OilGrade: {"80W-90"}, job.OilTemperature: {"-5"}, job.Decision: {"leave"}, job.LeftWhy: {"late"}},
		"many drops":      {job.DropsCounted: {"30"}, job.OilTemperature: {"40"}, job.Decision: {"leave"}, job.LeftWhy: {"late"}},
	} {
		all[name] = small.with(sc)
	}
	all["below"] = small.with(script{job.DrainedAmount: {"200"}, job.LookedAgain: {"nothing_more"}, job.BasisWhy: {"so"},
		job.Decision: {"leave"}, job.LeftWhy: {"late"}})
	return all
}

// inML gives the bare numbers of a script their metric units, so that it can
// be typed in any.
func inML(sc script) script {
	out := script{}
	for topic, lines := range sc {
		for _, line := range lines {
			out[topic] = append(out[topic], metric(ask.SpecOf(topic), line))
		}
	}
	return out
}

func metric(sp *ask.Spec, line string) string {
	if sp == nil || line == "" || line == "-" || strings.IndexFunc(line, unicode.IsLetter) >= 0 {
		return line
	}
	amount, at, hot := strings.Cut(line, "@")
	switch {
	case sp.Kind == job.Amount || sp.Kind == job.Range || sp.Kind == job.Bounds:
		line = strings.ReplaceAll(amount, "+", " ml+") + " ml"
		if sp.Kind == job.Range {
			line = amount + " ml"
		}
		if hot {
			line = amount + "ml@" + at + "C"
		}
	case sp.Dim == job.DimC:
		line += "C"
	case sp.Dim == job.DimG:
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
	asked map[job.Topic]bool
	found map[verdict.FindingKind]bool
}

func (r reader) prompt(t *testing.T, s *Guide, p Prompt) {
	t.Helper()
	r.asked[p.Topic] = true
	what := p.Topic.String()
	fits(t, what+", ask", shortNamed(p.AskText(s)), askFits)
	fits(t, what+", why", p.WhyText(s), whyFits)
	fits(t, what+", unknown", p.UnknownText(s), labelFits)
	if p.AskText(s) == "" {
		t.Errorf("%s: asks nothing", what)
	}
	for _, o := range p.Choices(s) {
		fits(t, what+", "+o.Token, shortNamed(o.Label), labelFits)
		fits(t, what+", hint of "+o.Token, o.Hint, hintFits)
	}
	if v, ok := p.DefaultValue(s); ok {
		fits(t, what+", offer", p.Echo(s, v), labelFits)
	}
}

// shortNamed is a text with a short name of the unit: what a longer one takes goes on to
// a second line of a sheet.
func shortNamed(text string) string {
	return strings.ReplaceAll(text, named[job.UnitName][0], "rear axle")
}

func (r reader) state(t *testing.T, s *Guide) {
	t.Helper()
	for _, f := range s.Findings() {
		r.found[f.Kind] = true
		fits(t, f.Kind.String(), f.Text, findingFit)
		fits(t, f.Kind.String()+", do", f.Do, findingFit)
	}
	fits(t, "same jug", s.SharedJugNote(), noteFits)
}

func TestEveryTextFits(t *testing.T) {
	r := reader{map[job.Topic]bool{}, map[verdict.FindingKind]bool{}}
	for name, sc := range shown() {
		for _, units := range []string{"metric", "us", "imperial"} {
			t.Run(name+", "+units, func(t *testing.T) { r.job(t, inML(sc).with(named).with(script{job.DisplayUnits: {units}})) })
		}
	}
	t.Run("waited for nothing", func(t *testing.T) { r.hasty(t) })
	t.Run("after a break and a correction", func(t *testing.T) { r.brokenOff(t) })
	t.Run("with other units of the car", func(t *testing.T) { r.otherUnits(t) })
	for topic := job.Undo + 1; topic < job.NumTopics; topic++ {
		if !r.asked[topic] && topic != job.DripsEnded && topic != job.FillEnded && topic != job.RunEnded &&
			topic != job.FromPaper { // events that no question asks for
			t.Errorf("%v is shown in none of these jobs", topic)
		}
	}
	for k := range verdict.NumFindingKinds {
		if !r.found[k] {
			t.Errorf("%v is found in none of these jobs", k)
		}
	}
}

// job reads a whole job.
func (r reader) job(t *testing.T, sc script) {
	d := newDrive(t, sc)
	if _, dry := sc[job.DryStart]; dry {
		d.offers = Offers{Before: earlierJob(t)}
	}
	if _, taken := sc[job.Card]; taken {
		d.offers.Cards = []card.Card{ofOthers(600, 10)}
	}
	d.seen = func(s *Guide, p Prompt) {
		r.prompt(t, s, p)
		r.state(t, s)
		for q, open := range s.Prompts() { // and what need not be answered
			if open && q.Optional && q.Step == p.Step {
				r.prompt(t, s, q)
			}
		}
	}
	s := d.until(job.NoTopic)
	for _, again := range []job.Topic{job.ResumedStands, job.ResumedTag, job.ResumedPlug, job.FromPaper, job.Session} {
		r.prompt(t, s, Prompt{Spec: ask.SpecOf(again)})
	}
	r.state(t, s)
	for _, line := range s.AtHandList() {
		fits(t, "at hand", line, whyFits)
	}
}

// hasty reads what shows where nothing was waited for.
func (r reader) hasty(t *testing.T) {
	for _, sc := range []script{small.with(script{job.OilTemperature: {"5"}, job.DrainedAmount: {"200"}, job.LookedAgain: {"nothing_more"},
		job.BasisWhy: {"so"}, job.Decision: {"leave"}, job.LeftWhy: {"late"}}), small, level} {
		d := newDrive(t, inML(sc).with(named))
		d.hasty = true
		r.state(t, d.until(job.NoTopic))
	}
}

// brokenOff reads what shows only after a correction, and after a break.
func (r reader) brokenOff(t *testing.T) {
	d := newDrive(t, inML(shown()["two witnesses"]).with(named))
	d.until(job.MeasureTrusted)
	d.correct(job.DrainedAmount, 0, 1, "820 ml")
	s := d.until(job.StruckWhy)
	r.prompt(t, s, asked(t, s, job.StruckWhy))
	d.at = d.at.Add(30 * time.Hour)
	r.state(t, d.until(job.LoadedAmount))
}

// otherUnits reads what shows only where other units of the car are open or to come.
func (r reader) otherUnits(t *testing.T) {
	for _, offers := range []ask.Offers{
		{ToCome: []string{"transfer case"}}, {OpenUnits: []ask.OpenUnit{{Name: "rear axle", State: verdict.Unproven}}},
	} {
		d := newDrive(t, inML(small).with(named))
		d.offers = Offers{Offers: offers}
		s := d.until(job.NextUnit)
		r.prompt(t, s, asked(t, s, job.NextUnit))
		d.until(job.NoTopic)
		s = Fold(d.job, Offers{})
		r.prompt(t, s, Prompt{Spec: ask.SpecOf(job.NextUnit)})
		if s.Has(job.WheelsTurned) || s.Has(job.TagOff) || s.Phase() != Done {
			t.Errorf("the car came down with %v beside it: %v", offers, s.Phase())
		}
	}
}
