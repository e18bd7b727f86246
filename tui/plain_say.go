package tui

// This file holds what the plain line mode says, in the order in which it is
// listened to: how things stand, why it is asked, what can be answered, and
// last the question.

import (
	"fmt"
	"strings"

	"github.com/charmbracelet/x/ansi"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/text"
	"garage/tundish/model/verdict"
)

// say writes one line. What an imported name may hold is made visible.
func (p *plain) say(format string, a ...any) {
	fmt.Fprintln(p.out, p.theme.Glyphs.Spell(text.Visible(fmt.Sprintf(format, a...))))
}

// tellState says step and state of the unit whenever they change.
func (p *plain) tellState() {
	s := p.guide.state
	told := fmt.Sprintf("%s, step %s, job %s.", s.StateWords(), s.Step(), s.ID)
	if told == p.told {
		return
	}
	p.told, p.stands = told, map[string]bool{}
	p.say("%s", told)
	if s.UnitState() == verdict.Empty {
		p.say("Do not move the car.")
	}
}

// sayFarewell says how things stand when the job is left.
func (p *plain) sayFarewell() {
	p.say("")
	for _, line := range p.cfg.farewell(p.guide.state, p.unfinished, p.theme) {
		p.say("%s", line)
	}
}

// tellQuestion says a question in full the first time, and after a mistake only
// the line that asks.
func (p *plain) tellQuestion() {
	g := p.guide
	q := g.answer.prompt
	if now := (asking{q.Place, g.state.Count}); now != p.asked {
		p.asked = now
		p.say("")
		p.tellState()
		p.tellStanding()
		if why := q.WhyText(g.state); why != "" {
			p.say("%s", why)
		}
		if q.Topic == job.AtHand {
			for _, item := range g.state.AtHandList() {
				p.say("%s", item)
			}
		}
		for i, o := range g.answer.choices {
			p.say("%d. %s%s", i+1, o.Label, hintWords(o.Hint))
		}
		if line := p.cfg.coachLine(q); line != "" {
			p.say("%s", line)
		}
	}
	p.say("%s (%s)", p.askWords(), p.howWords())
}

// askWords are the question itself.
func (p *plain) askWords() string {
	g := p.guide
	q := g.answer.prompt
	ask := q.AskText(g.state)
	switch {
	case g.again:
		return fmt.Sprintf("CORRECTING line %d: %s", q.Strikes, ask)
	case q.Safety:
		return "CAUTION: " + ask
	case q.Strikes > 0: // what followed has made the answer void
		return "ONCE MORE: " + ask
	}
	return ask
}

// howWords say how it is answered.
func (p *plain) howWords() string {
	g := p.guide
	q := g.answer.prompt
	switch q.Kind {
	case job.Acknowledge:
		return fmt.Sprintf("type %c and Enter to confirm that it is so", g.answer.digit)
	case job.Event:
		return fmt.Sprintf("type %c and Enter to confirm at that moment", g.answer.digit)
	case job.Choose:
		how := fmt.Sprintf("a number from 1 to %d", len(g.answer.choices))
		if g.answer.chosen.at >= 0 {
			how += fmt.Sprintf("; Enter alone is %d", g.answer.chosen.at+1)
		}
		return how
	}
	how := "a line of text"
	if q.Kind != job.Free {
		how = strings.TrimSpace("a number " + inUnitWords(q.BareUnit(g.state)))
	}
	if hint := g.answer.emptyHint(scene{state: g.state}); hint != "" {
		how += "; " + strings.Replace(hint, "Enter:", "Enter alone:", 1)
	}
	if g.answer.unknownIsAKey(g.state) {
		how += "; . is don't know"
	}
	return how
}

func inUnitWords(unit string) string {
	if unit == "" {
		return ""
	}
	return "in " + unit
}

// sayOnce says how something stands, unless it was said since the state was.
func (p *plain) sayOnce(format string, a ...any) {
	line := fmt.Sprintf(format, a...)
	if !p.stands[line] {
		p.stands[line] = true
		p.say("%s", line)
	}
}

// tellStanding says how things stand where the question is asked: the clock or
// the figure that matters, the verdict, what was found.
func (p *plain) tellStanding() {
	app := App{cfg: p.cfg, theme: p.theme, guide: p.guide, now: p.cfg.Clock()}
	sc := app.scene(0, 0)
	if words := p.guide.misfitWords(app.now); words != "" {
		p.sayOnce("%s", words)
	}
	switch figure, caption := figureOf(sc); {
	case p.guide.timed(app.now):
		p.sayOnce("%s %s; %s.", p.guide.wait.What, agoWords(app.now.Sub(p.guide.wait.Since)), p.guide.waitWords(app.now))
	case p.guide.waiting:
		p.sayOnce("%s.", p.guide.waitWords(app.now))
	case figure != "":
		p.sayOnce("%s: %s", caption, figure)
	}
	if d := p.guide.state.Drips(app.now); stepOf(sc) == job.Drain && d.Running && p.guide.clockFits(app.now) {
		p.sayOnce("%s", d.Text(p.guide.state.Units()))
	}
	if p.guide.answer.prompt.Topic == job.Decision {
		for _, line := range verdictLines(p.guide.state) {
			p.sayOnce("%s", line)
		}
	}
	for _, f := range findingsOf(sc, stepOf(sc)) {
		p.sayOnce("Note: %s %s", f.Text, f.Do)
	}
}

// tellTaken says what was understood of an answer.
func (p *plain) tellTaken(entries []job.Entry) {
	if p.guide.notice != "" {
		p.say("%s", p.guide.notice)
		return
	}
	for _, e := range entries {
		q, ok := guide.PromptOf(e)
		if !ok || q.Kind == job.Acknowledge || q.Kind == job.Event {
			continue
		}
		if len(entries) > 1 {
			p.say("Taken: %s", entryName(p.guide.state, e))
		} else {
			p.say("Taken: %s", p.guide.state.AnswerText(e))
		}
	}
}

func (p *plain) tellSums() {
	app := App{cfg: p.cfg, theme: p.theme, guide: p.guide}
	for _, line := range sumLines(app.scene(sumCells, 0)) {
		p.say("%s", ansi.Strip(line))
	}
}

// sumCells is the width that sums are laid out for.
const sumCells = 80

func (p *plain) tellHelp() {
	for _, line := range []string{
		"An empty line takes what is on offer; a point alone means don't know.",
		"A plus alone takes all that is on offer in this part of the first step.",
		"*again says the question in full. *sums unfolds every number.",
		"*undo takes the last answer back. *list lists the answers, *correct N asks line N again, *strike N takes it back.",
		"*record writes the record to a file. *quit leaves; everything accepted is kept.",
	} {
		p.say("%s", line)
	}
}

func hintWords(hint string) string {
	if hint == "" {
		return ""
	}
	return " (" + hint + ")"
}
