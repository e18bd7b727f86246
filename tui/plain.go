package tui

// This file is the plain line mode: the same job, questions and answers, one
// line at a time, without colour, cursor moves or redrawing. A screen reader
// can follow it, and it works over a serial line or a pipe.

import (
	"bufio"
	"fmt"
	"io"
	"strconv"
	"strings"

	"garage/tundish/model"
	"garage/tundish/tui/theme"
)

// plain is one run of the line mode.
type plain struct {
	cfg   Config
	theme theme.Theme
	in    *bufio.Scanner
	out   *bufio.Writer
	guide guide
	told  string // state of the unit and step, as last told
}

// errLeft ends the line mode on request.
var errLeft = fmt.Errorf("left")

// maxLine is the longest line that is read, bytes.
const maxLine = 1 << 16

// RunPlain runs the job in the plain line mode until it is left, the input
// ends, or nothing is left to ask. The error is the journal's, or the input's.
func RunPlain(in io.Reader, out io.Writer, cfg Config, t theme.Theme) error {
	p := &plain{cfg: cfg, theme: t, in: bufio.NewScanner(in), out: bufio.NewWriter(out)}
	p.in.Buffer(nil, maxLine)
	defer p.out.Flush()
	p.say("tundish, plain line mode. Type an answer and Enter. *help tells the rest.")
	if err := p.open(); err != nil {
		return leaveQuietly(err)
	}
	return leaveQuietly(p.run())
}

func leaveQuietly(err error) error {
	if err == errLeft || err == io.EOF {
		return nil
	}
	return err
}

func (p *plain) say(format string, a ...any) {
	fmt.Fprintln(p.out, p.theme.Glyphs.Spell(visible(fmt.Sprintf(format, a...))))
}

// ask shows the sign for input and reads one line.
func (p *plain) ask() (string, error) {
	fmt.Fprint(p.out, "> ")
	if err := p.out.Flush(); err != nil {
		return "", err
	}
	if !p.in.Scan() {
		if err := p.in.Err(); err != nil {
			return "", err
		}
		return "", io.EOF
	}
	return strings.TrimSpace(p.in.Text()), nil
}

// open opens the job asked for, the only unfinished one, or asks which.
func (p *plain) open() error {
	if p.cfg.OpenID != "" {
		return p.load(wantJob{p.cfg.OpenID})
	}
	msg, _ := listJobs(p.cfg.Journal)().(listedMsg)
	if msg.err != nil {
		return msg.err
	}
	if len(msg.unfinished) == 1 && msg.unfinished[0].Phase == model.Open {
		return p.load(wantJob{msg.unfinished[0].ID})
	}
	if len(msg.unfinished)+len(msg.units) == 0 {
		return p.load(wantNew{})
	}
	return p.pickJob(newPicker(msg.unfinished, msg.units))
}

func (p *plain) pickJob(list picker) error {
	for {
		p.say("")
		p.say("Which job?")
		for i, c := range list.picks {
			p.say("  %d  %s  %s", i+1, c.label, c.hint)
		}
		line, err := p.ask()
		if err != nil {
			return err
		}
		if n, err := strconv.Atoi(line); err == nil && n >= 1 && n <= len(list.picks) {
			return p.load(list.picks[n-1].want)
		}
		p.say("a number from 1 to %d", len(list.picks))
	}
}

func (p *plain) load(want intent) error {
	var msg loadedMsg
	now := p.cfg.Clock()
	switch want := want.(type) {
	case wantJob:
		msg, _ = loadJob(p.cfg.Journal, want.id)().(loadedMsg)
	case wantNew:
		msg, _ = startJob(p.cfg.Journal, model.NewID(now, p.cfg.Chance()), now, want.like)().(loadedMsg)
	}
	if msg.err != nil {
		return msg.err
	}
	p.guide = newGuide(msg)
	if !p.guide.resumed.IsZero() {
		p.say("You stopped %s ago.", agoWords(now.Sub(p.guide.resumed)))
	}
	return nil
}

// run asks until nothing is left.
func (p *plain) run() error {
	for !p.guide.finished {
		p.tellState()
		p.tellQuestion()
		line, err := p.ask()
		if err != nil {
			return err
		}
		if err := p.take(line); err != nil {
			return err
		}
	}
	p.tellState()
	p.say("Nothing is left to do in this job. Its record: tundish summary %s", p.guide.job.ID)
	return nil
}

// tellState says step and state of the unit whenever they change.
func (p *plain) tellState() {
	s := p.guide.state
	told := fmt.Sprintf("[%s, step %s, job %s]", s.UnitState(), s.Step(), s.ID)
	if told != p.told {
		p.say("")
		p.say("%s", told)
		p.told = told
	}
}

func (p *plain) tellQuestion() {
	g := p.guide
	q := g.answer.prompt
	p.say("")
	if q.Safety {
		p.say("CAUTION: %s", q.AskText(g.state))
	} else {
		p.say("%s", q.AskText(g.state))
	}
	if why := q.WhyText(g.state); why != "" {
		p.say("  %s", why)
	}
	p.tellFindings()
	switch q.Kind {
	case model.Choose:
		for i, o := range g.answer.choices {
			p.say("  %d  %s%s", i+1, o.Label, hintWords(o.Hint))
		}
		if g.answer.chosen.at >= 0 {
			p.say("  Enter alone: %d", g.answer.chosen.at+1)
		}
	case model.Acknowledge, model.Event:
		p.tellAtHand()
		p.say("  type %c and Enter to confirm", g.answer.digit)
	default:
		if hint := g.answer.emptyHint(scene{state: g.state}); hint != "" {
			p.say("  %s", strings.Replace(hint, "Enter:", "Enter alone:", 1))
		}
	}
}

func (p *plain) tellAtHand() {
	if p.guide.answer.prompt.Topic != model.AtHand {
		return
	}
	for _, item := range p.guide.state.AtHandList() {
		p.say("  - %s", item)
	}
}

func (p *plain) tellFindings() {
	s := p.guide.state
	for _, f := range s.FindingsAt(s.Step(), s.Round()) {
		p.say("  ! %s %s", f.Text, f.Do)
	}
	if p.guide.answer.prompt.Topic == model.Decision {
		if v, err := s.Verdict(s.Round()); err == nil {
			p.say("  %s", verdictWords(s, v))
			p.say("  %s", chances(s, v))
		}
	}
}

func hintWords(hint string) string {
	if hint == "" {
		return ""
	}
	return " (" + hint + ")"
}

// take does what a line says: a command, or an answer.
func (p *plain) take(line string) error {
	if strings.HasPrefix(line, "*") {
		return p.command(strings.Fields(strings.TrimPrefix(line, "*")))
	}
	if line == "?" && p.guide.answer.prompt.Kind != model.Free {
		return p.command([]string{"help"})
	}
	g := p.guide
	switch g.answer.prompt.Kind {
	case model.Choose:
		if line != "" {
			n, err := strconv.Atoi(line)
			if err != nil || n < 1 || n > len(g.answer.choices) {
				p.say("a number from 1 to %d", len(g.answer.choices))
				return nil
			}
			g.answer.chosen.at = n - 1
		}
	case model.Acknowledge, model.Event:
		if line != string(g.answer.digit) {
			p.say("type %c to confirm", g.answer.digit)
			return nil
		}
	default:
		g.answer = g.answer.withText(line)
	}
	return p.accept(g)
}

// accept stores the answer, or says why not.
func (p *plain) accept(g guide) error {
	g, want := g.accept()
	if want == nil {
		p.say("%s", g.answer.problem)
		return nil
	}
	entries := want.(wantSave).entries
	if g.answer.isField() && g.answer.text() != "" && entries[0].Typed != "" {
		p.say("  = %s", g.answer.prompt.Echo(g.state, entries[0].Value))
	}
	return p.store(g, entries)
}

// store appends entries; a failure keeps the question and says so.
func (p *plain) store(g guide, entries []model.Entry) error {
	now := p.cfg.Clock().UTC().Round(0)
	for i := range entries {
		entries[i].At = now
	}
	g, cmd := g.save(p.cfg.Journal, entries)
	switch msg := cmd().(type) {
	case savedMsg:
		p.guide = g.saved(msg)
		if p.guide.notice != "" {
			p.say("%s", p.guide.notice)
		}
	case saveFailedMsg:
		p.guide = g.saveFailed(msg)
		p.say("NOT STORED: %s", msg.err)
	}
	return nil
}

// command does what a line that begins with * says.
func (p *plain) command(words []string) error {
	if len(words) == 0 {
		words = []string{"help"}
	}
	g := p.guide
	switch words[0] {
	case "quit", "leave":
		p.say("Everything accepted is kept. %s.", g.state.UnitState())
		return errLeft
	case "undo":
		if e, ok := g.state.UndoEntry(p.cfg.Clock()); ok {
			return p.store(g, []model.Entry{e})
		}
	case "list":
		for _, e := range g.state.Standing() {
			p.say("%4d  %s", e.Seq, entryName(g.state, e))
		}
	case "correct":
		if len(words) == 2 {
			n, _ := strconv.Atoi(words[1])
			p.guide = g.correct(n)
			p.say("%s", p.guide.notice)
			return nil
		}
		p.say("*correct N, with a line number from *list")
	case "strike":
		if len(words) == 2 {
			n, _ := strconv.Atoi(words[1])
			if e, ok := g.state.StrikeEntry(n, p.cfg.Clock()); ok {
				return p.store(g, []model.Entry{e})
			}
		}
		p.say("*strike N takes an answer back, with a line number from *list")
	case "sums":
		for _, l := range (sumsOverlay{}).lines(scene{app: App{theme: theme.New(theme.Options{})}, state: g.state, live: g.state, width: 80, height: 1 << 20}) {
			p.say("%s", l)
		}
	default:
		p.say("  an empty line takes what is on offer; . means don't know")
		p.say("  *undo  *list  *correct N  *strike N  *sums  *quit")
	}
	return nil
}
