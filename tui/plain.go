package tui

// This file is the plain line mode: the same job, questions and answers, one
// line at a time, without colour, cursor moves or redrawing. A screen reader
// can follow it, and it works over a serial line or a pipe. What it says is
// plain_say.go's.

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/tui/theme"
)

// plain is one run of the line mode.
type plain struct {
	cfg    Config
	theme  theme.Theme
	lines  <-chan string
	ended  func() error // what the input ended with, once lines is closed
	out    *bufio.Writer
	guide  guideScreen
	now    time.Time       // as last looked at
	ticked <-chan tea.Msg  // the next second, nil where it is not waited for
	told   string          // state of the unit and step, as last told
	stands map[string]bool // how things stand, as told since
	asked  asking          // as last told in full

	unfinished []guide.Head // as listed to choose from
}

// asking is a question at a moment of the job.
type asking struct {
	place job.Place
	count int
}

// errLeft ends the line mode on request.
var errLeft = errors.New("left")

// maxLine is the longest line that is read, bytes.
const maxLine = 1 << 16

// RunPlain runs the job in the plain line mode until it is left, the input
// ends, or nothing is left to ask. The error is the journal's, or the input's.
func RunPlain(in io.Reader, out io.Writer, cfg Config, t theme.Theme) error {
	if cfg.After == nil {
		cfg.After = tea.Tick
	}
	done := make(chan struct{})
	defer close(done)
	p := &plain{cfg: cfg, theme: t, out: bufio.NewWriter(out), now: cfg.Clock()}
	p.lines, p.ended = linesOf(in, done)
	defer p.out.Flush()
	p.say("tundish, plain line mode. Type an answer and Enter. *help tells the rest.")
	err := p.open()
	if err == nil {
		err = p.run()
	}
	if err == errLeft || err == io.EOF {
		p.sayFarewell()
		return nil
	}
	return err
}

// linesOf reads lines as they come, so that a clock can ring while one is
// waited for. The channel is closed at the end, of which ended tells the cause.
func linesOf(in io.Reader, done <-chan struct{}) (lines <-chan string, ended func() error) {
	scanner := bufio.NewScanner(in)
	scanner.Buffer(nil, maxLine)
	read := make(chan string)
	go func() {
		defer close(read)
		for scanner.Scan() {
			select {
			case read <- strings.TrimSpace(scanner.Text()):
			case <-done:
				return
			}
		}
	}()
	return read, func() error {
		if err := scanner.Err(); err != nil {
			return err
		}
		return io.EOF
	}
}

// ask shows the sign for input and waits for a line. A wait of the job that is
// over meanwhile is told.
func (p *plain) ask() (string, error) {
	for {
		fmt.Fprint(p.out, "> ")
		if err := p.out.Flush(); err != nil {
			return "", err
		}
		rung := ""
		for rung == "" {
			select {
			case line, more := <-p.lines:
				if !more {
					return "", p.ended()
				}
				return line, nil
			case <-p.cfg.Leave:
				p.say("")
				return "", errLeft
			case <-p.tick():
				p.ticked = nil
				rung = p.passed()
			}
		}
		p.say("")
		p.say("%s", rung)
	}
}

// tick is the clock: a second after it was last heard it can be heard again.
func (p *plain) tick() <-chan tea.Msg {
	if p.ticked != nil {
		return p.ticked
	}
	ticked := make(chan tea.Msg, 1)
	if cmd := tick(p.cfg.After, p.cfg.Clock); cmd != nil {
		go func() { ticked <- cmd() }()
	}
	p.ticked = ticked
	return ticked
}

// passed moves the clock on and says what it has reached, "" for nothing.
func (p *plain) passed() string {
	before := p.now
	p.now = p.cfg.Clock()
	rung := p.guide.alarm(before, p.now)
	if rung != "" && p.cfg.Bell != nil {
		fmt.Fprint(p.out, "\a")
	}
	return rung
}

// open opens the job asked for, the only unfinished one, or asks which.
func (p *plain) open() error {
	if p.cfg.OpenID != "" {
		return p.load(wantJob{p.cfg.OpenID})
	}
	msg, _ := listJobs(p.cfg.Journal, false)().(listedMsg)
	if msg.err != nil {
		return msg.err
	}
	if len(msg.unfinished) == 1 && msg.unfinished[0].Phase == guide.Open {
		return p.load(wantJob{msg.unfinished[0].ID})
	}
	if len(msg.unfinished)+len(msg.units) == 0 {
		return p.load(wantNew{})
	}
	p.unfinished = msg.unfinished
	return p.pickJob(newPicker(msg.unfinished, msg.units))
}

func (p *plain) pickJob(list picker) error {
	for {
		p.say("")
		for i, c := range list.picks {
			p.say("%d. %s%s", i+1, c.label, hintWords(c.hint))
		}
		p.say("Which job? (a number from 1 to %d; *quit leaves)", len(list.picks))
		line, err := p.ask()
		if err != nil {
			return err
		}
		switch n, err := strconv.Atoi(line); {
		case line == "*quit" || line == "*leave":
			return errLeft
		case strings.HasPrefix(line, "*") || line == "?":
			p.tellHelp()
		case err == nil && n >= 1 && n <= len(list.picks):
			return p.load(list.picks[n-1].want)
		default:
			p.say("That is none of them.")
		}
	}
}

func (p *plain) load(want intent) error {
	var msg loadedMsg
	now := p.cfg.Clock()
	switch want := want.(type) {
	case wantJob:
		msg, _ = loadJob(p.cfg.Journal, want.id)().(loadedMsg)
	case wantNew:
		msg, _ = startJob(p.cfg.Journal, job.NewID(now, p.cfg.Chance()), now, want.like)().(loadedMsg)
	}
	if msg.err != nil {
		return msg.err
	}
	if msg.draft.Text != "" {
		p.say("You had typed %s, and not accepted it.", msg.draft.Text)
		msg.draft = Draft{}
	}
	p.guide = newGuide(msg)
	if !p.guide.resumed.IsZero() && p.guide.clockFits(now) {
		p.say("You stopped %s ago.", agoWords(now.Sub(p.guide.resumed)))
	}
	return nil
}

// run asks until nothing is left.
func (p *plain) run() error {
	for !p.guide.finished {
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
	p.say("%s Its record: tundish summary %s", endWords(p.guide.state), p.guide.job.ID)
	return nil
}

// take does what a line says: a command, or an answer.
func (p *plain) take(line string) error {
	g := p.guide
	free := g.answer.prompt.Kind == job.Free
	switch {
	case strings.HasPrefix(line, "*"):
		return p.command(strings.Fields(line[1:]))
	case line == "?" && !free:
		return p.command(nil)
	case line == "+" && g.answer.canTakeAll():
		return p.store(g.takeAll())
	}
	switch g.answer.prompt.Kind {
	case job.Choose:
		if line != "" {
			n, err := strconv.Atoi(line)
			if err != nil || n < 1 || n > len(g.answer.choices) {
				p.say("That is none of them.")
				return nil
			}
			g.answer.chosen.at = n - 1
		}
	case job.Acknowledge, job.Event:
		if line != string(g.answer.digit) {
			p.say("That does not confirm it.")
			return nil
		}
	default:
		g.answer = g.answer.withLine(line)
	}
	return p.store(g.accept())
}

// store appends the entries that are wanted, or says why there are none. A
// failure keeps the question and says so.
func (p *plain) store(g guideScreen, want intent) error {
	save, ok := want.(wantSave)
	if !ok {
		p.say("%s", g.answer.problem)
		p.guide.answer.readings, p.guide.answer.field = g.answer.readings, g.answer.field
		return nil
	}
	now := p.cfg.Clock().UTC().Round(0)
	for i := range save.entries {
		save.entries[i].At = now
	}
	g, cmd := g.save(p.cfg.Journal, save.entries)
	switch msg := cmd().(type) {
	case savedMsg:
		p.guide = g.saved(msg)
		p.tellTaken(save.entries)
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
		return errLeft
	case "undo":
		if e, ok := g.state.UndoEntry(p.cfg.Clock()); ok {
			return p.store(g, wantSave{[]job.Entry{e}})
		}
		p.say("There is nothing to undo.")
	case "list":
		for _, e := range g.state.Standing() {
			p.say("%d. %s", e.Seq, entryName(g.state, e))
		}
	case "correct":
		return p.correct(words[1:])
	case "strike":
		if e, ok := g.state.StrikeEntry(lineNumber(words[1:]), p.cfg.Clock()); ok {
			return p.store(g, wantSave{[]job.Entry{e}})
		}
		p.say("*strike N takes an answer back, with a line number from *list")
	case "back":
		p.guide = g.ask()
	case "again":
		p.asked, p.told = asking{}, "" // so all of it is told
	case "sums":
		p.tellSums()
	case "record":
		p.writeRecord()
	default:
		p.tellHelp()
	}
	return nil
}

// correct asks for the answer of a line number again.
func (p *plain) correct(words []string) error {
	n := lineNumber(words)
	if _, ok := p.guide.state.Correcting(n); !ok {
		p.say("*correct N, with a line number from *list that can be asked again")
		return nil
	}
	p.guide = p.guide.correct(n)
	p.say("The old answer is kept, struck out. *back leaves it as it was.")
	return nil
}

// lineNumber is the number that a command was given, 0 where it was given none.
func lineNumber(words []string) int {
	if len(words) != 1 {
		return 0
	}
	n, _ := strconv.Atoi(words[0]) // 0 where it is none
	return n
}

func (p *plain) writeRecord() {
	if p.cfg.Export == nil || p.guide.fresh {
		p.say("There is no record yet: answer the first question.")
		return
	}
	path, err := p.cfg.Export(p.guide.job.ID)
	p.say("%s", exportNotice(exportedMsg{p.guide.job.ID, path, err}))
}
