package report

// This file holds a shared job to what it promises: nothing that tells whose
// car it is, and the same figures.

import (
	"bytes"
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// What tells whose car it is, in the job below. All invented.
var telling = []string{
	"Wanda", "Ferrow", "KX-71", "PLM", "TDX00000000012345", "Mill Row", "yard", "0199", "555", "123456", "123 456", "123.456",
	"20260418-700000", "T07:05", "07:25", "09:05",
}

// tellingJob has them in every text that can be typed, and where only a file
// from elsewhere can have them.
func tellingJob(t *testing.T) job.Job {
	t.Helper()
	lines := drainPort()
	for topic, text := range map[job.Topic]string{
		job.Vehicle: "Wanda Ferrow's KX-71 PLM", job.UnitName: "rear axle of KX-71 PLM", job.OilGrade: "75W-90 GL-5 Ferrow & Sons",
		job.PlugThread: "M18x1.5 KX-71", job.PlugKey: "hex 10mm, Wanda's", job.WasherKind: "copper 18x24x1.5 ring 0199 555",
		job.TorqueSource: "Ferrow's workshop book", job.ContainerName: "Wanda's jug", job.WasteHandedIn: "yard behind 14 Mill Row",
		job.Remark: "VIN TDX00000000012345, ring Wanda 0199 555", job.Odometer: "123456",
	} {
		lines[topic] = []string{text}
	}
	d := newDriver(t, lines)
	d.until(job.BottlesOpened)
	d.correct(job.Vehicle, 0, 0, "KX-71 PLM of Wanda")
	d.until(job.IntervalKm)
	d.correct(job.Odometer, 0, 0, "123456.0")
	j := d.toTheEnd()
	for i := range j.Entries {
		e := &j.Entries[i]
		switch e.Topic {
		case job.GlovesAndEyes:
			e.Value.Choice, e.Typed = "KX-71 PLM", "Wanda"
		case job.TagAndKey:
			e.Value.Text = "Ferrow"
		}
	}
	return j
}

// When an event took place stays as long after the start as it was, and no time of day.
func TestSharedMomentsCountFromTheStart(t *testing.T) {
	d := newDriver(t, drainPort())
	d.until(job.MagnetLook)
	s := d.state()
	out, _ := s.Answer(job.Place{Topic: job.PlugOut})
	p, _ := s.Correcting(out.Seq)
	d.add(p.Entry(s, job.AtMoment(out.At.Add(-10*time.Minute)), "-10", d.at))
	shared := Share(d.job)
	got, _ := guide.Fold(shared, guide.Offers{}).When(job.PlugOut, 0)
	want, _ := d.state().When(job.PlugOut, 0)
	if got.Sub(shared.Started) != want.Sub(d.job.Started).Truncate(time.Second) {
		t.Errorf("plug out after %v, shared after %v", want.Sub(d.job.Started), got.Sub(shared.Started))
	}
	if twice := Share(shared); !reflect.DeepEqual(twice, shared) {
		t.Errorf("shared again it differs:\n%+v\n%+v", shared, twice)
	}
}

// Whichever of several measures the owner trusts, the shared copy trusts it too.
func TestSharedJobTrustsTheSameMeasure(t *testing.T) {
	lines := drainPort()
	lines[job.DrainedAmount], lines[job.DrainedTemperature] = []string{"930", "925", "830"}, []string{"38", "38", "38"}
	lines[job.DrainedMore], lines[job.MeasureTrusted] = []string{"again", "again", "done"}, []string{"third"}
	d := newDriver(t, lines)
	s := d.until(job.PlanAccepted)
	shared := guide.Fold(Share(d.job), guide.Offers{})
	if got, want := shared.Drained().Total.Nominal, s.Drained().Total.Nominal; got != want || want > 850 {
		t.Errorf("the shared copy has %v come out, the job %v", got, want)
	}
	if got := strings.Join(recordOf(s, Options{}).Deviations, " "); !strings.Contains(got, "the third counts") {
		t.Errorf("%q", got)
	}
}

func TestSharedJobTellsNothing(t *testing.T) {
	job := tellingJob(t)
	s := guide.Fold(job, guide.Offers{})
	for f := range formatCount {
		var plain, shared bytes.Buffer
		if err := Write(&plain, f, s, job, Options{Zone: time.FixedZone("X", 3600)}); err != nil {
			t.Fatal(err)
		}
		if err := Write(&shared, f, s, job, Options{Share: true, Zone: time.FixedZone("X", 3600)}); err != nil {
			t.Fatal(err)
		}
		for _, text := range telling {
			if strings.Contains(strings.ToLower(shared.String()), strings.ToLower(text)) {
				t.Errorf("%v: %q stands in the shared copy", f, text)
			}
		}
		if !strings.Contains(plain.String(), "Wanda") {
			t.Errorf("%v: the owner's own copy does not have the names, so this test says nothing", f)
		}
	}
}

// Whatever word stands in whatever text of whatever job, sizes and trade words
// aside, none of it is in the shared copy, nor is the job's own id.
func TestNoOtherWordIsShared(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		job := anyJob().Draw(t, "job")
		job.ID = rapid.StringMatching(`2026[0-9]{4}-[0-9a-z]{6}`).Draw(t, "id")
		word := rapid.StringMatching(`[a-z]{2}zq[0-9]{3}[a-z]{0,3}`).Draw(t, "word")
		around := rapid.SampledFrom([]string{"%s", "rear axle of %s", "75W-90 %s", "%s M18x1.5", "copper, %s!", "%s\n%s"}).Draw(t, "around")
		text := strings.ReplaceAll(around, "%s", word)
		for i := range job.Entries {
			e := &job.Entries[i]
			e.Typed, e.Value.Text, e.Value.Choice = text, text, text
		}
		s := guide.Fold(job, guide.Offers{})
		for f := range formatCount {
			var b bytes.Buffer
			if err := Write(&b, f, s, job, Options{Share: true}); err != nil {
				if Share(job).Check() != nil {
					return // shared out of 1970, before which no job is
				}
				t.Fatal(err)
			}
			for _, never := range []string{word, job.ID} {
				if strings.Contains(b.String(), never) {
					t.Fatalf("%v: %q stands in the shared copy:\n%s", f, never, b.String())
				}
			}
		}
	})
}

// A shared file that was let in somewhere goes out again as it came in, with
// --share or without.
func TestSharedFileComesBackByteForByte(t *testing.T) {
	job := tellingJob(t)
	var first bytes.Buffer
	if err := Write(&first, JSON, guide.Fold(job, guide.Offers{}), job, Options{Share: true}); err != nil {
		t.Fatal(err)
	}
	back, notes, err := ReadJSON(bytes.NewReader(first.Bytes()))
	if err != nil || !notes.Shared {
		t.Fatalf("read back: %v, notes %+v", err, notes)
	}
	for _, share := range []bool{false, true} {
		var again bytes.Buffer
		if err := Write(&again, JSON, guide.Fold(back, guide.Offers{}), back, Options{Share: share}); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(first.Bytes(), again.Bytes()) {
			t.Errorf("with share %v another file goes out", share)
		}
	}
}

func TestSharingKeepsTheFigures(t *testing.T) {
	for name, job := range map[string]job.Job{"drain port": tellingJob(t), "level port": wholeLevelPort(t), "long": longJob(t, 5, 1)} {
		before, after := figuresOf(guide.Fold(job, guide.Offers{})), figuresOf(guide.Fold(Share(job), guide.Offers{}))
		if !reflect.DeepEqual(before, after) {
			t.Errorf("%s: figures differ:\n%+v\n%+v", name, before, after)
		}
	}
}

// Every token that a question can offer is kept, in jobs that leave the plain
// path too; else the shared job would come to other figures.
func TestEveryChoiceOnOfferIsKept(t *testing.T) {
	far := func(out string, other script) script {
		lines := drainPort()
		lines[job.DrainedAmount], lines[job.DrainedTemperature], lines[job.DripReading] = []string{out + "@20C"}, nil, nil
		for topic, l := range other {
			lines[topic] = l
		}
		return lines
	}
	for name, lines := range map[string]script{
		"level port": levelPort(), "drain port": drainPort(),
		"far below": far("500", script{job.LookedAgain: {"nothing_more"}, job.Basis: {"capacity"}, job.BasisWhy: {"a leak"}}),
		"far above": far("1200", script{job.WrongBoxDecision: {"right_unit"}, job.LookedAgain: {"water"}}),
		"two witnesses": far("830", script{
			job.DrainedMore: {"again", "done"}, job.DrainedAmount: {"830@20C", "700@20C"}, job.MeasureTrusted: {"second"},
			job.LookedAgain: {"nothing_more"}, job.Basis: {"capacity"}, job.BasisWhy: {"a leak"},
		}),
	} {
		d := newDriver(t, lines)
		for range 500 {
			s := d.state()
			p, ok := d.upNext(s)
			if !ok || p.Topic == job.Decision && name != "level port" {
				break
			}
			for _, o := range p.Choices(s) {
				if !knownChoice(p.Topic, o.Token) {
					t.Errorf("%s: %v may be %q, which is not kept", name, p.Topic, o.Token)
				}
			}
			d.at = d.at.Add(time.Minute)
			d.answer(s, p)
		}
		before, after := figuresOf(d.state()), figuresOf(guide.Fold(Share(d.job), guide.Offers{}))
		if before.Drained == nil || !reflect.DeepEqual(before, after) {
			t.Errorf("%s: figures differ:\n%+v\n%+v", name, before, after)
		}
	}
}

// Containers whose names are left out are still told apart, and told of.
func TestSharedContainersAreNumbered(t *testing.T) {
	lines := drainPort()
	lines[job.ContainerMore], lines[job.ContainerName] = []string{"another", "done"}, []string{"Wanda's", "Bob's jug"}
	lines[job.DrainedMore], lines[job.DrainedAmount] = []string{"again", "done"}, []string{"830@20C", "826@20C"}
	lines[job.DrainedWith] = []string{"c0", "c1"}
	d := newDriver(t, lines)
	d.until(job.PlanAccepted)
	shared := Share(d.job)
	if before, after := figuresOf(d.state()), figuresOf(guide.Fold(shared, guide.Offers{})); !reflect.DeepEqual(before, after) {
		t.Errorf("figures differ:\n%+v\n%+v", before, after)
	}
	text := writtenOf(t, Text, shared)
	for _, want := range []string{"container 1", "jug"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	if strings.Contains(text, leftOut) {
		t.Errorf("a container has no name:\n%s", text)
	}
}

func TestSharingTwiceIsSharingOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		once := Share(anyJob().Draw(t, "job"))
		if twice := Share(once); !reflect.DeepEqual(once, twice) {
			t.Fatalf("shared again it differs:\n%+v\n%+v", once, twice)
		}
	})
}

// A job that is shared half-way and again when it is done must be known by an
// import as the same job gone on.
func TestSharedJobGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := anyJob().Draw(t, "job")
		if len(j.Entries) == 0 {
			return
		}
		n := rapid.IntRange(1, len(j.Entries)).Draw(t, "so far")
		part := job.Job{ID: j.ID, Started: j.Started, Entries: j.Entries[:n]}
		early, late := Share(part), Share(j)
		if early.ID != late.ID || !early.Started.Equal(late.Started) || !reflect.DeepEqual(early.Entries, late.Entries[:n]) {
			t.Fatalf("not the same job gone on:\n%+v\n%+v", early, late)
		}
	})
}

func TestSharingChangesNothingOfTheJobItself(t *testing.T) {
	j := tellingJob(t)
	copied := job.Job{ID: j.ID, Started: j.Started, Entries: slices.Clone(j.Entries)}
	Share(j)
	if !reflect.DeepEqual(j, copied) {
		t.Error("the owner's job was changed")
	}
}

// A mile is 1.609344 km (international agreement of 1959).
func TestOdometerIsRounded(t *testing.T) {
	const mile = 1.609344
	tests := []struct {
		units         string
		km, want, tol float64
	}{
		{"metric", 123456, 123000, 0},
		{"metric", 123500, 124000, 0},
		{"metric", 499, 0, 0},
		{"us", 88123 * mile, 88000 * mile, 1e-9},
		{"imperial", 88600 * mile, 89000 * mile, 1e-9},
	}
	for _, tt := range tests {
		job := job.Job{ID: "a", Started: started, Entries: []job.Entry{
			{Seq: 1, At: started, Topic: job.DisplayUnits, Value: job.Value{Choice: tt.units}},
			{Seq: 2, At: started, Topic: job.Odometer, Typed: "x", Value: job.Value{Number: tt.km, Unit: job.DimKm}},
		}}
		if got := Share(job).Entries[1].Value.Number; math.Abs(got-tt.want) > tt.tol*tt.want {
			t.Errorf("%s: %v km becomes %v, want %v", tt.units, tt.km, got, tt.want)
		}
	}
}

func TestSharedTexts(t *testing.T) {
	tests := []struct {
		topic      job.Topic
		text, want string
	}{
		{job.UnitName, "Rear Axle", "Rear Axle"},
		{job.UnitName, "rear axle of AB 12 CDE", "rear axle"},
		{job.UnitName, "Gertrude", leftOut},
		{job.UnitName, leftOut, leftOut},
		{job.OilGrade, "75W-90 GL-5", "75W-90 GL-5"},
		{job.OilGrade, "SAE 90, from Bob", "SAE 90"},
		{job.PlugThread, "M18x1.5", "M18x1.5"},
		{job.PlugThread, "M18 PLM", leftOut},
		{job.PlugThread, "1/2-14 NPT", "1/2-14 NPT"},
		{job.PlugKey, "10 mm hex", "10mm hex"},
		{job.PlugKey, "key of 42 Mill Row", "key"},
		{job.WasherKind, "copper 18x24x1.5", "copper 18x24x1.5"},
		{job.ContainerName, "mum's measuring jug", "measuring jug"},
		{job.TorqueSource, "manual, page 12", leftOut},
		{job.BasisWhy, "rear axle", leftOut},
		{job.WasteHandedIn, "rear", leftOut},
		{job.Remark, "75W-90", leftOut},
	}
	for _, tt := range tests {
		if got := shareText(tt.topic, tt.text); got != tt.want {
			t.Errorf("%v %q becomes %q, want %q", tt.topic, tt.text, got, tt.want)
		}
	}
}
