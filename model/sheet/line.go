package sheet

// This file makes a line of the questions that it stands for.

import (
	"fmt"
	"strings"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// newLine is the line of questions; live is the job with what is on offer.
func newLine(g, live *guide.Guide, of *merged, prompts []guide.Prompt) Line {
	l := Line{prompts: prompts, merged: of, Place: prompts[0].Place}
	if of != nil && of.single {
		l.Place.Item = 0
	}
	l.Standing = l.standing(g, live)
	l.naming = l.namesNow(live)
	lead := l.lead()
	l.Ask, l.Hint, l.Why = lead.AskText(live), lead.HintText(live), lead.WhyText(live)
	if of != nil && of.ask != "" && lead.Place.Item == 0 && !l.naming {
		l.Ask = of.ask
	}
	if lead.Topic == job.DryStart && g.Follows() {
		l.Ask = "Since last time"
	}
	if of != nil && of.hint != "" {
		l.Hint = of.hint
	}
	if l.Kind = kindOf(of, lead); l.naming {
		l.Kind = Reading
	}
	for _, p := range prompts {
		l.Safety = l.Safety || p.Safety
		l.Strikes = l.Strikes || p.Strikes > 0
	}
	switch l.Kind {
	case Choice:
		l.Options = optionsOf(live, of, lead)
	case Reading:
		l.Unknown, l.Unit = lead.Unknown != "" || lead.Topic == job.EscapedAmount, lead.BareUnit(live)
		for i, text := range lead.Suggest {
			l.Options = append(l.Options, Option{Key: rune('1' + i), Label: text, says: []says{{lead.Topic, job.Value{Text: text}}}})
		}
	}
	l.value(g, live)
	if l.Folded = folded(g, lead, l.Standing); l.Folded {
		l.Worth = worth(live, l)
	}
	return l
}

// lead is the question that a line speaks with: the one that is typed, else the first
// that is open, else the first.
func (l Line) lead() guide.Prompt {
	if l.naming || l.merged != nil && l.merged.typed != job.NoTopic {
		return l.Prompt()
	}
	return l.prompts[0]
}

// namesNow reports whether the kind of unit is answered, and what is left of the line is
// its name.
func (l Line) namesNow(live *guide.Guide) bool {
	last := l.prompts[len(l.prompts)-1]
	return l.Place.Topic == job.UnitKind && last.Topic == job.UnitName && holds(live, l.prompts[0]) && !holds(live, last)
}

// standing says how a line stands.
func (l Line) standing(g, live *guide.Guide) Standing {
	s, said := Offered, false
	for _, p := range l.prompts {
		if (p.Topic == job.FillReading || p.Topic == job.OilRunning) && !g.HasItem(p.Topic, p.Place.Round, p.Place.Item) {
			continue // none is needed
		}
		e, here := g.Answer(p.Place)
		void := p.Stale != nil && here && p.Stale(live.Known, p.Place, e)
		switch {
		case here && !void:
			said = true
		case p.Asked(live) && !holds(live, p):
			return Open
		}
	}
	if said {
		s = Said
	}
	return s
}

// holds reports whether a question has an answer in a job: one that was given, or one
// that was on offer.
func holds(live *guide.Guide, p guide.Prompt) bool {
	e, ok := live.Answer(p.Place)
	if !ok {
		return p.Ends != job.NoTopic && live.HasIn(p.Ends, p.Place.Round)
	}
	return p.Stale == nil || !p.Stale(live.Known, p.Place, e)
}

func kindOf(of *merged, lead guide.Prompt) Kind {
	switch {
	case of != nil && of.options != nil:
		return Choice
	case of != nil && of.typed != job.NoTopic:
		return Reading
	case lead.Kind == job.Choose:
		return Choice
	case lead.Kind == job.Acknowledge || lead.Kind == job.Event:
		return Confirm
	}
	return Reading
}

// optionsOf are the options of a line, each with its digit.
func optionsOf(live *guide.Guide, of *merged, lead guide.Prompt) []Option {
	var list []Option
	if of != nil && of.options != nil {
		list = of.options(live, lead.Place)
	} else {
		for _, o := range lead.Choices(live) {
			list = append(list, option(o.Token, o.Label, o.Hint, chosen(lead.Topic, o.Token)))
		}
	}
	for i := range list {
		list[i].Key = rune('1' + i)
		switch {
		case list[i].Token == job.NotLooked:
			list[i].Key = notKnown
		case lead.Topic == job.Decision:
			list[i].Key = decisionKey(list[i].Token)
		}
	}
	if lead.Topic == job.Decision {
		list = append(list, Option{Key: wrongKey, Token: job.LookedTyped, Label: "a reading is wrong: correct it",
			back: []job.Place{lead.Place.Of(job.LeftInVessel)}})
	}
	return list
}

func decisionKey(token string) rune {
	switch token {
	case job.DecideAccept.String():
		return acceptKey
	case job.DecideLeave.String():
		return leaveKey
	}
	return correctKey
}

// value puts the answer that stands, or that is on offer, into words.
func (l *Line) value(g, live *guide.Guide) {
	if l.Standing == Open && !l.Strikes {
		return
	}
	var texts []string
	for _, p := range l.prompts {
		e, ok := live.Answer(p.Place)
		switch {
		case ok && (p.Kind == job.Acknowledge || p.Kind == job.Event):
			l.At = e.Happened()
		case ok && p.Topic.Info().Kind != job.Choose || ok && l.Kind == Choice && len(l.prompts) == 1:
			texts = append(texts, live.AnswerText(e))
		}
		if ok && e.Typed != "" {
			l.Typed = e.Typed
		}
		if at, stands := g.Answer(p.Place); stands {
			l.At = at.Happened()
		}
	}
	if l.Kind == Choice && l.merged != nil {
		if o, ok := l.picked(live); ok {
			texts = []string{strings.TrimSuffix(o.Label+" ("+o.Hint+")", " ()")}
		}
	}
	if len(texts) == 0 && l.Place.Topic == job.Card {
		texts = []string{cardsText(live)}
	}
	if len(texts) == 0 && l.Standing == Offered && l.Kind == Reading {
		texts = []string{l.lead().UnknownText(live)}
	}
	l.Value = strings.Join(texts, ", ")
}

// picked is the option of which all answers stand.
func (l Line) picked(live *guide.Guide) (Option, bool) {
	for _, o := range l.Options {
		all := len(o.says) > 0
		for _, s := range o.says {
			e, ok := live.Answer(job.At(s.topic, l.Place.Round, l.Place.Item))
			all = all && ok && e.Value.Choice == s.value.Choice && e.Value.Text == s.value.Text && (s.value.Unit == job.NoDim ||
				e.Value.Number == s.value.Number)
		}
		if all {
			return o, true
		}
	}
	return Option{}, false
}

// momentsOf are the events of a sheet that can be told another time for.
func momentsOf(g *guide.Guide, at At, now time.Time) []Line {
	event := map[ID]job.Topic{Drain: job.PlugOut, Cap: job.Capped, Seat: job.PlugSeated}[at.ID]
	e, ok := g.Answer(job.At(event, at.Round, 0))
	p, known := guide.PromptOf(e)
	if event == job.NoTopic || !ok || !known {
		return nil
	}
	l := Line{Kind: Moment, Standing: Said, Place: p.Place, Ask: momentAsk[event], Hint: "another time: -5, or 14.05", At: e.Happened(),
		Value: happened(e.Happened(), now), prompts: []guide.Prompt{p}}
	return []Line{l}
}

var momentAsk = map[job.Topic]string{
	job.PlugOut: "Plug came out", job.Capped: "Settling since", job.PlugSeated: "Plug is in since",
}

// happened says when something took place.
func happened(at, now time.Time) string {
	clock := at.In(now.Location()).Format("15:04")
	switch ago := now.Sub(at); {
	case ago < 0 || ago > 24*time.Hour:
		return at.In(now.Location()).Format("2 Jan 15:04")
	case ago < time.Minute:
		return "now (" + clock + ")"
	case ago < 2*time.Hour:
		return fmt.Sprintf("%d min ago (%s)", int(ago.Minutes()), clock)
	default:
		return fmt.Sprintf("%d h ago (%s)", int(ago.Hours()), clock)
	}
}

// stopLine is the line of a question that settles what does not fit: first that it was
// read or typed wrong, with nothing preselected.
func stopLine(g, live *guide.Guide, p guide.Prompt) Line {
	l := newLine(g, live, nil, []guide.Prompt{p})
	l.Standing, l.Folded = Open, false
	if l.Kind == Confirm {
		l.Key = keyOf(g, Stop, 0)
		return l
	}
	if l.Kind == Choice {
		if p.Doubts != nil {
			l.Options = append([]Option{{Token: job.LookedTyped, Label: "I read or typed it wrong: type it anew",
				Hint: "the old one stays in the record, struck out", back: p.Doubts(live.Known, p.Place)}}, l.Options...)
		}
		for i := range l.Options {
			l.Options[i].Key = rune(stopKeys[i])
		}
	}
	return l
}
