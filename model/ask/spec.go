package ask

// This file says how one thing is asked for: a Spec stands for one topic, a
// Block for a run of specs that is asked once or again and again. The specs
// themselves stand in the file of their step.

import "garage/tundish/model/job"

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
	Garage  bool   // about what measures and what fills: the same at every unit
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
	Doubts   func(*Known, job.Place) []job.Place // of a stop: the readings that it doubts, to be read and typed anew
	Suggest  []string                            // lines of text at hand, for a number pad

	AskOf     wording
	HintOf    wording
	WhyOf     wording
	UnknownOf wording                                 // in place of Unknown, where that has figures
	OptionsOf func(*Known, job.Place) []Option        // on offer as things stand; Options has every fixed token there is
	When      condition                               // is it asked at all
	Stale     func(*Known, job.Place, job.Entry) bool // has what followed made the answer void
	Check     check                                   // beyond dimension and sign
	Default   offer
	Confirms  func(*Known, job.Place) float64 // the number, ml, that an answer was given for
}

// The kinds of function that a Spec is made of.
type (
	condition = func(*Known, job.Place) bool
	wording   = func(*Known, job.Place) string
	offer     = func(*Known, job.Place) (job.Value, bool)
	check     = func(*Known, job.Place, job.Value) error
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

// Block is a run of specs asked together: once, or again and again while
// repeats says so of its first topic, or, where that has Ends, until that event.
type Block struct {
	Repeats bool
	Specs   []Spec
}

// once is a Block that is asked once.
func once(specs ...Spec) Block {
	for i := range specs {
		specs[i].TopicInfo = specs[i].Topic.Info()
	}
	return Block{Specs: specs}
}

// again is a Block that may be asked more than once.
func again(specs ...Spec) Block {
	b := once(specs...)
	b.Repeats = true
	return b
}

// inStep is a Block that is asked in a step of its own: with a level port there
// is no cap, and what belongs to it is asked as the push ends.
func inStep(step job.Step, b Block) Block {
	for i := range b.Specs {
		b.Specs[i].Step = step
	}
	return b
}

// ofGarage is a Block about what measures and what fills.
func ofGarage(b Block) Block {
	for i := range b.Specs {
		b.Specs[i].Garage = true
	}
	return b
}
