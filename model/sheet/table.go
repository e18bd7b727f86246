package sheet

// This file says which questions are one line to a person, which are under "worth
// knowing" and not on the sheet, and what their lines say.

import (
	"fmt"
	"slices"
	"strings"

	"garage/tundish/model/ask"
	"garage/tundish/model/estimate"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// merged are questions that make one line: one place, one moment, one consequence.
type merged struct {
	topics  []job.Topic // as they are stored
	typed   job.Topic   // takes what is typed; NoTopic where nothing is
	ask     string      // "" for the question's own
	hint    string
	options func(g *guide.Guide, p job.Place) []Option
	single  bool                                      // once a round, though one of the questions comes again
	split   func(g *guide.Guide, typed string) []part // what is typed, for several questions
}

// part is what is typed for one question.
type part struct {
	topic job.Topic
	typed string
}

var lines = []*merged{
	{topics: []job.Topic{job.UnitKind, job.UnitName}, ask: "Which unit?", options: units},
	{topics: []job.Topic{job.DryStart, job.PriorLevel, job.OilHistory}, ask: "Level until today", options: pasts},
	{topics: []job.Topic{job.Card, job.CardResidual}, ask: "Others measured such a unit", options: cards},
	{topics: []job.Topic{job.HoseHolds, job.HoseBore, job.HoseLength}, typed: job.HoseHolds, split: hose},
	{
		topics: []job.Topic{job.PlugThread, job.PlugKey, job.WasherKind}, typed: job.PlugThread, ask: "Plug: thread, socket, washer",
		hint: "M18x1.5, hex 10, copper", split: byCommas(job.PlugThread, job.PlugKey, job.WasherKind),
	},
	{
		topics: []job.Topic{job.TorqueFigure, job.TorqueSource}, typed: job.TorqueFigure, ask: "Torque, and where it stands",
		hint: "35 Nm, manual p. 212", split: byCommas(job.TorqueFigure, job.TorqueSource),
	},
	{topics: []job.Topic{job.RightUnit, job.RightPlug}},
	{topics: []job.Topic{job.OilTemperature, job.TemperatureHow}, options: warmths},
	{topics: []job.Topic{job.DrainedWith, job.DrainedAmount}, typed: job.DrainedAmount},
	{topics: []job.Topic{job.PlanAccepted, job.LoadedWith, job.LoadedAmount}, typed: job.LoadedAmount},
	{topics: []job.Topic{job.FillHalted, job.FillEnded, job.AirInLine}, ask: "The push ended", options: ends, single: true},
	{topics: []job.Topic{job.OverflowCaughtWith, job.OverflowCaught}, typed: job.OverflowCaught},
	{
		topics: []job.Topic{job.StickBand, job.StickBandMM}, typed: job.StickBand, split: byCommas(job.StickBand, job.StickBandMM),
	},
	{topics: []job.Topic{job.AddedWith, job.AddedRunning}, typed: job.AddedRunning},
	{
		topics: []job.Topic{job.StickFirst, job.StickSecond}, typed: job.StickFirst,
		split: byCommas(job.StickFirst, job.StickSecond),
	},
	{topics: []job.Topic{job.LetOutWith, job.LetOutAmount}, typed: job.LetOutAmount},
	{topics: []job.Topic{job.Capped, job.HoseAfter}, ask: "Adapter is CAPPED, and the hose is", options: cappedAnd},
	{topics: []job.Topic{job.LeftWith, job.LeftInVessel}, typed: job.LeftInVessel},
	{topics: []job.Topic{job.BottlesLeftWith, job.BottlesLeft}, typed: job.BottlesLeft},
	{topics: []job.Topic{job.EscapedAtCapWith, job.EscapedAtCap}, typed: job.EscapedAtCap},
	{topics: []job.Topic{job.WasherFitted, job.PlugSeated}, options: seated},
	{topics: []job.Topic{job.EscapedHow, job.EscapedWith, job.EscapedAmount}, typed: job.EscapedAmount, ask: "Spilled, all of it"},
	{topics: []job.Topic{job.Decision}, ask: "What now?"},
	{topics: []job.Topic{job.LeakedWith, job.LeakedAmount}, typed: job.LeakedAmount},
	{
		topics: []job.Topic{job.IntervalKm, job.IntervalMonths}, typed: job.IntervalKm, ask: "Next change: distance, months",
		hint: "60000, 48", split: byCommas(job.IntervalKm, job.IntervalMonths),
	},
}

// mergedOf finds the merged line of a topic.
var mergedOf = func() (of [job.NumTopics]*merged) {
	for _, m := range lines {
		for _, t := range m.topics {
			of[t] = m
		}
	}
	return of
}()

// hidden reports whether a question is answered by the sheet being complete and is no
// line of it.
func hidden(t job.Topic) bool {
	switch t {
	case job.AtHand, job.PlugOut:
		return true
	}
	return false
}

// shown are the optional questions that are lines of a sheet; the others are folded.
var shown = []job.Topic{
	job.LostOrAdded, job.DropsCounted, job.Card, job.OilGrade, job.PlugThread, job.TorqueFigure, job.ScaleDivision,
	job.DrainedTemperature, job.LoadedTemperature,
	job.DrainedTemperature, job.LoadedTemperature,
	job.VesselWeighedFull, job.OilDensity, job.Odometer, job.IntervalKm, job.WasteHandedIn, job.Remark,
	job.LostOrAdded, job.OilGrade, job.PlugThread, job.TorqueFigure, job.ScaleDivision, job.DrainedTemperature, job.LoadedTemperature,
	job.VesselWeighedFull, job.FirstCharge, job.OilDensity, job.Odometer, job.IntervalKm, job.WasteHandedIn, job.Remark,
}

// usual are answered by what is usual and are folded, though they are asked.
var usual = []job.Topic{job.ContainerName, job.DrainedMore, job.PushPressure, job.DripReading, job.EscapeExpected}

// folded reports whether a line is not on its sheet until it is asked for.
func folded(g *guide.Guide, p guide.Prompt, s Standing) bool {
	if p.Topic == job.OilRunning {
		return s == Said && g.HasItem(p.Topic, p.Place.Round, p.Place.Item+1)
	}
	if p.Topic == job.FillReading {
		return s == Said && g.HasItem(job.FillReading, p.Place.Round, p.Place.Item+1) || g.Path().PouredIn()
	}
	if s == Open || p.Place.Item > 0 {
		return false
	}
	if home(g, p).ID == Prepare1 && g.KnowsUnit() { // as last time
		return s == Offered
	}
	if p.Topic == job.OilDensity { // a scale needs it
		_, scale := g.ScaleDivisionG()
		return !scale && s != Said
	}
	if slices.Contains(usual, p.Topic) {
		return true
	}
	return p.Optional && s != Said && !slices.Contains(shown, p.Topic)
}

// option is an answer to several questions.
func option(token, label, hint string, says ...says) Option {
	return Option{Token: token, Label: label, Hint: hint, says: says}
}

func chosen(t job.Topic, token string) says { return says{t, job.Value{Choice: token}} }

// units are the units that are met, each with its kind. The last has to be named.
func units(*guide.Guide, job.Place) []Option {
	named := func(name, kind string) Option {
		return option(name, name, "", chosen(job.UnitKind, kind), says{job.UnitName, job.Value{Text: name}})
	}
	return []Option{
		named("rear axle", "final_drive"), named("front axle", "final_drive"), named("transfer case", "transfer_case"),
		named("gearbox, manual", "gearbox"), named("angle drive", "transfer_case"),
		option("other", "other", "", chosen(job.UnitKind, "other")),
		named("gearbox, automatic", job.AutomaticBox), named("gearbox, twin-clutch", job.TwinClutchBox),
		named("gearbox, belt", job.BeltBox),
	}
}

// UnitNames are the names of the units that are met.
func UnitNames() (names []string) {
	for _, o := range units(nil, job.Place{}) {
		if len(o.says) > 1 {
			names = append(names, o.Label)
		}
	}
	return names
}

// KindOf is the kind of a unit that has one of these names.
func KindOf(name string) (kind job.Value, ok bool) {
	for _, o := range units(nil, job.Place{}) {
		if len(o.says) > 1 && o.Label == job.Canonical(name) {
			return o.says[0].value, true
		}
	}
	return job.Value{}, false
}

// pasts are the level until today: of a unit whose earlier jobs tell it, what has
// happened to it since.
func pasts(g *guide.Guide, _ job.Place) []Option {
	holds := chosen(job.DryStart, "holds_oil")
	was := func(trust estimate.Trust, past job.Past, label string) Option {
		token := trust.String()
		if past != job.PastUndisturbed {
			token = past.String()
		}
		return option(token, label, "", holds, chosen(job.PriorLevel, trust.String()), chosen(job.OilHistory, past.String()))
	}
	list := []Option{
		was(estimate.Verified, job.PastUndisturbed, "measured"),
		was(estimate.Believed, job.PastUndisturbed, "filled by someone able"),
		was(estimate.TrustNobodyKnows, job.PastUndisturbed, "nobody knows"),
	}
	if g.Follows() {
		list = []Option{was(estimate.Believed, job.PastUndisturbed, "nothing lost or added")}
		list[0].Token = job.PastUndisturbed.String()
	}
	return append(list, was(estimate.Believed, job.PastLeaked, "leaked"), was(estimate.Believed, job.PastToppedUp, "topped up"),
		option(job.DryUnit, "none in it: rebuilt, dry", "", chosen(job.DryStart, job.DryUnit)))
}

// cards are what others measured of such a unit, and, once one of them counts, none.
func cards(g *guide.Guide, _ job.Place) []Option {
	var list []Option
	for i, c := range g.CardsOnOffer() {
		low, high := c.Out.Ends()
		label := fmt.Sprintf("%s, %d jobs: %s came out", c.Card.Name, c.Card.Out.Jobs, g.Units().FormatVolumeU((low+high)/2, (high-low)/2))
		both := []says{{job.Card, c.Out}, {job.CardResidual, c.Stays}}
		list = append(list, option(fmt.Sprintf("card%d", i+1), label, cardWorth(g, c), both...))
	}
	if _, taken := g.CardTaken(); taken {
		list = append(list, option("none", "leave them out", "", says{job.Card, job.Value{Unknown: true}},
			says{job.CardResidual, job.Value{Unknown: true}}))
	}
	return list
}

// cardsText says what is on offer while none of it is taken.
func cardsText(g *guide.Guide) string {
	list := g.CardsOnOffer()
	switch len(list) {
	case 0:
		return "none"
	case 1:
		low, high := list[0].Out.Ends()
		return fmt.Sprintf("%d jobs: %s; not taken", list[0].Card.Out.Jobs, g.Units().FormatVolumeU((low+high)/2, (high-low)/2))
	}
	return fmt.Sprintf("%d kinds; not taken", len(list))
}

// cardWorth says what a card that is on offer would gain; "" where one counts, or
// nothing is known of that.
func cardWorth(g *guide.Guide, c ask.OfferedCard) string {
	if _, taken := g.CardTaken(); taken {
		return ""
	}
	from, to, z, ok := g.WorthOfCard(c.Out, c.Stays)
	u := g.Units()
	switch {
	case !ok:
		return ""
	case z > estimate.ConflictZ:
		return "does not fit the manual's figure: look at both"
	case from-to < 0.5:
		return "says no more than the manual"
	}
	return fmt.Sprintf("± %s becomes ± %s", u.BareVolume(estimate.Coverage*from), u.FormatVolume(estimate.Coverage*to))
}

// warmths are how the case feels.
func warmths(g *guide.Guide, _ job.Place) []Option {
	felt := func(token, label string, c float64, hint string) Option {
		return option(token, label, hint, says{job.OilTemperature, job.Value{Number: c, Unit: job.DimC}}, chosen(job.TemperatureHow,
			job.HowFelt))
	}
	about := func(c float64) string { return "about " + g.Show(c, job.DimC) }
	return []Option{
		felt("cold", "cold", ask.FeelsCold, about(ask.FeelsCold)+": drains badly"),
		felt("warm", "hand-warm", ask.FeelsWarm, about(ask.FeelsWarm)+": drains well"),
		felt("hot", "HOT: wait", ask.FeelsHot, ""),
	}
}

// ends are how a push ended, or why it was halted.
func ends(*guide.Guide, job.Place) []Option {
	ended := says{topic: job.FillEnded}
	return []Option{
		option(job.AirNone, "at the STOP mark", "", ended, chosen(job.AirInLine, job.AirNone)),
		option(job.AirYes, "air came first", "", ended, chosen(job.AirInLine, job.AirYes)),
		option(job.HaltLeaks, "it leaks at the adapter: STOP", "", chosen(job.FillHalted, job.HaltLeaks)),
		option(job.HaltBlocked, "nothing moves, or the breather is silent: STOP", "", chosen(job.FillHalted, job.HaltBlocked)),
	}
}

// also are the options of a question, each of which says that an event took place too.
func also(event, choice job.Topic) func(*guide.Guide, job.Place) []Option {
	return func(g *guide.Guide, p job.Place) []Option {
		var list []Option
		for _, o := range (guide.Prompt{Spec: ask.SpecOf(choice), Place: p.Of(choice)}).Choices(g) {
			list = append(list, option(o.Token, o.Label, o.Hint, says{topic: event}, chosen(choice, o.Token)))
		}
		return list
	}
}

var (
	cappedAnd = also(job.Capped, job.HoseAfter)
	seated    = also(job.PlugSeated, job.WasherFitted)
)

// hose reads what a hose holds, or its bore and length: 6*1.5.
func hose(_ *guide.Guide, typed string) []part {
	bore, length, ok := strings.Cut(typed, "*")
	if !ok {
		return []part{{job.HoseHolds, typed}}
	}
	return []part{{job.HoseBore, strings.TrimSpace(bore)}, {job.HoseLength, strings.TrimSpace(length)}}
}

// byCommas reads several answers with commas between them.
func byCommas(topics ...job.Topic) func(*guide.Guide, string) []part {
	return func(_ *guide.Guide, typed string) []part {
		var parts []part
		for i, text := range strings.SplitN(typed, ",", len(topics)) {
			if text = strings.TrimSpace(text); text != "" {
				parts = append(parts, part{topics[i], text})
			}
		}
		return parts
	}
}
