package summary

import (
	"bytes"
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"garage/tundish/model"
	"garage/tundish/model/text"
)

func tagAs(t *testing.T, html bool, s *model.State) string {
	t.Helper()
	var b bytes.Buffer
	if err := Tag(&b, html, s, Options{}); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestTagSaysWhatIsWrong(t *testing.T) {
	at := func(lines script, until model.Topic) *model.State { return newDriver(t, lines).until(until) }
	left := drainPort()
	left[model.LeftInVessel] = []string{"500"}
	left[model.BottlesOpened], left[model.VesselWeighedFull] = []string{"-"}, []string{"-"}
	left[model.Decision], left[model.LeftWhy] = []string{"leave"}, []string{"no oil left"}
	dry := drainPort()
	dry[model.DryStart] = []string{"dry"}
	named := drainPort()
	named[model.UnitName] = []string{"Gertrude"}
	d := newDriver(t, named)
	d.until(model.DrainedAmount)
	chips := drainPort()
	chips[model.MagnetLook] = []string{"chips"}
	tests := []struct {
		name  string
		s     *model.State
		wants []string
	}{
		{"ahead", at(drainPort(), model.TagAndKey), []string{"NO OIL IN REAR AXLE", "since ____"}},
		{"empty", at(drainPort(), model.DrainedAmount), []string{"NO OIL IN REAR AXLE", "since 18 April 2026, 08:31 UTC", "DO NOT TURN WHEELS OR GEARS", "job 20260418-700000"}},
		{"dry", at(dry, model.StandsAndShake), []string{"NO OIL IN REAR AXLE", "dry since before this job"}},
		{"unproven", at(drainPort(), model.Decision), []string{"OIL IN REAR AXLE NOT PROVEN"}},
		{"left too low", at(left, model.WasteOil), []string{"OIL IN REAR AXLE NOT RIGHT YET"}},
		{"shared, its unit's name left out", model.Fold(Share(d.job), model.Offers{}), []string{"NO OIL IN THE UNIT"}},
		{"stopped for chips", at(chips, model.NoTopic), []string{"NO OIL IN REAR AXLE"}},
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
	if err := Tag(&bytes.Buffer{}, false, waiting(t), Options{}); !errors.Is(err, ErrNoTag) {
		t.Errorf("error %v, want ErrNoTag", err)
	}
}

func TestTagShowsTextAsText(t *testing.T) {
	d := newDriver(t, drainPort())
	d.until(model.DrainedAmount)
	rapid.Check(t, func(rt *rapid.T) {
		hostile := anyHostile().Draw(rt, "text")
		s := model.Fold(poisoned(d.job, hostile), model.Offers{})
		want, _ := shape(rt, tagAs(t, true, model.Fold(poisoned(d.job, "plain"), model.Offers{})))
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
