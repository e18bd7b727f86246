package verdict

import (
	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/push"
)

// This file holds the assessment of a job and what it remembers.

// Assessment judges the figures of a job. It is for one goroutine at a time.
type Assessment struct {
	push.Progress
	before *Assessment // of the unit's job before this one; nil none
	memo   memo
}

// New assesses a job, with the unit's job before it; nil where there is none.
func New(j job.Job, before *Assessment) *Assessment {
	if before == nil {
		return &Assessment{Progress: push.New(estimate.New(j, nil))}
	}
	return &Assessment{Progress: push.New(estimate.New(j, before.Figures)), before: before}
}

// memo is what an assessment remembers.
type memo struct {
	verdicts map[int]judged
	asOf     map[int]*Assessment
}

type judged struct {
	verdict Verdict
	err     error
}
