package report

// This file holds a shared job to what it promises: nothing that tells whose
// car it is, and the same figures.

import (
	"bytes"
	"reflect"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/jobtest"
	"garage/tundish/model/share"
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
	lines := jobtest.DrainPort()
	for topic, text := range map[job.Topic]string{
		job.Vehicle: "Wanda Ferrow's KX-71 PLM", job.UnitName: "rear axle of KX-71 PLM", job.OilGrade: "75W-90 GL-5 Ferrow & Sons",
		job.PlugThread: "M18x1.5 KX-71", job.PlugKey: "hex 10mm, Wanda's", job.WasherKind: "copper 18x24x1.5 ring 0199 555",
		job.TorqueSource: "Ferrow's workshop book", job.ContainerName: "Wanda's jug", job.WasteHandedIn: "yard behind 14 Mill Row",
		job.Remark: "VIN TDX00000000012345, ring Wanda 0199 555", job.Odometer: "123456",
	} {
		lines[topic] = []string{text}
	}
	d := jobtest.New(t, lines)
	d.Until(job.BottlesOpened)
	d.Correct(job.Vehicle, 0, 0, "KX-71 PLM of Wanda")
	d.Until(job.IntervalKm)
	d.Correct(job.Odometer, 0, 0, "123456.0")
	j := d.ToTheEnd()
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

// Whichever of several measures the owner trusts, the shared copy trusts it too.
func TestSharedJobTrustsTheSameMeasure(t *testing.T) {
	lines := jobtest.DrainPort()
	lines[job.DrainedAmount], lines[job.DrainedTemperature] = []string{"930", "925", "830"}, []string{"38", "38", "38"}
	lines[job.DrainedMore], lines[job.MeasureTrusted] = []string{"again", "again", "done"}, []string{"third"}
	d := jobtest.New(t, lines)
	s := d.Until(job.PlanAccepted)
	shared := guide.Fold(share.Job(d.Job), guide.Offers{})
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
		job := jobtest.AnyJob().Draw(t, "job")
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
				if share.Job(job).Check() != nil {
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
		before, after := figuresOf(guide.Fold(job, guide.Offers{})), figuresOf(guide.Fold(share.Job(job), guide.Offers{}))
		if !reflect.DeepEqual(before, after) {
			t.Errorf("%s: figures differ:\n%+v\n%+v", name, before, after)
		}
	}
}

// Every token that a question can offer is kept, in jobs that leave the plain
// path too; else the shared job would come to other figures.
func TestEveryChoiceOnOfferIsKept(t *testing.T) {
	far := func(out string, other jobtest.Script) jobtest.Script {
		lines := jobtest.DrainPort()
		lines[job.DrainedAmount], lines[job.DrainedTemperature], lines[job.DripReading] = []string{out + "@20C"}, nil, nil
		for topic, l := range other {
			lines[topic] = l
		}
		return lines
	}
	for name, lines := range map[string]jobtest.Script{
		"level port": jobtest.LevelPort(), "drain port": jobtest.DrainPort(),
		"far below": far("500", jobtest.Script{job.LookedAgain: {"nothing_more"}, job.Basis: {"capacity"}, job.BasisWhy: {"a leak"}}),
		"far above": far("1200", jobtest.Script{job.WrongBoxDecision: {"right_unit"}, job.LookedAgain: {"water"}}),
		"two witnesses": far("830", jobtest.Script{
			job.DrainedMore: {"again", "done"}, job.DrainedAmount: {"830@20C", "700@20C"}, job.MeasureTrusted: {"second"},
			job.LookedAgain: {"nothing_more"}, job.Basis: {"capacity"}, job.BasisWhy: {"a leak"},
		}),
	} {
		d := jobtest.New(t, lines)
		for range 500 {
			s := d.Guide()
			p, ok := d.UpNext(s)
			if !ok || p.Topic == job.Decision && name != "level port" {
				break
			}
			for _, o := range p.Choices(s) {
				if !share.KnownChoice(p.Topic, o.Token) {
					t.Errorf("%s: %v may be %q, which is not kept", name, p.Topic, o.Token)
				}
			}
			d.At = d.At.Add(time.Minute)
			d.Answer(s, p)
		}
		before, after := figuresOf(d.Guide()), figuresOf(guide.Fold(share.Job(d.Job), guide.Offers{}))
		if before.Drained == nil || !reflect.DeepEqual(before, after) {
			t.Errorf("%s: figures differ:\n%+v\n%+v", name, before, after)
		}
	}
}

// Containers whose names are left out are still told apart, and told of.
func TestSharedContainersAreNumbered(t *testing.T) {
	lines := jobtest.DrainPort()
	lines[job.ContainerMore], lines[job.ContainerName] = []string{"another", "done"}, []string{"Wanda's", "Bob's jug"}
	lines[job.DrainedMore], lines[job.DrainedAmount] = []string{"again", "done"}, []string{"830@20C", "826@20C"}
	lines[job.DrainedWith] = []string{"c0", "c1"}
	d := jobtest.New(t, lines)
	d.Until(job.PlanAccepted)
	shared := share.Job(d.Job)
	if before, after := figuresOf(d.Guide()), figuresOf(guide.Fold(shared, guide.Offers{})); !reflect.DeepEqual(before, after) {
		t.Errorf("figures differ:\n%+v\n%+v", before, after)
	}
	text := written(t, Text, shared)
	for _, want := range []string{"container 1", "jug"} {
		if !strings.Contains(text, want) {
			t.Errorf("no %q in\n%s", want, text)
		}
	}
	if strings.Contains(text, share.LeftOut) {
		t.Errorf("a container has no name:\n%s", text)
	}
}
