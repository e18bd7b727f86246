package tui

// This file tests the keys of a number pad, with which the whole job is done:
// what confirms, what takes over, what clears, what chooses.

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/job"
)

// Enter held down must not confirm a caution.
func TestEnterNeverConfirms(t *testing.T) {
	st := newStage(t, newMemory(), 80, 24)
	st.upTo(job.MakersManual)
	before := st.app.guide.state.Count
	for range 50 {
		st.press(tea.KeyEnter)
		st.press(tea.KeyPgDown)
	}
	if n := st.app.guide.state.Count; n != before {
		t.Fatalf("Enter confirmed %d cautions", n-before)
	}
	st.sees("Enter does not confirm")
	// Nor may one digit held down confirm two in a row.
	digit := string(st.app.guide.answer.digit)
	for range 50 {
		st.typed(digit)
	}
	if n := st.app.guide.state.Count; n != before+1 {
		t.Fatalf("digit %s held down confirmed %d cautions, want 1", digit, n-before)
	}
	// Nor a pasted string that holds it.
	st.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{st.app.guide.answer.digit}, Paste: true})
	if n := st.app.guide.state.Count; n != before+1 {
		t.Fatal("a pasted digit confirmed a caution")
	}
}

// Nor does a digit held down get through two cautions anywhere in the job.
func TestAHeldDigitConfirmsOnce(t *testing.T) {
	for _, answers := range []map[job.Topic]string{nil, levelPort} {
		st := newStage(t, newMemory(), 80, 24)
		st.answers = answers
		for range 300 {
			g := st.app.guide
			if g.finished {
				break
			}
			if g.answer.prompt.Kind != job.Acknowledge && g.answer.prompt.Kind != job.Event {
				st.answerOne()
				continue
			}
			for range 3 {
				st.typed(string(g.answer.digit))
			}
			if n := st.app.guide.state.Count - g.state.Count; n != 1 {
				t.Fatalf("%v: %c held down made %d entries, want 1", g.answer.prompt.Topic, g.answer.digit, n)
			}
			st.press(tea.KeyCtrlU) // where the next question is a field
		}
	}
}

// Wherever the screen says that + takes over what is shown, it does: in a line
// of text too, as long as nothing is typed.
func TestPlusTakesAllWhereItSaysSo(t *testing.T) {
	st := newStage(t, newMemory(), 120, 40)
	for range 60 {
		g := st.app.guide
		if g.answer.prompt.Step != job.Prepare {
			return
		}
		if !strings.Contains(st.screen(), "+ take all") {
			st.answerOne()
			continue
		}
		offered := len(g.rest)
		st.typed("+")
		if got := st.app.guide.state.Count - g.state.Count; got != offered {
			t.Fatalf("+ took %d of the %d shown\n%s", got, offered, st.screen())
		}
	}
	t.Fatal("the first step does not end")
}

// A number pad has no backspace: the key of the menu clears a figure, but is a
// sign like any other in a text and in a unit.
func TestStarClearsAFigure(t *testing.T) {
	st := newStage(t, newMemory(), 80, 24)
	st.upTo(job.Vehicle)
	st.sees("* menu")
	st.typed("*")
	st.sees("Back to the job")
	st.typed("0")
	st.typed("my")
	st.typed("*")
	if got := st.app.guide.answer.text(); got != "my*" {
		t.Fatalf("in a text * left %q, want my*", got)
	}
	st.upTo(job.TorqueFigure)
	st.typed("35 N")
	st.typed("*")
	st.typed("m")
	st.sees("35 N·m")
	st.press(tea.KeyEnter)
	st.upTo(job.DrainedAmount)
	st.typed("10 L")
	st.press(tea.KeyEnter)
	st.press(tea.KeyCtrlU)
	st.typed("5500")
	st.press(tea.KeyEnter)
	st.sees("cannot come out", "* clear")
	st.typed("*")
	if got := st.app.guide.answer.text(); got != "" {
		t.Fatalf("* left %q in the field", got)
	}
	st.sees("* menu")
	st.typed("*")
	st.sees("Back to the job")
}

// An amount that is typed while a list is asked chooses nothing of it.
func TestAmountInAListChoosesNothing(t *testing.T) {
	for _, typed := range []string{"20", "830", "550", "x", "0"} {
		st := newStage(t, newMemory(), 80, 24)
		st.upTo(job.DrainedMore)
		before := st.app.guide.state.Count
		for _, r := range typed {
			st.typed(string(r))
		}
		st.sees("a number from 1 to 4")
		st.press(tea.KeyEnter)
		if st.app.guide.state.Count != before {
			t.Errorf("%q in a list was taken for a choice", typed)
		}
		st.typed("1")
		st.press(tea.KeyEnter)
		if st.app.guide.state.Count == before {
			t.Errorf("after %q a choice is not taken", typed)
		}
	}
}

// The Enter of the number pad comes as a line feed through tmux: it is Enter in
// a field, a list, and over the job.
func TestEnterOfTheNumberPad(t *testing.T) {
	st := newStage(t, newMemory(), 80, 24)
	st.press(tea.KeyCtrlJ)
	st.sees("Name the car")
	st.press(tea.KeyCtrlJ)
	st.sees("Name the unit")
	st.press(tea.KeyF1)
	st.press(tea.KeyCtrlJ)
	st.sees("Name the unit")
}

// However far one went on at the end, the first key back is answered.
func TestPagesEndAtTheirEnd(t *testing.T) {
	for _, opens := range []string{"/", "?"} {
		st := newStage(t, newMemory(), 60, 20)
		st.upTo(job.Decision)
		st.typed(opens)
		for range 100 {
			st.send(tea.MouseMsg{Button: tea.MouseButtonWheelDown, Action: tea.MouseActionPress})
		}
		end := st.screen()
		st.press(tea.KeyUp)
		if st.screen() == end {
			t.Errorf("%s: the page does not move", opens)
		}
	}
}

// Wherever the screen says that * clears, it does, in a correction too; and
// what is typed into a correction is all that is in the field.
func TestFalseWord17StarClearsWhereItSaysSo(t *testing.T) {
	st := newStage(t, newMemory(), 120, 40)
	st.upTo(job.Decision)
	for _, e := range st.app.guide.state.Standing() {
		m, cmd := st.app.carryOut(wantCorrect{e.Seq})
		st.app = m.(App)
		st.run(cmd)
		old := st.app.guide.answer.text()
		if !st.app.guide.answer.isField() || old == "" {
			st.press(tea.KeyEsc)
			continue
		}
		st.sees("* clear", "the first key replaces it", "Esc leave it as it was")
		st.typed("*")
		if text := st.app.guide.answer.text(); text != "" {
			t.Errorf("%v: * leaves %q of %q", e.Topic, text, old)
		}
		st.press(tea.KeyEsc)
		m, cmd = st.app.carryOut(wantCorrect{e.Seq})
		st.app = m.(App)
		st.run(cmd)
		st.typed("7")
		if text := st.app.guide.answer.text(); text != "7" {
			t.Errorf("%v: 7 on %q gives %q", e.Topic, old, text)
		}
		st.press(tea.KeyEsc)
	}
}
