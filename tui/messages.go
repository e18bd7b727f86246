package tui

// This file lists every message of our own: who sends it and who handles it.

import (
	"garage/tundish/model/guide"
	"garage/tundish/tui/session"
)

// tickMsg: the clock has come to where it changes something; number tells the tick
// that is waited for from older ones; handled by App.
type tickMsg struct{ number int }

// listedMsg: jobs and units read; handled by App.
type listedMsg struct {
	unfinished, units []guide.Head
	asked             bool // by the owner; else at the start
	err               error
}

// loadedMsg: a job opened, with what earlier jobs bring; handled by App.
type loadedMsg struct {
	session session.Session
	err     error
}

// savedMsg: entries are durable; request ties it to the save that asked.
type savedMsg struct {
	request int
	saved   session.Saved
}

// saveFailedMsg: entries are not stored; what was typed is kept.
type saveFailedMsg struct {
	request int
	err     error
}

// draftDueMsg: typing has paused; tag drops all but the last.
type draftDueMsg struct{ tag int }

// draftSavedMsg: half-typed text is kept. A failure only costs the draft.
type draftSavedMsg struct{ err error }

// exportedMsg: something of a job was written to a file, or not.
type exportedMsg struct {
	id   string // of the job
	what string // record, or sheets
	path string
	err  error
}

// notice says what was written, or why nothing was.
func (msg exportedMsg) notice() string {
	if msg.err != nil {
		return msg.what + " not written: " + msg.err.Error()
	}
	return msg.what + " written: " + msg.path
}

// HangupMsg: the terminal is gone or the session ends; sent by the command.
type HangupMsg struct{}
