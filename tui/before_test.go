package tui

// This file tests that a job on the screen is folded after the unit's job before it,
// whatever becomes of the names of car and unit.

import (
	"bufio"
	"io"
	"testing"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/text"
	"garage/tundish/tui/theme"
)

// secondJob is a journal with a job of the van's rear axle that is done, its jug of
// a name that must not reach the terminal as it is, and with the plug out of the
// van's gearbox. It returns the ids.
func secondJob(t *testing.T) (mem *memory, axle, gearbox string) {
	t.Helper()
	mem = newMemory()
	at := morning.AddDate(-1, 0, 0)
	keep := func(unit string) string {
		j := job.Job{ID: job.NewID(at, uint32(len(mem.jobs))), Started: at}
		for _, e := range []job.Entry{
			{Topic: job.Vehicle, Value: job.Value{Text: "van"}}, {Topic: job.UnitName, Value: job.Value{Text: unit}},
			{Topic: job.ContainerName, Value: job.Value{Text: hostile}}, {Topic: job.PlugOut},
		} {
			e.Seq, e.At = len(j.Entries)+1, at
			j.Entries = append(j.Entries, e)
		}
		if err := mem.Create(j, guide.Fold(j, guide.Offers{}).Head()); err != nil {
			t.Fatal(err)
		}
		at = at.Add(time.Hour)
		return j.ID
	}
	return mem, keep("rear axle"), keep("gearbox")
}

// wantBefore checks which job is before the one on the screen: in what is shown, in
// what is half typed and in what is stored with it.
func wantBefore(t *testing.T, when string, g guideScreen, want string) {
	t.Helper()
	idOf := func(s *guide.Guide) string {
		if s == nil {
			return ""
		}
		return s.ID
	}
	if shown, stored := idOf(g.state.Before()), idOf(g.offers.Before); shown != want || stored != want {
		t.Errorf("%s: after job %q on the screen, %q in the store; want %q", when, shown, stored, want)
	}
	if want == "" {
		return
	}
	name := job.Place{Topic: job.ContainerName}
	if shown, stored := g.state.Before().Text(name.Topic), g.offers.Before.Text(name.Topic); shown != text.Visible(hostile) || stored != hostile {
		t.Errorf("%s: the jug is %q on the screen, %q in the store", when, shown, stored)
	}
}

// names answers the next question with a text.
func (st *stage) names(topic job.Topic, text string) {
	st.t.Helper()
	st.upTo(topic)
	e := st.app.guide.answer.prompt.Entry(st.app.guide.state, job.Value{Text: text}, text, time.Time{})
	m, cmd := st.app.save([]job.Entry{e})
	st.app = m.(App)
	st.run(cmd)
}

func TestJobIsAfterTheUnitsJobBeforeIt(t *testing.T) {
	mem, axle, gearbox := secondJob(t)
	st := newStage(t, mem, 80, 24)
	st.now = morning
	st.app.now = morning
	m, cmd := st.app.carryOut(wantNew{nil})
	st.app = m.(App)
	st.run(cmd)
	st.names(job.Vehicle, "VAN")
	wantBefore(t, "the car is known alone", st.app.guide, "")
	st.names(job.UnitName, "rear  axle")
	wantBefore(t, "named", st.app.guide, axle)
	earlier := st.app.guide.state.Before()
	st.answerOne()
	if st.app.guide.state.Before() != earlier {
		t.Error("the job before is folded again for an answer")
	}
	unit := st.app.guide.state.SeqOf(job.Place{Topic: job.UnitName})
	correct := func(name string) {
		m, cmd := st.app.carryOut(wantCorrect{unit})
		st.app = m.(App)
		st.run(cmd)
		st.names(job.UnitName, name)
		unit = st.app.guide.state.SeqOf(job.Place{Topic: job.UnitName})
	}
	correct("gearbox")
	wantBefore(t, "corrected", st.app.guide, gearbox)
	correct("transfer case")
	wantBefore(t, "corrected to a unit that is not known", st.app.guide, "")
	m, cmd = st.app.carryOut(wantUndo{})
	st.app = m.(App)
	st.run(cmd)
	wantBefore(t, "undone", st.app.guide, gearbox)
	st.app.guide.notice = ""
	wantTame(t, st.app, "the second job")

	again := newStage(t, mem, 80, 24)
	m, cmd = again.app.carryOut(wantJob{st.app.guide.job.ID})
	again.app = m.(App)
	again.run(cmd)
	wantBefore(t, "resumed", again.app.guide, gearbox)
	if head := mem.heads[st.app.guide.job.ID]; head.UnitName != "gearbox" {
		t.Errorf("the head is of %q", head.UnitName)
	}
}

// The same in the line mode, and for a job of a unit that was chosen from the list.
func TestJobOfTheLineModeIsAfterTheUnitsJobBeforeIt(t *testing.T) {
	mem, axle, _ := secondJob(t)
	p := &plain{cfg: Config{Journal: mem, Clock: func() time.Time { return morning }, Chance: func() uint32 { return 9 }},
		theme: theme.New(theme.Options{}), out: bufio.NewWriter(io.Discard)}
	head := mem.heads[axle]
	if err := p.load(wantNew{&head}); err != nil {
		t.Fatal(err)
	}
	wantBefore(t, "begun", p.guide, axle)
	if err := p.store(p.guide, wantSave{[]job.Entry{p.guide.answer.prompt.Entry(p.guide.state, job.Value{}, "", morning)}}); err != nil {
		t.Fatal(err)
	}
	wantBefore(t, "answered", p.guide, axle)
	if err := p.load(wantJob{p.guide.job.ID}); err != nil {
		t.Fatal(err)
	}
	wantBefore(t, "resumed", p.guide, axle)
}
