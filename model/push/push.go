package push

// This file predicts how long the push takes, from the job's hose, filler and
// oil, and what warming the oil would gain.

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"garage/tundish/model/hydraulics"
	"garage/tundish/model/job"
	"garage/tundish/model/oil"
)

// What is assumed where nothing is known (common practice, no source).
const (
	handPressureKPa = 50.0 // a hand pump or a suction gun, held by hand
	liftM           = 0.8  // from the vessel on the floor up to the port; of a raised funnel, above it
)

// Tell says whether a push can be predicted, and whether it comes to its end.
type Tell uint8

// The predictions.
const (
	CannotTell Tell = iota // and Why says why
	GetsThrough
	StallsOnTheWay // the pressure does not lift the oil
)

var tellTokens = []string{"cannot tell", "gets through", "stalls"}

// String is the prediction in words.
func (t Tell) String() string { return job.TokenOf(tellTokens, t) }

// Forecast is how long a push will take. With a data sheet the thin and
// the thick oil are one; from a grade alone they are the ends that it allows.
type Forecast struct {
	Tell        Tell
	Why         string // why it cannot be told, "" else
	TempC       float64
	VolumeML    float64               // to push, as it reads at TempC
	Thin, Thick hydraulics.PushResult // Minutes, Reynolds, EndPressureKPa, …
	FromGrade   bool                  // the oil is known by its grade only
	Restores    int                   // how often the pressure must be brought back on the way
	Warmer      string                // what warming gains, a sentence; "" nothing worth it
	Assumed     []string              // what was assumed because no figure was given, a line each
}

// Text is the forecast in a line.
func (f Forecast) Text() string {
	switch f.Tell {
	case CannotTell:
		return "cannot tell: " + f.Why
	case StallsOnTheWay:
		return f.Thick.String()
	}
	text := SpanOf(f.Thin, f.Thick)
	switch {
	case f.Restores == 1:
		text += ", pressure brought back once"
	case f.Restores > 1:
		text += fmt.Sprintf(", pressure brought back %d times", f.Restores)
	}
	return text
}

// SpanOf is a time, or two where they differ.
func SpanOf(thin, thick hydraulics.PushResult) string {
	low, high := thin.String(), thick.String()
	number, unit, _ := strings.Cut(high, " ")
	switch {
	case low == high:
		return low
	case unit != "" && !strings.Contains(unit, " ") && strings.HasSuffix(low, " "+unit):
		return strings.TrimSuffix(low, " "+unit) + " to " + number + " " + unit
	}
	return low + " to " + high
}

// Push predicts the push of a round with oil of tempC.
func (s Progress) Push(round int, tempC float64) Forecast {
	f := Forecast{TempC: tempC}
	plan, err := s.pushPlan(round, tempC, &f)
	if err == nil {
		err = s.forecast(plan, &f)
	}
	if err != nil {
		return Forecast{TempC: tempC, Why: err.Error()}
	}
	return f
}

// forecast calculates the push for the thinnest and the thickest oil.
func (s Progress) forecast(plan hydraulics.PushPlan, f *Forecast) error {
	thin, thick, err := s.OilEnds()
	if err != nil {
		return err
	}
	f.FromGrade = thin != thick
	plan.Oil = thick
	if f.Thick, err = hydraulics.Push(plan); err != nil {
		return err
	}
	if n := f.Thick.RestoresToFinish; f.Thick.Outcome == hydraulics.Stalls && n > 0 {
		plan.Restores, f.Restores = n, n
		if f.Thick, err = hydraulics.Push(plan); err != nil {
			return err
		}
	}
	plan.Oil = thin
	if f.Thin, err = hydraulics.Push(plan); err != nil {
		return err
	}
	f.Tell = GetsThrough
	if f.Thick.Outcome != hydraulics.Finishes || f.Thin.Outcome != hydraulics.Finishes {
		f.Tell = StallsOnTheWay
		return nil
	}
	f.Warmer = s.warmer(plan, thin, thick, *f)
	return nil
}

// pushPlan is the push but for the oil, and what was assumed for it.
func (s Progress) pushPlan(round int, tempC float64, f *Forecast) (hydraulics.PushPlan, error) {
	if round < 0 || round > s.Round() || s.RoundKind(round) == job.RoundLetsOut {
		return hydraulics.PushPlan{}, errors.New("nothing is pushed in here")
	}
	if s.Path().PouredIn() || !s.HoseKnown() {
		return hydraulics.PushPlan{}, errors.New("bore and length of the hose are not known")
	}
	ml, err := s.pushML(round)
	if err != nil {
		return hydraulics.PushPlan{}, err
	}
	p := hydraulics.PushPlan{Pieces: s.HosePieces(), TempC: tempC, LiftM: liftM, PressureKPa: handPressureKPa}
	if p.VolumeML, err = s.Oil().VolumeFrom20(ml, tempC); err != nil {
		return hydraulics.PushPlan{}, err
	}
	f.VolumeML = p.VolumeML
	s.byFiller(&p, f)
	return p, nil
}

// pushML is what is to leave the vessel in a round, ml at 20 °C: the pre-load
// less what the vessel cannot push out.
func (s Progress) pushML(round int) (float64, error) {
	_, plan, err := s.PlansOf(round)
	if err != nil {
		return 0, err
	}
	ml := plan.PreloadML - plan.Heel.Nominal
	if ml < hydraulics.MinPushML {
		return 0, errors.New("there is nothing to push in")
	}
	return ml, nil
}

// byFiller sets what drives the oil, and says what was assumed for it.
func (s Progress) byFiller(p *hydraulics.PushPlan, f *Forecast) {
	u := s.Units()
	lift := u.FormatLength(1000 * liftM)
	switch kind := s.FillerKind(); {
	case kind == job.RaisedFunnel:
		p.PressureKPa, p.LiftM = 0, -liftM
		f.Assumed = []string{"oil in the funnel " + lift + " above the port"}
		return
	case kind == job.PressurisedVessel && s.VesselRated():
		p.PressureKPa, p.AirML = s.NumOr(job.PushPressure, handPressureKPa), max(p.VolumeML, hydraulics.MinAirML)
		f.Assumed = []string{"as much air as oil in the vessel, shut off while it pushes"}
	default:
		f.Assumed = []string{"about " + u.FormatPressure(handPressureKPa) + " by hand"}
	}
	f.Assumed = append(f.Assumed, "port "+lift+" above the vessel")
}

// Warming is advised where a push takes this long, and to the first of these
// temperatures that halves it.
const worthWarmingMin = 3.0

var warmToC = [...]float64{25, 35}

// warmer says what warming the oil gains; "" where it is not worth it.
func (s Progress) warmer(plan hydraulics.PushPlan, thin, thick oil.Oil, now Forecast) string {
	if now.Thick.Minutes < worthWarmingMin {
		return ""
	}
	for _, tempC := range warmToC {
		then := now
		for _, end := range []struct {
			oil  oil.Oil
			into *hydraulics.PushResult
		}{{thin, &then.Thin}, {thick, &then.Thick}} {
			plan.Oil = end.oil
			advice, err := hydraulics.Warmer(plan, tempC)
			if err != nil || len(advice) == 0 {
				continue
			}
			*end.into = advice[0].Then
		}
		if then.Thick.Outcome == hydraulics.Finishes && then.Thick.Minutes < now.Thick.Minutes/2 {
			return fmt.Sprintf("Warm the oil to %s: %s instead of %s.",
				s.Show(tempC, job.DimC), SpanOf(then.Thin, then.Thick), SpanOf(now.Thin, now.Thick))
		}
	}
	return ""
}

// VesselRated reports whether the vessel, or its relief valve, carries a rating.
func (s Progress) VesselRated() bool { _, ok := s.Num(job.Place{Topic: job.VesselRating}); return ok }

// AllowedKPa is the most that the vessel may be pressurised to; 0 where it has
// no rating.
func (s Progress) AllowedKPa() float64 {
	return math.Min(s.NumOr(job.VesselRating, 0), mostPushKPa)
}

// Pressures in kPa gauge: what pushes well, and what is allowed at all (trade
// judgement).
const (
	UsualKPa    = 50.0
	mostPushKPa = 200.0
)

// HoseStaysFull reports whether the hose is known to be so narrow that it holds its oil by itself.
func (s Progress) HoseStaysFull() bool {
	wide := func(p hydraulics.Piece) bool { return hydraulics.Holds(p.BoreMM) != hydraulics.StaysFull }
	return s.HoseKnown() && s.HoseBySize() && !slices.ContainsFunc(s.HosePieces(), wide)
}
