package report

import (
	"bytes"
	"fmt"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/jobtest"
	"garage/tundish/model/text"
	"garage/tundish/testdata/golden"
)

// threeJobs are the jobs of one unit over the years, newest first, with what
// came out at each. Invented.
func threeJobs(t *testing.T, drained ...string) []*guide.Guide {
	t.Helper()
	var unit []*guide.Guide
	for i, out := range drained {
		lines := jobtest.DrainPort()
		lines[job.DrainedAmount] = []string{out + "@20C"}
		lines[job.Odometer] = []string{[]string{"60000", "90000", "120000"}[i]}
		lines[job.DripReading] = nil
		lines[job.LookedAgain] = []string{"nothing_more"}
		lines[job.Basis], lines[job.BasisWhy] = []string{"capacity"}, []string{"the book is sure"}
		if out == "520" { // the contradiction that was overruled keeps it from being accepted
			lines[job.Decision], lines[job.LeftWhy] = []string{"leave"}, []string{"a leak"}
		}
		d := jobtest.New(t, lines)
		d.Job.ID, d.Job.Started = fmt.Sprintf("job-%d", i+1), jobtest.Started.AddDate(2*i, 0, 0)
		d.At = d.Job.Started
		if i > 0 {
			d.Offers.Before = unit[0]
		}
		unit = append([]*guide.Guide{d.Until(job.LeakCheck)}, unit...)
	}
	return unit
}

func historyText(t *testing.T, unit []*guide.Guide) string {
	t.Helper()
	var b bytes.Buffer
	if err := History(&b, unit, time.UTC); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func TestHistoryOfASoundUnit(t *testing.T) {
	page := historyText(t, threeJobs(t, "828", "822", "816"))
	golden.Check(t, filepath.Join(jobsFolder, "history.txt"), page)
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

func TestHistoryOfOne(t *testing.T) {
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
