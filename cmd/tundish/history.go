package main

// This file shows the jobs of one unit over the years.

import (
	"time"

	"garage/tundish/model/report"
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
	unit, err := storeJournal{s}.unitJobs(job)
	if err != nil {
		return err
	}
	if c.JSON {
		return o.printJSON(report.HistoryOf(unit))
	}
	return report.History(o.out, unit, time.Local)
}
