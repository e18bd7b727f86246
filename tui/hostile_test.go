package tui

// This file tests that texts of a stranger are shown and not obeyed.

import (
	"slices"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/job"
)

// hostile is a line of text as a stranger's file may hold it: it would clear
// the screen, colour what follows, ring, and turn the direction of writing.
const hostile = "\x1b[2J\x1b[41mX\a\u009b31m\u202eY\r\nZ"

// sayHostile answers as the small job does, but every line of text is hostile:
// it comes into the job as an import would bring it, past the field.
func (st *stage) sayHostile() {
	st.t.Helper()
	p := st.app.guide.answer.prompt
	if p.Spec == nil || p.Kind != job.Free {
		st.answerOne()
		return
	}
	m, cmd := st.app.save([]job.Entry{p.Entry(st.app.guide.state, job.Value{Text: hostile}, hostile, time.Time{})})
	st.app = m.(App)
	st.run(cmd)
}

// What a stranger's text holds never reaches the terminal as it is, on any
// screen of a job or over it.
func TestHostileTextIsShownNotObeyed(t *testing.T) {
	for _, answers := range []map[job.Topic]string{nil, levelPort} {
		st := newStage(t, newMemory(), 120, 40)
		st.answers = answers
		for range 300 {
			for _, kind := range []overlayKind{overlayNone, overlayMenu, overlaySums, overlayHelp, overlayCorrect} {
				over := st.app
				over.overlay = over.newOverlay(kind)
				wantTame(t, over, st.app.guide.state.Step().String())
			}
			if st.app.guide.finished {
				break
			}
			st.sayHostile()
		}
		if got := st.mem.jobs[st.app.guide.job.ID].Entries; !slices.ContainsFunc(got,
			func(e job.Entry) bool { return e.Value.Text == hostile }) {
			t.Error("what is stored is not what came in")
		}
		st.run(readHistory(st.app.cfg.Journal, st.app.guide.job))
		wantTame(t, st.app, "the history")
	}
}

// Nor does it on the list of jobs.
func TestHostileNamesOnTheListOfJobs(t *testing.T) {
	mem := newMemory()
	st := newStage(t, mem, 80, 24)
	for range 300 {
		if st.app.guide.finished || st.app.guide.answer.prompt.Topic == job.LeakCheck {
			break
		}
		st.sayHostile()
	}
	list := newStage(t, mem, 80, 24)
	list.sees("Which job?")
	wantTame(t, list.app, "the list")
}

func wantTame(t *testing.T, a App, where string) {
	t.Helper()
	view := a.View()
	for _, wild := range []string{"\x1b[2J", "\x1b[41m", "\a", "\u009b", "\u202e", "\r"} {
		if at := strings.Index(view, wild); at >= 0 {
			t.Fatalf("%s: %q reaches the terminal: %q", where, wild, view[max(0, at-60):min(len(view), at+40)])
		}
	}
}
