package session_test

import (
	"errors"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
	"garage/tundish/tui/session"
	"garage/tundish/tui/session/sessiontest"
)

var morning = time.Date(2026, 4, 18, 9, 0, 0, 0, time.UTC)

// open is a session with its journal, driven sheet by sheet.
type open struct {
	t   *testing.T
	mem *sessiontest.Memory
	s   session.Session
	now time.Time
}

func start(t *testing.T, mem *sessiontest.Memory, id string, now time.Time, like *guide.Head) *open {
	t.Helper()
	s, err := session.Start(mem, id, now, like)
	if err != nil {
		t.Fatal(err)
	}
	return &open{t, mem, s, now}
}

// store stores entries as the front ends do.
func (o *open) store(entries []job.Entry, err error) {
	o.t.Helper()
	if err != nil {
		o.t.Fatal(err)
	}
	saved, err := o.s.Save(entries).Do(o.mem)
	if err != nil {
		o.t.Fatal(err)
	}
	o.s = o.s.Stored(saved)
}

// sheet is the sheet that is on.
func (o *open) sheet() sheet.Sheet {
	o.t.Helper()
	sh, more := o.s.Visit.Sheet(o.now)
	if !more {
		o.t.Fatal("nothing is left")
	}
	return sh
}

// answer answers the line that stands for a topic.
func (o *open) answer(topic job.Topic, a sheet.Answer) {
	o.t.Helper()
	o.now = o.now.Add(time.Minute)
	sh := o.sheet()
	i := sh.LineOf(job.Place{Topic: topic})
	if i < 0 {
		o.t.Fatalf("%v is not on sheet %v", topic, sh.ID)
	}
	if sh.Lines[i].Kind == sheet.Confirm {
		a.Key = sh.Lines[i].Key
	}
	o.store(sh.Take(o.s.Real(), i, a, o.now))
}

func (o *open) complete() {
	o.t.Helper()
	o.store(o.sheet().Complete(o.s.Real(), o.now))
	o.s.Visit = o.s.Visit.Done()
}

var usual = map[job.Topic]string{
	job.Capacity: "600-680", job.HoseHolds: "25", job.DrainedAmount: "588", job.LoadedAmount: "730",
}

// upTo answers what is open until a sheet is reached.
func (o *open) upTo(id sheet.ID) {
	o.t.Helper()
	for range 100 {
		sh := o.sheet()
		i := sh.FirstOpen()
		switch {
		case sh.ID == id:
			return
		case i < 0:
			o.complete()
			continue
		}
		a := sheet.Answer{Key: sh.Lines[i].Key}
		for _, t := range sh.Lines[i].Topics() {
			a.Typed += usual[t]
		}
		if sh.Lines[i].Kind == sheet.Choice {
			a.Key = sh.Lines[i].Options[0].Key
		}
		o.now = o.now.Add(time.Minute)
		o.store(sh.Take(o.s.Real(), i, a, o.now))
	}
	o.t.Fatalf("never at %v", id)
}

// Nothing is stored before the first answer; with it the job is.
func TestJobIsStoredWithItsFirstAnswer(t *testing.T) {
	mem := sessiontest.NewMemory()
	o := start(t, mem, "a1", morning, nil)
	if !o.s.Fresh || len(mem.Jobs) != 0 {
		t.Fatalf("fresh %v, %d jobs stored; want a fresh one and none", o.s.Fresh, len(mem.Jobs))
	}
	o.answer(job.Capacity, sheet.Answer{Typed: "640"})
	if kept := mem.Jobs["a1"]; o.s.Fresh || len(kept.Entries) != len(o.s.Job.Entries) || !kept.Started.Equal(morning) {
		t.Errorf("stored %+v, want what is in the session", kept)
	}
	if head := mem.Heads["a1"]; head.Entries != len(o.s.Job.Entries) {
		t.Errorf("the head counts %d entries of %d", head.Entries, len(o.s.Job.Entries))
	}
}

// All entries of a line go in one write.
func TestEntriesOfALineAreOneWrite(t *testing.T) {
	mem := sessiontest.NewMemory()
	o := start(t, mem, "a1", morning, nil)
	o.answer(job.UnitKind, sheet.Answer{Key: '2'})
	if g := o.s.Guide(); g.UnitName() != "front axle" || len(mem.Writes) != 1 || mem.Writes[0] < 2 {
		t.Errorf("unit %q in writes of %v entries; want both answers in one", g.UnitName(), mem.Writes)
	}
}

// A job of a unit that is known begins with its names, and with what its last job said.
func TestJobOfAKnownUnit(t *testing.T) {
	mem := sessiontest.NewMemory()
	first := start(t, mem, "a1", morning, nil)
	first.upTo(sheet.Drain)
	head := mem.Heads["a1"]
	next := start(t, mem, "b2", morning.AddDate(2, 0, 0), &head)
	if g := next.s.Guide(); g.UnitKey() != head.UnitKey() || g.UnitKey() == "" || !g.KnowsUnit() {
		t.Errorf("unit %q, known %v; want that of the job before", g.UnitKey(), g.KnowsUnit())
	}
	next.upTo(sheet.Isolate)
	if got, want := next.s.Guide().CapacityML(), first.s.Guide().CapacityML(); got != want || want == 0 {
		t.Errorf("fill quantity %v ml, want %v as last time", got, want)
	}
}

// With another name the job is of another unit, whose jobs come before it.
func TestUnitChanges(t *testing.T) {
	mem := sessiontest.NewMemory()
	start(t, mem, "a1", morning, nil).upTo(sheet.Drain)
	head := mem.Heads["a1"]
	o := start(t, mem, "b2", morning.AddDate(2, 0, 0), nil)
	o.answer(job.Capacity, sheet.Answer{Typed: "900"})
	if o.s.Guide().KnowsUnit() {
		t.Fatal("a new unit is known")
	}
	o.store(sheet.Correct(o.s.Real(), job.Place{Topic: job.UnitName}, sheet.Answer{Typed: head.UnitName}, o.now))
	o.store(sheet.Correct(o.s.Real(), job.Place{Topic: job.Vehicle}, sheet.Answer{Typed: head.Vehicle}, o.now))
	if !o.s.Guide().KnowsUnit() {
		t.Error("what the unit's earlier job says is not there")
	}
	if got := mem.Heads["b2"]; got.UnitKey() != head.UnitKey() {
		t.Errorf("the head is of %q, want %q", got.UnitKey(), head.UnitKey())
	}
}

// A text of a stranger reaches no screen as it is, and stays in the job as it is.
func TestControlCharactersAreMadeVisible(t *testing.T) {
	const evil, seen = "car\x1b[2J", `car\x1b[2J`
	mem := sessiontest.NewMemory()
	mem.Jobs["a1"] = job.Job{ID: "a1", Started: morning, Entries: []job.Entry{
		{Seq: 1, At: morning, Topic: job.Vehicle, Typed: evil, Value: job.Value{Text: evil}},
		{Seq: 2, At: morning, Topic: job.UnitName, Value: job.Value{Text: "axle"}},
		{Seq: 3, At: morning, Topic: job.OilGrade, Value: job.Value{Text: evil}},
		{Seq: 4, At: morning, Topic: job.Capacity, Value: job.Value{Number: 640, High: 640, Unit: job.DimML}},
		{Seq: 5, At: morning, Topic: job.UnitKind, Value: job.Value{Choice: "final_drive"}},
		{Seq: 6, At: morning, Topic: job.PlugOut},
	}}
	s, err := session.Load(mem, "a1", morning)
	if err != nil {
		t.Fatal(err)
	}
	if got := s.Guide().Vehicle(); got != seen {
		t.Errorf("shown %q, want %q", got, seen)
	}
	if got := s.Real().Vehicle(); got != evil || s.Job.Entries[0].Typed != evil {
		t.Errorf("stored %q, want it to stay %q", got, evil)
	}
	next := start(t, mem, "b2", morning.AddDate(1, 0, 0), &guide.Head{Vehicle: evil, UnitName: "axle"})
	if before := next.s.Guide().Before(); before == nil || before.Vehicle() != seen {
		t.Errorf("the job before is not shown as %q", seen)
	}
	sh := next.sheet()
	for _, l := range sh.Lines {
		if strings.ContainsRune(l.Value, 0x1b) {
			t.Errorf("on offer: %q", l.Value)
		}
	}
	next.upTo(sheet.Isolate)
	if got := mem.Jobs["b2"]; job.Fold(got).Text(job.OilGrade) != evil || next.s.Guide().Text(job.OilGrade) != seen {
		t.Errorf("taken over %q, shown %q; want it stored as it was and shown visibly",
			job.Fold(got).Text(job.OilGrade), next.s.Guide().Text(job.OilGrade))
	}
}

// A job that was left in the middle comes back with its questions first, then at its
// sheet, and with what was half typed.
func TestJobIsTakenUpAgain(t *testing.T) {
	mem := sessiontest.NewMemory()
	o := start(t, mem, "a1", morning, nil)
	o.upTo(sheet.Measure)
	want := session.Draft{Place: job.Place{Topic: job.DrainedAmount}, Text: "58", At: o.now}
	if err := mem.SaveDraft("a1", want); err != nil {
		t.Fatal(err)
	}
	s, err := session.Load(mem, "a1", morning)
	if err != nil {
		t.Fatal(err)
	}
	if s.Kept != want || !s.Resumed.Equal(s.Job.Entries[len(s.Job.Entries)-1].At) {
		t.Errorf("half typed %+v, left at %v; want %+v and the last entry's time", s.Kept, s.Resumed, want)
	}
	o.s, o.now = s, o.now.Add(time.Hour)
	sh := o.sheet()
	if sh.ID != sheet.Resume || len(sh.Lines) < 2 {
		t.Fatalf("at %v with %d lines, want what is asked after a break", sh.ID, len(sh.Lines))
	}
	for range sh.Lines {
		sh := o.sheet()
		i := sh.FirstOpen()
		a := sheet.Answer{Key: sh.Lines[i].Key}
		if sh.Lines[i].Kind == sheet.Choice {
			a.Key = sh.Lines[i].Options[0].Key
		}
		o.store(sh.Take(o.s.Real(), i, a, o.now))
	}
	if sh := o.sheet(); sh.ID != sheet.Measure {
		t.Errorf("at %v after the break, want measure", sh.ID)
	}
}

// What cannot be stored leaves the session as it was.
func TestFailureOfTheJournalIsTold(t *testing.T) {
	mem := sessiontest.NewMemory()
	mem.Fail = errors.New("disk full")
	o := start(t, mem, "a1", morning, nil)
	sh := o.sheet()
	entries, err := sh.Take(o.s.Real(), sh.LineOf(job.Place{Topic: job.Capacity}), sheet.Answer{Typed: "640"}, o.now)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := o.s.Save(entries).Do(mem); !errors.Is(err, mem.Fail) {
		t.Errorf("error %v, want the journal's", err)
	}
	if len(o.s.Job.Entries) != 0 || !o.s.Fresh {
		t.Error("the session has what was not stored")
	}
}

// A unit that is begun in a session takes over what was told at the one before, each an
// entry that says where; opened again it takes over nothing, and the stands are asked for.
func TestUnitsOfASessionAreToldOnce(t *testing.T) {
	mem := sessiontest.NewMemory()
	o := start(t, mem, "a1", morning, nil)
	o.upTo(sheet.Drain)
	unit, now := mem.Heads["a1"], o.now
	if err := session.Join(mem, "a1", "s1", now); err != nil {
		t.Fatal(err)
	}
	if err := session.Begin(mem, "b2", "s1", unit.Vehicle, "transfer case", now); err != nil {
		t.Fatal(err)
	}
	load := func() session.Session {
		t.Helper()
		s, err := session.Load(mem, "b2", now.Add(time.Minute))
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	s := load()
	g := s.Guide()
	if !g.Has(job.StandsAndShake) || !g.Has(job.ContainerGraduation) || g.Has(job.RightUnit) || g.Has(job.Capacity) {
		t.Error("what is the car's is not told, or what is the unit's is")
	}
	if kind := g.Choice(job.Place{Topic: job.UnitKind}); kind != "transfer_case" || mem.Heads["b2"].Session != "s1" {
		t.Errorf("kind %q, session %q", kind, mem.Heads["b2"].Session)
	}
	if on, _ := s.Visit.Sheet(now); on.ID != sheet.Prepare1 {
		t.Errorf("opened at %v", on.ID)
	}
	if open := g.Offered.OpenUnits; len(open) != 1 || open[0].Name != unit.UnitName {
		t.Errorf("open: %v", open)
	}
	stored := len(mem.Jobs["b2"].Entries)
	if on, _ := load().Visit.Sheet(now); on.ID != sheet.Resume || len(mem.Jobs["b2"].Entries) != stored {
		t.Errorf("opened again at %v, with %d entries after %d", on.ID, len(mem.Jobs["b2"].Entries), stored)
	}
	if err := session.Join(mem, "b2", "s2", now.Add(time.Hour)); err != nil || mem.Heads["b2"].Session != "s2" {
		t.Errorf("joined another session: %v, %q", err, mem.Heads["b2"].Session)
	}
}
