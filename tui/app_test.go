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

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// typedFor is what an owner types in the small job, by topic; other questions
// take what is on offer. Invented figures.
var typedFor = map[job.Topic]string{
	job.Capacity: "600", job.HoseBore: "4.6066", job.HoseLength: "1.5", job.OilTemperature: "20",
	job.DrainedAmount: "550", job.LoadedAmount: "625", job.LeftInVessel: "0", job.EscapedAmount: "50",
}

// answerOne answers the question on the screen as the small job has it.
func (st *stage) answerOne() {
	st.t.Helper()
	st.wait()
	a := st.app.guide.answer
	switch a.prompt.Kind {
	case job.Acknowledge, job.Event:
		st.typed(string(a.digit))
	case job.Choose:
		if text := st.answerFor(a.prompt.Topic); text != "" {
			st.typed(text)
		} else if a.chosen.at < 0 || a.prompt.Topic == job.LeakCheck || a.prompt.Topic == job.WasherRecheck {
			st.typed("1")
		}
		st.press(tea.KeyEnter)
	default:
		if text := st.answerFor(a.prompt.Topic); text != "" {
			st.typed(text)
		} else if _, ok := a.prompt.DefaultValue(st.app.guide.state); !ok && a.prompt.Ends == job.NoTopic && a.text() == "" {
			st.typed(guide.UnknownLine)
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
	case job.HoseAfter, job.LeftWith, job.LeftInVessel, job.EscapedAtCapWith, job.EscapedAtCap, job.FloorAndExhaust,
		job.WasherFitted:
		return // done while it settles
	}
	if g.waiting && st.answers[job.DripReading] == "" && st.now.Before(g.wait.Ends()) {
		st.clock(g.wait.Ends().Sub(st.now))
	}
}

// answerFor is what is typed for a topic. Answers to one that is asked again
// and again stand in a row, with a bar between; the last one goes on counting.
func (st *stage) answerFor(t job.Topic) string {
	answers := st.answers
	if answers == nil {
		answers = typedFor
	}
	if st.given == nil {
		st.given = map[job.Topic]int{}
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
func (st *stage) usuallySeen(t job.Topic) string {
	s := st.app.guide.state
	switch t {
	case job.MagnetLook:
		return "2"
	case job.DrainedTemperature:
		c, _ := s.Answer(job.Place{Topic: job.OilTemperature})
		return strconv.FormatFloat(c.Value.Number, 'f', -1, 64) + " C"
	case job.LoadedTemperature, job.FillOilTemperature:
		return "20 C"
	case job.HoseAfter:
		return "1"
	case job.HoseBefore:
		if s.Round() > 0 {
			return "2"
		}
	case job.EscapedAtCap, job.OverflowCaught:
		return "0"
	case job.TightenedHow:
		if _, ok := s.TorqueNm(); !ok {
			return "2"
		}
	}
	return ""
}

// upTo answers until a topic is asked.
func (st *stage) upTo(topic job.Topic) {
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
	st.upTo(job.Decision)
	st.sees("NOT PROVEN", "within")
	st.upTo(job.NoTopic)
	if !st.app.guide.finished {
		t.Fatalf("the job does not end:\n%s", st.screen())
	}
	st.sees("FILLED, PROVEN")
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
