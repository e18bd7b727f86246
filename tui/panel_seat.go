package tui

// This file shows what the swap to the plug needs at hand.

import "garage/tundish/model/job"

func seatPanel(sc scene) []block {
	switch sc.app.guide.answer.prompt.Topic {
	case job.WasherFitted, job.PlugSeated, job.TightenedHow:
	default:
		return nil
	}
	s := sc.live
	pairs := [][2]string{}
	if w := s.Text(job.WasherKind); w != "" {
		pairs = append(pairs, [2]string{"washer", w + " (new)"})
	}
	torque := "no maker's figure noted"
	if nm, ok := s.TorqueNm(); ok {
		torque = s.Units().FormatTorque(nm)
		if src := s.Text(job.TorqueSource); src != "" {
			torque += ", from " + src
		}
	}
	pairs = append(pairs, [2]string{"torque", torque})
	return []block{also(columns(pairs, 8)...)}
}
