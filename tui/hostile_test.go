package tui

// This file tests that texts of a stranger are shown and not obeyed.

import (
	"slices"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
	"garage/tundish/tui/session"
	"garage/tundish/tui/session/sessiontest"
)

// hostile is a line of text as a stranger's file may hold it: it would clear
// the screen, colour what follows, ring, and turn the direction of writing.
const hostile = "\x1b[2J\x1b[41mX\a\u009b31m\u202eY\r\nZ"

// hostileJob is a job that came in from a stranger: every line of text in it is
// hostile, up to a sheet.
func hostileJob(t *testing.T, until sheet.ID) (*sessiontest.Memory, string) {
	t.Helper()
	mem := sessiontest.NewMemory()
	st := newStage(t, mem, 80, 24)
	st.slow = 9 * time.Minute
	st.upTo(until)
	id := st.app.job.Job.ID
	j := mem.Jobs[id]
	j.Entries = slices.Clone(j.Entries)
	for i := range j.Entries {
		if j.Entries[i].Topic.Info().Kind == job.Free {
			j.Entries[i].Value.Text, j.Entries[i].Typed = hostile, hostile
		}
	}
	mem.Jobs[id] = j
	mem.Drafts[id] = session.Draft{Place: job.Place{Topic: job.DrainedAmount}, Text: hostile}
	return mem, id
}

// What a stranger's text holds never reaches the terminal as it is, on any sheet of a
// job or over it.
func TestHostileTextIsShownNotObeyed(t *testing.T) {
	mem, id := hostileJob(t, sheet.Verdict)
	st := newStage(t, mem, 120, 40)
	shown := 0
	for range 60 {
		for _, kind := range []overlayKind{overlayNone, overlayMenu, overlaySums, overlayHelp, overlayCorrect} {
			over := st.app
			over.overlay = over.newOverlay(kind)
			wantTame(t, over, st.app.job.sheet.ID.String())
			shown++
		}
		st.typing[job.ResumedPlug] = "1"
		if st.app.job.sheet.ID == sheet.Resume {
			st.answer()
		} else {
			st.typed("/")
		}
	}
	if shown < 100 || !slices.ContainsFunc(mem.Jobs[id].Entries, func(e job.Entry) bool { return e.Value.Text == hostile }) {
		t.Errorf("%d screens, and what is stored is not what came in", shown)
	}
	st.run(readHistory(st.app.cfg.Journal, st.app.job.Job))
	wantTame(t, st.app, "the history")
}

// Nor does what is pasted into a field, or stands on the list of jobs.
func TestHostileTextElsewhere(t *testing.T) {
	st := small(t).upToLine(job.HoseHolds)
	st.app.job.field.Text = hostile
	wantTame(t, st.app, "a field")
	mem, _ := hostileJob(t, sheet.Later)
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
