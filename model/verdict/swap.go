package verdict

// This file checks whether what is told of the swap from adapter to plug can be true: what the open port lets out, where
// the oil of the hose went, and what torque a plug of the thread takes.

import (
	"fmt"
	"math"

	"garage/tundish/model/estimate"
	"garage/tundish/model/hydraulics"
	"garage/tundish/model/job"
	"garage/tundish/model/thread"
)

// PortMLPerS is what the open port lets out a second, with a head as of most units; false where its thread is not known.
func (s *Assessment) PortMLPerS(round int) (mlPerS float64, told bool) {
	mm := thread.MetricMM(s.Text(job.PlugThread))
	kvCSt, _ := s.ViscosityAt(s.NewOilTempC(round))
	port := hydraulics.Port{BoreMM: mm, HeadMM: hydraulics.DefaultHeadMM}
	return port.FlowMLPerS(kvCSt), mm > 0 && kvCSt > 0
}

// How far a spill may be from what the port lets out, and how little is not worth a question (judgement, no source).
const (
	escapeFactor  = 3.0
	escapeLeastML = 30.0
)

// SwapMisfit is what the open port lets out in the time that it was open, or in the longest that is usual, and what was
// spilled, ml, where the one cannot be the other. A spill that was guessed, or is not all told yet, fits.
func (s *Assessment) SwapMisfit(round int) (expectedML, spilledML float64, misfit bool) {
	rate, ok1 := s.PortMLPerS(round)
	spilled, ok2 := s.EscapedAtSwap(round)
	if !ok1 || !ok2 || !s.Pushes(round) {
		return 0, 0, false
	}
	if spilledML = spilled.Nominal; s.HoseAfter(round) == job.HoseRanToPan {
		spilledML = max(spilledML-s.HoldUp().Nominal, 0)
	}
	swaps := 1.0
	if round > 0 {
		swaps = 2
	}
	openS, told := s.Num(job.At(job.PortOpenFor, round, 0))
	if !told {
		expectedML = rate * hydraulics.FreeOpenS * swaps
		return expectedML, spilledML, spilledML > expectedML+escapeLeastML
	}
	expectedML = rate * openS * swaps
	off := math.Abs(spilledML - expectedML)
	return expectedML, spilledML, off > escapeLeastML && (spilledML*escapeFactor < expectedML || spilledML > escapeFactor*expectedML)
}

// HoseTwiceML is what the hose would give, less its film, where it looks as if its oil were booked twice: in the hose,
// and in the pan. The fill is short by just that, and the pan holds so much more than a swap spills.
func (s *Assessment) HoseTwiceML(round int) (ml float64, twice bool) {
	if s.SaidHoseAfter(round) != job.HoseLeftFull || !s.Pushes(round) || !s.SwapTold(round) {
		return 0, false
	}
	ml = s.HoldUp().Nominal - s.HoseFilm(round).Nominal
	v, err := s.Verdict(round)
	if err != nil || s.Escaped(round).Nominal < ml {
		return 0, false
	}
	short := -v.Error.Nominal
	return ml, short > estimate.Coverage*v.Error.U() && math.Abs(short-ml) < max(estimate.Coverage*v.Error.U(), 0.2*ml)
}

// HoseHoldsOn reports whether a hose said to have run out is so narrow that it keeps its oil by itself, ml.
func (s *Assessment) HoseHoldsOn(round int) (ml float64, holds bool) {
	ml = s.HoldUp().Nominal
	return ml, s.SaidHoseAfter(round) == job.HoseRanToPan && s.Pushes(round) && s.HoseStaysFull() && ml > escapeLeastML
}

// TorqueFinding says what is to be thought of a torque of the plug, and in which other unit it would be usual; "" none.
func (s *Assessment) TorqueFinding(nm float64) (f thread.Finding, perhaps string) {
	r := thread.RangeOf(s.Text(job.PlugThread))
	for _, slip := range r.Slips(nm) {
		if perhaps != "" {
			perhaps += ", or "
		}
		perhaps += fmt.Sprintf("%.4g %s = %.0f N·m", nm, slip.Unit, slip.Nm)
	}
	return r.Judge(nm), perhaps
}
