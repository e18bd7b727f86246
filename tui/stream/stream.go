package stream

// This file runs a job: what comes in, and what goes out after it.

import (
	"bufio"
	"encoding/json"
	"errors"
	"io"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
	"garage/tundish/tui/lines"
	"garage/tundish/tui/session"
)

// Config is all that the stream needs from outside.
type Config struct {
	Journal session.Journal
	Clock   func() time.Time
	Chance  func() uint32   // for the id of a new job
	OpenID  string          // job to open; "" the only one that is not finished, or a new one
	New     bool            // begins a new job, whatever is open
	Leave   <-chan struct{} // closed to end it; nil: never
}

// errManyOpen is the error where it is not said which of several open jobs is meant.
var errManyOpen = errors.New("more than one job is not finished; say which with --job, or --job new")

// stream is one run.
type stream struct {
	cfg   Config
	out   *bufio.Writer
	s     session.Session
	sheet sheet.Sheet
	begun sheet.Mark // the sheet that was last said to begin
	focus *job.Place // the answer that is to be given anew, nil none
	line  int        // of the sheet, which the prompt is for; -1 it is to be completed
	doubt *doubt     // of the last answer, nil none
}

// Run does a job by objects, a line each, until it is left, the input ends, or nothing
// is left to ask. The error is the journal's, the input's or the output's.
func Run(in io.Reader, out io.Writer, cfg Config) error {
	done := make(chan struct{})
	defer close(done)
	read, ended := lines.Of(in, done)
	x := &stream{cfg: cfg, out: bufio.NewWriter(out)}
	if err := x.open(); err != nil {
		return err
	}
	for more, err := x.next(); more || err != nil; {
		if err != nil {
			return err
		}
		select {
		case <-cfg.Leave:
			return nil
		case line, open := <-read:
			if !open {
				if err := ended(); err != io.EOF {
					return err
				}
				return nil
			}
			more, err = x.take(line)
		}
	}
	return nil
}

// open opens the job that is asked for, the only one that is open, or a new one.
func (x *stream) open() (err error) {
	id := x.cfg.OpenID
	if id == "" && !x.cfg.New {
		if id, err = x.onlyOpen(); err != nil {
			return err
		}
	}
	if id != "" {
		x.s, err = session.Load(x.cfg.Journal, id, x.cfg.Clock())
		return err
	}
	now := x.cfg.Clock()
	x.s, err = session.Start(x.cfg.Journal, job.NewID(now, x.cfg.Chance()), now, nil)
	return err
}

// onlyOpen is the job that is open, else the one whose looks after the drive are still to
// come; "" none.
func (x *stream) onlyOpen() (id string, err error) {
	heads, err := x.cfg.Journal.Unfinished()
	for _, phase := range []guide.Phase{guide.Open, guide.ToRecheck} {
		for _, h := range heads {
			switch {
			case h.Phase != phase:
			case id != "":
				return "", errManyOpen
			default:
				id = h.ID
			}
		}
		if id != "" {
			break
		}
	}
	return id, err
}

// say writes objects, which are read at once.
func (x *stream) say(objects ...any) error {
	enc := json.NewEncoder(x.out)
	enc.SetEscapeHTML(false)
	for _, o := range objects {
		if err := enc.Encode(o); err != nil {
			return err
		}
	}
	return x.out.Flush()
}

// next says which sheet begins and what is asked; false where nothing is left.
func (x *stream) next() (more bool, err error) {
	if x.sheet, more = x.s.Visit.Sheet(x.cfg.Clock()); !more {
		return false, x.say(out{Done: true})
	}
	if now := x.sheet.Mark(); now != x.begun {
		x.begun = now
		if err := x.say(out{Sheet: sheetOf(x.s.Guide(), x.sheet)}); err != nil {
			return false, err
		}
	}
	x.line = x.sheet.FirstOpen()
	if x.focus != nil {
		x.line = x.sheet.LineOf(*x.focus)
	}
	return true, x.say(out{Prompt: x.prompt()})
}

// prompt is what is asked.
func (x *stream) prompt() any {
	if x.line < 0 {
		return completeOut{kindComplete, []string{}}
	}
	p := promptOf(x.s.Guide(), x.sheet, x.sheet.Lines[x.line])
	if x.focus != nil {
		p.Offer = nil // what stands is in doubt
	}
	return p
}

// topic is what the prompt is called, "" of a sheet to be completed.
func (x *stream) topic() string {
	if x.line < 0 {
		return ""
	}
	return x.sheet.Lines[x.line].Topic().String()
}
