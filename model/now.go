package model

// This file asks again for what may have changed while nobody was at the car.

// ResumePrompts are asked again when a job is taken up with the car in the
// air: the stands, and what is in the drain port.
func (s *State) ResumePrompts() []Prompt {
	if !s.has(GroundAndChocks) || s.Phase() != Open || s.UnitState().Settled() {
		return nil
	}
	stands := Prompt{Spec: specs[ResumedStands], Place: at(ResumedStands, 0, s.items(ResumedStands, 0))}
	if !s.emptied() {
		return []Prompt{stands}
	}
	return []Prompt{stands, {Spec: specs[ResumedPlug], Place: at(ResumedPlug, 0, s.items(ResumedPlug, 0))}}
}
