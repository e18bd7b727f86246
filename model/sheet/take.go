package sheet

// This file makes entries of an answer to a line, and of a sheet being complete.

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"garage/tundish/model/ask"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// Answer is what a person says to a line: one of its digits, or a typed text.
type Answer struct {
	Key     rune       // of the line, or of one of its options; 0 none
	Typed   string     // "" takes what is on offer
	Unknown bool       // "not known"
	Meant   *job.Value // the meaning chosen of what was typed without a unit
}

// Back is the error of an answer that leads back to readings, to be typed anew.
type Back struct{ Places []job.Place }

func (b *Back) Error() string { return "read it again, and type it anew" }

// Take makes the entries of an answer to line i of a sheet at a time. An entry is made
// for each question that the line stands for and, before them, for what a line above
// it says by the clock. The error says in one line what is wrong; it is a *Back where
// the answer leads back to readings, and a *guide.UnclearUnit where it can be meant in
// two units.
func (s Sheet) Take(g *guide.Guide, i int, a Answer, at time.Time) ([]job.Entry, error) {
	l := s.Lines[i]
	d := &draft{g: g, at: at}
	if s.ID == Stop {
		d.offers(home(s.live, *s.stop))
	} else {
		d.eventsBefore(s.At, l)
	}
	switch l.Kind {
	case Confirm:
		return d.confirm(l, a)
	case Moment:
		return d.moment(l, a)
	case Choice:
		return d.choose(l, a)
	}
	return d.typed(l, a)
}

// Complete makes the entries of a sheet being complete: what is on offer on it. The
// error names what is still open.
func (s Sheet) Complete(g *guide.Guide, at time.Time) ([]job.Entry, error) {
	var open []string
	for _, l := range s.Lines {
		switch {
		case l.Standing != Open:
		case l.Kind == Confirm:
			open = append(open, string(l.Key))
		default:
			open = append(open, strings.ToLower(l.Ask))
		}
	}
	if len(open) > 0 {
		return nil, errors.New("open: " + strings.Join(open, ", "))
	}
	d := &draft{g: g, at: at}
	d.offers(s.At)
	return d.entries, nil
}

// draft is a job with the entries that an answer makes.
type draft struct {
	g       *guide.Guide
	at      time.Time
	entries []job.Entry
}

func (d *draft) add(e job.Entry) {
	d.entries = append(d.entries, e)
	d.g = d.g.With(e)
}

// offers takes what is on offer on a sheet.
func (d *draft) offers(at At) {
	for range job.MaxIndex {
		p, ok := firstOffered(d.g, at)
		if !ok {
			return
		}
		e, err := p.Answer(d.g, "", d.at)
		if err != nil {
			return
		}
		d.add(e)
	}
}

// eventsBefore takes what is on offer above a line and is told by the clock.
func (d *draft) eventsBefore(at At, l Line) {
	for p, open := range d.g.Prompts() {
		if p.Place == l.Place {
			return
		}
		if open && p.Ends != job.NoTopic && home(d.g, p) == at && (offered(d.g, p) || p.Topic == job.OilRunning) {
			if e, err := p.Answer(d.g, "", d.at); err == nil {
				d.add(e)
			}
			return
		}
	}
}

// prompt is the question at a place as it is now, to be answered or corrected.
func (d *draft) prompt(p job.Place) guide.Prompt {
	return guide.Prompt{Spec: ask.SpecOf(p.Topic), Place: p, Strikes: d.g.SeqOf(p)}
}

// say answers a question; typed is what was typed for it.
func (d *draft) say(s says, p job.Place, typed string) error {
	q := d.prompt(p.Of(s.topic))
	if q.Kind == job.Event || q.Kind == job.Acknowledge {
		e, err := q.Answer(d.g, "", d.at)
		if err != nil {
			return err
		}
		e.Typed = typed
		d.add(e)
		return nil
	}
	v := s.value
	if q.Kind == job.Choose {
		v = q.ChoiceValue(d.g, ask.Option{Token: v.Choice})
	}
	if err := q.Accept(d.g, v); err != nil {
		return err
	}
	d.add(q.Entry(d.g, v, typed, d.at))
	return nil
}

func (d *draft) confirm(l Line, a Answer) ([]job.Entry, error) {
	if a.Key != l.Key {
		return nil, fmt.Errorf("open is %c, %s", l.Key, l.Ask)
	}
	for _, p := range l.prompts {
		if _, stands := d.g.Answer(p.Place); stands && p.Strikes == 0 {
			continue
		}
		if err := d.say(says{topic: p.Topic}, p.Place, string(l.Key)); err != nil {
			return nil, err
		}
	}
	return d.entries, nil
}

func (d *draft) choose(l Line, a Answer) ([]job.Entry, error) {
	i := slices.IndexFunc(l.Options, func(o Option) bool { return o.Key == a.Key })
	switch {
	case i < 0:
		return nil, errors.New("one of the digits shown")
	case l.Options[i].back != nil:
		return nil, &Back{l.Options[i].back}
	}
	for _, s := range l.Options[i].says {
		place := l.Place.Of(s.topic)
		if s.topic == job.FillHalted {
			place.Item = d.g.Items(job.FillHalted, place.Round)
		}
		if err := d.say(s, place, ""); err != nil {
			return nil, err
		}
	}
	return d.entries, nil
}

// typed takes what was typed; of a line with texts at hand, the digit of one too.
func (d *draft) typed(l Line, a Answer) ([]job.Entry, error) {
	for _, o := range l.Options {
		if a.Key != 0 && o.Key == a.Key {
			err := d.say(o.says[0], l.Place, "")
			return d.entries, err
		}
	}
	if l.merged != nil && slices.Contains(l.merged.topics, job.EscapedHow) && l.Place.Topic == job.EscapedHow {
		return d.spilled(l, a)
	}
	if l.merged != nil && slices.Contains(l.merged.topics, job.PlanAccepted) {
		if err := d.acceptPlan(l); err != nil {
			return nil, err
		}
		if a == (Answer{}) && d.g.HasItem(job.LoadedAmount, l.Place.Round, l.Place.Item) {
			return d.entries, nil // what was poured in stays as it is
		}
	}
	if l.merged != nil && l.merged.split != nil && !a.Unknown {
		for _, x := range l.merged.split(d.g, a.Typed) {
			if err := d.answer(d.prompt(l.Place.Of(x.topic)), Answer{Typed: x.typed}); err != nil {
				return nil, err
			}
		}
		return d.entries, d.nothing()
	}
	if err := d.answer(d.prompt(l.Prompt().Place), a); err != nil || l.Prompt().Topic != job.OilTemperature {
		return d.entries, err
	}
	err := d.say(chosen(job.TemperatureHow, job.HowMeasured), l.Place, "")
	return d.entries, err
}

func (d *draft) nothing() error {
	if len(d.entries) == 0 {
		return errors.New("type it, then Enter")
	}
	return nil
}

// answer answers one question with what was typed.
func (d *draft) answer(p guide.Prompt, a Answer) error {
	switch {
	case a.Unknown:
		a.Typed = guide.UnknownLine
	case a.Meant != nil:
		d.add(p.Entry(d.g, *a.Meant, a.Typed, d.at))
		return p.Accept(d.g, *a.Meant)
	case a.Typed == "":
		return errors.New("type it, then Enter")
	}
	e, err := p.Answer(d.g, a.Typed, d.at)
	if err != nil {
		return err
	}
	d.add(e)
	return nil
}

// acceptPlan says that what is poured in is what was asked for; it is, by being done.
func (d *draft) acceptPlan(l Line) error {
	for _, p := range l.prompts {
		if p.Topic == job.PlanAccepted && (!d.g.HasIn(job.PlanAccepted, l.Place.Round) || p.Strikes > 0) {
			return d.say(says{topic: job.PlanAccepted}, p.Place, "")
		}
	}
	return nil
}

// spilled takes what was caught at the swap: nothing, a figure, or that it is not known.
func (d *draft) spilled(l Line, a Answer) ([]job.Entry, error) {
	place := l.Place
	if a.Unknown {
		err := d.say(chosen(job.EscapedHow, job.EscapeNone), place, guide.UnknownLine)
		if err == nil {
			err = d.say(chosen(job.NothingEscaped, job.NoneNotLooked), place, guide.UnknownLine)
		}
		return d.entries, err
	}
	if x, err := strconv.ParseFloat(strings.TrimSpace(a.Typed), 64); err == nil && x == 0 {
		err := d.say(chosen(job.EscapedHow, job.EscapeNone), place, a.Typed)
		return d.entries, err
	}
	if how := d.g.Choice(place.Of(job.EscapedHow)); how != job.EscapeGuess && how != job.EscapeCaught {
		if err := d.say(chosen(job.EscapedHow, job.EscapeCaught), place, ""); err != nil {
			return nil, err
		}
	}
	return d.entries, d.answer(d.prompt(place.Of(job.EscapedAmount)), a)
}

// moment takes another time for an event: minutes ago, or a time of day.
func (d *draft) moment(l Line, a Answer) ([]job.Entry, error) {
	happened, err := momentOf(a.Typed, d.at)
	if err != nil {
		return nil, err
	}
	p := d.prompt(l.Place)
	before, after := d.around(p)
	if happened.Before(before) || !after.IsZero() && happened.After(after) {
		return nil, fmt.Errorf("between %s and %s", before.In(d.at.Location()).Format("15:04"), latest(after, d.at).Format("15:04"))
	}
	e := p.Entry(d.g, job.AtMoment(happened), a.Typed, d.at)
	return append(d.entries, e), nil
}

func latest(after, now time.Time) time.Time {
	if after.IsZero() {
		return now
	}
	return after.In(now.Location())
}

// around are the times of the entries before and after the one that an event was first
// told by; zero where there is none after it.
func (d *draft) around(p guide.Prompt) (before, after time.Time) {
	entries, _ := d.g.Ledger()
	before = d.g.Started
	first := p.Strikes
	if paper, ok := d.g.Answer(job.At(job.FromPaper, p.Place.Round, 0)); ok && paper.Seq < first { // it happened before it was typed
		return d.notBefore(p, paper.Seq), time.Time{}
	}
	for first > 0 && entries[first-1].Strikes > 0 && entries[entries[first-1].Strikes-1].Topic == p.Topic {
		first = entries[first-1].Strikes
	}
	if first > 1 {
		before = entries[first-2].At
	}
	for _, e := range entries[first:] {
		if e.Topic != p.Topic {
			return before, e.At
		}
	}
	return before, time.Time{}
}

// notBefore is the last time that is known of before an event that is typed from paper:
// of the entry before the paper, or of an event of the same round before it.
func (d *draft) notBefore(p guide.Prompt, paper int) time.Time {
	before := d.g.Started
	if entries, _ := d.g.Ledger(); paper > 1 {
		before = entries[paper-2].At
	}
	for _, t := range []job.Topic{job.PlugOut, job.Capped} {
		if e, ok := d.g.Answer(p.Place.Of(t)); ok && t != p.Topic && e.Seq < p.Strikes && e.Value.Text != "" {
			before = e.Happened()
		}
	}
	return before
}

// momentOf reads "-15", minutes ago, "14.05", a time of today, or a time with its date
// (RFC 3339).
func momentOf(typed string, now time.Time) (time.Time, error) {
	bad := errors.New("minutes ago, such as -15, or a time, such as 14.05")
	typed = strings.TrimSpace(typed)
	if ago, ok := strings.CutPrefix(typed, "-"); ok {
		min, err := strconv.Atoi(ago)
		if err != nil || min < 0 || min > 24*60 {
			return time.Time{}, bad
		}
		return now.Add(-time.Duration(min) * time.Minute), nil
	}
	if t, err := time.Parse(time.RFC3339, typed); err == nil {
		return t, nil
	}
	t, err := time.Parse("15.4", strings.Replace(typed, ":", ".", 1))
	if err != nil {
		return time.Time{}, bad
	}
	at := time.Date(now.Year(), now.Month(), now.Day(), t.Hour(), t.Minute(), 0, 0, now.Location())
	if at.After(now) {
		at = at.AddDate(0, 0, -1)
	}
	return at, nil
}
