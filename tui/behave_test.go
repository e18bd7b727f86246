package tui

// This file tests what the screens do with answers: refuse, keep, take back,
// correct, and wait for what is being written.

import (
	"errors"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"garage/tundish/model/job"
	"garage/tundish/model/text"
)

// What is being typed counts as of the last answer, not as of the year 1: what
// hangs on time must not jump with the first digit.
func TestDraftIsOfItsTime(t *testing.T) {
	st := newStage(t, newMemory(), 80, 24)
	st.upTo(job.DrainedAmount)
	st.clock(26 * time.Hour)
	before := len(st.app.guide.state.Findings())
	st.typed("5")
	g := st.app.guide
	if !g.draft.Updated.Equal(g.state.Updated) || len(g.draft.Findings()) < before {
		t.Errorf("the draft is of %v, the job of %v", g.draft.Updated, g.state.Updated)
	}
}

// What was typed stays when it cannot be stored, and goes in when it can.
func TestFailedSaveKeepsWhatWasTyped(t *testing.T) {
	mem := newMemory()
	st := newStage(t, mem, 80, 24)
	st.upTo(job.DrainedAmount)
	st.typed("550")
	mem.fail = errors.New("disk full; nothing was stored")
	st.press(tea.KeyEnter)
	st.sees("NOT STORED: disk full", "550")
	if _, ok := st.app.guide.state.Answer(job.Place{Topic: job.DrainedAmount}); ok {
		t.Fatal("a reading that was not stored counts")
	}
	mem.fail = nil
	st.press(tea.KeyEnter)
	if _, ok := st.app.guide.state.Answer(job.Place{Topic: job.DrainedAmount}); !ok {
		t.Fatalf("not stored when there was room again:\n%s", st.screen())
	}
}

// A refused reading says what is allowed and keeps what was typed.
func TestNonsenseIsRefused(t *testing.T) {
	for _, c := range []struct {
		topic job.Topic
		typed string
		says  string
	}{
		{job.Capacity, "0", "must be"},
		{job.Capacity, "minus", "type"},
		{job.OilTemperature, "300", "allowed are"},
		{job.DrainedAmount, "10 L", "cannot come out"},
		{job.DrainedAmount, "1,500 ml", "1500"},
	} {
		st := newStage(t, newMemory(), 80, 24)
		st.upTo(c.topic)
		before := st.app.guide.state.Count
		st.typed(c.typed)
		st.press(tea.KeyEnter)
		st.sees(c.says, c.typed)
		if st.app.guide.state.Count != before {
			t.Errorf("%v: %q was accepted", c.topic, c.typed)
		}
	}
}

// A half-typed reading comes back after a break, as a draft and not as a
// reading; the stands and the port are asked first, the unit is said to be
// empty.
func TestResumeAsksStandsAndBringsTheDraftBack(t *testing.T) {
	mem := newMemory()
	st := newStage(t, mem, 80, 24)
	st.upTo(job.DrainedAmount)
	st.typed("54")
	m, _ := st.app.Update(draftDueMsg{st.app.guide.draftTag})
	st.app = m.(App)
	st.run(st.app.guide.draftCmd(st.app.cfg, st.app.guide.draftTag))
	if mem.draft.Text != "54" {
		t.Fatalf("draft %q was not kept", mem.draft.Text)
	}

	later := newStage(t, mem, 80, 24)
	later.clock(3 * time.Hour)
	later.sees("EMPTY", "shake test", "you stopped 3 h ago")
	later.answerOne() // stands
	later.sees("What is in the drain port now?")
	later.typed("1")
	later.press(tea.KeyEnter)
	later.sees("How much came out?")
	if later.app.guide.answer.text() != "54" {
		t.Errorf("the draft is not back: %q\n%s", later.app.guide.answer.text(), later.screen())
	}
}

// Undo strikes out the last answer and asks it again; nothing is forgotten.
func TestUndoFromTheMenu(t *testing.T) {
	st := newStage(t, newMemory(), 80, 24)
	st.upTo(job.DrainedMore)
	count := st.app.guide.state.Count
	st.typed("*")
	st.sees("Menu", "Undo the last answer")
	st.typed("3")
	st.press(tea.KeyEnter)
	if n := st.app.guide.state.Count; n != count+1 {
		t.Fatalf("%d entries, want %d: undo is an entry", n, count+1)
	}
	st.sees("struck out")
}

// After a break undo takes back the answer before it, not what was seen of the
// stands and the port on coming back.
func TestUndoAfterABreak(t *testing.T) {
	mem := newMemory()
	newStage(t, mem, 80, 24).upTo(job.DrainedMore)
	st := newStage(t, mem, 80, 24)
	st.sees("shake test")
	st.upTo(job.DrainedMore)
	st.typed("*")
	st.typed("3")
	st.sees("oil as it was measured")
	st.press(tea.KeyEnter)
	st.sees("struck out: oil as it was measured")
	if got := st.app.guide.answer.prompt.Topic; got != job.DrainedTemperature {
		t.Errorf("asked is %v, want the temperature again", got)
	}
}

// What is half typed when an earlier answer is corrected, or the last one taken
// back, is there again when its question comes.
func TestHalfTypedStaysThroughACorrection(t *testing.T) {
	st := newStage(t, newMemory(), 80, 24)
	st.upTo(job.LoadedAmount)
	st.typed("62")
	st.press(tea.KeyPgUp)
	st.press(tea.KeyDown)
	st.press(tea.KeyEnter)
	st.sees("CORRECTING")
	if st.app.guide.draft != nil && st.app.guide.draft.Count > st.app.guide.state.Count {
		t.Error("what was half typed still counts in the gauge")
	}
	st.press(tea.KeyEsc)
	st.sees("as you had typed it")
	if got := st.app.guide.answer.text(); got != "62" {
		t.Fatalf("after a correction the field holds %q, want 62", got)
	}
	st.press(tea.KeyEsc)
	st.typed("3")
	st.press(tea.KeyEnter) // undo
	st.answerOne()
	if got := st.app.guide.answer.text(); got != "62" {
		t.Errorf("after undo the field holds %q, want 62\n%s", got, st.screen())
	}
}

// What is half typed outlives an earlier answer that is taken back, too.
func TestHalfTypedStaysThroughATakingBack(t *testing.T) {
	st := newStage(t, newMemory(), 80, 24)
	st.upTo(job.LoadedAmount)
	st.typed("62")
	st.press(tea.KeyPgUp)
	st.press(tea.KeyDelete)
	st.sees("struck out")
	st.upTo(job.LoadedAmount)
	if text := st.app.guide.answer.text(); text != "62" {
		t.Errorf("back at the question it is %q, want 62", text)
	}
}

// However small the window, it says that the unit is empty; and so does the
// list of jobs, whatever is pointed at.
func TestEmptyIsSaidEverywhere(t *testing.T) {
	mem := newMemory()
	st := newStage(t, mem, 59, 19)
	st.upTo(job.DrainedAmount)
	st.sees("EMPTY", "make the window larger")
	st.send(tea.WindowSizeMsg{Width: 60, Height: 20})
	st.press(tea.KeyEsc)
	st.typed("8")
	st.press(tea.KeyEnter)
	st.press(tea.KeyDown)
	st.sees("Which job?", "EMPTY")
}

// Correcting an early reading from a late step works the rest out again.
func TestCorrectFromALaterStep(t *testing.T) {
	st := newStage(t, newMemory(), 80, 24)
	st.upTo(job.LoadedAmount)
	e, _ := st.app.guide.state.Answer(job.Place{Topic: job.DrainedAmount})
	m, cmd := st.app.carryOut(wantCorrect{e.Seq})
	st.app = m.(App)
	st.run(cmd)
	st.sees("How much came out?", "CORRECTING line")
	st.press(tea.KeyCtrlU)
	for range 5 {
		st.press(tea.KeyBackspace)
	}
	st.typed("520")
	st.press(tea.KeyEnter)
	st.upTo(job.PlanAccepted) // the plan has moved: it is asked again
	if got := st.app.guide.answer.prompt.Topic; got != job.PlanAccepted {
		t.Fatalf("asked %v, want the plan again", got)
	}
	st.sees("ONCE MORE Pre-load")
	st.press(tea.KeyEsc)
	st.sees("Back to the job")
}

// What was confirmed by mistake can be taken back from a later question: it is
// asked again.
func TestTakeBackFromALaterStep(t *testing.T) {
	st := newStage(t, newMemory(), 80, 24)
	st.upTo(job.StandsAndShake)
	st.press(tea.KeyPgUp)
	st.sees("Which answer is wrong?", "ground and chocks", "take it back")
	st.press(tea.KeyDown)
	st.press(tea.KeyDelete)
	if got := st.app.guide.answer.prompt.Topic; got != job.MakersManual {
		t.Fatalf("asked %v, want the one before the last again", got)
	}
	st.sees("struck out: maker's manual read")
}

// A reading that a finding is about is marked in the list of answers.
func TestDoubtedReadingIsMarked(t *testing.T) {
	st := newStage(t, newMemory(), 80, 24)
	st.answers = map[job.Topic]string{}
	for topic, text := range typedFor {
		st.answers[topic] = text
	}
	st.answers[job.LoadedAmount] = "65"
	st.upTo(job.AdapterIn)
	st.press(tea.KeyPgUp)
	for _, line := range strings.Split(st.screen(), "\n") {
		if marked := strings.Contains(line, " ! "); marked != strings.Contains(line, "poured into the vessel") {
			t.Errorf("marked %v: %q", marked, line)
		}
	}
}

// A quit while a reading is being written waits for the write.
func TestQuitWaitsForTheSave(t *testing.T) {
	st := newStage(t, newMemory(), 80, 24)
	st.upTo(job.Capacity)
	st.typed("600")
	m, cmd := st.app.Update(tea.KeyMsg{Type: tea.KeyEnter})
	st.app = m.(App)
	if !st.app.guide.saving {
		t.Fatal("not saving after Enter")
	}
	st.send(tea.QuitMsg{})
	if st.out {
		t.Fatal("left while the reading was being written")
	}
	st.sees("storing, then leaving")
	m, cmd = st.app.Update(cmd())
	st.app = m.(App)
	if cmd == nil {
		t.Fatal("the quit was forgotten")
	}
	if _, ok := cmd().(tea.QuitMsg); !ok || st.app.Unsaved() {
		t.Fatal("after the write the program must leave, with nothing unsaved")
	}
}

// The screen at every step keeps to the terminal, at every size.
func TestEveryScreenFits(t *testing.T) {
	for _, size := range [][2]int{{80, 24}, {120, 40}, {60, 20}, {200, 60}, {59, 20}, {10, 3}} {
		st := newStage(t, newMemory(), size[0], size[1])
		for range 200 {
			checkFits(t, st.app)
			for _, kind := range []overlayKind{overlayMenu, overlaySums, overlayHelp, overlayCorrect} {
				if st.app.guide.state == nil {
					continue
				}
				over := st.app
				over.overlay = over.newOverlay(kind)
				checkFits(t, over)
			}
			if st.app.guide.finished {
				break
			}
			st.answerOne()
		}
	}
}

func checkFits(t *testing.T, a App) {
	t.Helper()
	view := a.View()
	lines := strings.Split(view, "\n")
	if len(lines) > a.height {
		t.Fatalf("%d lines on a terminal of %d:\n%s", len(lines), a.height, ansi.Strip(view))
	}
	for i, l := range lines {
		if w := text.Width(l); w > a.width {
			t.Fatalf("line %d is %d cells wide on a terminal of %d:\n%s", i, w, a.width, ansi.Strip(view))
		}
	}
	if a.View() != view {
		t.Fatal("drawn twice, the screen differs")
	}
}
