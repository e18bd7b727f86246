package tui

// This file holds what a screen or an overlay can want of the root: the child
// says what, the root does it.

import (
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
	"garage/tundish/tui/input"
)

// intent is what a child wants: one of the types below; nil is nothing.
type intent any

type (
	wantUndo    struct{}                   // take back what was answered last
	wantCorrect struct{ place job.Place }  // turn to the line of an answer
	wantStrike  struct{ seq int }          // take an entry back, with nothing in its place
	wantOverlay struct{ kind overlayKind } // open one; overlayNone closes
	wantJob     struct{ id string }        // open a job
	wantNew     struct{ like *guide.Head } // start a job
	wantPicker  struct{}                   // back to the list of jobs
	wantHistory struct{}                   // show the unit over the years
	wantExport  struct{}                   // write the record to a file: where?
	wantPrint   struct{}                   // write the sheets to a file, to be printed: where?
	wantPaper   struct{}                   // what follows is typed from a printed page
	wantDraft   struct{}                   // keep what is half typed
	wantQuit    struct{}
)

// wantSave stores entries, and leaves the sheet when that is done.
type wantSave struct {
	entries []job.Entry
	done    bool
}

// wantWrite writes something of the job into a folder.
type wantWrite struct {
	what, folder string
	write        func(id, folder string) (path string, err error)
}

// carryOut does what a child wants.
func (a App) carryOut(want intent) (tea.Model, tea.Cmd) {
	switch want := want.(type) {
	case wantSave:
		return a.save(want)
	case wantUndo:
		a.overlay = nil
		a.job = a.job.keep()
		entries, _ := sheet.Undo(a.job.Real(), a.cfg.Clock())
		return a.save(wantSave{entries, false})
	case wantCorrect:
		a.overlay = nil
		if to, ok := a.job.goTo(want.place, a.now); ok {
			a.job = to
		}
	case wantStrike:
		a.overlay = nil
		a.job = a.job.keep()
		if e, ok := a.job.Real().StrikeEntry(want.seq, a.cfg.Clock()); ok {
			return a.save(wantSave{[]job.Entry{e}, false})
		}
	case wantOverlay:
		a.overlay = a.newOverlay(want.kind)
	case wantJob:
		a.screen = screenLoading // a second Enter must not load it over what is answered by then
		return a, a.loadJob(want.id)
	case wantNew:
		a.screen = screenLoading
		return a.start(want.like)
	case wantPicker:
		a.overlay, a.screen = nil, screenLoading
		a.job = jobScreen{}
		return a, listJobs(a.cfg.Journal, true)
	case wantCar:
		a.overlay = nil
		return a, a.readCar(want.of, "")
	case wantTogether:
		return a, a.together()
	case wantHistory:
		a.overlay = nil
		return a, readHistory(a.cfg.Journal, a.job.Job)
	case wantExport:
		return a.whereTo(wantWrite{"record", a.cfg.Folder, a.cfg.Export})
	case wantPrint:
		return a.whereTo(wantWrite{"sheets", a.cfg.Folder, a.cfg.Print})
	case wantWrite:
		a.overlay = nil
		return a, export(want, a.job.Job.ID)
	case wantPaper:
		a.overlay = nil
		return a.save(wantSave{entries: []job.Entry{sheet.FromPaper(a.job.state(), a.now)}})
	case wantDraft:
		a.job.draftTag++
		due := draftDueMsg{a.job.draftTag}
		return a, a.cfg.After(draftPause, func(time.Time) tea.Msg { return due })
	case wantQuit:
		return a, tea.Quit
	}
	return a, nil
}

// whereTo asks for the folder that something of the job is written to.
func (a App) whereTo(want wantWrite) (tea.Model, tea.Cmd) {
	a.overlay = nil
	switch {
	case a.job.Fresh:
		a.job.notice = "nothing is stored yet: answer the first line"
	case want.write != nil:
		a.overlay = where{want, input.Field{Text: want.folder, Stood: true}}
	}
	return a, nil
}

// save stores entries made on the present state. Until they are durable the
// screen takes no other answer.
func (a App) save(want wantSave) (tea.Model, tea.Cmd) {
	if a.job.saving || len(want.entries) == 0 {
		if want.done {
			a.job.Visit = a.job.Visit.Done()
			a.job = a.job.look(a.now)
		}
		return a, nil
	}
	var cmd tea.Cmd
	a.job, cmd = a.job.save(a.cfg.Journal, want)
	return a, cmd
}
