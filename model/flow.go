package model

// This file puts the steps in order and finds what is to be asked next. It is
// the only place that knows the order; both fill paths and every correction
// round run through it.

// section is a run of blocks that is gone through once, or once a round.
type section struct {
	perRound bool
	blocks   []block
}

// jobFlow is the whole job in order. It never changes.
var jobFlow = []section{
	{blocks: join(prepareBlocks(), isolateBlocks(), drainBlocks(), measureBlocks())},
	{perRound: true, blocks: join(preloadBlocks(), fillBlocks(), capBlocks(), seatBlocks(), decisionBlocks())},
	{blocks: closeBlocks()},
}

// specs finds a topic's spec. It never changes.
var specs = indexSpecs()

func join(runs ...[]block) []block {
	var all []block
	for _, run := range runs {
		all = append(all, run...)
	}
	return all
}

func indexSpecs() [topicCount]*Spec {
	var index [topicCount]*Spec
	for _, sec := range jobFlow {
		for _, b := range sec.blocks {
			for i := range b.specs {
				index[b.specs[i].Topic] = &b.specs[i]
				if ends := b.specs[i].Ends; ends != NoTopic {
					index[ends] = &Spec{Topic: ends, Step: b.specs[i].Step, Kind: Event, Ask: endedAsk(ends)}
				}
			}
		}
	}
	for _, extra := range resumeSpecs() {
		index[extra.Topic] = &extra
	}
	return index
}

func endedAsk(t Topic) string {
	if t == DripsEnded {
		return "No more drip readings"
	}
	return "No more readings while it fills"
}

// SpecOf is a topic's spec; nil for Undo and NoTopic.
func SpecOf(t Topic) *Spec {
	if t >= topicCount {
		return nil
	}
	return specs[t]
}

// isFact says whether a topic is a fact about unit, oil, containers or rig
// that the next job can take over.
func isFact(t Topic) bool {
	sp := SpecOf(t)
	return sp != nil && sp.Step == Prepare && sp.Kind != Acknowledge
}

// Rounds is how many rounds of filling there are: the first, and one more for
// each decision to correct.
func (s *State) Rounds() int {
	n := 1
	for ; n <= MaxIndex; n++ {
		if d := s.Decision(n - 1); d != DecideAdd && d != DecideLetOut {
			break
		}
	}
	return n
}

// Next is what is to be asked next; false when nothing is left to ask.
func (s *State) Next() (Prompt, bool) {
	if s.StoppedByOwner() {
		return Prompt{}, false
	}
	for _, sec := range jobFlow {
		rounds := 1
		if sec.perRound {
			rounds = s.Rounds()
		}
		for r := range rounds {
			for i := range sec.blocks {
				if p, ok := s.nextIn(&sec.blocks[i], r); ok {
					return p, true
				}
			}
		}
	}
	return Prompt{}, false
}

// nextIn is the first question of a block that is still open in a round.
func (s *State) nextIn(b *block, round int) (Prompt, bool) {
	ends := b.specs[0].Ends
	for item := 0; item <= MaxIndex; item++ {
		if ends != NoTopic && s.hasIn(ends, round) {
			return Prompt{}, false
		}
		for i := range b.specs {
			p := Prompt{Spec: &b.specs[i], Place: Place{b.specs[i].Topic, round, item}}
			if s.open(p) {
				return p, true
			}
		}
		again := b.more != nil && b.more(s, Place{Round: round, Item: item})
		if ends != NoTopic {
			again = s.hasItem(b.specs[0].Topic, round, item) // else it is not asked here at all
		}
		if !again {
			break
		}
	}
	return Prompt{}, false
}

// open says whether a question is asked and has no answer that still holds.
func (s *State) open(p Prompt) bool {
	if p.When != nil && !p.When(s, p.Place) {
		return false
	}
	e, ok := s.at(p.Place)
	return !ok || (p.Stale != nil && p.Stale(s, p.Place, e))
}

// Step is the step that the job is at: that of the next question, or the last.
func (s *State) Step() Step {
	if p, ok := s.Next(); ok {
		return p.Step
	}
	return CloseOut
}

// Progress is, of the questions of a step in a round as things stand, how many
// have an answer and how many there are.
func (s *State) Progress(step Step, round int) (answered, asked int) {
	for _, sec := range jobFlow {
		if !sec.perRound && round > 0 {
			continue
		}
		for i := range sec.blocks {
			a, n := s.progressIn(&sec.blocks[i], step, round)
			answered, asked = answered+a, asked+n
		}
	}
	return answered, asked
}

func (s *State) progressIn(b *block, step Step, round int) (answered, asked int) {
	for i := range b.specs {
		sp := &b.specs[i]
		p := Prompt{Spec: sp, Place: Place{Topic: sp.Topic, Round: round}}
		if sp.Step != step || (sp.When != nil && !sp.When(s, p.Place)) {
			continue
		}
		asked++
		if !s.open(p) {
			answered++
		}
	}
	return answered, asked
}

// AskedAgain lists the questions of the rest of the part of the first step that
// p belongs to, each with the answer on offer, for as long as there is one:
// what one key can take over as shown.
func (s *State) AskedAgain(p Prompt) []Prompt {
	var rest []Prompt
	found := false
	for i := range jobFlow[0].blocks {
		b := &jobFlow[0].blocks[i]
		for k := range b.specs {
			q := Prompt{Spec: &b.specs[k], Place: Place{Topic: b.specs[k].Topic, Item: p.Place.Item}}
			found = found || q.Topic == p.Topic
			if !found || !s.open(q) {
				continue
			}
			if _, ok := q.DefaultValue(s); !ok || q.Step != Prepare || q.Kind == Acknowledge || q.Part != p.Part {
				return rest
			}
			rest = append(rest, q)
		}
	}
	return rest
}
