package agenda

// This file holds what an agenda needs to know of a unit's jobs, in a form that can be
// kept: with it no job need be folded.

import (
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// Unit is what the jobs of a unit, or a job of no unit, leave to do.
type Unit struct {
	Stands   *Facts    `json:"stands,omitempty"` // the job that tells how the unit stands: the newest at which the plug came out
	Waste    []Waiting `json:"waste,omitempty"`  // oil that waits to be handed in, the newest job first
	Odometer *Reading  `json:"odometer,omitempty"`
}

// Facts is what a job leaves to do on its unit.
type Facts struct {
	Head guide.Head `json:"head"`
	Dues []Due      `json:"dues,omitempty"`
	Next *job.Place `json:"next,omitempty"` // the question that is to be answered next
}

// Waiting is the waste oil of a job.
type Waiting struct {
	Head  guide.Head `json:"head"`
	ML    float64    `json:"ml"`
	Text  string     `json:"text"` // that in the units of the job
	Since time.Time  `json:"since"`
}

// Reading is the newest reading of the odometer of a unit's car.
type Reading struct {
	Car     string    `json:"car"` // its key, which ties what is of one car together; empty where it has no name
	Km      float64   `json:"km"`
	Started time.Time `json:"started"` // of the job that read it
	Job     string    `json:"job"`
}

// UnitOf is what is kept of a unit's jobs, newest first, each folded after those before
// it; jobs that others have shared are of no unit here.
func UnitOf(jobs []*guide.Guide) (u Unit) {
	for _, s := range jobs {
		h := s.Head()
		if u.Stands == nil && h.UnitState != verdict.AsFound {
			u.Stands = &Facts{Head: h, Dues: duesOf(s)}
			if next, more := s.Next(); more {
				u.Stands.Next = &next.Place
			}
		}
		var w verdict.Waste
		if w.Add(s.Assessment); w.ML > 0 {
			u.Waste = append(u.Waste, Waiting{h, w.ML, s.Units().FormatVolume(w.ML), w.Since})
		}
		e, read := s.Answer(job.Place{Topic: job.Odometer})
		if car := job.UnitKey(h.Vehicle, "any"); u.Odometer == nil && read && !e.Value.Unknown && car != "" {
			u.Odometer = &Reading{car, e.Value.Number, h.Started, h.ID}
		}
	}
	return u
}
