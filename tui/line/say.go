package line

// This file holds what is said, in the order in which it is listened to: the sheet and
// how the unit stands, what the hands do, what can be answered, and last the question.

import (
	"fmt"
	"slices"
	"strings"

	"garage/tundish/model/car"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
	"garage/tundish/model/text"
	"garage/tundish/tui/status"
)

// spell is a text in characters that every terminal and screen reader has. What an
// imported name may hold is made visible.
func (m *mode) spell(words string) string { return m.theme.Glyphs.Spell(text.Visible(words)) }

// say writes one line.
func (m *mode) say(format string, a ...any) {
	fmt.Fprintln(m.out, m.spell(fmt.Sprintf(format, a...)))
}

// sayOnce says how something stands, unless it was said since the sheet began; key is
// what it is, where its figures run on.
func (m *mode) sayOnce(key, words string) {
	if words != "" && !m.stands[key] {
		m.stands[key] = true
		m.say("%s", words)
	}
}

// saySheet says which sheet it is and what stands on it, as far as it was not said yet.
func (m *mode) saySheet() {
	g := m.s.Guide()
	if now := m.sheet.Mark(); now != m.begun {
		m.begun, m.stands, m.asked = now, map[string]bool{}, asking{}
		step := m.sheet.ID.Step()
		name := strings.ToUpper(m.sheet.ID.String())
		if step < job.NumSteps {
			name = strings.ToUpper(step.String()) + fmt.Sprintf(" (sheet %d of %d)", step+1, job.NumSteps)
		}
		if m.sheet.ID == sheet.Verdict {
			name = "VERDICT"
		}
		m.say("")
		m.say("== %s  UNIT %s", name, status.Line(g, m.now))
	}
	if words := car.Beside(g); words != "" {
		m.sayOnce("car", "CAR: "+words)
	}
	m.sayOnce("clock", status.Misfit(g, m.now))
	for _, words := range m.sheet.Intro {
		m.sayOnce(words, words)
	}
	if figure := strings.TrimPrefix(m.sheet.Caption+": "+m.sheet.Figure, ": "); m.sheet.Figure != "" {
		key := figure
		if m.runs() {
			key = m.sheet.Caption
		}
		m.sayOnce(key, figure)
	}
	for _, words := range append(slices.Clone(m.sheet.After), m.sheet.Notes...) {
		m.sayOnce(words, words)
	}
	m.sayLine()
}

// runs reports whether the figure of the sheet is a clock.
func (m *mode) runs() bool {
	switch m.sheet.ID {
	case sheet.Drain, sheet.Cap, sheet.Seat:
		return true
	}
	return false
}

// sayLine says what goes with the line that is asked, in full the first time.
func (m *mode) sayLine() {
	g := m.s.Guide()
	now := asking{count: g.Count, any: true}
	if m.line != noLine {
		now.place = m.sheet.Lines[m.line].Place
	}
	if now == m.asked && m.doubt == nil {
		return
	}
	m.asked = now
	switch {
	case m.doubt != nil:
		for i, r := range m.doubt.readings {
			m.say("%d  %s", i+1, r.Label)
		}
	case m.line == noLine:
		m.sayOffers()
	default:
		l := m.sheet.Lines[m.line]
		m.sayOnce(l.Why, l.Why)
		for _, o := range l.Options {
			m.say("%c  %s%s", o.Key, o.Label, inBrackets(o.Hint))
		}
	}
	if m.cfg.Coach != nil {
		m.sayOnce(fmt.Sprint("coach", now.place, now.count), m.cfg.Coach(m.sheet, m.line))
	}
}

// sayOffers lists what counts as it stands, once a sheet.
func (m *mode) sayOffers() {
	var offers []string
	for _, l := range m.sheet.Lines {
		if l.Standing == sheet.Offered && !l.Folded {
			offers = append(offers, name(l.Topic())+" "+shownValue(l))
		}
		if l.Kind == sheet.Moment {
			offers = append(offers, name(l.Topic())+" at "+l.At.In(m.now.Location()).Format("15:04"))
		}
	}
	if len(offers) > 0 {
		words := "offered: " + strings.Join(offers, "; ")
		m.sayOnce(words, words)
	}
	m.sayOnce("next", "Next: "+m.sheet.Next)
}

// shownValue is the answer on offer, "not given" where that is none.
func shownValue(l sheet.Line) string {
	if l.Value == "" {
		return "not given"
	}
	return l.Value
}

// name is what a question of the sheet is called in a typed line: the last part of its
// name in files.
func name(t job.Topic) string {
	token := t.String()
	return strings.ReplaceAll(token[strings.LastIndex(token, ".")+1:], "_", " ")
}

// question is what is asked, with how it is answered.
func (m *mode) question() string {
	switch {
	case m.doubt != nil:
		return "Which is meant? its digit"
	case m.line == noLine && m.s.Visit.Looking():
		return "Enter = back to where the job is; / looks further back"
	case m.line == noLine:
		return "Enter = complete" + m.orChange()
	}
	l := m.sheet.Lines[m.line]
	ask := l.Ask
	switch {
	case m.again != nil:
		ask = "ONCE MORE: " + ask + " (Enter leaves it: " + shownValue(l) + ")"
	case l.Strikes:
		ask = "ONCE MORE: " + ask
	}
	switch l.Kind {
	case sheet.Confirm:
		if l.Safety {
			ask = "CAUTION: " + ask
		}
		return fmt.Sprintf("%s. So? type %c, or / back", strings.TrimSuffix(ask, "."), l.Key)
	case sheet.Choice:
		return ask + " (a digit)"
	}
	return ask + m.how(l)
}

// how says how a line is answered.
func (m *mode) how(l sheet.Line) string {
	var how []string
	if l.Kind == sheet.Choice {
		for _, o := range l.Options {
			how = append(how, fmt.Sprintf("%c %s", o.Key, o.Label))
		}
	}
	if l.Unit != "" {
		how = append(how, "in "+l.Unit)
	}
	if l.Hint != "" {
		how = append(how, l.Hint)
	}
	if l.Unknown {
		how = append(how, ". not known")
	}
	return inBrackets(strings.Join(how, "; "))
}

func inBrackets(words string) string {
	if words == "" {
		return ""
	}
	return " (" + words + ")"
}

// orChange names a line of the sheet that can be changed, and how.
func (m *mode) orChange() string {
	for _, l := range m.sheet.Lines {
		if l.Standing == sheet.Offered && !l.Folded {
			return ", or a name and what it is, such as: " + name(l.Topic()) + " " + sample(l)
		}
	}
	return ""
}

// sample is something that could be typed for a line.
func sample(l sheet.Line) string {
	switch l.Topic().Info().Kind {
	case job.Free:
		return "text"
	case job.Choose:
		if len(l.Options) > 0 {
			return l.Options[0].Token
		}
	}
	value, _, _ := strings.Cut(l.Value, " ")
	if value == "" || value[0] < '0' || value[0] > '9' {
		return "30"
	}
	return value
}

// sayWorth lists the lines that are worth knowing: each is asked of nobody, so all that is
// said of it is said here.
func (m *mode) sayWorth() {
	said := false
	for _, l := range m.sheet.Lines {
		if !l.Folded {
			continue
		}
		if !said {
			m.say("Worth knowing; type a name and what it is:")
		}
		said = true
		worth := ""
		if l.Worth != "" {
			worth = ": " + l.Worth
		}
		m.say("%s = %s%s%s. Now: %s. %s", name(l.Topic()), l.Ask, m.how(l), worth, shownValue(l), l.Why)
	}
	if !said {
		m.say("Nothing more is worth knowing on this sheet.")
	}
}

// sayTaken says back what was answered.
func (m *mode) sayTaken(l *sheet.Line, entries []job.Entry) {
	if l != nil && l.Kind == sheet.Confirm {
		m.say("%c so: %s", l.Key, l.Ask)
		return
	}
	g := m.s.Guide()
	var texts []string
	for _, e := range entries {
		switch q, ok := guide.PromptOf(e); {
		case e.Topic == job.Undo:
			m.say("taken back: %s", status.Entry(g, m.s.Job.Entries[e.Strikes-1]))
		case !ok || q.Kind == job.Acknowledge || q.Kind == job.Event && e.Value.Text == "":
		case q.Kind == job.Event:
			texts = append(texts, "at "+e.Happened().In(m.now.Location()).Format("15:04"))
		default:
			texts = append(texts, g.AnswerText(e))
		}
	}
	if len(texts) > 0 {
		m.say("Taken: %s", strings.Join(slices.Compact(texts), ", "))
	}
}

// sayHelp says what can be typed.
func (m *mode) sayHelp() {
	for _, words := range []string{
		"A caution is confirmed by its own digit. Enter alone completes a sheet, or says what is open; it answers nothing.",
		"What is offered counts as it stands; a name and what it is changes it: temperature 30.",
		". not known. 0 not looked. -15 was 15 minutes ago. / back one line. + worth knowing.",
		"*again says all of it. *sums says how each number was worked out.",
		"*undo takes the last answer back. *list lists the answers, *correct N asks line N again, *strike N takes it back.",
		"*record writes the record to a file. *quit leaves; everything taken is kept.",
	} {
		m.say("%s", words)
	}
}
