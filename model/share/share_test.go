package share

// This file holds sharing to what it promises of a job alone; what is printed of a
// shared job, report tests.

import (
	"math"
	"reflect"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/jobtest"
)

// When an event took place stays as long after the start as it was, and no time of day.
func TestSharedMomentsCountFromTheStart(t *testing.T) {
	d := jobtest.New(t, jobtest.DrainPort())
	d.Until(job.MagnetLook)
	s := d.Guide()
	out, _ := s.Answer(job.Place{Topic: job.PlugOut})
	p, _ := s.Correcting(out.Seq)
	d.Add(p.Entry(s, job.AtMoment(out.At.Add(-10*time.Minute)), "-10", d.At))
	shared := Job(d.Job)
	got, _ := guide.Fold(shared, guide.Offers{}).When(job.PlugOut, 0)
	want, _ := d.Guide().When(job.PlugOut, 0)
	if got.Sub(shared.Started) != want.Sub(d.Job.Started).Truncate(time.Second) {
		t.Errorf("plug out after %v, shared after %v", want.Sub(d.Job.Started), got.Sub(shared.Started))
	}
	if twice := Job(shared); !reflect.DeepEqual(twice, shared) {
		t.Errorf("shared again it differs:\n%+v\n%+v", shared, twice)
	}
}

func TestSharingTwiceIsSharingOnce(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		once := Job(jobtest.AnyJob().Draw(t, "job"))
		if twice := Job(once); !reflect.DeepEqual(once, twice) {
			t.Fatalf("shared again it differs:\n%+v\n%+v", once, twice)
		}
	})
}

// A job that is shared half-way and again when it is done must be known by an
// import as the same job gone on.
func TestSharedJobGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		j := jobtest.AnyJob().Draw(t, "job")
		if len(j.Entries) == 0 {
			return
		}
		n := rapid.IntRange(1, len(j.Entries)).Draw(t, "so far")
		part := job.Job{ID: j.ID, Started: j.Started, Entries: j.Entries[:n]}
		early, late := Job(part), Job(j)
		if early.ID != late.ID || !early.Started.Equal(late.Started) || !reflect.DeepEqual(early.Entries, late.Entries[:n]) {
			t.Fatalf("not the same job gone on:\n%+v\n%+v", early, late)
		}
	})
}

func TestSharingChangesNothingOfTheJobItself(t *testing.T) {
	d := jobtest.New(t, jobtest.DrainPort())
	d.Until(job.BottlesOpened)
	j := d.Job
	copied := job.Job{ID: j.ID, Started: j.Started, Entries: slices.Clone(j.Entries)}
	Job(j)
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
		job := job.Job{ID: "a", Started: jobtest.Started, Entries: []job.Entry{
			{Seq: 1, At: jobtest.Started, Topic: job.DisplayUnits, Value: job.Value{Choice: tt.units}},
			{Seq: 2, At: jobtest.Started, Topic: job.Odometer, Typed: "x", Value: job.Value{Number: tt.km, Unit: job.DimKm}},
		}}
		if got := Job(job).Entries[1].Value.Number; math.Abs(got-tt.want) > tt.tol*tt.want {
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
		{job.UnitName, "Gertrude", LeftOut},
		{job.UnitName, LeftOut, LeftOut},
		{job.OilGrade, "75W-90 GL-5", "75W-90 GL-5"},
		{job.OilGrade, "SAE 90, from Bob", "SAE 90"},
		{job.PlugThread, "M18x1.5", "M18x1.5"},
		{job.PlugThread, "M18 PLM", LeftOut},
		{job.PlugThread, "1/2-14 NPT", "1/2-14 NPT"},
		{job.PlugKey, "10 mm hex", "10mm hex"},
		{job.PlugKey, "key of 42 Mill Row", "key"},
		{job.WasherKind, "copper 18x24x1.5", "copper 18x24x1.5"},
		{job.ContainerName, "mum's measuring jug", "measuring jug"},
		{job.TorqueSource, "manual, page 12", LeftOut},
		{job.BasisWhy, "rear axle", LeftOut},
		{job.WasteHandedIn, "rear", LeftOut},
		{job.Remark, "75W-90", LeftOut},
	}
	for _, tt := range tests {
		if got := shareText(tt.topic, tt.text); got != tt.want {
			t.Errorf("%v %q becomes %q, want %q", tt.topic, tt.text, got, tt.want)
		}
	}
}

// A choice that somebody wrote in its place is not shared.
func TestKnownChoices(t *testing.T) {
	for _, tt := range []struct {
		topic job.Topic
		token string
		want  bool
	}{
		{job.CapacityMeans, "dry", true}, {job.CapacityMeans, "Gertrude", false}, {job.CapacityMeans, LeftOut, true},
		{job.DrainedWith, "scale", true}, {job.DrainedWith, "vessel", true}, {job.DrainedWith, "c0", true}, {job.DrainedWith, "c123", true},
		{job.DrainedWith, "c1234", false}, {job.DrainedWith, "c", false}, {job.DrainedWith, "cab", false}, {job.DrainedWith, "0", false},
		{job.MeasureTrusted, "second", true}, {job.Decision, "second", false}, {job.MeasureTrusted, "Gertrude", false},
	} {
		if got := KnownChoice(tt.topic, tt.token); got != tt.want {
			t.Errorf("%v %q is known: %v", tt.topic, tt.token, got)
		}
		shared := Job(job.Job{ID: "a", Started: jobtest.Started, Entries: []job.Entry{
			{Seq: 1, At: jobtest.Started, Topic: tt.topic, Value: job.Value{Choice: tt.token}}}})
		if got := shared.Entries[0].Value.Choice; (got == tt.token) != tt.want || got != tt.token && got != LeftOut {
			t.Errorf("%v %q is shared as %q", tt.topic, tt.token, got)
		}
	}
}

// A time that was typed as a remark is a text like others; an id of 80 bits is told from any other.
func TestATimeInARemarkIsLeftOut(t *testing.T) {
	j := job.Job{ID: "a", Started: jobtest.Started, Entries: []job.Entry{
		{Seq: 1, At: jobtest.Started, Topic: job.Remark, Value: job.Value{Text: jobtest.Started.Format(time.RFC3339)}},
	}}
	shared := Job(j)
	if got := shared.Entries[0].Value.Text; got != LeftOut {
		t.Errorf("shared as %q", got)
	}
	if bits := 5 * len(strings.TrimPrefix(shared.ID, sharedPrefix)); bits != 80 || !IsCopy(shared.ID) || IsCopy(j.ID) {
		t.Errorf("%q has %d bits", shared.ID, bits)
	}
}

// The kind of unit stays only where its owner says so, and without the words that name
// car, place or person. All invented.
func TestClubKind(t *testing.T) {
	entry := func(seq int, topic job.Topic, text string) job.Entry {
		return job.Entry{Seq: seq, At: jobtest.Started, Topic: topic, Typed: text, Value: job.Value{Text: text}}
	}
	tests := []struct{ kind, want string }{
		{"K2 rear axle", "K2 rear axle"},
		{"rear axle, type 31/2.1", "rear axle type 31/2.1"},
		{"Hinterachse größer", "Hinterachse größer"},
		{"rear axle of Wanda's KX-71 PLM", "rear axle of"},
		{"KX71PLM rear axle", "rear axle"},
		{"rear axle (Ferrow)", "rear axle"},
		{"axle TDX00000000012345", "axle"},
		{"axle 0199555", "axle"},
		{"axle 1234 12345", "axle 1234"},
		{"axle abcdefghijklmn abcdefghijklmno", "axle abcdefghijklmn"}, // 14 letters, and 15
		{"-- axle", "axle"},
		{"Bo axle", "axle"},    // short, and a name all the same
		{"Z9 axle", "Z9 axle"}, // said of the unit and not of the car
		{"wanda@ferrow.example axle", "axle"},
		{"Millrow axle", "axle"},
		{"\u202eaxle", "axle"},
		{"<b>axle</b>", LeftOut},
		{"KX-71 PLM", LeftOut},
		{LeftOut, LeftOut},
	}
	for _, tt := range tests {
		j := job.Job{ID: "a", Started: jobtest.Started, Entries: []job.Entry{
			entry(1, job.Vehicle, "Wanda Ferrow's KX-71 PLM"), entry(2, job.WasteHandedIn, "14 Mill Row, Bo"), entry(3, job.UnitName, "Z9"),
			entry(4, job.ClubKind, tt.kind),
		}}
		if got := Job(j).Entries[3].Value.Text; got != LeftOut {
			t.Errorf("%q is shared as %q, unasked", tt.kind, got)
		}
		shared := WithKind(j)
		if got := shared.Entries[3].Value.Text; got != tt.want || shared.Entries[3].Typed != "" {
			t.Errorf("%q is shared as %q, want %q", tt.kind, got, tt.want)
		}
		if again := Job(shared); !reflect.DeepEqual(again, shared) {
			t.Errorf("%q: shared again it differs", tt.kind)
		}
	}
}

// Whatever words stand in what was said of car, place and person, none of them is in the
// name of a kind.
func TestNoNameIsInAKind(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		word := rapid.StringMatching(`[A-Za-z]{3,6}[0-9]{0,3}`).Filter(func(w string) bool { return !isUnitWord(plain(w)) }).Draw(t, "word")
		around := rapid.SampledFrom([]string{"%s", "axle %s", "axle-%s", "%s's axle", "(%s)", "x %s y", "%s.%s"}).Draw(t, "around")
		names := []job.Topic{job.Vehicle, job.WasteHandedIn, job.TorqueSource, job.ContainerName, job.BasisWhy}
		topic := rapid.SampledFrom(names).Draw(t, "topic")
		j := job.Job{ID: "a", Started: jobtest.Started, Entries: []job.Entry{
			{Seq: 1, At: jobtest.Started, Topic: topic, Value: job.Value{Text: "the " + word + " here"}},
			{Seq: 2, At: jobtest.Started, Topic: job.ClubKind, Value: job.Value{Text: strings.ReplaceAll(around, "%s", word)}},
		}}
		if got := WithKind(j).Entries[1].Value.Text; got != LeftOut && slices.Contains(strings.Fields(plainWords(got)), plain(word)) {
			t.Fatalf("%q keeps %q as %q", around, word, got)
		}
	})
}

func plainWords(text string) string {
	return strings.ToLower(strings.Map(func(r rune) rune {
		if isPlain(r) {
			return r
		}
		return ' '
	}, text))
}
