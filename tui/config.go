package tui

// This file says what the screens need from outside.

import (
	"io"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/sheet"
	"garage/tundish/tui/session"
)

// After makes a command that waits and then gives the message: tea.Tick, or in
// tests nothing, so that no test waits.
type After func(time.Duration, func(time.Time) tea.Msg) tea.Cmd

// Config is all that the screens need from outside.
type Config struct {
	Journal session.Journal
	Clock   func() time.Time                                 // in the zone that times are shown in
	After   After                                            // of waits, and of half a line typed
	Chance  func() uint32                                    // for the ids of new jobs
	OpenID  string                                           // job to open at once; "" asks or starts one
	New     bool                                             // start one, whatever is open
	Export  func(id, folder string) (path string, err error) // writes the record
	Print   func(id, folder string) (path string, err error) // writes the sheets, to be printed
	Folder  string                                           // where both go, if nobody says another
	Bell    io.Writer                                        // the terminal to ring; nil rings nothing
	Piped   bool                                             // the answers are of no terminal: nobody hears that one was not stored
	Passing bool                                             // what is entered is thrown away when the guide is left
	// Coach says in one line what could be done at a line of a sheet, -1 where the
	// sheet is complete; nil, or "", says nothing.
	Coach func(s sheet.Sheet, line int) string
}

// coachLine is what the coach says, "" for nothing.
func (c Config) coachLine(s sheet.Sheet, line int) string {
	if c.Coach == nil {
		return ""
	}
	return c.Coach(s, line)
}
