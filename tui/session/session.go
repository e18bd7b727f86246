package session

// This file opens a job and stores what is answered.

import (
	"errors"
	"fmt"
	"slices"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
)

// Session is one open job. It is a value: every change makes another.
type Session struct {
	Job     job.Job     // as it is stored
	Fresh   bool        // not in the store yet
	Visit   sheet.Visit // of the job as it is shown: control characters in texts are made visible
	Kept    Draft       // half typed before the break, for when its question comes
	Resumed time.Time   // when the job was left; zero for a new one

	offers guide.Offers // what earlier jobs bring, as it is stored
	shown  guide.Offers // the same, to be shown
	hidden bool         // something of it is made visible
	real   *guide.Guide // of the job as it is stored
}

// Load opens a job of a journal at a time where it was left, with the questions that are
// asked after a break. A unit of a session that is opened first takes over what was told at
// the others. The error is the journal's.
func Load(j Journal, id string, now time.Time) (Session, error) {
	opened, err := j.Load(id)
	if err != nil {
		return Session{}, err
	}
	up := job.Fold(opened).Has(job.GroundAndChocks) // with this unit, not at another
	if opened, err = takeOver(j, opened, now); err != nil {
		return Session{}, err
	}
	offers, err := j.Offers(opened)
	if err != nil {
		return Session{}, err
	}
	kept, err := j.LoadDraft(id)
	if err != nil {
		return Session{}, err
	}
	s := Session{Job: opened, Kept: kept}.bring(offers)
	g := s.refold()
	s.Resumed = g.Updated
	var rested []guide.Prompt
	if up {
		rested = g.ResumePrompts()
	}
	s.Visit = sheet.Begin(g, rested)
	return s, nil
}

// Start begins a job at a time: of the unit of an earlier job, or of a new unit where
// like is nil. Nothing is stored before the first answer. The error is the journal's.
func Start(j Journal, id string, now time.Time, like *guide.Head) (Session, error) {
	begun := job.Job{ID: id, Started: now.UTC().Round(0)}
	if like != nil {
		begun.Entries = namesOf(*like, begun.Started)
	}
	offers, err := j.Offers(begun)
	if err != nil {
		return Session{}, err
	}
	s := Session{Job: begun, Fresh: true}.bring(offers)
	s.Visit = sheet.Begin(s.refold(), nil)
	return s, nil
}

// namesOf are the first entries of a job of a unit that is known already.
func namesOf(h guide.Head, at time.Time) []job.Entry {
	return []job.Entry{
		{Seq: 1, At: at, Topic: job.Vehicle, Value: job.Value{Text: h.Vehicle}},
		{Seq: 2, At: at, Topic: job.UnitName, Value: job.Value{Text: h.UnitName}},
	}
}

// Guide is the job as it is shown; Real as it is stored, which entries are made of.
// They are the same one where no text has anything to be made visible.
func (s Session) Guide() *guide.Guide { return s.Visit.Guide }
func (s Session) Real() *guide.Guide  { return s.real }

// Saving is what is stored: entries, and the job as it is with them.
type Saving struct {
	job     job.Job
	create  bool // the job is new
	entries []job.Entry
	moved   bool       // the job is of another unit with these, or of none
	head    guide.Head // unless moved
}

// Save is the saving of entries. They are stored as they are: their times too.
func (s Session) Save(entries []job.Entry) Saving {
	x := Saving{job: with(s.Job, entries...), create: s.Fresh, entries: entries}
	if job.Fold(x.job).UnitKey() == s.real.UnitKey() {
		x.head = guide.Fold(x.job, s.offers).Head()
	} else {
		x.moved = true
	}
	return x
}

// Saved is what has become durable.
type Saved struct {
	Entries []job.Entry
	offers  *guide.Offers // where they came to be others
}

// Do stores the entries, all of them or none; a job that is new is created with them.
// Of another unit other jobs come before this one. They are durable when the error,
// which is the journal's, is nil.
func (x Saving) Do(j Journal) (Saved, error) {
	saved := Saved{Entries: x.entries}
	if x.moved {
		brought, err := j.Offers(x.job)
		if err != nil {
			return Saved{}, err
		}
		saved.offers, x.head = &brought, guide.Fold(x.job, brought).Head()
	}
	var err error
	if x.create {
		err = j.Create(x.job, x.head)
	} else {
		err = j.Append(x.job.ID, x.head, x.entries...)
	}
	if err != nil {
		return Saved{}, err
	}
	return saved, nil
}

// uncertain is an error of a disk that failed in the middle of a saving.
type uncertain interface{ Uncertain() bool }

// Refused says that a saving failed: that nothing is stored, or, where the disk failed in
// the middle of it, that nobody can tell.
func Refused(err error) error {
	var told uncertain
	if errors.As(err, &told) && told.Uncertain() {
		return fmt.Errorf("NOT CERTAIN: %w", err)
	}
	return fmt.Errorf("NOT STORED: %w", err)
}

// Stored is the session once entries are durable.
func (s Session) Stored(x Saved) Session {
	s.Fresh, s.Job = false, with(s.Job, x.Entries...)
	if x.offers != nil {
		s = s.bring(*x.offers)
	}
	s.Visit = s.Visit.Stored(s.refold(), x.Entries)
	return s.decided()
}

// Keep stores entries at once, all of them or none, and is the session with them.
func (s Session) Keep(j Journal, entries []job.Entry) (Session, error) {
	if len(entries) == 0 {
		return s, nil
	}
	saved, err := s.Save(entries).Do(j)
	if err != nil {
		return s, Refused(err)
	}
	return s.Stored(saved), nil
}

// decided leaves the sheet of a verdict once the decision is made: it asks for no more.
func (s Session) decided() Session {
	if on, more := s.Visit.Sheet(s.Guide().Updated); more && on.ID == sheet.Verdict && on.FirstOpen() < 0 && !s.Visit.Looking() {
		s.Visit = s.Visit.Done()
	}
	return s
}

// With is the job as it would be shown with entries more, such as what is half typed.
func (s Session) With(entries ...job.Entry) *guide.Guide {
	return guide.Fold(visible(with(s.Job, entries...)), s.shown)
}

// with is a job with entries more. The entries before are never written to: a
// state that was folded from them stays valid.
func with(j job.Job, entries ...job.Entry) job.Job {
	j.Entries = append(slices.Clip(j.Entries), entries...)
	return j
}
