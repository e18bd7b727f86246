package tui

// This file holds what a screen or an overlay can want of the root: the child
// says what, the root does it.

import (
	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// intent is what a child wants: one of the types below; nil is nothing.
type intent any

type (
	wantSave    struct{ entries []job.Entry } // store these and move on
	wantUndo    struct{}                      // strike out the last standing entry
	wantAsk     struct{}                      // drop a correction, ask what comes next
	wantCorrect struct{ seq int }             // ask for an entry again
	wantStrike  struct{ seq int }             // take an entry back, with nothing in its place
	wantOverlay struct{ kind overlayKind }    // open one; overlayNone closes
	wantJob     struct{ id string }           // open a job
	wantNew     struct{ like *guide.Head }    // start a job
	wantPicker  struct{}                      // back to the list of jobs
	wantHistory struct{}                      // show the unit over the years
	wantExport  struct{}                      // write the record to a file
	wantDraft   struct{}                      // keep what is half typed
	wantAccept  struct{}                      // of the answer: take it; the guide makes a wantSave of it
	wantTakeAll struct{}                      // of the answer: take the rest of the offers too
	wantQuit    struct{}
)

// carryOut does what a child wants.
func (a App) carryOut(want intent) (tea.Model, tea.Cmd) {
	switch want := want.(type) {
	case wantSave:
		return a.save(want.entries)
	case wantUndo:
		return a.strike(a.guide.state.UndoEntry(a.now))
	case wantAsk:
		a.overlay = nil
		a.guide = a.guide.ask()
	case wantCorrect:
		a.overlay = nil
		a.guide = a.guide.correct(want.seq)
	case wantStrike:
		return a.strike(a.guide.state.StrikeEntry(want.seq, a.now))
	case wantOverlay:
		a.overlay = a.newOverlay(want.kind)
	case wantJob:
		a.screen = screenLoading // a second Enter must not load it over what is answered by then
		return a, loadJob(a.cfg.Journal, want.id)
	case wantNew:
		a.screen = screenLoading
		return a.start(want.like)
	case wantPicker:
		a.overlay, a.screen = nil, screenLoading
		a.guide = guideScreen{}
		return a, listJobs(a.cfg.Journal, true)
	case wantHistory:
		a.overlay = nil
		return a, readHistory(a.cfg.Journal, a.guide.job)
	case wantExport:
		return a.record()
	case wantDraft:
		a.guide.draftTag++
		return a, draftDue(a.cfg.After, a.guide.draftTag)
	case wantQuit:
		return a, tea.Quit
	}
	return a, nil
}

// strike takes an answer back, where there is one; what is half typed is kept.
func (a App) strike(e job.Entry, ok bool) (tea.Model, tea.Cmd) {
	a.overlay = nil
	if !ok {
		return a, nil
	}
	a.guide = a.guide.keep()
	return a.save([]job.Entry{e})
}

// record writes the record of the job to a file.
func (a App) record() (tea.Model, tea.Cmd) {
	a.overlay = nil
	switch {
	case a.guide.fresh:
		a.guide.notice = "nothing is stored yet: answer the first question"
	case a.cfg.Export != nil:
		return a, export(a.cfg.Export, a.guide.job.ID)
	}
	return a, nil
}

// save stores entries made on the present state. Until they are durable the
// screen takes no other answer.
func (a App) save(entries []job.Entry) (tea.Model, tea.Cmd) {
	if a.guide.saving || len(entries) == 0 {
		return a, nil
	}
	now := a.cfg.Clock().UTC().Round(0)
	for i := range entries {
		entries[i].At = now
	}
	var cmd tea.Cmd
	a.guide, cmd = a.guide.save(a.cfg.Journal, entries)
	return a, cmd
}
