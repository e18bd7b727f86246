package main

// This file shows the jobs of one unit over the years.

import (
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/measure"
	"garage/tundish/model/report"
	"garage/tundish/model/verdict"
)

type historyCommand struct {
	jobFlag
	jsonFlag
}

// Run prints the jobs of the job's unit, newest first, as text or as JSON.
func (c *historyCommand) Run(o *outside) error {
	s, id, err := c.find(o)
	if err != nil {
		return err
	}
	defer s.Close()
	job, err := s.Load(id)
	if err != nil {
		return err
	}
	unit, err := storeJournal{s}.unitStates(job)
	if err != nil {
		return err
	}
	if c.JSON {
		return o.printJSON(historyOf(unit))
	}
	return report.History(o.out, unit, time.Local)
}

// historyResult is the history in JSON. Amounts are at 20 °C, each with its
// standard uncertainty; null is what cannot be told.
type historyResult struct {
	Vehicle string       `json:"vehicle"`
	Unit    string       `json:"unit"`
	Jobs    []historyJob `json:"jobs"` // newest first
	Leak    leakResult   `json:"leak"`
}

type historyJob struct {
	Job        string            `json:"job"`
	Started    time.Time         `json:"started"`
	UnitState  verdict.UnitState `json:"unit_state"`
	OdometerKm *float64          `json:"odometer_km"`
	Drained    *report.Amount    `json:"drained_20c"`
	NetFill    *report.Amount    `json:"net_fill_20c"`
	Missing    *report.Amount    `json:"missing_20c"` // since the job before; below 0: more came out than went in
	SinceKm    *float64          `json:"since_km"`
	Per1000Km  *report.Amount    `json:"missing_20c_per_1000_km"`
	Sign       *string           `json:"sign"` // what the missing oil is a sign of
}

type leakResult struct {
	Sign  *string        `json:"sign"`
	Total *report.Amount `json:"missing_20c"`
	Jobs  int            `json:"jobs"` // how many it rests on
	Text  string         `json:"text"`
}

func historyOf(unit []*guide.Guide) historyResult {
	points := verdict.History(guide.Assessments(unit))
	leaks := verdict.Leaks(points)
	r := historyResult{Vehicle: unit[0].Vehicle(), Unit: unit[0].UnitName(), Leak: leakResult{Jobs: leaks.Jobs, Text: leaks.Text(unit[0].Units())}}
	if leaks.Jobs > 0 {
		r.Leak.Sign, r.Leak.Total = new(leaks.Sign.String()), amountWhere(true, leaks.Total.ML)
	}
	for i, p := range points {
		job := historyJob{
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
func amountWhere(known bool, v measure.Value) *report.Amount {
	if !known {
		return nil
	}
	return report.AmountOf(v)
}

// aboveZero is a number for JSON; null where it is not known.
func aboveZero(x float64) *float64 {
	if !(x > 0) {
		return nil
	}
	return known(x)
}
