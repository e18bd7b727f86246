package ask

// This file asks again where the swap from adapter to plug does not fit what can be: a spill that the port cannot have
// let out, oil of the hose that is booked twice, a torque that no such plug takes.

import (
	"fmt"

	"garage/tundish/model/job"
	"garage/tundish/model/thread"
)

// swapAgainSpecs come once all that was spilled is told.
func swapAgainSpecs() []Spec {
	open := optional(job.PortOpenFor, between(0, 600), "Port was open for, seconds", "", "not timed").when(pushRound)
	open.WhyOf = func(s *Known, p job.Place) string {
		if rate, ok := s.PortMLPerS(p.Round); ok {
			return "Open, it lets out about " + s.Units().FormatVolume(rate) + " a second; a quick thumb, a third."
		}
		return "Tells whether the spill can be right. The plug's thread is needed for it."
	}
	return []Spec{
		open,
		{
			Topic: job.SpillLooked, Stop: true, Options: spillLookedOptions,
			Doubts: func(_ *Known, p job.Place) []job.Place { return []job.Place{p.Of(job.EscapedAmount)} },
			Stale:  movedFrom(spilledML), Confirms: spilledML,
			When: func(s *Known, p job.Place) bool {
				_, _, misfit := s.SwapMisfit(p.Round)
				return misfit && askedInTime(s, p)
			},
			AskOf: askSpill,
			Why:   "Breather shut? All of it caught and read, the pan's film too? Read it again.",
		},
		{
			Topic: job.HoseLooked, Stop: true, Options: hoseLookedOptions,
			Stale: func(s *Known, p job.Place, e job.Entry) bool { return e.Seq < s.SeqOf(p.Of(job.HoseAfter)) },
			When: func(s *Known, p job.Place) bool {
				_, twice := s.HoseTwiceML(p.Round)
				_, holds := s.HoseHoldsOn(p.Round)
				return (twice || holds || s.HasIn(p.Topic, p.Round)) && askedInTime(s, p)
			},
			AskOf: askHose,
			Why:   "Each ml counts once: still in the hose, or with the oil in the pan.",
		},
	}
}

// askedInTime reports whether a job was not past the swap before this was asked.
func askedInTime(s *Known, p job.Place) bool {
	return s.SaidIn(p.Topic, p.Round) || s.SeqOf(p.Of(job.EscapedHow)) > s.SeqOf(p.Of(job.Decision))
}

func spilledML(s *Known, p job.Place) float64 {
	_, spilled, _ := s.SwapMisfit(p.Round)
	return spilled
}

func askSpill(s *Known, p job.Place) string {
	expected, spilled, _ := s.SwapMisfit(p.Round)
	u := s.Units()
	if openS, ok := s.Num(p.Of(job.PortOpenFor)); ok {
		return fmt.Sprintf("%s spilled; such a port lets out %s in %s", u.FormatVolume(spilled), u.FormatVolume(expected),
			s.Show(openS, job.DimSeconds))
	}
	return fmt.Sprintf("%s spilled; such a port lets out %s at most", u.FormatVolume(spilled), u.FormatVolume(expected))
}

func askHose(s *Known, p job.Place) string {
	u := s.Units()
	if ml, twice := s.HoseTwiceML(p.Round); twice {
		return fmt.Sprintf("%s short: just what the hose holds. In it, or in the pan?", u.FormatVolume(ml))
	}
	ml, _ := s.HoseHoldsOn(p.Round)
	return fmt.Sprintf("So narrow a hose keeps its oil, %s. Did it run out?", u.FormatVolume(ml))
}

// torqueSpec asks for the torque of the plug; what no plug of its thread takes is refused, with what may be meant.
func torqueSpec() Spec {
	return optional(job.TorqueFigure, checkTorque, "Torque of the plug",
		"As the manual prints it, with its unit: this tool has no figure to give.", "not looked up")
}

func checkTorque(s *Known, p job.Place, v job.Value) error {
	finding, perhaps := s.TorqueFinding(v.Number)
	if finding != thread.Refused {
		return nil
	}
	u, r := s.Units(), thread.RangeOf(s.Text(job.PlugThread))
	if perhaps != "" {
		return fmt.Errorf("no plug takes that: %s?", perhaps)
	}
	return fmt.Errorf("no such plug takes that: %s to %s is taken", u.FormatTorque(r.RefuseBelowNm), u.FormatTorque(r.RefuseAboveNm))
}

// torqueLookedSpec asks again for a torque that is unusual for its thread; not of a job that went past it before it was asked.
func torqueLookedSpec() Spec {
	figure := func(s *Known) float64 { nm, _ := s.Num(job.Place{Topic: job.TorqueFigure}); return nm }
	return Spec{
		Topic: job.TorqueLooked, Stop: true, Options: torqueLookedOptions,
		Doubts: func(*Known, job.Place) []job.Place { return []job.Place{{Topic: job.TorqueFigure}} },
		Stale: func(s *Known, _ job.Place, e job.Entry) bool {
			return e.Seq < max(s.SeqOf(job.Place{Topic: job.TorqueFigure}), s.SeqOf(job.Place{Topic: job.PlugThread}))
		},
		When: func(s *Known, p job.Place) bool {
			finding, _ := s.TorqueFinding(figure(s))
			return known(job.TorqueFigure)(s, p) && finding == thread.Doubted && (s.EverSaid(p.Topic) || !s.Has(job.GroundAndChocks))
		},
		AskOf: func(s *Known, _ job.Place) string {
			text := s.Show(figure(s), job.DimNm) + " is unusual for this plug"
			if _, perhaps := s.TorqueFinding(figure(s)); perhaps != "" {
				return text + ": " + perhaps + "?"
			}
			return text
		},
		Why: "Unit, thread and page? Too tight strips the case, too loose leaks.",
	}
}
