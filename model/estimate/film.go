package estimate

// This file tells what oil clings to walls and drains off them late: of bottles, hose, spill pan and
// of the unit itself.

import (
	"errors"
	"fmt"
	"math"
	"time"

	"garage/tundish/model/hydraulics"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
	"garage/tundish/model/oil"
)

// Common practice, no source.
const (
	bottleML        = 1000.0 // in which oil is bought
	bottleUnknownML = 8.0    // kept by one, of an oil of which nothing is known
	bottleFilmHalf  = 0.6    // half-width of that, as a share of it
	bottleDrainsMin = 1.0
	hoseDrainsMin   = 10.0
	catchDrainsMin  = 5.0
	catchDeepMM     = 3.0 // how deep what was spilled stands in its pan
	catchHighM      = 0.3 // of a pan that is tipped out
	catchFilmUML    = 2.0 // standard uncertainty of what it keeps, of an oil of which nothing is known

	ordinaryDrainC   = 40.0
	ordinaryDrainMin = 15.0
	leastDrainMin    = 5.0  // from a stream to drops
	mostDrainMin     = 30.0 // oil that takes longer is not waited for, but warmed
	mostFilmShare    = 0.1  // of all that belongs in, that can cling
	filmShareU       = 0.5  // half-width of a film, as a share of it
)

// FilmDoneML is a film that is still to come and not worth waiting for: 1 drop in 5 s at 10 min.
const FilmDoneML = 12.0

// DripsDoneML is what is not worth waiting for.
const DripsDoneML = 5.0

// A gear oil, and one for automatic gearboxes, where the bottle says nothing that is known (typical, no source).
var (
	typicalGear      = oil.Oil{Rho15KgM3: oil.DefaultRho15KgM3, KV40CSt: 97, KV100CSt: 15.8}
	typicalAutomatic = oil.Oil{Rho15KgM3: 850, KV40CSt: 35, KV100CSt: 7.2}
)

// OilEnds are the thinnest and the thickest oil that it may be: one, where the
// data sheet is known.
func (s *Figures) OilEnds() (thin, thick oil.Oil, err error) {
	ends := s.memo.oilEnds.Get(s.findOilEnds)
	return ends.thin, ends.thick, ends.err
}

type oilEnds struct {
	thin, thick oil.Oil
	err         error
}

func (s *Figures) findOilEnds() (ends oilEnds) {
	known := s.Oil()
	if known.KnowsViscosity() {
		return oilEnds{thin: known, thick: known}
	}
	text := s.Text(job.OilGrade)
	if text == "" {
		return oilEnds{err: errors.New("neither grade nor viscosity of the oil is known")}
	}
	grade, err := oil.ParseGrade(text)
	if err != nil {
		return oilEnds{err: fmt.Errorf("nothing is known of how thick %q is", text)}
	}
	if ends.thin, ends.thick, err = grade.Extremes(known.Rho15KgM3); err != nil {
		ends.err = fmt.Errorf("grade %s alone does not say how thick the oil is", grade)
	}
	return ends
}

// ViscosityAt is the viscosity of the oil at a temperature, cSt: by its data sheet, or by its grade the geometric
// mean of the thinnest and the thickest that it allows. Where neither is known it is a typical one, and false.
func (s *Figures) ViscosityAt(tempC float64) (kvCSt float64, told bool) {
	thin, thick, err := s.OilEnds()
	if told = err == nil; !told {
		thin = typicalGear
		if s.Automatic() {
			thin = typicalAutomatic
		}
		thick = thin
	}
	low, err1 := thin.ViscosityAt(tempC)
	high, err2 := thick.ViscosityAt(tempC)
	if err1 != nil || err2 != nil {
		return 0, false
	}
	return math.Sqrt(low * high), told
}

// bottlesKeepML is what the bottles of so much oil keep.
func (s *Figures) bottlesKeepML(needML float64) float64 {
	each := s.bottleFilmML(garageC)
	return each * math.Ceil(needML/(bottleML-each))
}

// bottleFilmML is what one keeps that was emptied and drained for a minute.
func (s *Figures) bottleFilmML(tempC float64) float64 {
	if kvCSt, told := s.ViscosityAt(tempC); told {
		return hydraulics.Bottle(bottleML).FilmML(kvCSt, bottleDrainsMin)
	}
	return bottleUnknownML
}

// garageC is the temperature of oil that nobody took one of.
const garageC = 20.0

// HoseFilm is what a hose that has run out keeps: from none to twice the film of a draining wall, or, where
// bore or oil are not known, to twice a tenth of its fill.
func (s *Figures) HoseFilm(round int) measure.Value {
	ml := hoseFilmShare * s.HoldUp().Nominal
	if kvCSt, told := s.ViscosityAt(s.NewOilTempC(round)); told && s.HoseBySize() {
		ml = min(hydraulics.Inside(s.HosePieces()).FilmML(kvCSt, hoseDrainsMin), s.HoldUp().Nominal/2)
	}
	return measure.Rectangular(measure.Source{Name: HoseFilm, Job: s.ID}, ml, ml)
}

// catchFilm is what clings to pan and funnel of oil that was caught and poured out: from none to twice the film. Of an
// oil of which nothing is known it is a few ml at most, and not taken off.
func (s *Figures) catchFilm(e job.Entry) measure.Value {
	source := measure.Source{Name: CatchFilm, Reading: e.Seq, Job: s.ID}
	kvCSt, told := s.ViscosityAt(s.NewOilTempC(e.Round))
	if !told || e.Value.Unit == job.DimG {
		return measure.Gaussian(source, 0, catchFilmUML)
	}
	wall := hydraulics.Wall{AreaM2: s.RoughML(e.Value) / catchDeepMM / 1000, HeightM: catchHighM}
	ml := wall.FilmML(kvCSt, catchDrainsMin)
	return measure.Rectangular(source, ml, max(ml, catchFilmUML))
}

// Drops are the drops of a minute, with the time since the plug came out that they were counted at; false where
// nobody did.
func (s *Figures) Drops() (ratePerMin, minutes float64, ok bool) {
	n, counted := s.Num(job.Place{Topic: job.DropsCounted})
	e, _ := s.Answer(job.Place{Topic: job.DropsCounted})
	out, drained := s.Answer(job.Place{Topic: job.PlugOut})
	if minutes = e.Happened().Sub(out.Happened()).Minutes(); !counted || !drained || minutes <= 0 {
		return 0, 0, false
	}
	return n * hydraulics.DropML, minutes, true
}

// filmAt is what still clings to the unit's walls after so many minutes, ml: by the drops, where they were counted,
// else by the oil and how warm it is.
func (s *Figures) filmAt(minutes float64) float64 {
	if rate, counted, ok := s.Drops(); ok {
		ml := hydraulics.LaterML(hydraulics.ToComeML(counted, rate), counted, max(minutes, counted))
		return min(ml, mostFilmShare*s.wholeML()) // what comes faster is no film yet
	}
	kvCSt, _ := s.ViscosityAt(s.OilTempC())
	return hydraulics.Case(s.wholeML()).FilmML(kvCSt, minutes)
}

// ordinaryFilmML is what an ordinary drain leaves as a film, warm and after 15 minutes: it is part of what usually
// stays inside.
func (s *Figures) ordinaryFilmML() float64 {
	kvCSt, _ := s.ViscosityAt(ordinaryDrainC)
	return hydraulics.Case(s.wholeML()).FilmML(kvCSt, ordinaryDrainMin)
}

// DrainWait is how long this oil has to drain until no more than DripsDoneML is left over what an ordinary
// drain leaves; cold, thick oil cannot be waited out, and is not.
func (s *Figures) DrainWait() time.Duration {
	minutes := leastDrainMin
	switch rate, counted, ok := s.Drops(); {
	case ok:
		minutes = counted * max(1, math.Pow(hydraulics.ToComeML(counted, rate)/FilmDoneML, 2))
	case s.wholeML() > 0:
		kvCSt, _ := s.ViscosityAt(s.OilTempC())
		minutes = hydraulics.Case(s.wholeML()).MinutesTo(s.ordinaryFilmML()+DripsDoneML, kvCSt)
	}
	return time.Duration(math.Ceil(min(max(minutes, leastDrainMin), mostDrainMin))) * time.Minute
}

// DrainedFor is how long the oil had to run out: from plug out to the last measure of what came out, not of a
// second one of the same oil. False where there is no such time.
func (s *Figures) DrainedFor() (time.Duration, bool) {
	out, ok1 := s.Answer(job.Place{Topic: job.PlugOut})
	last, ok2 := s.Answer(s.LastDrained())
	if !ok1 || !ok2 {
		return 0, false
	}
	return max(0, s.FirstAt(last).Sub(out.Happened())), true
}

// LastDrained is where the last amount of oil stands that came out: not a second measure of the same oil.
func (s *Figures) LastDrained() job.Place {
	i := s.Items(job.DrainedAmount, 0) - 1
	for i > 0 && s.Choice(job.At(job.DrainedMore, 0, i-1)) == job.MoreAgain {
		i--
	}
	return job.At(job.DrainedAmount, 0, max(i, 0))
}

// ColdDrainC is the temperature below which gear oil leaves clearly more behind than at an ordinary drain: the film
// that clings grows with the viscosity (trade judgement).
const ColdDrainC = 20.0

// ColdFilm is what stays inside beyond an ordinary drain, of oil that was cold, or still dripped fast when its drops
// were counted, ml at 20 °C: all of a film, half of it more or less. Nothing where it is not known how thick or how
// warm the oil was, or it is too little to matter. Of warm oil that had no time more is drained, and nothing calculated.
func (s *Figures) ColdFilm() measure.Value {
	took, drained := s.DrainedFor()
	tempC := s.OilTempC()
	_, told := s.ViscosityAt(tempC)
	cold := told && tempC < ColdDrainC && s.Has(job.OilTemperature)
	if _, _, counted := s.Drops(); !drained || !cold && !counted {
		return measure.Exact(0)
	}
	film := s.filmAt(max(took.Minutes(), 1)) - s.ordinaryFilmML()
	if film <= DripsDoneML {
		return measure.Exact(0)
	}
	return measure.Rectangular(measure.Source{Name: StaysCold, Job: s.ID}, film, filmShareU*film)
}

// FilmInML is what clings to the unit's walls now that it was measured what came out, and after an ordinary drain, ml.
func (s *Figures) FilmInML() (now, ordinary float64) {
	took, _ := s.DrainedFor()
	return s.filmAt(max(took.Minutes(), 1)), s.ordinaryFilmML()
}
