package summary

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

	"garage/tundish/model"
)

// What tells whose car it is, in the job below. All invented.
var telling = []string{
	"Wanda", "Ferrow", "KX-71", "PLM", "TDX00000000012345", "Mill Row", "yard", "0199", "555", "123456", "123 456", "123.456",
	"20260418-700000", "T07:05", "07:25", "09:05",
}

// tellingJob has them in every text that can be typed, and where only a file
// from elsewhere can have them.
func tellingJob(t *testing.T) model.Job {
	t.Helper()
	lines := drainPort()
	for topic, text := range map[model.Topic]string{
		model.Vehicle: "Wanda Ferrow's KX-71 PLM", model.UnitName: "rear axle of KX-71 PLM", model.OilGrade: "75W-90 GL-5 Ferrow & Sons",
		model.PlugThread: "M18x1.5 KX-71", model.PlugKey: "hex 10mm, Wanda's", model.WasherKind: "copper 18x24x1.5 ring 0199 555",
		model.TorqueSource: "Ferrow's workshop book", model.ContainerName: "Wanda's jug", model.WasteHandedIn: "yard behind 14 Mill Row",
		model.Remark: "VIN TDX00000000012345, ring Wanda 0199 555", model.Odometer: "123456",
	} {
		lines[topic] = []string{text}
	}
	d := newDriver(t, lines)
	d.until(model.LoadedMore)
	d.correct(model.Vehicle, 0, 0, "KX-71 PLM of Wanda")
	d.correct(model.Odometer, 0, 0, "123456.0")
	job := d.toTheEnd()
	for i := range job.Entries {
		e := &job.Entries[i]
		switch e.Topic {
		case model.GlovesAndEyes:
			e.Value.Choice, e.Typed = "KX-71 PLM", "Wanda"
		case model.TagAndKey:
			e.Value.Text = "Ferrow"
		}
	}
	return job
}

// Whichever of several measures the owner trusts, the shared copy trusts it too.
func TestSharedJobTrustsTheSameWitness(t *testing.T) {
	lines := drainPort()
	lines[model.DrainedAmount], lines[model.DrainedTemperature] = []string{"930", "925", "830"}, []string{"38", "38", "38"}
	lines[model.DrainedMore], lines[model.WitnessTrusted] = []string{"again", "again", "done"}, []string{"third"}
	d := newDriver(t, lines)
	s := d.until(model.PlanAccepted)
	shared := model.Fold(Share(d.job), model.Offers{})
	if got, want := shared.Drained().Total.Nominal, s.Drained().Total.Nominal; got != want || want > 850 {
		t.Errorf("the shared copy has %v come out, the job %v", got, want)
	}
	if got := strings.Join(Of(s, Options{}).Deviations, " "); !strings.Contains(got, "the third counts") {
		t.Errorf("%q", got)
	}
}

func TestSharedJobTellsNothing(t *testing.T) {
	job := tellingJob(t)
	s := model.Fold(job, model.Offers{})
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
		s := model.Fold(job, model.Offers{})
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
	if err := Write(&first, JSON, model.Fold(job, model.Offers{}), job, Options{Share: true}); err != nil {
		t.Fatal(err)
	}
	back, notes, err := ReadJSON(bytes.NewReader(first.Bytes()))
	if err != nil || !notes.Shared {
		t.Fatalf("read back: %v, notes %+v", err, notes)
	}
	for _, share := range []bool{false, true} {
		var again bytes.Buffer
		if err := Write(&again, JSON, model.Fold(back, model.Offers{}), back, Options{Share: share}); err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(first.Bytes(), again.Bytes()) {
			t.Errorf("with share %v another file goes out", share)
		}
	}
}

func TestSharingKeepsTheFigures(t *testing.T) {
	for name, job := range map[string]model.Job{"drain port": tellingJob(t), "level port": wholeLevelPort(t), "long": longJob(t, 5, 1)} {
		before, after := FiguresOf(model.Fold(job, model.Offers{})), FiguresOf(model.Fold(Share(job), model.Offers{}))
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
		lines[model.DrainedAmount], lines[model.DrainedTemperature], lines[model.DripReading] = []string{out + "@20C"}, nil, nil
		for topic, l := range other {
			lines[topic] = l
		}
		return lines
	}
	for name, lines := range map[string]script{
		"level port": levelPort(), "drain port": drainPort(),
		"far below": far("500", script{model.LookedAgain: {"nothing_more"}, model.Basis: {"capacity"}, model.BasisWhy: {"a leak"}}),
		"far above": far("1200", script{model.WrongBoxDecision: {"right_unit"}, model.LookedAgain: {"water"}}),
		"two witnesses": far("830", script{
			model.DrainedMore: {"again", "done"}, model.DrainedAmount: {"830@20C", "700@20C"}, model.WitnessTrusted: {"second"},
			model.LookedAgain: {"nothing_more"}, model.Basis: {"capacity"}, model.BasisWhy: {"a leak"},
		}),
	} {
		d := newDriver(t, lines)
		for range 500 {
			s := d.state()
			p, ok := s.Next()
			if !ok || p.Topic == model.Decision && name != "level port" {
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
		before, after := FiguresOf(d.state()), FiguresOf(model.Fold(Share(d.job), model.Offers{}))
		if before.Drained == nil || !reflect.DeepEqual(before, after) {
			t.Errorf("%s: figures differ:\n%+v\n%+v", name, before, after)
		}
	}
}

// Containers whose names are left out are still told apart, and told of.
func TestSharedContainersAreNumbered(t *testing.T) {
	lines := drainPort()
	lines[model.ContainerMore], lines[model.ContainerName] = []string{"another", "done"}, []string{"Wanda's", "Bob's jug"}
	lines[model.DrainedMore], lines[model.DrainedAmount] = []string{"again", "done"}, []string{"830@20C", "826@20C"}
	lines[model.DrainedWith] = []string{"c0", "c1"}
	d := newDriver(t, lines)
	d.until(model.PlanAccepted)
	shared := Share(d.job)
	if before, after := FiguresOf(d.state()), FiguresOf(model.Fold(shared, model.Offers{})); !reflect.DeepEqual(before, after) {
		t.Errorf("figures differ:\n%+v\n%+v", before, after)
	}
	text := writtenOf(t, Text, shared)
	for _, want := range []string{"container 1", "jug"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	if strings.Contains(text, LeftOut) {
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
		job := anyJob().Draw(t, "job")
		if len(job.Entries) == 0 {
			return
		}
		n := rapid.IntRange(1, len(job.Entries)).Draw(t, "so far")
		part := model.Job{ID: job.ID, Started: job.Started, Entries: job.Entries[:n]}
		early, late := Share(part), Share(job)
		if early.ID != late.ID || !early.Started.Equal(late.Started) || !reflect.DeepEqual(early.Entries, late.Entries[:n]) {
			t.Fatalf("not the same job gone on:\n%+v\n%+v", early, late)
		}
	})
}

func TestSharingChangesNothingOfTheJobItself(t *testing.T) {
	job := tellingJob(t)
	copied := model.Job{ID: job.ID, Started: job.Started, Entries: slices.Clone(job.Entries)}
	Share(job)
	if !reflect.DeepEqual(job, copied) {
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
		job := model.Job{ID: "a", Started: started, Entries: []model.Entry{
			{Seq: 1, At: started, Topic: model.DisplayUnits, Value: model.Value{Choice: tt.units}},
			{Seq: 2, At: started, Topic: model.Odometer, Typed: "x", Value: model.Value{Number: tt.km, Unit: model.DimKm}},
		}}
		if got := Share(job).Entries[1].Value.Number; math.Abs(got-tt.want) > tt.tol*tt.want {
			t.Errorf("%s: %v km becomes %v, want %v", tt.units, tt.km, got, tt.want)
		}
	}
}

func TestSharedTexts(t *testing.T) {
	tests := []struct {
		topic      model.Topic
		text, want string
	}{
		{model.UnitName, "Rear Axle", "Rear Axle"},
		{model.UnitName, "rear axle of AB 12 CDE", "rear axle"},
		{model.UnitName, "Gertrude", LeftOut},
		{model.UnitName, LeftOut, LeftOut},
		{model.OilGrade, "75W-90 GL-5", "75W-90 GL-5"},
		{model.OilGrade, "SAE 90, from Bob", "SAE 90"},
		{model.PlugThread, "M18x1.5", "M18x1.5"},
		{model.PlugThread, "M18 PLM", LeftOut},
		{model.PlugThread, "1/2-14 NPT", "1/2-14 NPT"},
		{model.PlugKey, "10 mm hex", "10mm hex"},
		{model.PlugKey, "key of 42 Mill Row", "key"},
		{model.WasherKind, "copper 18x24x1.5", "copper 18x24x1.5"},
		{model.ContainerName, "mum's measuring jug", "measuring jug"},
		{model.TorqueSource, "manual, page 12", LeftOut},
		{model.BasisWhy, "rear axle", LeftOut},
		{model.WasteHandedIn, "rear", LeftOut},
		{model.Remark, "75W-90", LeftOut},
	}
	for _, tt := range tests {
		if got := shareText(tt.topic, tt.text); got != tt.want {
			t.Errorf("%v %q becomes %q, want %q", tt.topic, tt.text, got, tt.want)
		}
	}
}
