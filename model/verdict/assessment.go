package verdict

import (
	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
)

// This file holds the assessment of a job and what it remembers.

// Assessment judges the figures of a job. It is for one goroutine at a time.
type Assessment struct {
	*estimate.Figures
	memo memo
}

// New assesses a job.
func New(j job.Job) *Assessment { return &Assessment{Figures: estimate.New(j)} }

// memo is what an assessment remembers.
type memo struct {
	verdicts map[int]judged
}

type judged struct {
	verdict Verdict
	err     error
}
