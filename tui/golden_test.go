package tui

// This file keeps a picture in text of every sheet, before anything is answered and
// when all of it is, so that a change of them is seen. After looking each one over:
// go test ./tui -run Golden -update

import (
	"fmt"
	"maps"
	"path/filepath"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
	"garage/tundish/testdata/golden"
	"garage/tundish/tui/session/sessiontest"
	"garage/tundish/tui/theme"
)

// worth is what is typed to a line that is folded, at a sheet.
type worth struct {
	at    sheet.ID
	topic job.Topic
	said  string
}

// played is one job whose screens are kept.
type played struct {
	name   string
	typing map[job.Topic]string // beside those of the small job
	worth  []worth
	rounds int  // of correction, after which the fill is accepted
	way    bool // to set a level: kept in two sizes
}

var jobsPlayed = []played{
	{name: "drain_port"},
	{name: "us", worth: []worth{{sheet.Prepare1, job.DisplayUnits, "2"}}, typing: map[job.Topic]string{
		job.Capacity: "20.3-23", job.HoseHolds: "0.85", job.DrainedAmount: "19.9", job.LoadedAmount: "24.7", job.LeftInVessel: "0.75",
		job.EscapedAmount: "1.55", job.LoadedTemperature: "68"}},
	{name: "imperial", worth: []worth{{sheet.Prepare1, job.DisplayUnits, "3"}}, typing: map[job.Topic]string{
		job.Capacity: "600-680 ml", job.HoseHolds: "25 ml", job.DrainedAmount: "588 ml", job.LoadedAmount: "730 ml",
		job.LeftInVessel: "22 ml", job.EscapedAmount: "46 ml"}},
	{name: "dry_start", typing: map[job.Topic]string{job.PriorLevel: "6", job.CapacityMeans: "2"}},
	{name: "level_port", typing: map[job.Topic]string{
		job.FillPath: "2", job.Capacity: "1.5 L", job.CapacityMeans: "3", job.DrainedAmount: "1.42 L", job.LoadedAmount: "1.6 L",
		job.LeftInVessel: "160", job.OverflowCaught: "20"}},
	{name: "top_up", typing: map[job.Topic]string{job.LeftInVessel: "140"}, rounds: 1},
	{name: "drain_off", typing: map[job.Topic]string{job.LeftInVessel: "22", job.LoadedAmount: "850", job.LetOutAmount: "115"}, rounds: 1},
	{name: "two_jugs", worth: []worth{{sheet.Prepare2, job.ContainerMore, "1"}}},
	{name: "scale", typing: map[job.Topic]string{job.DrainedAmount: "515 g", job.LoadedAmount: "622 g"}, worth: []worth{
		{sheet.Prepare2, job.ScaleDivision, "1"}, {sheet.Prepare2, job.VesselGraduation, "."}}},
	{name: "overflow_tube", way: true, typing: with(running, job.FillPath, "1")},
	{name: "dipstick", way: true, typing: with(running, job.FillPath, "2")},
	{name: "fill_above", way: true, typing: map[job.Topic]string{job.FillPath: "3", job.LoadedAmount: "700", job.LeftInVessel: "65",
		job.OverflowCaught: "0"}},
	{name: "below_the_lip", way: true, worth: []worth{{sheet.Prepare1, job.LipBelow, "0-5"}}, typing: map[job.Topic]string{
		job.FillPath: "2", job.Capacity: "1.5 L", job.CapacityMeans: "3", job.DrainedAmount: "1.42 L", job.LoadedAmount: "1.6 L",
		job.LeftInVessel: "160", job.OverflowCaught: "0", job.LipStands: "1", job.LevelBelow: "3"}},
	{name: "hybrid", typing: map[job.Topic]string{job.DriveKind: "2", job.Filler: "2", job.VesselRating: "3"}},
}

// running is a gearbox whose level is read with the engine running.
var running = map[job.Topic]string{
	job.UnitKind: "7", job.Capacity: "9 L", job.CapacityMeans: "2", job.LevelWindow: "35-45", job.SelectorAt: "1",
	job.FirstCharge: "3100", job.StickBand: "400, 15", job.DrainedAmount: "4600", job.LoadedAmount: "3100", job.SecondPerson: "Ada",
	job.AddedRunning: "1500", job.TubeSaid: "1", job.StickFirst: "7, 8", job.LevelAtC: "40",
	job.OverflowCaught: "60", job.LeftInVessel: "0",
}

func with(typing map[job.Topic]string, topic job.Topic, said string) map[job.Topic]string {
	typing = maps.Clone(typing)
	typing[topic] = said
	return typing
}

func TestGoldenSheets(t *testing.T) {
	for _, p := range jobsPlayed {
		for _, size := range [][2]int{{60, 20}, {80, 24}, {120, 40}} {
			if size[0] == 120 && p.name != "drain_port" && !p.way || size[0] == 60 && p.way {
				continue
			}
			name := fmt.Sprintf("%s_%dx%d", p.name, size[0], size[1])
			t.Run(name, func(t *testing.T) {
				golden.Check(t, filepath.Join("testdata", name+".golden"), picturesOf(t, p, size[0], size[1], theme.Options{}))
			})
		}
	}
	for name, look := range map[string]theme.Options{"ascii": {ASCII: true}, "colour": {Colour: theme.TrueColour, Dark: true}} {
		t.Run(name, func(t *testing.T) {
			for _, size := range [][2]int{{60, 20}, {80, 24}} {
				file := fmt.Sprintf("%s_%dx%d.golden", name, size[0], size[1])
				golden.Check(t, filepath.Join("testdata", file), picturesOf(t, jobsPlayed[0], size[0], size[1], look))
			}
		})
	}
}

// picturesOf plays a job and collects its screens.
func picturesOf(t *testing.T, p played, w, h int, look theme.Options) string {
	st := newStage(t, sessiontest.NewMemory(), w, h)
	st.app.theme = theme.New(look)
	maps.Copy(st.typing, p.typing)
	st.slow = 5 * time.Minute
	var b strings.Builder
	last, knows := "", p.worth
	for range 200 {
		if !st.app.job.on {
			break
		}
		id := fmt.Sprint(st.app.job.sheet.At, st.state().Round())
		l, open := st.app.job.line()
		switch {
		case id != last:
			st.keep(&b, fmt.Sprintf("%v %d", st.app.job.sheet.ID, st.app.job.sheet.Round))
		case !open:
			st.keep(&b, "complete")
		case l.Place.Topic == job.OilRunning && l.Place.Item == 0:
			st.typed("38")
			st.enter()
			st.keep(&b, "oil at 38")
		case isPush(l) && l.Place.Item == 0 && st.app.job.field.Text == "":
			st.pushes(&b)
		}
		last = id
		for len(knows) > 0 && knows[0].at == st.app.job.sheet.ID && st.has(knows[0].topic) {
			st.know(knows[0].topic, knows[0].said)
			knows = knows[1:]
		}
		if st.app.job.sheet.ID == sheet.Verdict {
			st.typing[job.Decision] = "6"
			if st.state().Round() < p.rounds {
				st.typing[job.Decision] = "3"
				st.typing[job.LoadedAmount], st.typing[job.LeftInVessel], st.typing[job.EscapedAmount] = "250", "45", "80"
			}
		}
		before := st.at()
		st.answer()
		if st.at() == before {
			t.Fatalf("%s: stuck at %s\n%s", p.name, before, st.screen())
		}
	}
	st.keep(&b, "done")
	return b.String()
}

// has reports whether a topic is on the sheet.
func (st *stage) has(topic job.Topic) bool {
	_, ok := st.app.job.goTo(job.Place{Topic: topic}, st.now)
	return ok
}

// know types a line that is folded, or is on offer.
func (st *stage) know(topic job.Topic, said string) {
	st.t.Helper()
	to, ok := st.app.job.goTo(job.Place{Topic: topic}, st.now)
	if !ok {
		st.t.Fatalf("%v is not on the sheet\n%s", topic, st.screen())
	}
	st.app.job = to
	st.typed(said)
	if typable(st.line()) {
		st.enter()
	}
}

// pushes types a reading of the push, and takes it back.
func (st *stage) pushes(b *strings.Builder) {
	half := st.state().Units().BareVolume(300)
	if st.typing[job.FillReading] == "" && st.state().Path() != job.LevelPort {
		st.typed(half)
		st.keep(b, "pushing, "+half+" typed")
		st.press(tea.KeyCtrlU)
	}
}

func (st *stage) keep(b *strings.Builder, name string) {
	fmt.Fprintf(b, "=== %s\n", name)
	for _, line := range strings.Split(st.app.View(), "\n") {
		fmt.Fprintln(b, strings.TrimRight(line, " "))
	}
}

// The screens beside the sheets of a clean job: a stop, a doubted unit, a break, what
// is worth knowing, from far, the second job.
func TestGoldenMoments(t *testing.T) {
	for _, size := range [][2]int{{60, 20}, {80, 24}, {120, 40}} {
		name := fmt.Sprintf("moments_%dx%d", size[0], size[1])
		t.Run(name, func(t *testing.T) {
			golden.Check(t, filepath.Join("testdata", name+".golden"), momentsOf(t, size[0], size[1]))
		})
	}
}

func momentsOf(t *testing.T, w, h int) string {
	var b strings.Builder
	mem := sessiontest.NewMemory()
	open := func() *stage {
		st := newStage(t, mem, w, h)
		st.app.theme, st.slow = theme.New(theme.Options{}), 9*time.Minute
		return st
	}
	st := open().upTo(sheet.Prepare2)
	st.typed("+")
	st.keep(&b, "worth knowing")
	st.typed("/")
	st.upToLine(job.MagnetLook)
	st.typed(".")
	st.keep(&b, "from far")
	st.typed(".")
	st.upToLine(job.DrainedAmount)
	st.typed("0.588")
	st.enter()
	st.keep(&b, "unit doubted")
	st.typed("/*430")
	st.enter()
	st.keep(&b, "stop")
	st.typed(string(st.line().Options[0].Key))
	st.keep(&b, "type it anew")
	st.typed("588")
	st.enter()
	st.upToLine(job.LoadedAmount)
	st.typed("7")
	st.pauses()
	st = open()
	st.keep(&b, "resume")
	for st.app.job.sheet.ID == sheet.Resume {
		st.typing[job.ResumedPlug] = "3"
		st.answer()
	}
	st.keep(&b, "as it was typed")
	st.press(tea.KeyPgUp)
	st.keep(&b, "looking back")
	st.enter()
	st.upToLine(job.FillReading)
	st.typed(".")
	st.keep(&b, "push from far")
	st.typed(".")
	st.upTo(sheet.Verdict)
	st.typed("+")
	st.keep(&b, "how it was worked out")
	st.typed("/")
	st.typed("*")
	st.keep(&b, "menu")
	st.typed("5")
	st.enter()
	st.keep(&b, "help")
	st.typed("/")
	st.upTo(sheet.Later)
	for st.slow = 24 * time.Hour; st.app.job.on; {
		st.answer()
	}
	st = open()
	st.typed("2")
	st.keep(&b, "which job")
	st.enter()
	st.keep(&b, "second job")
	return b.String()
}
