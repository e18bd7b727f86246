package report

// This file prints jobs as CSV (RFC 4180), one a line, for a spreadsheet over the years.

import (
	"encoding/csv"
	"io"
	"strconv"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// csvJobsHead: a column u_ml is one standard uncertainty, 2u_ml two, which the
// screens show as ±. Volumes are at 20 °C.
var csvJobsHead = []string{
	"job", "date", "car", "unit", "unit_state", "phase", "capacity_ml",
	"drained_20c_ml", "drained_20c_u_ml", "drained_20c_2u_ml",
	"target_20c_ml", "target_20c_u_ml", "target_20c_2u_ml",
	"net_fill_20c_ml", "net_fill_20c_u_ml", "net_fill_20c_2u_ml",
	"right_in_100", "odometer_km", "next_date", "next_km",
}

// JobsCSV prints jobs in the order in which they come. Dates are those of the zone;
// what is not known is empty.
func JobsCSV(w io.Writer, jobs []*guide.Guide, zone *time.Location) error {
	out := csv.NewWriter(w)
	if err := out.Write(csvJobsHead); err != nil {
		return err
	}
	for _, s := range jobs {
		if err := out.Write(csvJob(s, zone)); err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

func csvJob(s *guide.Guide, zone *time.Location) []string {
	f, h := figuresOf(s), s.Head()
	row := []string{csvText(h.ID), h.Started.In(zone).Format(time.DateOnly), csvText(h.Vehicle), csvText(h.UnitName),
		h.StateWords(), h.Phase.String(), csvKnown(f.CapacityML)}
	for _, a := range []*Amount{f.Drained, f.Target, f.NetFill} {
		if a == nil {
			row = append(row, "", "", "")
			continue
		}
		row = append(row, csvNumber(a.ML), csvNumber(a.UML), csvNumber(2*a.UML))
	}
	right, odometer, day, km := "", "", "", ""
	if f.Verdict != nil {
		right = strconv.Itoa(int(100*f.Verdict.PWithin + 0.5))
	}
	if x, ok := s.Num(job.Place{Topic: job.Odometer}); ok {
		odometer = csvNumber(x)
	}
	at, dueKm := s.Due()
	if !at.IsZero() {
		day = at.In(zone).Format(time.DateOnly)
	}
	if dueKm > 0 {
		km = csvNumber(dueKm)
	}
	return append(row, right, odometer, day, km)
}

// csvKnown is a number; empty where it is not known.
func csvKnown(x *float64) string {
	if x == nil {
		return ""
	}
	return csvNumber(*x)
}
