package tui

// This file measures what a frame, a key and a tick cost in a job of few entries and in
// one of thousands, and that a frame costs no memory that grows with the job.

import (
	"fmt"
	"testing"
	"time"

	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
	"garage/tundish/tui/input"
	"garage/tundish/tui/session"
	"garage/tundish/tui/session/sessiontest"
)

// long is a stage at a sheet in a job of at least n entries: one reading is corrected
// over and over.
func long(t testing.TB, until sheet.ID, n int) *stage {
	t.Helper()
	mem := sessiontest.NewMemory()
	st := newStage(t, mem, 120, 40)
	st.slow = 9 * time.Minute
	st.upTo(until)
	id := st.app.job.Job.ID
	j := mem.Jobs[id]
	e, _ := st.app.job.Real().Answer(job.Place{Topic: job.Capacity})
	for seq := len(j.Entries) + 1; seq <= n; seq++ {
		e.Strikes, e.Seq = e.Seq, seq
		j.Entries = append(j.Entries, e)
	}
	mem.Jobs[id] = j
	s, err := session.Load(mem, id, morning)
	if err != nil {
		t.Fatal(err)
	}
	s.Visit = sheet.Begin(s.Guide(), nil)
	st.app.job = jobScreen{Session: s}.look(st.now)
	return st
}

var benched = []sheet.ID{sheet.Isolate, sheet.Drain, sheet.Measure, sheet.Preload, sheet.Verdict}

// What a frame costs must not grow with the entries of the job.
func BenchmarkView(b *testing.B) {
	for _, at := range benched {
		for _, n := range []int{0, 3000} {
			st := long(b, at, n)
			b.Run(fmt.Sprintf("%v/%d", at, st.count()), func(b *testing.B) {
				for b.Loop() {
					_ = st.app.View()
				}
			})
		}
	}
}

// What a typed digit costs, with the gauge that moves.
func BenchmarkKey(b *testing.B) {
	for _, n := range []int{0, 300} {
		st := long(b, sheet.Measure, n)
		b.Run(fmt.Sprint(st.count()), func(b *testing.B) {
			for b.Loop() {
				st.typed("5")
				if len(st.app.job.field.Text) > 3 {
					st.app.job.field = input.Field{}
				}
			}
		})
	}
}

// What a tick of the clock costs, once a second for as long as the job is open.
func BenchmarkTick(b *testing.B) {
	for _, n := range []int{0, 3000} {
		st := long(b, sheet.Drain, n)
		b.Run(fmt.Sprint(st.count()), func(b *testing.B) {
			for b.Loop() {
				m, _ := st.app.Update(tickMsg{st.app.ticks})
				st.app = m.(App)
			}
		})
	}
}

// A frame of a long job takes no more memory than one of a short job.
func TestAFrameDoesNotGrowWithTheJob(t *testing.T) {
	for _, at := range benched {
		short, grown := long(t, at, 0), long(t, at, 2000)
		few := testing.AllocsPerRun(5, func() { _ = short.app.View() })
		many := testing.AllocsPerRun(5, func() { _ = grown.app.View() })
		if many > 1.5*few+200 {
			t.Errorf("%v: %v allocations, in a long job %v", at, few, many)
		}
	}
}
