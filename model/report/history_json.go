package report

// This file holds the jobs of one unit over the years as JSON.

import (
	"math"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/measure"
	"garage/tundish/model/verdict"
)

// UnitHistory is the jobs of one unit, to be printed as JSON. Amounts are at 20 °C, each with its
// standard uncertainty; null is what cannot be told.
type UnitHistory struct {
	Vehicle string    `json:"vehicle"`
	Unit    string    `json:"unit"`
	Jobs    []unitJob `json:"jobs"` // newest first
	Leak    unitLeak  `json:"leak"`
}

type unitJob struct {
	Job        string            `json:"job"`
	Started    time.Time         `json:"started"`
	UnitState  verdict.UnitState `json:"unit_state"`
	OdometerKm *float64          `json:"odometer_km"`
	Drained    *Amount           `json:"drained_20c"`
	NetFill    *Amount           `json:"net_fill_20c"`
	Missing    *Amount           `json:"missing_20c"` // since the job before; below 0: more came out than went in
	SinceKm    *float64          `json:"since_km"`
	Per1000Km  *Amount           `json:"missing_20c_per_1000_km"`
	Sign       *string           `json:"sign"` // what the missing oil is a sign of
}

type unitLeak struct {
	Sign  *string `json:"sign"`
	Total *Amount `json:"missing_20c"`
	Jobs  int     `json:"jobs"` // how many it rests on
	Text  string  `json:"text"`
}

// HistoryOf is the history of a unit from its jobs, newest first.
func HistoryOf(unit []*guide.Guide) UnitHistory {
	points := verdict.History(guide.Assessments(unit))
	leaks := verdict.Leaks(points)
	r := UnitHistory{Vehicle: unit[0].Vehicle(), Unit: unit[0].UnitName(), Leak: unitLeak{Jobs: leaks.Jobs,
		Text: leaks.Text(unit[0].Units())}}
	if leaks.Jobs > 0 {
		r.Leak.Sign, r.Leak.Total = new(leaks.Sign.String()), amountWhere(true, leaks.Total.ML)
	}
	for i, p := range points {
		job := unitJob{
			Job: p.JobID, Started: p.Date, UnitState: unit[i].UnitState(), OdometerKm: aboveZero(p.Km), SinceKm: aboveZero(p.SinceKm),
			Drained: amountWhere(p.Drained, p.DrainedML), NetFill: amountWhere(p.Proven, p.NetML),
			Missing: amountWhere(p.Known, p.LossML), Per1000Km: amountWhere(p.PerKm, p.LossPer1000Km),
		}
		if p.Known {
			job.Sign = new(p.Sign.String())
		}
		r.Jobs = append(r.Jobs, job)
	}
	return r
}

// amountWhere is an amount for JSON; null where it is not known.
func amountWhere(known bool, v measure.Value) *Amount {
	if !known {
		return nil
	}
	return AmountOf(v)
}

// aboveZero is a number for JSON; null where it is not known.
func aboveZero(x float64) *float64 {
	if !(x > 0) || math.IsInf(x, 1) {
		return nil
	}
	return &x
}
