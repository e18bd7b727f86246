package report

import (
	"bytes"
	"encoding/csv"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// One line a job, with the figures of its file; 2u is what the screens show as ±.
func TestJobsAsCSVAreALineEach(t *testing.T) {
	whole := guide.Fold(wholeDrainPort(t), guide.Offers{})
	begun := guide.Fold(job.Job{ID: "=cmd", Started: whole.Started}, guide.Offers{})
	var out bytes.Buffer
	if err := JobsCSV(&out, []*guide.Guide{whole, begun}, time.UTC); err != nil {
		t.Fatal(err)
	}
	rows, err := csv.NewReader(&out).ReadAll()
	if err != nil || len(rows) != 3 {
		t.Fatalf("%d lines, %v", len(rows), err)
	}
	cell := func(row int, name string) string { return rows[row][slices.Index(csvJobsHead, name)] }
	f := figuresOf(whole)
	for name, want := range map[string]float64{
		"drained_20c_ml": f.Drained.ML, "drained_20c_u_ml": f.Drained.UML, "drained_20c_2u_ml": 2 * f.Drained.UML,
		"net_fill_20c_ml": f.NetFill.ML, "net_fill_20c_2u_ml": 2 * f.NetFill.UML, "target_20c_u_ml": f.Target.UML,
		"capacity_ml": 900, "odometer_km": 123456, "next_km": 183456,
	} {
		if got, err := strconv.ParseFloat(cell(1, name), 64); err != nil || got-want > 1e-6 || want-got > 1e-6 {
			t.Errorf("%s is %q, want %v", name, cell(1, name), want)
		}
	}
	if cell(1, "car") != "blue estate" || !strings.HasPrefix(cell(1, "unit_state"), "ACCEPTED") || cell(1, "date") != "2026-04-18" ||
		cell(1, "next_date") != "2029-04-18" || cell(1, "right_in_100") != "84" {
		t.Errorf("%q", rows[1])
	}
	if cell(2, "job") != "'=cmd" || cell(2, "drained_20c_ml") != "" || cell(2, "net_fill_20c_2u_ml") != "" || cell(2, "odometer_km") != "" {
		t.Errorf("%q", rows[2])
	}
}

// Times are those of the zone and say so (RFC 3339); a day is the zone's.
func TestCSVTellsItsZone(t *testing.T) {
	stored := wholeDrainPort(t)
	s := guide.Fold(stored, guide.Offers{})
	west := time.FixedZone("west", -10*3600)
	var one, list bytes.Buffer
	if err := Write(&one, CSV, s, stored, Options{Zone: west}); err != nil {
		t.Fatal(err)
	}
	if err := JobsCSV(&list, []*guide.Guide{s}, west); err != nil {
		t.Fatal(err)
	}
	read := func(b *bytes.Buffer) [][]string {
		t.Helper()
		rows, err := csv.NewReader(b).ReadAll()
		if err != nil || len(rows) < 2 {
			t.Fatalf("%d lines, %v", len(rows), err)
		}
		return rows
	}
	rows := read(&one)
	for _, row := range rows[1:] {
		seq, err := strconv.Atoi(row[slices.Index(rows[0], "line")])
		if err != nil || seq < 1 || seq > len(stored.Entries) {
			t.Fatalf("line %q, %v", row, err)
		}
		said, want := row[slices.Index(rows[0], "at")], stored.Entries[seq-1].At.Truncate(time.Second)
		if at, err := time.Parse(time.RFC3339, said); err != nil || !strings.HasSuffix(said, "-10:00") || !at.Equal(want) {
			t.Errorf("entry %d says %q, %v; want %v", seq, said, err, want)
		}
	}
	if row := read(&list)[1]; row[slices.Index(csvJobsHead, "date")] != "2026-04-17" { // 08:00 UTC of the 18th
		t.Errorf("the day is %q", row)
	}
}
