package session

// This file begins the units of a car that are done in one go, and takes over at one of
// them what was told at the others.

import (
	"time"

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
