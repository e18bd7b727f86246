package tui

// This file measures what a frame and a tick cost in a job of few entries and
// in one of thousands.

import (
	"fmt"
	"math"
	"testing"
	"time"

	"garage/tundish/model/job"
)

// long makes the job on the stage one of at least n entries: one reading is
// corrected over and over, as far back as the job goes.
func (st *stage) long(n int) {
	st.t.Helper()
	e, _ := st.app.guide.state.Answer(job.Place{Topic: job.Capacity})
	j := st.app.guide.job
	more := make([]job.Entry, 0, n)
	for seq := len(j.Entries) + 1; seq <= n; seq++ {
		e.Strikes, e.Seq = e.Seq, seq
		more = append(more, e)
	}
	st.app.guide = newGuide(loadedMsg{job: with(j, more...), fresh: true})
}

// wide makes the job on the stage one of many entries that all stand: 300
// containers, and 300 looks at the pan where the job has got to the drain.
func (st *stage) wide() {
	st.t.Helper()
	j := with(st.app.guide.job)
	add := func(t job.Topic, item int, v job.Value) {
		j.Entries = append(j.Entries, job.Entry{Seq: len(j.Entries) + 1, At: st.now, Topic: t, Item: item, Value: v})
	}
	const many = 300
	another := job.Value{Choice: "another"}
	add(job.ContainerMore, 0, another)
	for i := 1; i <= many; i++ {
		add(job.ContainerName, i, job.Value{Text: fmt.Sprint("jug ", i)})
		add(job.ContainerGraduation, i, job.Value{Number: 10, Unit: job.DimML})
		add(job.ContainerError, i, job.Value{Number: 0.02, Unit: job.DimShare})
		add(job.ContainerWater, i, job.Value{Unknown: true})
		if i == many {
			another.Choice = "done"
		}
		add(job.ContainerMore, i, another)
	}
	for i := range many {
		st.now = st.now.Add(7 * time.Second)
		add(job.DripReading, i, job.Value{Number: 500 * (1 - math.Exp(-float64(i)/80)), Unit: job.DimML})
	}
	st.app.guide = newGuide(loadedMsg{job: j, fresh: true})
	st.clock(0)
}

// stages are jobs of few entries, of many that are struck out, and of many that
// stand, each got to a topic.
func stages(t testing.TB, topic job.Topic) []*stage {
	var list []*stage
	for range 3 {
		st := newStage(t, newMemory(), 120, 40)
		st.upTo(topic)
		list = append(list, st)
	}
	list[1].long(3000)
	list[2].wide()
	return list
}

// What a frame costs must not grow with the entries of the job.
func BenchmarkView(b *testing.B) {
	for _, topic := range []job.Topic{job.WayInProved, job.DripReading, job.MagnetLook, job.PlanAccepted,
		job.FillReading, job.Decision} {
		for i, st := range stages(b, topic) {
			for _, kind := range []overlayKind{overlayNone, overlayMenu, overlaySums, overlayCorrect} {
				app := st.app
				app.overlay = app.newOverlay(kind)
				b.Run(fmt.Sprintf("%v/over=%d/%s=%d", topic, kind, []string{"few", "struck", "standing"}[i], st.app.guide.state.Count),
					func(b *testing.B) {
						for b.Loop() {
							_ = app.View()
						}
					})
			}
		}
	}
}

// What a tick of the clock costs, once a second for as long as the job is open.
func BenchmarkTick(b *testing.B) {
	for _, st := range stages(b, job.DripReading) {
		b.Run(fmt.Sprint(st.app.guide.state.Count), func(b *testing.B) {
			for b.Loop() {
				m, _ := st.app.Update(tickMsg{st.now})
				st.app = m.(App)
			}
		})
	}
}
