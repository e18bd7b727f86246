package stream

// This file does what a request wants.

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
	"garage/tundish/tui/lines"
	"garage/tundish/tui/session"
)

// doubt is an answer that can be meant in two ways, or that leads back to readings.
type doubt struct {
	topic   string
	choices []choiceOut
	choose  func(n int, at time.Time) (more bool, err error)
}

// taker makes the entries of an answer.
type taker func(a sheet.Answer, at time.Time) ([]job.Entry, error)

// take does what a line says, and says what is asked next; false where nothing is left
// to do.
func (x *stream) take(line lines.Line) (more bool, err error) {
	if line.TooLong {
		return x.refuse(x.topic(), fmt.Errorf("longer than %d bytes", lines.Most))
	}
	r, err := parse(line.Text)
	if err != nil {
		return x.refuse(x.topic(), err)
	}
	at, err := x.when(r.at)
	if err != nil {
		return x.refuse(x.topic(), err)
	}
	settled := x.doubt
	if r.act != actFigures {
		x.doubt = nil
	}
	switch r.act {
	case actLeave:
		return false, nil
	case actFigures:
		return true, x.figures()
	case actComplete:
		entries, err := x.sheet.Complete(x.s.Real(), at)
		return x.leave(x.topic(), entries, err)
	case actUndo:
		return x.undo(at)
	case actChoose:
		return x.choose(settled, r.text, at)
	case actCorrect:
		return x.correct(r, at)
	}
	return x.answer(r, at)
}

// refuse says why an answer is not taken, and asks again.
func (x *stream) refuse(topic string, why error) (bool, error) {
	if err := x.say(out{Refused: &refusedOut{topic, why.Error()}}); err != nil {
		return false, err
	}
	return x.next()
}

// when is the time of an answer: now, or the one given for it. A new job begins with
// its first answer.
func (x *stream) when(given time.Time) (time.Time, error) {
	now := x.cfg.Clock()
	if given.IsZero() {
		return now, nil
	}
	at := given.In(now.Location())
	last := x.s.Guide().Updated
	switch {
	case at.After(now):
		return at, fmt.Errorf("at is in the future: it is %s", now.UTC().Format(time.RFC3339))
	case !x.s.Fresh && at.Before(last):
		return at, fmt.Errorf("at is before the last entry, of %s", last.UTC().Format(time.RFC3339Nano))
	case x.s.Fresh:
		begun, err := session.Start(x.cfg.Journal, x.s.Job.ID, at, nil)
		if err != nil {
			return at, err
		}
		x.s = begun
		x.sheet, _ = x.s.Visit.Sheet(now)
	}
	return at, nil
}

// answer answers the prompt, or a line of the sheet by its topic.
func (x *stream) answer(r request, at time.Time) (bool, error) {
	i, topic := x.line, r.topic
	if topic != job.NoTopic {
		if i = x.lineOf(r); i < 0 {
			return x.refuse(topic.String(), fmt.Errorf("not on this sheet; an earlier answer is changed with correct"))
		}
	}
	if i < 0 {
		return x.refuse("", errors.New("nothing is open: complete, or name a topic of the sheet"))
	}
	l := x.sheet.Lines[i]
	a, err := answerTo(l, r)
	take := func(a sheet.Answer, at time.Time) ([]job.Entry, error) { return x.sheet.Take(x.s.Real(), i, a, at) }
	if alone := topic != job.NoTopic && l.Kind != sheet.Confirm; alone && (err != nil || topic != l.Topic() && a.Key == 0) {
		a, err = plain(r), nil // to that one of the questions of the line
		take = x.placed(l.Place.Of(topic))
	}
	if topic == job.NoTopic {
		topic = l.Topic()
	}
	if err != nil {
		return x.refuse(topic.String(), err)
	}
	return x.store(topic, a, take, at)
}

// lineOf is the line of the sheet that a request names, -1 none: of an event the one
// that tells its time, else of several the first that is open.
func (x *stream) lineOf(r request) int {
	found := -1
	for i, l := range x.sheet.Lines {
		if !slices.Contains(l.Topics(), r.topic) || r.round != nil && *r.round != l.Place.Round ||
			r.item != nil && *r.item != l.Place.Item {
			continue
		}
		if l.Kind == sheet.Moment {
			return i
		}
		if found < 0 || l.Standing == sheet.Open && x.sheet.Lines[found].Standing != sheet.Open {
			found = i
		}
	}
	return found
}

// plain is what was answered as it stands.
func plain(r request) sheet.Answer { return sheet.Answer{Typed: r.text, Unknown: r.unknown} }

// answerTo is the answer to a line. A caution is confirmed by its key and nothing else.
func answerTo(l sheet.Line, r request) (sheet.Answer, error) {
	switch {
	case l.Kind == sheet.Confirm && r.act != actKey:
		return sheet.Answer{}, fmt.Errorf(`confirmed by its key and nothing else: {"key":"%c"}`, l.Key)
	case l.Kind == sheet.Confirm:
		return sheet.Answer{Key: r.key}, nil
	case r.act == actKey:
		return sheet.Answer{}, errors.New("a key confirms what kind is confirm; this is answered")
	}
	want := r.text
	if r.unknown && notLooked(l) != "" {
		want = notLooked(l)
	}
	for _, o := range l.Options {
		if token(o) == want && want != "" {
			return sheet.Answer{Key: o.Key}, nil
		}
	}
	if l.Kind != sheet.Choice {
		return plain(r), nil
	}
	tokens := make([]string, len(l.Options))
	for i, o := range l.Options {
		tokens[i] = token(o)
	}
	if r.unknown {
		return sheet.Answer{}, errors.New("this one is needed")
	}
	return sheet.Answer{}, fmt.Errorf("one of %s", strings.Join(tokens, ", "))
}

var errConfirmed = errors.New("a caution or an event is confirmed by its key or its line alone; undo takes it back")

// placed makes the entries of an answer to one question alone, whatever sheet it is
// on: never of a caution, nor of an event.
func (x *stream) placed(p job.Place) taker {
	return func(a sheet.Answer, at time.Time) ([]job.Entry, error) {
		if kind := p.Topic.Info().Kind; kind == job.Acknowledge || kind == job.Event {
			return nil, errConfirmed
		}
		return sheet.Correct(x.s.Real(), p, a, at)
	}
}

// store stores an answer, or says why not.
func (x *stream) store(topic job.Topic, a sheet.Answer, take taker, at time.Time) (bool, error) {
	entries, err := take(a, at)
	var unclear *guide.UnclearUnit
	var back *sheet.Back
	switch {
	case errors.As(err, &unclear):
		return x.meant(topic, a, take, unclear)
	case errors.As(err, &back):
		return x.readAgain(topic, back)
	case err != nil:
		return x.refuse(topic.String(), err)
	}
	if err := x.save(entries); err != nil {
		return x.refuse(topic.String(), err)
	}
	x.s.Visit, x.focus = x.s.Visit.Answered(entries), nil
	return x.taken(entries)
}

// save makes entries durable.
func (x *stream) save(entries []job.Entry) (err error) {
	x.s, err = x.s.Keep(x.cfg.Journal, entries)
	return err
}

// taken says what was stored, and what is asked next.
func (x *stream) taken(entries []job.Entry) (bool, error) {
	for _, e := range entries {
		if err := x.say(out{Taken: &takenOut{e.Topic.String(), e.Seq}}); err != nil {
			return false, err
		}
	}
	return x.next()
}

// ask says what is in doubt, and asks again.
func (x *stream) ask(d *doubt, why string) (bool, error) {
	x.doubt = d
	if err := x.say(out{Doubt: &doubtOut{d.topic, why, d.choices}}); err != nil {
		return false, err
	}
	return x.next()
}

// meant asks in which unit a figure is meant.
func (x *stream) meant(topic job.Topic, a sheet.Answer, take taker, unclear *guide.UnclearUnit) (bool, error) {
	d := &doubt{topic: topic.String()}
	for _, r := range unclear.Readings {
		d.choices = append(d.choices, choiceOut{strings.ReplaceAll(r.Label, " ", "_"), r.Label})
	}
	d.choose = func(n int, at time.Time) (bool, error) {
		a.Meant = &unclear.Readings[n].Value
		return x.store(topic, a, take, at)
	}
	return x.ask(d, unclear.Error())
}

// readAgain leads back to readings, to be given anew: the prompt is for the first.
func (x *stream) readAgain(topic job.Topic, back *sheet.Back) (bool, error) {
	d := &doubt{topic: topic.String()}
	for _, p := range back.Places {
		d.choices = append(d.choices, choiceOut{p.Topic.String(), p.Topic.Info().Name})
	}
	look := func(n int) {
		if v, ok := x.s.Visit.LooksFor(back.Places[n]); ok {
			x.s.Visit, x.focus = v, &back.Places[n]
		}
	}
	d.choose = func(n int, _ time.Time) (bool, error) {
		look(n)
		return x.next()
	}
	look(0)
	return x.ask(d, back.Error())
}

// choose settles a doubt; where there is none, a stop's choice is an answer to it.
func (x *stream) choose(d *doubt, token string, at time.Time) (bool, error) {
	if d == nil && x.sheet.ID == sheet.Stop {
		return x.answer(request{act: actAnswer, text: token}, at)
	}
	if d == nil {
		return x.refuse(x.topic(), errors.New("nothing is in doubt: answer it"))
	}
	for i, c := range d.choices {
		if c.Token == token {
			return d.choose(i, at)
		}
	}
	x.doubt = d
	return x.refuse(d.topic, errors.New("not one of the choices"))
}

// correct gives an answer that stands anew.
func (x *stream) correct(r request, at time.Time) (bool, error) {
	p := job.Place{Topic: r.topic}
	if r.round != nil {
		p.Round = *r.round
	}
	if r.item != nil {
		p.Item = *r.item
	}
	if _, stands := x.s.Real().Answer(p); !stands {
		return x.refuse(r.topic.String(), errors.New("no answer to it stands"))
	}
	take := x.placed(p)
	if r.topic.Info().Kind == job.Event {
		take = x.momentOf(p, at, take)
	}
	return x.store(r.topic, plain(r), take, at)
}

// momentOf tells anew when an event was, on the sheet that shows its time; else it is
// done as otherwise.
func (x *stream) momentOf(p job.Place, now time.Time, otherwise taker) taker {
	for _, at := range sheet.Visited(x.s.Guide()) {
		on := sheet.Of(x.s.Guide(), at, now)
		i := slices.IndexFunc(on.Lines, func(l sheet.Line) bool { return l.Kind == sheet.Moment && l.Place == p })
		if i >= 0 {
			return func(a sheet.Answer, at time.Time) ([]job.Entry, error) { return on.Take(x.s.Real(), i, a, at) }
		}
	}
	return otherwise
}

// leave stores what leaves the sheet.
func (x *stream) leave(topic string, entries []job.Entry, err error) (bool, error) {
	if err == nil {
		err = x.save(entries)
	}
	if err != nil {
		return x.refuse(topic, err)
	}
	x.s.Visit, x.focus = x.s.Visit.Done(), nil
	return x.taken(entries)
}

// undo takes the last answer back.
func (x *stream) undo(at time.Time) (bool, error) {
	entries, ok := sheet.Undo(x.s.Real(), at)
	if !ok {
		return x.refuse(job.Undo.String(), errors.New("there is nothing to undo"))
	}
	return x.leave(job.Undo.String(), entries, nil)
}

// figures says what the job comes to as things stand.
func (x *stream) figures() error {
	f, err := figuresOf(x.s.Guide())
	if err != nil {
		return err
	}
	return x.say(f)
}
