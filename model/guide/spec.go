package guide

// This file says how one thing is asked for: a Spec stands for one topic, a
// block for a run of specs that is asked once or again and again. The specs
// themselves stand in the file of their step.

import (
	"fmt"
	"slices"

	"garage/tundish/model/job"
)

// Option is one answer of a Choose topic.
type Option struct {
	Token string // name in files
	Label string // as shown
	Hint  string // what it leads to, "" none
}

// Spec is how one topic is asked for. Functions may be nil. They see the state
// folded from all entries, so they must not assume that earlier topics have
// been answered.
type Spec struct {
	job.TopicInfo
	Topic   job.Topic
	Part    part   // of the first step
	Ask     string // what to do, or the question, as short as a line of a sheet
	Hint    string // beside the field or the choice: what can be typed
	Why     string // why, in one line
	Options []Option
	Unknown string // what "don't know" means here, "" when it must be answered
	Safety  bool   // a caution: confirmed by a key of its own
	// Optional need not be answered: nobody is asked, whoever knows it says it. Without
	// an answer of an earlier job, or a usual one, no entry is made of it.
	Optional bool
	Stop     bool                                // settles what does not fit before anything else is done: a screen of its own
	Doubts   func(*Guide, job.Place) []job.Place // of a stop: the readings that it doubts, to be read and typed anew
	Suggest  []string                            // lines of text at hand, for a number pad

	AskOf     wording
	HintOf    wording
	WhyOf     wording
	UnknownOf wording                                 // in place of Unknown, where that has figures
	OptionsOf func(*Guide, job.Place) []Option        // on offer as things stand; Options has every fixed token there is
	When      condition                               // is it asked at all
	Stale     func(*Guide, job.Place, job.Entry) bool // has what followed made the answer void
	Check     check                                   // beyond dimension and sign
	Default   offer
	Confirms  func(*Guide, job.Place) float64 // the number, ml, that an answer was given for
}

// The kinds of function that a Spec is made of.
type (
	condition = func(*Guide, job.Place) bool
	wording   = func(*Guide, job.Place) string
	offer     = func(*Guide, job.Place) (job.Value, bool)
	check     = func(*Guide, job.Place, job.Value) error
)

// caution is a spec that is shown as one.
func caution(t job.Topic, ask, why string) Spec {
	return Spec{Topic: t, Safety: true, Ask: ask, Why: why}
}

// choosing asks for one of the options.
func choosing(t job.Topic, options []Option, ask, why string) Spec {
	return Spec{Topic: t, Options: options, Ask: ask, Why: why}
}

// optional is what need not be known: unknown is what it means then.
func optional(t job.Topic, check check, ask, why, unknown string) Spec {
	return Spec{Topic: t, Optional: true, Check: check, Ask: ask, Why: why, Unknown: unknown}
}

// when is the spec, asked under a condition only; offers is the spec with a choice
// on offer.
func (s Spec) when(asked condition) Spec {
	s.When = asked
	return s
}

func (s Spec) offers(choice string) Spec {
	s.Default = offering(job.Value{Choice: choice})
	return s
}

// notNeeded is the spec as one that need not be answered.
func (s Spec) notNeeded() Spec {
	s.Optional = true
	return s
}

// part says what a question of the first step is about.
type part uint8

const (
	partUnit   part = iota
	partGarage      // what measures and what fills: the same at every unit
)

// block is a run of specs asked together: once, or again and again while
// repeats says so of its first topic, or, where that has Ends, until that event.
type block struct {
	repeats bool
	specs   []Spec
}

// once is a block that is asked once.
func once(specs ...Spec) block {
	for i := range specs {
		specs[i].TopicInfo = specs[i].Topic.Info()
	}
	return block{specs: specs}
}

// again is a block that may be asked more than once.
func again(specs ...Spec) block {
	b := once(specs...)
	b.repeats = true
	return b
}

// inStep is a block that is asked in a step of its own: with a level port there
// is no cap, and what belongs to it is asked as the push ends.
func inStep(step job.Step, b block) block {
	for i := range b.specs {
		b.specs[i].Step = step
	}
	return b
}

// under says what a block of the first step is about.
func under(part part, b block) block {
	for i := range b.specs {
		b.specs[i].Part = part
	}
	return b
}

// Prompt is one question at its place.
type Prompt struct {
	*Spec
	Place   job.Place
	Strikes int // Seq of the entry that an answer takes the place of; 0 none
}

// AskText is what to do, as things stand; WhyText the reason in one line, and
// UnknownText what "don't know" means here.
func (p Prompt) AskText(s *Guide) string     { return p.worded(s, p.AskOf, p.Ask) }
func (p Prompt) HintText(s *Guide) string    { return p.worded(s, p.HintOf, p.Hint) }
func (p Prompt) WhyText(s *Guide) string     { return p.worded(s, p.WhyOf, p.Why) }
func (p Prompt) UnknownText(s *Guide) string { return p.worded(s, p.UnknownOf, p.Unknown) }

func (p Prompt) worded(s *Guide, of wording, always string) string {
	if of != nil {
		return of(s, p.Place)
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
func (p Prompt) Choices(s *Guide) []Option {
	if p.OptionsOf != nil {
		return p.OptionsOf(s, p.Place)
	}
	return p.Options
}

// option is the option of a token, as things stand.
func (p Prompt) option(s *Guide, token string) (Option, bool) {
	for _, o := range p.Choices(s) {
		if o.Token == token {
			return o, true
		}
	}
	return Option{}, false
}

// wordedOption is the option of a token for showing it: of an older job it may be one that is
// no longer on offer.
func (p Prompt) wordedOption(s *Guide, token string) (Option, bool) {
	if o, ok := p.option(s, token); ok {
		return o, true
	}
	i := slices.IndexFunc(p.Options, func(o Option) bool { return o.Token == token })
	if i < 0 {
		return Option{}, false
	}
	return p.Options[i], true
}

// DefaultValue is the answer that is offered, if there is one: of an earlier
// job, or the usual one. What would be refused is not offered.
func (p Prompt) DefaultValue(s *Guide) (job.Value, bool) {
	if p.Observed {
		return job.Value{}, false
	}
	if v, ok := s.offered(p.Place.Topic, p.Place.Item); ok && p.Topic.IsFact() && p.Accept(s, v) == nil {
		return v, true
	}
	if p.Default == nil {
		return job.Value{}, false
	}
	v, ok := p.Default(s, p.Place)
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
