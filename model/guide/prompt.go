package guide

// This file holds a question at its place in a job: its words, its options and its
// answer on offer as things stand.

import (
	"fmt"
	"slices"

	"garage/tundish/model/ask"
	"garage/tundish/model/job"
)

// Prompt is one question at its place.
type Prompt struct {
	*ask.Spec
	Place   job.Place
	Strikes int // Seq of the entry that an answer takes the place of; 0 none
}

// AskText is what to do, as things stand; WhyText the reason in one line, and
// UnknownText what "don't know" means here.
func (p Prompt) AskText(s *Guide) string     { return p.worded(s, p.AskOf, p.Ask) }
func (p Prompt) HintText(s *Guide) string    { return p.worded(s, p.HintOf, p.Hint) }
func (p Prompt) WhyText(s *Guide) string     { return p.worded(s, p.WhyOf, p.Why) }
func (p Prompt) UnknownText(s *Guide) string { return p.worded(s, p.UnknownOf, p.Unknown) }

func (p Prompt) worded(s *Guide, of func(*ask.Known, job.Place) string, always string) string {
	if of != nil {
		return of(s.Known, p.Place)
	}
	return always
}

// NameText is the name of the answer, with which of several it is.
func (p Prompt) NameText() string {
	name := p.Name
	if p.Place.Item > 0 {
		name += fmt.Sprintf(" %d", p.Place.Item+1)
	}
	if p.Place.Round > 0 {
		name += fmt.Sprintf(", correction %d", p.Place.Round)
	}
	return name
}

// Choices are the options, as things stand.
func (p Prompt) Choices(s *Guide) []ask.Option {
	if p.OptionsOf != nil {
		return p.OptionsOf(s.Known, p.Place)
	}
	return p.Options
}

// option is the option of a token, as things stand.
func (p Prompt) option(s *Guide, token string) (ask.Option, bool) {
	for _, o := range p.Choices(s) {
		if o.Token == token {
			return o, true
		}
	}
	return ask.Option{}, false
}

// wordedOption is the option of a token for showing it: of an older job it may be one that is
// no longer on offer.
func (p Prompt) wordedOption(s *Guide, token string) (ask.Option, bool) {
	if o, ok := p.option(s, token); ok {
		return o, true
	}
	i := slices.IndexFunc(p.Options, func(o ask.Option) bool { return o.Token == token })
	if i < 0 {
		return ask.Option{}, false
	}
	return p.Options[i], true
}

// DefaultValue is the answer that is offered, if there is one: of an earlier
// job, or the usual one. What would be refused is not offered.
func (p Prompt) DefaultValue(s *Guide) (job.Value, bool) {
	if p.Observed {
		return job.Value{}, false
	}
	if v, ok := s.Offered.Answers[job.Place{Topic: p.Place.Topic, Item: p.Place.Item}]; ok && p.Topic.IsFact() && p.Accept(s, v) == nil {
		return v, true
	}
	if p.Default == nil {
		return job.Value{}, false
	}
	v, ok := p.Default(s.Known, p.Place)
	if ok && p.Accept(s, v) != nil {
		return job.Value{Unknown: true}, p.Unknown != ""
	}
	return v, ok
}

// Asked reports whether somebody must be asked, or an answer on offer is to be taken:
// not of what is optional and nothing is known of.
func (p Prompt) Asked(s *Guide) bool {
	if !p.Optional {
		return true
	}
	v, ok := p.DefaultValue(s)
	return ok && !v.Unknown
}

// PickedOption is the option that was chosen at a place; false where nothing
// stands there. One that is no longer on offer is shown by its token.
func (s *Guide) PickedOption(p job.Place) (ask.Option, bool) {
	e, ok := s.Answer(p)
	prompt, known := PromptOf(e)
	if !ok || !known {
		return ask.Option{}, false
	}
	if o, ok := prompt.wordedOption(s, e.Value.Choice); ok {
		return o, true
	}
	return ask.Option{Token: e.Value.Choice, Label: e.Value.Choice}, true
}
