package push

// This file tells, while the clock runs, how much oil is still to come and how
// long to wait for it.

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"time"

	"garage/tundish/model/drip"
	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
	"garage/tundish/model/quantity"
)

// dripsNeeded is the least number of readings that tell anything (package drip).
const dripsNeeded = 3

// Drips is how the drain stands at a moment.
type Drips struct {
	Running  bool    // the plug is out and the drips have not been ended
	Ended    bool    // ended by the owner: the clock stands there
	Minutes  float64 // since the plug came out; 0 before
	Readings []drip.Reading
	Fitted   bool          // what follows can be told
	Fit      drip.Result   // volumes as read, not at 20 °C
	ToCome   measure.Value // ml still to come at Minutes: after the end, what was left in
	WaitMin  float64       // until less than estimate.DripsDoneML is to come; 0 where that is so
	Why      string        // why nothing can be told, and what to do; "" where Fitted
}

// Drips is how the drain stands at now.
func (s Progress) Drips(now time.Time) Drips {
	out, ok := s.Answer(job.Place{Topic: job.PlugOut})
	if !ok {
		return Drips{Why: "the plug is not out yet"}
	}
	d := Drips{Running: true}
	if end, ok := s.Answer(job.Place{Topic: job.DripsEnded}); ok {
		d.Running, d.Ended, now = false, true, end.At
	}
	d.Minutes = max(0, now.Sub(out.Happened()).Minutes())
	told := s.drips.Get(func() (told dripsTold) {
		told.readings = s.dripReadings(out.Happened())
		told.fit, told.err = drip.Fit(told.readings)
		return told
	})
	d.Readings = told.readings
	d.tell(told.fit, told.err)
	return d
}

// dripReadings are the looks at the pan: minutes since the plug came out, and
// ml as read.
func (s Progress) dripReadings(plugOut time.Time) []drip.Reading {
	var readings []drip.Reading
	for i := range s.Items(job.DripReading, 0) {
		e, _ := s.Answer(job.At(job.DripReading, 0, i))
		readings = append(readings, drip.Reading{Minutes: s.FirstAt(e).Sub(plugOut).Minutes(), ML: s.RoughML(e.Value)})
	}
	return readings
}

// tell sets what follows from a fit of the readings at d.Minutes.
func (d *Drips) tell(fit drip.Result, err error) {
	if err != nil {
		d.Why = d.whyNot(err)
		return
	}
	ml, uML, err := fit.RemainingML(d.Minutes)
	if err == nil {
		d.WaitMin, err = fit.WaitMin(d.Minutes, estimate.DripsDoneML)
	}
	if err != nil {
		d.Why = err.Error()
		return
	}
	d.Fit = fit
	d.Fitted, d.ToCome = true, measure.Gaussian("what is still to come", ml, uML)
}

// whyNot is a refusal in one short line. Each error of package drip ends with
// what to do, after the last colon.
func (d *Drips) whyNot(err error) string {
	n := 0
	for _, r := range d.Readings {
		if r.Minutes > 0 {
			n++
		}
	}
	todo := err.Error()[strings.LastIndex(err.Error(), ": ")+1:]
	todo = strings.TrimSpace(todo)
	switch {
	case d.Ended && n < dripsNeeded:
		return "too few readings to tell what was left"
	case d.Ended:
		return "the readings do not tell what was left"
	case errors.Is(err, drip.ErrTooFew) && n == dripsNeeded-1:
		return "1 more reading tells what is to come"
	case errors.Is(err, drip.ErrTooFew):
		return fmt.Sprintf("%d more readings tell what is to come", dripsNeeded-n)
	case errors.Is(err, drip.ErrNotSettling):
		return "still running: " + todo
	case errors.Is(err, drip.ErrMisfit):
		return "the stream breaks to drips: " + todo
	case errors.Is(err, drip.ErrNothingOut):
		return "nothing has come out: " + todo
	case errors.Is(err, drip.ErrFalling):
		return "a reading is below the one before: " + todo
	case errors.Is(err, drip.ErrSameTime):
		return "two readings at one moment: read again in 5 minutes"
	}
	return "a time or amount is out of sense: look at the readings"
}

// Text is how the drain stands in a line, in the owner's units.
func (d Drips) Text(u quantity.Units) string {
	if !d.Fitted {
		return d.Why
	}
	ml, doubtML := d.ToCome.Nominal, d.Fit.CoverageFactor()*d.ToCome.U()
	amount := u.FormatVolumeU(ml, doubtML)
	if doubtML > ml {
		amount = "at most " + u.FormatVolume(ml+doubtML)
	}
	switch {
	case d.Ended:
		return "still to come when the drips were ended: " + amount
	case d.WaitMin <= 0:
		return fmt.Sprintf("still to come: %s; it is not worth waiting longer", amount)
	}
	return fmt.Sprintf("still to come: %s; below %s in %.0f min", amount, u.FormatVolume(estimate.DripsDoneML), math.Ceil(d.WaitMin))
}

// dripsTold is what the looks at the pan tell.
type dripsTold struct {
	readings []drip.Reading
	fit      drip.Result
	err      error
}
