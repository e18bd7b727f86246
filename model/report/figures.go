package report

// This file holds the figures that a job comes to, as numbers: what its JSON
// shows beside the job, and what a pool of jobs is made from.

import (
	"encoding/json"
	"math"

	"garage/tundish/model/estimate"
	"garage/tundish/model/guide"
	"garage/tundish/model/measure"
	"garage/tundish/model/quantity"
	"garage/tundish/model/verdict"
)

// figures are the figures of a job, ml at 20 °C, each with its standard
// uncertainty; nil is not known yet.
type figures struct {
	UnitState    verdict.UnitState `json:"unit_state"`
	Phase        guide.Phase       `json:"phase"`
	MayDrive     bool              `json:"may_drive"`
	Verdict      *verdictFigures   `json:"verdict"`
	CapacityML   *float64          `json:"capacity_ml"`
	Drained      *Amount           `json:"drained_20c"`
	Target       *Amount           `json:"target_20c"`
	WindowLowML  *float64          `json:"window_low_ml"`
	WindowHighML *float64          `json:"window_high_ml"`
	Escaped      *Amount           `json:"escaped_20c"`
	NetFill      *Amount           `json:"net_fill_20c"`
	Rounds       int               `json:"rounds"`
}

// Amount is a volume with its standard uncertainty, ml.
type Amount struct {
	ML  float64 `json:"ml"`
	UML float64 `json:"u_ml"`
}

// verdictFigures is a verdict in numbers.
type verdictFigures struct {
	Word    verdict.Conformity `json:"word"`
	PWithin float64            `json:"p_within"`
	PLow    float64            `json:"p_low"`
	PHigh   float64            `json:"p_high"`
	Action  verdict.Act        `json:"action"`
	ML      float64            `json:"action_ml"`
}

// figuresOf works out the figures of a job.
func figuresOf(s *guide.Guide) figures {
	f := figures{UnitState: s.UnitState(), Phase: s.Phase(), MayDrive: s.MayDrive(), Rounds: s.Rounds()}
	if c := s.CapacityML(); c > 0 {
		f.CapacityML = Finite(c)
	}
	if s.Measured() {
		f.Drained = AmountOf(s.Drained().Total)
	}
	if plan, err := s.Plan(0); err == nil && !plan.Undecided {
		f.Target, f.WindowLowML, f.WindowHighML = AmountOf(plan.Target), Finite(plan.Low), Finite(plan.High)
	}
	if !s.PushBegun(0) {
		return f
	}
	if in, ok := s.InUnitNow(); ok {
		f.NetFill = AmountOf(in)
	}
	var escaped measure.Value
	for r := range s.Rounds() {
		escaped = escaped.Add(s.Escaped(r))
	}
	f.Escaped = AmountOf(escaped)
	if v, ok := s.Judged(); ok && Finite(v.PWithin) != nil {
		f.Verdict = &verdictFigures{v.Conformity, measure.Rounded(v.PWithin, 1e6), measure.Rounded(v.PLow, 1e6),
			measure.Rounded(v.PHigh, 1e6), v.Act, measure.Rounded(v.ActML, 1e3)}
	}
	return f
}

// Figures are the figures of a job as JSON, as they stand in its file.
func Figures(s *guide.Guide) (json.RawMessage, error) { return json.Marshal(figuresOf(s)) }

// Brief is what came out of a unit and what went in, for a list of jobs: ml at 20 °C,
// each with one standard uncertainty; nil is not known.
type Brief struct {
	Drained *Amount `json:"drained_20c,omitempty"`
	NetFill *Amount `json:"net_fill_20c,omitempty"`
}

// BriefOf is the brief of a job.
func BriefOf(s *guide.Guide) Brief {
	f := figuresOf(s)
	return Brief{f.Drained, f.NetFill}
}

// Text is the brief in words that follow others, with ± twice the uncertainty.
func (b Brief) Text(u quantity.Units) (words string) {
	for _, part := range []struct {
		what string
		*Amount
	}{{"came out ", b.Drained}, {"went in ", b.NetFill}} {
		if part.Amount != nil {
			words += ", " + part.what + u.FormatVolumeU(part.ML, estimate.Coverage*part.UML)
		}
	}
	return words
}

// AmountOf is a volume with its standard uncertainty, to a microlitre; nil where
// it is no number.
func AmountOf(v measure.Value) *Amount {
	if Finite(v.Nominal) == nil || Finite(v.U()) == nil {
		return nil
	}
	return &Amount{measure.Rounded(v.Nominal, 1e3), measure.Rounded(v.U(), 1e3)}
}

// Finite is a number to a microlitre; nil where it is none.
func Finite(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return new(measure.Rounded(x, 1e3))
}
