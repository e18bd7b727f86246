package guide

// This file asks again for what may have changed while nobody was at the car.

import "garage/tundish/model/job"

// ResumePrompts are asked again when a job is taken up with the car in the
// air: the stands, and what is in the drain port.
func (s *Guide) ResumePrompts() []Prompt {
	if !s.Has(job.GroundAndChocks) || s.Phase() != Open || s.UnitState().Settled() {
		return nil
	}
	stands := Prompt{Spec: specs[job.ResumedStands], Place: job.At(job.ResumedStands, 0, s.Items(job.ResumedStands, 0))}
	if !s.Emptied() {
		return []Prompt{stands}
	}
	return []Prompt{stands, {Spec: specs[job.ResumedPlug], Place: job.At(job.ResumedPlug, 0, s.Items(job.ResumedPlug, 0))}}
}
