// Package line is the plain line mode: the same sheets, lines and answers as on the
// screens, one line at a time, without colour, cursor moves or redrawing. A screen
// reader can follow it, and it works over a serial line or a pipe.
//
// This file runs it. What it says is in say.go, what a typed line does in take.go.
package line

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
	"garage/tundish/model/sheet"
	"garage/tundish/tui"
	"garage/tundish/tui/lines"
	"garage/tundish/tui/session"
	"garage/tundish/tui/status"
	"garage/tundish/tui/theme"
)

// mode is one run of the line mode.
type mode struct {
	cfg    tui.Config
	theme  theme.Theme
	leave  <-chan struct{}
	lines  <-chan lines.Line
	ended  func() error // what the input ended with, once lines is closed
	out    *bufio.Writer
	now    time.Time      // as last looked at
	ticked <-chan tea.Msg // when a wait may be over, nil where nothing is waited for
	ticks  time.Time      // when that comes

	unfinished []guide.Head // as listed to choose from
	s          session.Session
	sheet      sheet.Sheet
	line       int             // of the sheet, which is asked; noLine: it is to be completed
	again      *job.Place      // a line that is asked once more, nil none
	doubt      *doubt          // of the last answer, nil none
	begun      sheet.Mark      // the sheet that was last said to begin
	stands     map[string]bool // what was said of it since
	asked      asking          // the line last asked in full
	refused    error           // an answer of a pipe was not stored: those after it are none to what is asked
}

const noLine = -1

// asking is a line at a moment of the job.
type asking struct {
	place job.Place
	count int
	any   bool
}

// doubt is an answer that can be meant in more than one unit.
type doubt struct {
	readings []guide.Reading
	answer   sheet.Answer
	line     int
}

// errLeft ends the line mode on request.
var errLeft = errors.New("left")

// Run does the job in the line mode until it is left, the input ends, leave is closed,
// or nothing is left to ask. The error is the journal's, or the input's.
func Run(in io.Reader, out io.Writer, cfg tui.Config, leave <-chan struct{}, t theme.Theme) error {
	done := make(chan struct{})
	defer close(done)
	m := &mode{cfg: cfg, theme: t, leave: leave, out: bufio.NewWriter(out), now: cfg.Clock()}
	m.lines, m.ended = lines.Of(in, done)
	defer m.out.Flush()
	m.say("tundish, plain line mode. Type an answer and Enter. *help tells the rest.")
	err := m.open()
	if err == nil {
		err = m.run()
	}
	if err == errLeft || err == io.EOF {
		m.say("")
		for _, words := range status.Farewell(m.s.Guide(), m.unfinished, m.cfg.Passing, m.theme.Glyphs) {
			m.say("%s", words)
		}
		return nil
	}
	return err
}

// hear shows the sign for input after a question and waits for a line. A wait of the job
// that is over meanwhile is told, and the question asked again.
func (m *mode) hear(question string) (string, error) {
	for {
		fmt.Fprint(m.out, m.spell(strings.TrimSpace(question+" >")), " ")
		if err := m.out.Flush(); err != nil {
			return "", err
		}
		rung := ""
		for rung == "" {
			select {
			case line, more := <-m.lines:
				switch {
				case !more:
					return "", m.ended()
				case line.TooLong:
					rung = "That line is too long."
				default:
					return line.Text, nil
				}
			case <-m.leave:
				return "", errLeft
			case <-m.tick():
				m.ticked = nil
				rung = m.passed()
			}
		}
		m.say("")
		m.say("%s", rung)
	}
}

// tick is the clock, which comes where a wait of the job is over, nil where nothing is
// waited for. A computer that sleeps counts no wait of hours, so it is looked at each
// minute.
func (m *mode) tick() <-chan tea.Msg {
	if m.s.Guide() == nil {
		return nil
	}
	wait, waiting := m.s.Guide().Wait()
	left := min(wait.Ends().Sub(m.now), time.Minute)
	if !waiting || left <= 0 {
		return nil
	}
	if at := m.now.Add(left); m.ticked == nil || at.Before(m.ticks) {
		ticked := make(chan tea.Msg, 1)
		if cmd := m.cfg.After(left, func(at time.Time) tea.Msg { return at }); cmd != nil {
			go func() { ticked <- cmd() }()
		}
		m.ticked, m.ticks = ticked, at
	}
	return m.ticked
}

// passed moves the clock on and says what it has reached, "" for nothing.
func (m *mode) passed() string {
	before := m.now
	m.now = m.cfg.Clock()
	if m.s.Guide() == nil {
		return ""
	}
	rung := status.Alarm(m.s.Guide(), before, m.now)
	if rung != "" && m.cfg.Bell != nil {
		fmt.Fprint(m.out, "\a")
	}
	return rung
}

// open opens the job asked for, the only unfinished one, or asks which.
func (m *mode) open() error {
	if m.cfg.OpenID != "" {
		return m.load(m.cfg.OpenID)
	}
	unfinished, units, err := session.Known(m.cfg.Journal)
	switch {
	case err != nil:
		return err
	case m.cfg.New || len(unfinished)+len(units) == 0:
		return m.start(nil)
	case len(unfinished) == 1 && unfinished[0].Phase == guide.Open:
		return m.load(unfinished[0].ID)
	}
	m.unfinished = unfinished
	return m.pick(units)
}

// pick asks which job.
func (m *mode) pick(units []guide.Head) error {
	for {
		m.say("")
		n := 0
		list := func(format string, a ...any) { n++; m.say("%d  "+format, append([]any{n}, a...)...) }
		for _, h := range m.unfinished {
			list("Go on, %s: %s (%s, begun %s)", h.StateWords(), status.JobName(h.Vehicle, h.UnitName), h.Phase,
				h.Started.Local().Format("2 Jan 2006"))
		}
		list("New job, a new unit")
		for _, h := range units {
			list("New job: %s (last %s)", status.JobName(h.Vehicle, h.UnitName), h.Started.Local().Format("2 Jan 2006"))
		}
		typed, err := m.hear("Which job? a number from 1 to " + strconv.Itoa(n) + "; *quit leaves")
		if err != nil {
			return err
		}
		k, err := strconv.Atoi(typed)
		switch last := len(m.unfinished); {
		case typed == "*quit" || typed == "*leave":
			return errLeft
		case strings.HasPrefix(typed, "*") || typed == "?":
			m.sayHelp()
		case err != nil || k < 1 || k > n:
			m.say("That is none of them.")
		case k <= last:
			return m.load(m.unfinished[k-1].ID)
		case k == last+1:
			return m.start(nil)
		default:
			return m.start(&units[k-last-2])
		}
	}
}

// start begins a job: of a unit that is known, or of a new one.
func (m *mode) start(like *guide.Head) (err error) {
	now := m.cfg.Clock()
	m.s, err = session.Start(m.cfg.Journal, job.NewID(now, m.cfg.Chance()), now, like)
	return err
}

// load opens a job where it was left.
func (m *mode) load(id string) (err error) {
	if m.s, err = session.Load(m.cfg.Journal, id, m.cfg.Clock()); err != nil {
		return err
	}
	if m.s.Kept.Text != "" {
		m.say("You had typed %s, and not accepted it.", m.s.Kept.Text)
	}
	now := m.cfg.Clock()
	if clock, _ := m.s.Guide().ClockAt(now); clock == guide.ClockFits {
		m.say("You stopped %s ago.", status.Ago(now.Sub(m.s.Resumed)))
	}
	return nil
}

// run asks until nothing is left.
func (m *mode) run() error {
	for m.look() {
		m.saySheet()
		typed, err := m.hear(m.question())
		if err == nil {
			err = m.take(typed)
		}
		if err == nil {
			err = m.refused
		}
		if err != nil {
			return err
		}
	}
	m.say("")
	m.say("%s, job %s.", status.Line(m.s.Guide(), m.cfg.Clock()), m.s.Job.ID)
	m.say("%s Its record: tundish summary %s", status.End(m.s.Guide()), m.s.Job.ID)
	return nil
}

// look finds the sheet and the line that are asked; false where nothing is left.
func (m *mode) look() (more bool) {
	m.now = m.cfg.Clock()
	if m.sheet, more = m.s.Visit.Sheet(m.now); !more {
		return false
	}
	m.line = m.sheet.FirstOpen()
	if m.again != nil {
		m.line = m.sheet.LineOf(*m.again)
	}
	if m.doubt != nil {
		m.line = m.doubt.line
	}
	return true
}
