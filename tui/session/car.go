package session

// This file begins the units of a car that are done in one go, and takes over at one of
// them what was told at the others.

import (
	"cmp"
	"slices"
	"time"

	"garage/tundish/model/car"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
)

// takeOver stores in a job what was told at other units of its session, and is the job with
// it.
func takeOver(j Journal, to job.Job, now time.Time) (job.Job, error) {
	units, err := j.Car(to)
	if err != nil || len(units.Units) == 0 {
		return to, err
	}
	offers, err := j.Offers(to)
	if err != nil {
		return to, err
	}
	told := units.Told(guide.Fold(to, offers), now)
	if len(told) == 0 {
		return to, nil
	}
	to = with(to, told...)
	return to, j.Append(to.ID, guide.Fold(to, offers).Head(), told...)
}

// Garage is a car as a front end shows it: the units that are done in one go with a job, and
// those that may be done with them.
type Garage struct {
	Car     car.Session
	Vehicle string
	Others  []Other
	of      job.Job
}

// Other is a unit of the car that is not in the session.
type Other struct {
	Unit string
	Job  string // of it that is open, "" none
	Last time.Time
}

// Look gathers the units of a job's car; the job may be one that is not stored, of a car
// alone. The error is the journal's.
func Look(j Journal, of job.Job) (g Garage, err error) {
	g = Garage{Vehicle: job.Fold(of).Vehicle(), of: of}
	if g.Car, err = j.Car(of); err != nil {
		return Garage{}, err
	}
	open, units, err := Known(j)
	if err != nil {
		return Garage{}, err
	}
	for _, h := range append(open, units...) {
		if job.Canonical(h.Vehicle) == job.Canonical(g.Vehicle) && h.ID != of.ID {
			o := Other{Unit: h.UnitName, Last: h.Started}
			if h.Phase == guide.Open {
				o.Job = h.ID
			}
			g.add(o)
		}
	}
	for _, name := range sheet.UnitNames() {
		g.add(Other{Unit: name})
	}
	return g, nil
}

// add adds a unit that is not there yet.
func (g *Garage) add(o Other) {
	same := func(name string) bool { return job.Canonical(name) == job.Canonical(o.Unit) }
	known := o.Unit == "" || same(job.Fold(g.of).UnitName()) ||
		slices.ContainsFunc(g.Others, func(k Other) bool { return same(k.Unit) }) ||
		slices.ContainsFunc(g.Car.Units, func(u car.Unit) bool { return same(u.UnitName()) })
	if !known {
		g.Others = append(g.Others, o)
	}
}

// Together begins the jobs of other units, or takes in those that are open, to be done in
// one go with the job that the car was looked at from. It gives the id of a job of the
// session. The error is the journal's.
func (g Garage) Together(j Journal, others []Other, now time.Time, newID func() string) (id string, err error) {
	session := g.Car.ID
	if session == "" || g.Car.Over() {
		session = newID()
		if id = g.of.ID; id != "" {
			if err := Join(j, id, session, now); err != nil {
				return "", err
			}
		}
	}
	for i, o := range others {
		if o.Job != "" {
			err = Join(j, o.Job, session, now)
		} else {
			o.Job = newID()
			err = Begin(j, o.Job, session, g.Vehicle, o.Unit, now.Add(time.Duration(i)))
		}
		if err != nil {
			return "", err
		}
		id = cmp.Or(id, o.Job)
	}
	return id, nil
}

// Join puts a job into a session. The error is the journal's.
func Join(j Journal, id, session string, now time.Time) error {
	joined, err := j.Load(id)
	if err != nil {
		return err
	}
	offers, err := j.Offers(joined)
	if err != nil {
		return err
	}
	e := sessionEntry(session, len(joined.Entries)+1, now)
	if was := job.Fold(joined).SeqOf(job.Place{Topic: job.Session}); was > 0 {
		e.Strikes = was
	}
	return j.Append(id, guide.Fold(with(joined, e), offers).Head(), e)
}

// Begin begins the job of a unit in a session. The error is the journal's.
func Begin(j Journal, id, session, vehicle, unit string, now time.Time) error {
	begun := Begun(id, session, vehicle, unit, now)
	offers, err := j.Offers(begun)
	if err != nil {
		return err
	}
	if kind, ok := sheet.KindOf(unit); ok && offers.Before == nil {
		begun.Entries = append(begun.Entries, job.Entry{Seq: 4, At: begun.Started, Topic: job.UnitKind, Value: kind})
	}
	return j.Create(begun, guide.Fold(begun, offers).Head())
}

// Begun is the job of a unit in a session as it is begun.
func Begun(id, session, vehicle, unit string, now time.Time) job.Job {
	begun := job.Job{ID: id, Started: now.UTC().Round(0)}
	begun.Entries = append(namesOf(guide.Head{Vehicle: vehicle, UnitName: unit}, begun.Started), sessionEntry(session, 3, now))
	return begun
}

// Leave takes a job out of its session. The error is the journal's.
func Leave(j Journal, id string, now time.Time) error {
	left, err := j.Load(id)
	if err != nil {
		return err
	}
	offers, err := j.Offers(left)
	if err != nil {
		return err
	}
	g := guide.Fold(left, offers)
	e, ok := g.StrikeEntry(g.SeqOf(job.Place{Topic: job.Session}), now)
	if !ok {
		return nil
	}
	return j.Append(id, g.With(e).Head(), e)
}

func sessionEntry(session string, seq int, at time.Time) job.Entry {
	return job.Entry{Seq: seq, At: at.UTC().Round(0), Topic: job.Session, Value: job.Value{Text: session}}
}
