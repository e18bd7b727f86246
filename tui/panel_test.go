package tui

// This file tests that what must be seen is seen, on small screens and in jobs
// in which much is found out.

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"garage/tundish/model"
)

// troubled are small jobs in which much is found out: by the answers that make
// it so. Invented figures.
func troubled() map[string]map[model.Topic]string {
	with := func(changes map[model.Topic]string) map[model.Topic]string {
		answers := map[model.Topic]string{}
		for t, typed := range typedFor {
			answers[t] = typed
		}
		for t, typed := range changes {
			answers[t] = typed
		}
		return answers
	}
	return map[string]map[model.Topic]string{
		"small job":   with(nil),
		"level port":  levelPort,
		"far below":   with(map[model.Topic]string{model.DrainedAmount: "200", model.LookedAgain: "3", model.BasisWhy: "lost"}),
		"far above":   with(map[model.Topic]string{model.DrainedAmount: "800", model.LookedAgain: "6", model.BasisWhy: "the book is wrong"}),
		"wrong box":   with(map[model.Topic]string{model.DrainedAmount: "1900", model.LookedAgain: "5", model.WrongBoxDecision: "2", model.BasisWhy: "it is"}),
		"chips":       with(map[model.Topic]string{model.MagnetLook: "3", model.ChipsDecision: "2"}),
		"milky":       with(map[model.Topic]string{model.OilLook: "3"}),
		"short load":  with(map[model.Topic]string{model.LoadedAmount: "300", model.LeftWhy: "no more oil", model.Decision: "2"}),
		"guessed":     with(map[model.Topic]string{model.EscapedHow: "3", model.LeftWhy: "it is late", model.Decision: "3"}),
		"hot oil":     with(map[model.Topic]string{model.OilTemperature: "55", model.HotOilGoOn: "2"}),
		"air, adapts": with(map[model.Topic]string{model.AirInLine: "2", model.EscapedAtCap: "130", model.WasherFitted: "2", model.Decision: "2", model.LeftWhy: "x"}),
		"imperial": with(map[model.Topic]string{
			model.DisplayUnits: "3", model.Capacity: "21.1", model.DrainedAmount: "12", model.LookedAgain: "3", model.BasisWhy: "lost",
			model.LoadedAmount: "22", model.EscapedAmount: "1.8",
		}),
		"weeping":  with(map[model.Topic]string{model.LeakCheck: "2", model.LeakedHow: "1", model.LeakedAmount: "30"}),
		"pressure": with(map[model.Topic]string{model.Filler: "2"}),
	}
}

// What must be seen is on the screen whole, and so is every answer that can be
// chosen; the smallest screen may put the rest one key away, and says so.
func TestWhatMustBeSeenIsSeen(t *testing.T) {
	for name, answers := range troubled() {
		for _, size := range [][2]int{{60, 20}, {80, 24}} {
			st := newStage(t, newMemory(), size[0], size[1])
			st.answers = answers
			for range 120 {
				if st.app.guide.finished {
					break
				}
				st.seesAllThatMust(name)
				st.answerOne()
			}
		}
	}
}

// Where it weeps nothing is said to be right until what it lost is measured.
func TestNoVerdictWhileItWeeps(t *testing.T) {
	st := newStage(t, newMemory(), 120, 40)
	st.answers = troubled()["weeping"]
	for _, topic := range []model.Topic{model.WasherRenewed, model.LeakedHow, model.LeakedAmount} {
		st.upTo(topic)
		st.sees("It weeps")
		if strings.Contains(st.screen(), "VERDICT") {
			t.Errorf("%v: a verdict while it weeps\n%s", topic, st.screen())
		}
	}
	st.upTo(model.Decision)
	st.sees("VERDICT")
}

// In a second round the gauge shows what is to be loaded in that round.
func TestGaugeShowsTheLoadOfTheRound(t *testing.T) {
	st := newStage(t, newMemory(), 120, 40)
	st.answers = troubled()["short load"]
	st.answers[model.Decision] = "1"
	st.upTo(model.Decision)
	st.answerOne()
	st.upTo(model.PlanAccepted)
	plan, err := st.app.guide.state.Plan(1)
	if err != nil {
		t.Fatal(err)
	}
	if d := gaugeData(st.app.scene(120, 40)); d.Planned.ML != plan.PreloadML || !d.Planned.Known {
		t.Errorf("to load %v ml, want %v", d.Planned.ML, plan.PreloadML)
	}
}

// Among the sums is the verdict that stands: what is loaded for a correction is
// not in the unit, and while the unit is open nothing is judged.
func TestSumsJudgeWhatIsInTheUnit(t *testing.T) {
	st := newStage(t, newMemory(), 120, 40)
	st.answers = troubled()["short load"]
	st.answers[model.Decision] = "1"
	judged := func() string {
		text := ansi.Strip(strings.Join(sumsOverlay{}.lines(st.app.scene(120, 1000)), "\n"))
		_, text, _ = strings.Cut(text, "What is in the unit by the ledger")
		return text
	}
	st.upTo(model.Decision)
	first := judged()
	st.answerOne()
	for _, row := range []struct {
		topic model.Topic
		want  string
	}{{model.AdapterIn, first}, {model.FillReading, "once what is left"}} {
		st.upTo(row.topic)
		if got := judged(); !strings.Contains(first, "How far off") || !strings.Contains(got, row.want) || strings.Contains(got, "How far off") != (row.want == first) {
			t.Errorf("at %v: %q, want %q", row.topic, got, row.want)
		}
	}
}

func (st *stage) seesAllThatMust(name string) {
	st.t.Helper()
	screen := st.screen()
	sc := st.app.scene(st.app.width, st.app.height)
	for _, b := range panelOf(sc) {
		for _, line := range b.lines {
			if want := strings.TrimSpace(ansi.Strip(line)); b.must && !strings.Contains(screen, want) && !st.underSums(screen, want) {
				st.t.Errorf("%s, %dx%d, %v: not on the screen: %q\n%s", name, st.app.width, st.app.height, st.app.guide.answer.prompt.Topic, want, screen)
			}
		}
	}
	for i, o := range st.app.guide.answer.choices {
		if !strings.Contains(strings.Join(strings.Fields(screen), " "), o.Label) {
			st.t.Errorf("%s, %dx%d: answer %d is not on the screen: %s\n%s", name, st.app.width, st.app.height, i+1, o.Label, screen)
		}
	}
}

// underSums says whether the smallest screen says that the rest is elsewhere,
// and a text is to be found there.
func (st *stage) underSums(screen, want string) bool {
	if st.app.height > minHeight || !strings.Contains(screen, "the rest is under /") {
		return false
	}
	over := st.app.scene(st.app.width, 1000)
	return strings.Contains(ansi.Strip(strings.Join(sumsOverlay{}.lines(over), "\n")), want)
}
