package tui

// This file tests the keys that write the record.

import (
	"errors"
	"testing"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/job"
)

// recorder counts the records that are written.
func (st *stage) recorder(err error) *int {
	n := new(int)
	st.app.cfg.Export = func(string) (string, error) {
		if *n++; err != nil {
			return "", err
		}
		return "/home/somebody/records/tundish-20260418.html", nil
	}
	return n
}

const whereItWent = "record written: /home/somebody/records/tundish-20260418.html"

// With the job done, or only looks for later left, one key that is on the
// number pad writes the record, is on the line of keys, and says where it went.
func TestOneKeyWritesTheRecord(t *testing.T) {
	for _, topic := range []job.Topic{job.LeakCheck, job.WasherRecheck, job.NoTopic} {
		st := newStage(t, newMemory(), 80, 24)
		written := st.recorder(nil)
		st.upTo(topic)
		st.sees("- write the record")
		count := st.app.guide.state.Count
		st.typed("-")
		st.sees(whereItWent)
		if *written != 1 || st.app.guide.state.Count != count {
			t.Errorf("%v: - wrote %d records and %d entries, want 1 and none", topic, *written, st.app.guide.state.Count-count)
		}
	}
}

// A record that could not be written is said not to be.
func TestRecordNotWritten(t *testing.T) {
	st := newStage(t, newMemory(), 80, 24)
	st.recorder(errors.New("disk full"))
	st.upTo(job.NoTopic)
	st.typed("-")
	st.sees("record not written: disk full")
}

// In the middle of the job F3 does it, whatever is typed by then, and over the
// menu; - belongs to what is typed.
func TestF3WritesTheRecordAtAnyTime(t *testing.T) {
	st := newStage(t, newMemory(), 80, 24)
	written := st.recorder(nil)
	st.press(tea.KeyF3)
	st.sees("nothing is stored yet")
	st.upTo(job.OilTemperature)
	st.typed("-5")
	if *written != 0 || st.app.guide.answer.text() != "-5" {
		t.Fatalf("- in a field wrote %d records and typed %q", *written, st.app.guide.answer.text())
	}
	st.press(tea.KeyF3)
	st.sees(whereItWent, "-5 °C")
	st.typed("*")
	st.typed("*")
	st.sees("Write the record to a file  F3 at any time")
	st.press(tea.KeyF3)
	st.sees(whereItWent)
	if *written != 2 {
		t.Errorf("%d records written, want 2", *written)
	}
}

// While an earlier answer is corrected, - belongs to it, though the job is done.
func TestMinusBelongsToACorrection(t *testing.T) {
	st := newStage(t, newMemory(), 80, 24)
	written := st.recorder(nil)
	st.upTo(job.LeakCheck)
	e, _ := st.app.guide.state.Answer(job.Place{Topic: job.OilTemperature})
	m, cmd := st.app.carryOut(wantCorrect{e.Seq})
	st.app = m.(App)
	st.run(cmd)
	st.press(tea.KeyCtrlU)
	st.typed("-3")
	if *written != 0 || st.app.guide.answer.text() != "-3" {
		t.Errorf("- wrote %d records, the field holds %q", *written, st.app.guide.answer.text())
	}
}
