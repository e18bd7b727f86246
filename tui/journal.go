package tui

// This file says what the screens need of a store. They know no more of it.

import (
	"io"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/tui/history"
)

// Journal keeps jobs. Append is durable when it returns nil.
type Journal interface {
	Create(job job.Job, head guide.Head) error
	Append(id string, head guide.Head, entries ...job.Entry) error
	Load(id string) (job.Job, error)
	// Unfinished lists the jobs that are not finished, newest first.
	Unfinished() ([]guide.Head, error)
	// Units lists the newest job of each unit.
	Units() ([]guide.Head, error)
	// Offers is what jobs before the given one bring to it, the unit's job before it too.
	Offers(job job.Job) (guide.Offers, error)
	// History gathers the jobs of a job's unit.
	History(job job.Job) (history.Data, error)
	SaveDraft(id string, d Draft) error
	// LoadDraft gives what was half typed; the zero Draft where nothing was.
	LoadDraft(id string) (Draft, error)
}

// After makes a command that waits and then gives the message: tea.Tick, or in
// tests nothing, so that no test waits.
type After func(time.Duration, func(time.Time) tea.Msg) tea.Cmd

// Draft is what was half typed in answer to a question: never a reading.
type Draft struct {
	Place job.Place
	Text  string
	At    time.Time
}

// Config is all that the screens need from outside.
type Config struct {
	Journal Journal
	Clock   func() time.Time
	After   After         // nil: tea.Tick
	Chance  func() uint32 // for the ids of new jobs
	OpenID  string        // job to open at once; "" asks or starts one
	Export  func(id string) (path string, err error)
	Bell    io.Writer       // the terminal to ring; nil rings nothing
	Leave   <-chan struct{} // closed to end the line mode; nil: never
	Passing bool            // what is entered is thrown away when the guide is left
	// Coach says in one line what could be answered to a question; nil, or "",
	// says nothing.
	Coach func(guide.Prompt) string
}

// coachLine is what the coach says of a question, "" for nothing.
func (c Config) coachLine(p guide.Prompt) string {
	if c.Coach == nil {
		return ""
	}
	return c.Coach(p)
}
