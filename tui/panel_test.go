package tui

// This file tests that what must be seen is seen, on small screens and in jobs
// in which much is found out.

import (
	"strings"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"garage/tundish/model/job"
)

// troubled are small jobs in which much is found out: by the answers that make
// it so. Invented figures.
func troubled() map[string]map[job.Topic]string {
	with := func(changes map[job.Topic]string) map[job.Topic]string {
		answers := map[job.Topic]string{}
		for t, typed := range typedFor {
			answers[t] = typed
		}
		for t, typed := range changes {
			answers[t] = typed
		}
		return answers
	}
	return map[string]map[job.Topic]string{
		"small job":  with(nil),
		"level port": levelPort,
		"far below":  with(map[job.Topic]string{job.DrainedAmount: "200", job.LookedAgain: "3", job.BasisWhy: "lost"}),
		"far above":  with(map[job.Topic]string{job.DrainedAmount: "800", job.LookedAgain: "6", job.BasisWhy: "the book is wrong"}),
		"wrong box": with(map[job.Topic]string{job.DrainedAmount: "1900", job.LookedAgain: "5", job.WrongBoxDecision: "2",
			job.BasisWhy: "it is"}),
		"chips":      with(map[job.Topic]string{job.MagnetLook: "3", job.ChipsDecision: "2"}),
		"milky":      with(map[job.Topic]string{job.OilLook: "3"}),
		"short load": with(map[job.Topic]string{job.LoadedAmount: "300", job.LeftWhy: "no more oil", job.Decision: "2"}),
		"guessed":    with(map[job.Topic]string{job.EscapedHow: "3", job.LeftWhy: "it is late", job.Decision: "3"}),
		"hot oil":    with(map[job.Topic]string{job.OilTemperature: "55", job.HotOilGoOn: "2"}),
		"air, adapts": with(map[job.Topic]string{job.AirInLine: "2", job.EscapedAtCap: "130", job.WasherFitted: "2",
			job.Decision: "2", job.LeftWhy: "x"}),
		"imperial": with(map[job.Topic]string{
			job.DisplayUnits: "3", job.Capacity: "21.1", job.DrainedAmount: "12", job.LookedAgain: "3", job.BasisWhy: "lost",
			job.LoadedAmount: "22", job.EscapedAmount: "1.8",
		}),
		"weeping":  with(map[job.Topic]string{job.LeakCheck: "2", job.LeakedHow: "1", job.LeakedAmount: "30"}),
		"pressure": with(map[job.Topic]string{job.Filler: "2"}),
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
	for _, topic := range []job.Topic{job.WasherRenewed, job.LeakedHow, job.LeakedAmount} {
		st.upTo(topic)
		st.sees("It weeps")
		if strings.Contains(st.screen(), "VERDICT") {
			t.Errorf("%v: a verdict while it weeps\n%s", topic, st.screen())
		}
	}
	st.upTo(job.Decision)
	st.sees("VERDICT")
}

// Among the sums is the verdict that stands: what is loaded for a correction is
// not in the unit, and while the unit is open nothing is judged.
func TestSumsJudgeWhatIsInTheUnit(t *testing.T) {
	st := newStage(t, newMemory(), 120, 40)
	st.answers = troubled()["short load"]
	st.answers[job.Decision] = "1"
	judged := func() string {
		text := ansi.Strip(strings.Join(sumLines(st.app.scene(120, 1000)), "\n"))
		_, text, _ = strings.Cut(text, "What is in the unit by the ledger")
		return text
	}
	st.upTo(job.Decision)
	first := judged()
	st.answerOne()
	for _, row := range []struct {
		topic job.Topic
		want  string
	}{{job.AdapterIn, first}, {job.FillReading, "once what is left"}} {
		st.upTo(row.topic)
		if got := judged(); !strings.Contains(first, "How far off") || !strings.Contains(got, row.want) ||
			strings.Contains(got, "How far off") != (row.want == first) {
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
				st.t.Errorf("%s, %dx%d, %v: not on the screen: %q\n%s", name, st.app.width, st.app.height, st.app.guide.answer.prompt.Topic,
					want, screen)
			}
		}
	}
	for i, o := range st.app.guide.answer.choices {
		if !strings.Contains(strings.Join(strings.Fields(screen), " "), o.Label) {
			st.t.Errorf("%s, %dx%d: answer %d is not on the screen: %s\n%s", name, st.app.width, st.app.height, i+1, o.Label, screen)
		}
	}
}

// underSums reports whether the smallest screen says that the rest is elsewhere,
// and a text is to be found there.
func (st *stage) underSums(screen, want string) bool {
	if st.app.height > minHeight || !strings.Contains(screen, "the rest is under /") {
		return false
	}
	over := st.app.scene(st.app.width, 1000)
	return strings.Contains(ansi.Strip(strings.Join(sumLines(over), "\n")), want)
}
