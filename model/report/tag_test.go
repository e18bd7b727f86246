package report

import (
	"bytes"
	"errors"
	"io"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/jobtest"
	"garage/tundish/model/share"
	"garage/tundish/model/text"
)

// writeTag writes the tag of a job.
func writeTag(w io.Writer, html bool, s *guide.Guide) error {
	words, err := TagOf(s, Options{})
	if err != nil {
		return err
	}
	return words.Write(w, html)
}

func tagAs(t *testing.T, html bool, s *guide.Guide) string {
	t.Helper()
	var b bytes.Buffer
	if err := writeTag(&b, html, s); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestTagSaysWhatIsWrong(t *testing.T) {
	at := func(lines jobtest.Script, until job.Topic) *guide.Guide { return jobtest.New(t, lines).Until(until) }
	left := jobtest.DrainPort()
	left[job.LeftInVessel] = []string{"500"}
	left[job.BottlesOpened], left[job.VesselWeighedFull] = []string{"-"}, []string{"-"}
	left[job.Decision], left[job.LeftWhy] = []string{"leave"}, []string{"no oil left"}
	dry := jobtest.DrainPort()
	dry[job.DryStart] = []string{"dry"}
	named := jobtest.DrainPort()
	named[job.UnitName] = []string{"Gertrude"}
	d := jobtest.New(t, named)
	d.Until(job.DrainedAmount)
	chips := jobtest.DrainPort()
	chips[job.MagnetLook] = []string{"chips"}
	tests := []struct {
		name  string
		s     *guide.Guide
		wants []string
	}{
		{"ahead", at(jobtest.DrainPort(), job.TagAndKey), []string{"NO OIL IN REAR AXLE", "since ____"}},
		{"empty", at(jobtest.DrainPort(), job.DrainedAmount),
			[]string{"NO OIL IN REAR AXLE", "since 18 April 2026, ", "DO NOT TURN WHEELS OR GEARS", "job 20260418-700000"}},
		{"dry", at(dry, job.StandsAndShake), []string{"NO OIL IN REAR AXLE", "dry since before this job"}},
		{"unproven", at(jobtest.DrainPort(), job.Decision), []string{"OIL IN REAR AXLE NOT PROVEN"}},
		{"left too low", at(left, job.WasteOil), []string{"OIL IN REAR AXLE LOW: add 4"}},
		{"shared, its unit's name left out", guide.Fold(share.Job(d.Job), guide.Offers{}), []string{"NO OIL IN THE UNIT"}},
		{"stopped for chips", at(chips, job.NoTopic), []string{"NO OIL IN REAR AXLE"}},
	}
	for _, tt := range tests {
		for _, html := range []bool{false, true} {
			tag := tagAs(t, html, tt.s)
			if html {
				tag = pageText(t, tag)
				tt.wants = append(tt.wants, "DO NOT DRIVE")
			}
			for _, want := range tt.wants {
				if !strings.Contains(tag, want) {
					t.Errorf("%s (html %v) does not say %q:\n%s", tt.name, html, want, tag)
				}
			}
		}
	}
}

func TestNoTagForAProvenFill(t *testing.T) {
	if err := writeTag(&bytes.Buffer{}, false, jobtest.New(t, jobtest.DrainPort()).Until(job.LeakCheck)); !errors.Is(err, errNoTag) {
		t.Errorf("error %v, want ErrNoTag", err)
	}
}

func TestTagShowsTextAsText(t *testing.T) {
	d := jobtest.New(t, jobtest.DrainPort())
	d.Until(job.DrainedAmount)
	rapid.Check(t, func(rt *rapid.T) {
		hostile := jobtest.AnyHostile().Draw(rt, "text")
		s := guide.Fold(poisoned(d.Job, hostile), guide.Offers{})
		want, _ := shape(rt, tagAs(t, true, guide.Fold(poisoned(d.Job, "plain"), guide.Offers{})))
		got, words := shape(rt, tagAs(t, true, s))
		if strings.Join(got, " ") != strings.Join(want, " ") {
			rt.Fatalf("%q changes the page: %q", hostile, got)
		}
		if strings.ToLower(strings.ToUpper(hostile)) == hostile && text.Visible(hostile) == hostile {
			shows(rt, strings.ToLower(words), hostile)
		}
		for _, l := range strings.Split(tagAs(t, false, s), "\n") {
			if text.Width(l) > textColumns || strings.IndexFunc(l, text.Hidden) >= 0 {
				rt.Fatalf("line %q", l)
			}
		}
	})
}

func TestBigLetters(t *testing.T) {
	for _, word := range []string{"DO NOT", "DRIVE"} {
		for _, r := range word {
			if r != ' ' && strings.TrimSpace(strings.Join(func() []string { l := bigLetter(r); return l[:] }(), "")) == "" {
				t.Errorf("there is no big %c", r)
			}
		}
		for _, row := range bigWord(word) {
			if len(row) > textColumns-4 {
				t.Errorf("%q is %d columns wide", word, len(row))
			}
		}
	}
}
