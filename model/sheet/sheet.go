// Package sheet cuts the questions of a job into visits to the laptop: a sheet is
// what the hands do on one trip, all of its lines in order, and what is typed on
// coming back. It decides nothing about oil and asks nothing that the guide does
// not ask: a line stands for one question or for several that are one to a person.
//
// This file builds a sheet. table.go says which questions make one line, take.go
// makes entries of an answer, words.go says what stands round the lines.
package sheet

import (
	"slices"
	"time"

	"garage/tundish/model/ask"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// Kind says how a line is answered.
type Kind uint8

const (
	Confirm Kind = iota // by the digit of the line
	Choice              // by the digit of an option
	Reading             // a figure or a text is typed
	Moment              // when it happened: taken from the clock, or typed
)

// Standing says how a line stands.
type Standing uint8

const (
	Open    Standing = iota // must be answered
	Offered                 // counts as it stands, unless it is changed
	Said                    // answered
)

// Line is one line of a sheet.
type Line struct {
	Kind     Kind
	Standing Standing
	Place    job.Place // of the first question that it stands for
	Ask      string    // what it says
	Hint     string    // beside a field: what can be typed
	Why      string
	Key      rune     // that confirms, 0 else
	Options  []Option // of a Choice, and lines of text at hand
	Value    string   // the answer that stands or is on offer, in words; "" none
	Typed    string   // what was typed for it, "" nothing
	At       time.Time
	Unit     string // of a bare number
	Safety   bool
	Unknown  bool   // "not known" is an answer
	Folded   bool   // not on the sheet until it is asked for
	Worth    string // of a folded line: what an answer would gain, "" not known
	Strikes  bool   // what followed has made the answer void

	prompts []guide.Prompt
	merged  *merged // nil: one question
	naming  bool    // of the questions the last, a name, is left
}

// Option is one answer of a line.
type Option struct {
	Key   rune
	Token string // in streams
	Label string
	Hint  string

	says []says
	back []job.Place // leads back to readings, to be typed anew; says nothing
}

// says is an answer to one question.
type says struct {
	topic job.Topic
	value job.Value
}

// Topics are the questions that the line stands for, as they are stored.
func (l Line) Topics() []job.Topic {
	if l.merged != nil {
		return l.merged.topics
	}
	topics := make([]job.Topic, len(l.prompts))
	for i, p := range l.prompts {
		topics[i] = p.Topic
	}
	return topics
}

// Topic is the question that a line is called by in streams: the one that takes what
// is typed, else the first.
func (l Line) Topic() job.Topic {
	if l.merged != nil && l.merged.typed != job.NoTopic {
		return l.merged.typed
	}
	if l.naming {
		return job.UnitName
	}
	return l.Place.Topic
}

// Prompt is the question that a typed answer goes to.
func (l Line) Prompt() guide.Prompt {
	if l.merged != nil && l.merged.typed != job.NoTopic {
		for _, p := range l.prompts {
			if p.Topic == l.merged.typed {
				return p
			}
		}
		return guide.Prompt{Spec: ask.SpecOf(l.merged.typed), Place: l.prompts[0].Place.Of(l.merged.typed)} // not asked yet
	}
	if l.naming {
		return l.prompts[len(l.prompts)-1]
	}
	return l.prompts[0]
}

// Sheet is one visit.
type Sheet struct {
	At
	Lines []Line // in the order of the work; folded ones too
	Words
	stop *guide.Prompt // of a Stop
	live *guide.Guide  // with what is on offer
}

// FirstOpen is the first line that must be answered; -1 where none is.
func (s Sheet) FirstOpen() int {
	return slices.IndexFunc(s.Lines, func(l Line) bool { return l.Standing == Open })
}

// Live is the job as it stands once the sheet is complete.
func (s Sheet) Live() *guide.Guide { return s.live }

// Now is the sheet that a job is at; false where nothing is left to ask.
func Now(g *guide.Guide, now time.Time) (Sheet, bool) {
	if g.StoppedByOwner() {
		return Sheet{}, false
	}
	for p, open := range g.Prompts() {
		if open && p.Asked(g) {
			return Of(g, home(g, p), now), true
		}
	}
	return Sheet{}, false
}

// Of is a sheet of a job, as things stand; the Stop instead, where one of its
// questions settles what does not fit and comes next.
func Of(g *guide.Guide, at At, now time.Time) Sheet {
	live := assume(g, at, now)
	if p, ok := stopAt(live, at); ok {
		s := Sheet{At: At{Stop, at.Round}, stop: &p, live: live}
		s.Lines = []Line{stopLine(g, live, p)}
		s.Words = stopWords(live, p)
		return s
	}
	return lookedAt(g, live, at, now)
}

// lookedAt is a sheet with its readings, whatever has to be settled of them.
func lookedAt(g, live *guide.Guide, at At, now time.Time) Sheet {
	s := Sheet{At: at, live: live, Lines: linesOf(g, live, at, now)}
	s.Words = wordsOf(g, s, now)
	return s
}

// resuming is the sheet for questions that come before anything else when a job is
// taken up again.
func resuming(g *guide.Guide, prompts []guide.Prompt) Sheet {
	s := Sheet{At: At{ID: Resume}, live: g}
	for i, p := range prompts {
		l := newLine(g, g, nil, []guide.Prompt{p})
		l.Key = keyOf(g, Resume, i)
		s.Lines = append(s.Lines, l)
	}
	s.Words = resumeWords(g)
	return s
}

// Visited are the sheets of a job up to now, in order: those of which anything is
// answered, and the one that it is at.
func Visited(g *guide.Guide) []At {
	var list []At
	for p, open := range g.Prompts() {
		at := home(g, p)
		if open && p.Asked(g) {
			if !slices.Contains(list, at) {
				list = append(list, at)
			}
			break
		}
		if !open && !slices.Contains(list, at) {
			list = append(list, at)
		}
	}
	return list
}

// assume is the job with what is on offer on a sheet.
func assume(g *guide.Guide, at At, now time.Time) *guide.Guide {
	for range job.MaxIndex {
		p, ok := firstOffered(g, at)
		if !ok {
			break
		}
		e, err := p.Answer(g, "", now)
		if err != nil {
			break
		}
		g = g.With(e)
	}
	return g
}

// firstOffered is the first question of a sheet that is open and has an answer on
// offer.
func firstOffered(g *guide.Guide, at At) (guide.Prompt, bool) {
	for p, open := range g.Prompts() {
		if open && home(g, p) == at && p.Asked(g) && offered(g, p) {
			return p, true
		}
	}
	return guide.Prompt{}, false
}

// offered reports whether an open question is answered by the sheet being complete.
func offered(g *guide.Guide, p guide.Prompt) bool {
	switch p.Topic {
	case job.AtHand, job.PlugOut, job.DripReading:
		return true
	case job.FillReading: // ends where a level is seen; a push ends with how it ended
		return g.Path().PouredIn()
	}
	if p.Stop || p.Kind == job.Acknowledge || p.Kind == job.Event {
		return false
	}
	v, ok := p.DefaultValue(g)
	return ok && !v.Unknown
}

// stopAt is the question of a sheet that settles what does not fit, where it is the
// next one that must be answered.
func stopAt(live *guide.Guide, at At) (guide.Prompt, bool) {
	for p, open := range live.Prompts() {
		if open && home(live, p) == at && p.Asked(live) && !offered(live, p) {
			return p, p.Stop
		}
	}
	return guide.Prompt{}, false
}

// linesOf are the lines of a sheet.
func linesOf(g, live *guide.Guide, at At, now time.Time) []Line {
	type group struct {
		of      *merged
		item    int
		prompts []guide.Prompt
	}
	var groups []*group
	for p := range live.Prompts() {
		if home(live, p) != at || p.Stop || hidden(p.Topic) {
			continue
		}
		of, item := mergedOf[p.Topic], p.Place.Item
		if of != nil && of.single {
			item = 0
		}
		i := -1
		if of != nil {
			i = slices.IndexFunc(groups, func(x *group) bool { return x.of == of && x.item == item })
		}
		x := &group{of: of, item: item}
		if i >= 0 { // a line stands where the last of its questions does
			x = groups[i]
			groups = slices.Delete(groups, i, i+1)
		}
		x.prompts = append(x.prompts, p)
		groups = append(groups, x)
	}
	var lines []Line
	for _, x := range groups {
		lines = append(lines, newLine(g, live, x.of, x.prompts))
	}
	lines = append(lines, besides(g, live, at)...)
	lines = append(lines, momentsOf(g, at, now)...)
	early, confirms := 0, 0
	for i := range lines {
		switch {
		case lines[i].Kind != Confirm:
		case lines[i].Early():
			lines[i].Key = earlyKey(g, early)
			early++
		default:
			lines[i].Key = keyOf(g, at.ID, confirms)
			confirms++
		}
	}
	return lines
}
