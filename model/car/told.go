package car

// This file says what holds for the whole car, and is told once: at the unit that was
// worked last it stands, and becomes entries of the next.

import (
	"slices"
	"time"

	"garage/tundish/model/ask"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// Pause is how long a session may rest before ground and stands are asked for again
// (judgement, no source).
const Pause = 30 * time.Minute

// cautions are those of the car: they hold for every unit of it, until the car is moved,
// let down, a wheel turned, or nobody has been at it for a while.
var cautions = []job.Topic{job.ElectricOff, job.GroundAndChocks, job.StandsAndShake}

// Told are the entries of a job that was not begun yet that say what was said at the unit
// worked last: of the car, of what measures and what fills, and the cautions that still
// hold. Each says where it was said.
func (s Session) Told(to *guide.Guide, now time.Time) (told []job.Entry) {
	from, ok := s.workedLast(to.ID)
	if !ok || to.UnitState() != verdict.AsFound || to.Phase() != guide.Open {
		return nil
	}
	entries, _ := from.Ledger()
	for _, e := range entries {
		p := job.At(e.Topic, e.Round, e.Item)
		if from.SeqOf(p) != e.Seq || to.EverSaid(e.Topic) || !s.holds(from, e, now) {
			continue
		}
		spec := ask.SpecOf(e.Topic)
		copied := guide.Prompt{Spec: spec, Place: p}.Entry(to, e.Value, "", now)
		copied.Seq, copied.Label = to.Count+len(told)+1, e.Label
		copied.Asked = from.AskedText(e) + " (said at the " + from.UnitName() + ")"
		told = append(told, copied)
	}
	return told
}

// workedLast is the unit worked last of those whose car is up, but for one.
func (s Session) workedLast(but string) (last Unit, ok bool) {
	for _, u := range s.Units {
		if u.ID != but && u.Has(job.GroundAndChocks) && (!ok || u.Updated.After(last.Updated)) {
			last, ok = u, true
		}
	}
	return last, ok
}

// holds reports whether what an entry says holds for the whole car at a time.
func (s Session) holds(from Unit, e job.Entry, now time.Time) bool {
	if !slices.Contains(cautions, e.Topic) {
		return e.Topic == job.Vehicle || e.Topic == job.DriveKind || e.Topic == job.Odometer || ask.OfGarage(e.Topic)
	}
	return now.Sub(from.Updated) <= Pause && !s.movedSince(e.At)
}

// movedSince reports whether the car was let down or a wheel turned since a time.
func (s Session) movedSince(at time.Time) bool {
	return slices.ContainsFunc(s.Units, func(u Unit) bool {
		entries, stands := u.Ledger()
		for i, e := range entries {
			if stands[i] && (e.Topic == job.TagOff || e.Topic == job.WheelsTurned) && !e.At.Before(at) {
				return true
			}
		}
		return false
	})
}
