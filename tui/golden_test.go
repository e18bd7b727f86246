package tui

// This file keeps a picture in text of the screens of every step, for both
// fill paths and two sizes, so that a change of them is seen. After looking
// each one over: go test ./tui -run Golden -update

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"garage/tundish/model/job"
)

var update = flag.Bool("update", false, "write the golden screens anew")

// shownAt are the questions whose screens are kept: at least one a step, and
// those that an owner looks at longest.
var shownAt = []job.Topic{
	job.DisplayUnits, job.Capacity, job.AtHand,
	job.StandsAndShake, job.WayInProved,
	job.OilTemperature, job.DripReading, job.MagnetLook,
	job.DrainedAmount, job.DrainedMore,
	job.PlanAccepted, job.LoadedAmount,
	job.FillReading, job.LevelWeeps, job.LeftInVessel,
	job.Capped, job.EscapedAtCap,
	job.PlugSeated, job.EscapedAmount, job.TightenedHow,
	job.Decision, job.TagOff, job.LeakCheck,
}

// levelPort is a job with a fill port, else as the small job.
var levelPort = map[job.Topic]string{
	job.FillPath: "2", job.Capacity: "1.5 L", job.CapacityMeans: "3", job.OilTemperature: "40",
	job.DrainedAmount: "1.42 L", job.LoadedAmount: "1.6 L", job.LeftInVessel: "160", job.OverflowCaught: "20",
}

// dryStart is the small job on a unit that was overhauled: 675 loaded, 25 kept
// by the hose, 50 escape, so 600 go in.
var dryStart = map[job.Topic]string{
	job.Capacity: "600", job.HoseBore: "4.6066", job.HoseLength: "1.5", job.DryStart: "2",
	job.LoadedAmount: "675", job.LeftInVessel: "0", job.EscapedAtCap: "0", job.EscapedAmount: "50",
}

func TestGoldenScreens(t *testing.T) {
	for _, path := range []struct {
		name    string
		answers map[job.Topic]string
	}{{"drain_port", typedFor}, {"level_port", levelPort}, {"dry_start", dryStart}} {
		for _, size := range [][2]int{{80, 24}, {120, 40}} {
			name := fmt.Sprintf("%s_%dx%d", path.name, size[0], size[1])
			t.Run(name, func(t *testing.T) {
				compare(t, filepath.Join("testdata", name+".golden"), screensOf(t, path.answers, size[0], size[1]))
			})
		}
	}
}

// screensOf does a job and collects the screens to keep.
func screensOf(t *testing.T, answers map[job.Topic]string, w, h int) string {
	st := newStage(t, newMemory(), w, h)
	st.answers = answers
	var b strings.Builder
	for range 300 {
		g := st.app.guide
		if g.finished {
			break
		}
		for _, topic := range shownAt {
			if g.answer.prompt.Topic == topic {
				st.keep(&b, topic.String())
			}
		}
		st.answerOne()
	}
	st.keep(&b, "finished")
	return b.String()
}

func (st *stage) keep(b *strings.Builder, name string) {
	fmt.Fprintf(b, "=== %s\n", name)
	for _, line := range strings.Split(st.screen(), "\n") {
		fmt.Fprintln(b, strings.TrimRight(line, " "))
	}
}

func compare(t *testing.T, file, got string) {
	t.Helper()
	if *update {
		if err := os.MkdirAll(filepath.Dir(file), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	want, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	if got == string(want) {
		return
	}
	g, w := strings.Split(got, "\n"), strings.Split(string(want), "\n")
	for i := range max(len(g), len(w)) {
		if i >= len(g) || i >= len(w) || g[i] != w[i] {
			t.Fatalf("%s, line %d:\n got %q\nwant %q\nlook it over, then: go test ./tui -run Golden -update", file, i+1, at(g, i), at(w, i))
		}
	}
}

func at(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return ""
}
