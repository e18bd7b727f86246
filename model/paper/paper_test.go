package paper

// This file prints jobs and compares the page with what the screen says.

import (
	"bytes"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
	"garage/tundish/model/text"
	"garage/tundish/testdata/golden"
)

// prepared is a first job up to where the car goes up.
func prepared() *guide.Guide {
	at := time.Date(2026, 4, 18, 9, 0, 0, 0, time.UTC)
	entries := []job.Entry{
		{Topic: job.Vehicle, Value: job.Value{Text: "blue hatch"}},
		{Topic: job.UnitKind, Value: job.Value{Choice: "final_drive"}},
		{Topic: job.UnitName, Value: job.Value{Text: "rear axle"}},
		{Topic: job.DriveKind, Value: job.Value{Choice: "combustion"}},
		{Topic: job.FillPath, Value: job.Value{Choice: "drain_only"}},
		{Topic: job.Capacity, Value: job.Value{Number: 600, High: 680, Unit: job.DimML}},
		{Topic: job.CapacityMeans, Value: job.Value{Choice: "refill"}},
		{Topic: job.DryStart, Value: job.Value{Choice: "holds_oil"}},
		{Topic: job.PriorLevel, Value: job.Value{Choice: "believed"}},
		{Topic: job.OilHistory, Value: job.Value{Choice: "undisturbed"}},
		{Topic: job.Filler, Value: job.Value{Choice: "hand_pump"}},
		{Topic: job.HoseHolds, Value: job.Value{Number: 25, Unit: job.DimML}},
		{Topic: job.VesselGraduation, Value: job.Value{Number: 10, Unit: job.DimML}},
		{Topic: job.ContainerName, Value: job.Value{Text: "jug"}},
		{Topic: job.ContainerGraduation, Value: job.Value{Number: 10, Unit: job.DimML}},
		{Topic: job.AtHand},
	}
	for i := range entries {
		entries[i].Seq, entries[i].At = i+1, at
	}
	return guide.Fold(job.Job{ID: "b7k2", Started: at, Entries: entries}, guide.Offers{})
}

// The printed pages are regression files: nothing in them is published.
func TestPagesAsPrinted(t *testing.T) {
	hybrid := changed(t, prepared(), job.DriveKind, job.Value{Choice: "hybrid"})
	dry := changed(t, prepared(), job.DryStart, job.Value{Choice: job.DryUnit})
	level := changed(t, changed(t, prepared(), job.FillPath, job.Value{Choice: "level_port"}), job.CapacityMeans,
		job.Value{Choice: "level"})
	for name, g := range map[string]*guide.Guide{"drain-port": prepared(), "hybrid": hybrid, "dry-start": dry, "level-port": level} {
		for _, ending := range []string{".txt", ".html"} {
			var b bytes.Buffer
			if err := Write(&b, ending == ".html", g, g.Updated); err != nil {
				t.Fatal(err)
			}
			golden.Check(t, filepath.Join("../../testdata/paper", name+ending), b.String())
			if ending == ".txt" {
				for line := range strings.Lines(b.String()) {
					if w := text.Width(strings.TrimSuffix(line, "\n")); w > columns {
						t.Errorf("%s: %d columns: %s", name, w, line)
					}
				}
			}
		}
	}
}

// changed is a job with another answer to a question.
func changed(t *testing.T, g *guide.Guide, topic job.Topic, v job.Value) *guide.Guide {
	t.Helper()
	place := job.Place{Topic: topic}
	return g.With(job.Entry{Seq: g.Count + 1, At: g.Updated, Topic: topic, Strikes: g.SeqOf(place), Value: v})
}

// Whatever is read within a row of the page, the screen says the same: what to pour in
// and where the push ends. Below and above all rows it stops.
func TestThePageSaysWhatTheScreenWouldSay(t *testing.T) {
	g := prepared()
	loads := loads(g)
	if len(loads) < 3 {
		t.Fatalf("%d rows", len(loads))
	}
	rapid.Check(t, func(t *rapid.T) {
		ml := float64(rapid.IntRange(200, 1000).Draw(t, "came out"))
		out := measured(g, ml)
		s, _ := sheet.Now(out, out.Updated)
		i := slices.IndexFunc(loads, func(x load) bool { return ml >= x.LowML && ml <= x.HighML })
		if i < 0 {
			if at := sheet.Of(out, sheet.At{ID: sheet.Measure}, out.Updated); at.ID != sheet.Stop && math.Abs(ml-loads[0].LowML) > 10 &&
				math.Abs(ml-loads[len(loads)-1].HighML) > 10 {
				t.Fatalf("%g ml: the page says stop, the guide %v", ml, s.ID)
			}
			return
		}
		plan, err := out.Plan(0)
		if err != nil {
			t.Fatal(err)
		}
		stop, _ := out.StopMarkML(0)
		// A row holds for readings one step of the vessel's marks apart: the load is at most
		// one mark off, and the push ends lower or higher with it.
		if pour := math.Abs(plan.PreloadML - loads[i].PourML); pour > 10+1e-9 {
			t.Fatalf("%g ml: the page says %g, the guide %g", ml, loads[i].PourML, plan.PreloadML)
		}
		if off := (loads[i].PourML - loads[i].StopML) - (plan.PreloadML - stop); math.Abs(off) > 8 {
			t.Fatalf("%g ml: by the page %g ml more is pushed in than by the guide", ml, off)
		}
	})
}

func measured(g *guide.Guide, ml float64) *guide.Guide {
	n := g.Count
	return g.With(job.Entry{Seq: n + 1, At: g.Updated, Topic: job.DrainedAmount, Value: job.Value{Number: ml, Unit: job.DimML}},
		job.Entry{Seq: n + 2, At: g.Updated, Topic: job.DrainedMore, Value: job.Value{Choice: job.MoreDone}})
}

// Every caution of the screen is on the page, with the same digit.
func TestThePageHasEveryCautionWithItsDigit(t *testing.T) {
	g := prepared()
	var b bytes.Buffer
	if err := Write(&b, false, g, g.Updated); err != nil {
		t.Fatal(err)
	}
	page := strings.Join(strings.Fields(b.String()), " ")
	n := 0
	for _, x := range sheets {
		for _, l := range sheet.Of(g, sheet.At{ID: x.id}, g.Updated).Lines {
			if l.Kind == sheet.Confirm {
				n++
				if want := string(l.Key) + " " + strings.Join(strings.Fields(l.Ask), " "); !strings.Contains(page, want) {
					t.Errorf("%v: %q is not on the page", x.id, want)
				}
			}
		}
	}
	if n < 10 {
		t.Errorf("only %d cautions", n)
	}
}

// A name is text, whatever it looks like.
func TestHostileNamesAreText(t *testing.T) {
	g := changed(t, prepared(), job.Vehicle, job.Value{Text: "<script>x</script>\x1b[2J"})
	var b bytes.Buffer
	if err := Write(&b, true, g, g.Updated); err != nil {
		t.Fatal(err)
	}
	if strings.Contains(b.String(), "<script>") || strings.Contains(b.String(), "\x1b") {
		t.Error("a name runs, or steers the terminal")
	}
}
