package summary

import (
	"bytes"
	"path/filepath"
	"strings"
	"testing"

	"garage/tundish/model"
	"garage/tundish/model/text"
)

// threeJobs are the jobs of one unit over the years, newest first, with what
// came out at each. Invented.
func threeJobs(t *testing.T, drained ...string) []*model.State {
	t.Helper()
	var unit []*model.State
	for i, out := range drained {
		lines := drainPort()
		lines[model.DrainedAmount] = []string{out + "@20C"}
		lines[model.Odometer] = []string{[]string{"60000", "90000", "120000"}[i]}
		lines[model.DripReading] = nil
		lines[model.LookedAgain] = []string{"nothing_more"}
		lines[model.Basis], lines[model.BasisWhy] = []string{"capacity"}, []string{"the book is sure"}
		if out == "520" { // the contradiction that was overruled keeps it from being accepted
			lines[model.Decision], lines[model.LeftWhy] = []string{"leave"}, []string{"a leak"}
		}
		d := newDriver(t, lines)
		d.job.Started = started.AddDate(2*i, 0, 0)
		d.at = d.job.Started
		unit = append([]*model.State{d.until(model.LeakCheck)}, unit...)
	}
	return unit
}

func historyText(t *testing.T, unit []*model.State) string {
	t.Helper()
	var b bytes.Buffer
	if err := History(&b, unit, nil); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestHistoryOfASoundUnit(t *testing.T) {
	page := historyText(t, threeJobs(t, "828", "822", "816"))
	golden(t, filepath.Join(jobsFolder, "history.txt"), []byte(page))
	if strings.Contains(page, "losing oil") {
		t.Errorf("a leak is said without one:\n%s", page)
	}
}

func TestHistorySaysALeakOnlyWhereTheFiguresBearIt(t *testing.T) {
	page := historyText(t, threeJobs(t, "828", "822", "520"))
	if !strings.Contains(page, "the unit is losing oil") {
		t.Errorf("300 ml missing is not said to be a leak:\n%s", page)
	}
}

func TestHistoryOfOneAndNone(t *testing.T) {
	if got := historyText(t, nil); got != "No job of this unit.\n" {
		t.Errorf("of no job: %q", got)
	}
	page := historyText(t, threeJobs(t, "828"))
	if !strings.Contains(page, "nothing can be told yet") {
		t.Errorf("of one job:\n%s", page)
	}
	for _, l := range strings.Split(page, "\n") {
		if text.Width(l) > textColumns {
			t.Errorf("wider than %d columns: %q", textColumns, l)
		}
	}
}
