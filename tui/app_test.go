package tui

// This file does whole jobs with keys, and holds what the small job answers.

import (
	"fmt"
	"os"
	"strconv"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model"
)

// typedFor is what an owner types in the small job, by topic; other questions
// take what is on offer. Invented figures.
var typedFor = map[model.Topic]string{
	model.Capacity: "600", model.HoseBore: "4.6066", model.HoseLength: "1.5", model.OilTemperature: "20",
	model.DrainedAmount: "550", model.LoadedAmount: "625", model.LeftInVessel: "0", model.EscapedAmount: "50",
}

// answerOne answers the question on the screen as the small job has it.
func (st *stage) answerOne() {
	st.t.Helper()
	st.wait()
	a := st.app.guide.answer
	switch a.prompt.Kind {
	case model.Acknowledge, model.Event:
		st.typed(string(a.digit))
	case model.Choose:
		if text := st.answerFor(a.prompt.Topic); text != "" {
			st.typed(text)
		} else if a.chosen.at < 0 || a.prompt.Topic == model.LeakCheck || a.prompt.Topic == model.WasherRecheck {
			st.typed("1")
		}
		st.press(tea.KeyEnter)
	default:
		if text := st.answerFor(a.prompt.Topic); text != "" {
			st.typed(text)
		} else if _, ok := a.prompt.DefaultValue(st.app.guide.state); !ok && a.prompt.Ends == model.NoTopic && a.text() == "" {
			st.typed(unknownSign)
		}
		st.press(tea.KeyEnter)
	}
	st.now = st.now.Add(30 * time.Second)
	st.clock(0)
}

// wait lets the time pass that the job is to wait, but takes drip readings as
// they come.
func (st *stage) wait() {
	g := st.app.guide
	switch g.answer.prompt.Topic {
	case model.HoseAfter, model.LeftWith, model.LeftInVessel, model.EscapedAtCapWith, model.EscapedAtCap, model.FloorAndExhaust, model.WasherFitted:
		return // done while it settles
	}
	if g.waiting && st.answers[model.DripReading] == "" && st.now.Before(g.wait.Ends()) {
		st.clock(g.wait.Ends().Sub(st.now))
	}
}

// answerFor is what is typed for a topic. Answers to one that is asked again
// and again stand in a row, with a bar between; the last one goes on counting.
func (st *stage) answerFor(t model.Topic) string {
	answers := st.answers
	if answers == nil {
		answers = typedFor
	}
	if st.given == nil {
		st.given = map[model.Topic]int{}
	}
	text, ok := answers[t]
	if !ok {
		return st.usuallySeen(t)
	}
	row := strings.Split(text, "|")
	st.given[t]++
	return row[min(st.given[t], len(row))-1]
}

// usuallySeen is what is seen at the car in an ordinary job, "" for what is not
// seen there: nothing of it is on offer. Where the answer is not named it is the
// first of the list.
func (st *stage) usuallySeen(t model.Topic) string {
	s := st.app.guide.state
	switch t {
	case model.MagnetLook:
		return "2"
	case model.DrainedTemperature:
		c, _ := s.Answer(model.Place{Topic: model.OilTemperature})
		return strconv.FormatFloat(c.Value.Number, 'f', -1, 64) + " C"
	case model.LoadedTemperature, model.FillOilTemperature:
		return "20 C"
	case model.HoseAfter:
		return "1"
	case model.HoseBefore:
		if s.Round() > 0 {
			return "2"
		}
	case model.EscapedAtCap, model.OverflowCaught:
		return "0"
	case model.TightenedHow:
		if _, ok := s.TorqueNm(); !ok {
			return "2"
		}
	}
	return ""
}

// upTo answers until a topic is asked.
func (st *stage) upTo(topic model.Topic) {
	st.t.Helper()
	for range 300 {
		if st.app.guide.finished || st.app.guide.answer.prompt.Topic == topic {
			return
		}
		st.answerOne()
	}
	st.t.Fatalf("never asked: %v\n%s", topic, st.screen())
}

func TestWholeJobWithKeys(t *testing.T) {
	st := newStage(t, newMemory(), 80, 24)
	st.upTo(model.Decision)
	st.sees("UNIT UNPROVEN", "within")
	st.upTo(model.NoTopic)
	if !st.app.guide.finished {
		t.Fatalf("the job does not end:\n%s", st.screen())
	}
	st.sees("FILL PROVEN")
	if os.Getenv("TUNDISH_SHOW") != "" {
		showAll(t)
	}
}

func showAll(t *testing.T) {
	st := newStage(t, newMemory(), 80, 24)
	for range 300 {
		if st.app.guide.finished {
			break
		}
		fmt.Println(strings.Repeat("=", 80))
		fmt.Println(st.screen())
		st.answerOne()
	}
	fmt.Println(st.screen())
}
