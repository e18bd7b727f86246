package store

// This file imports jobs. A job that was continued differently on both sides is kept
// twice, never mixed.

import (
	"cmp"
	"errors"
	"fmt"
	"strings"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/store/fault"
	"garage/tundish/store/journal"
)

// Outcome is the result of importing a job.
type Outcome uint8

// The outcomes.
const (
	Unchanged Outcome = iota // all its entries existed
	Added                    // it is new
	Extended                 // its additional entries were added
	KeptBoth                 // it differs from the existing one and is kept under another id
	Discarded                // it, or its beginning, is discarded, and stays so: nothing was added
)

// String returns the outcome in words.
func (o Outcome) String() string {
	words := [...]string{"nothing new", "added", "extended", "differs, both kept", "discarded here, not taken in"}
	if int(o) < len(words) {
		return words[o]
	}
	return fmt.Sprintf("outcome %d", uint8(o))
}

// Merged is the result for one job.
type Merged struct {
	Outcome Outcome
	ID      string // id under which the job is stored
	Entries int    // entries added
	WasOf   string // key of the unit that the job was of before, where it is Extended
}

// Incoming is a job to import, and its head.
type Incoming struct {
	Job    job.Job // without entries once it is packed
	Head   guide.Head
	packed journal.Packed
	ready  bool
}

// Pack makes the entries ready to be stored, in a fifth of the room; many jobs can be
// packed side by side. A job that is not packed is when it is imported. The error says
// why it cannot be stored.
func (in *Incoming) Pack() error {
	if in.ready {
		return nil
	}
	err := in.Job.Check()
	if err == nil {
		in.packed, err = journal.Pack(in.Job.Entries)
	}
	if err != nil {
		return err
	}
	in.ready, in.Job.Entries = true, nil
	return nil
}

// Whole returns the job with its entries.
func (in *Incoming) Whole() (whole job.Job, err error) {
	whole = in.Job
	if in.ready {
		whole.Entries, err = in.packed.Entries()
	}
	return whole, err
}

// Bytes returns how much room the packed entries take.
func (in *Incoming) Bytes() int { return in.packed.Bytes() }

// ImportAll imports jobs in order, each as a whole, as many as possible in one
// transaction. A job that exists, or is the beginning of one that does, adds nothing;
// one that continues an existing job extends it; any other with the same id is stored
// as id~2, id~3, …. Importing the same jobs again adds nothing. A discarded job stays
// discarded, and nothing is added to it.
//
// On an error the jobs in done are stored, durably, and nothing of the next one, which
// caused the error.
func (s *Store) ImportAll(jobs []Incoming) (done []Merged, err error) {
	for len(done) < len(jobs) {
		rest := jobs[len(done):]
		some, err := s.importSome(rest)
		if err != nil { // alone, the job that caused it is found
			some, err = s.importSome(rest[:1])
		}
		if err != nil {
			return done, err
		}
		done = append(done, some...)
	}
	return done, nil
}

// importSome imports the first of the jobs and those after it, up to one that may be
// a variant of an earlier one; all or none.
func (s *Store) importSome(jobs []Incoming) (done []Merged, err error) {
	roots := map[string]bool{}
	err = s.accept(func(state snapshot) (lines []journal.Line, err error) {
		for _, in := range jobs {
			root := rootID(in.Job.ID)
			if roots[root] {
				break
			}
			roots[root] = true
			l, merged, err := state.merge(in)
			if err != nil {
				return nil, err
			}
			if done = append(done, merged); merged.Outcome != Unchanged && merged.Outcome != Discarded {
				lines = append(lines, l)
			}
		}
		return lines, nil
	})
	if err != nil {
		return nil, err
	}
	return done, nil
}

// merge returns what a job adds to a state; no line if it adds nothing.
func (s snapshot) merge(in Incoming) (journal.Line, Merged, error) {
	if err := in.Pack(); err != nil {
		return journal.Line{}, Merged{}, &fault.Error{Kind: fault.ErrInvalid, Path: s.Path, Fact: "job not imported", Cause: err}
	}
	job, head, theirs := in.Job, in.Head, in.packed
	existing, free, err := s.variants(job.ID)
	if err != nil {
		return journal.Line{}, Merged{}, err
	}
	longest, known, away := -1, 0, ""
	for i, ours := range existing {
		texts, err := journal.Pack(ours.Entries)
		if err != nil {
			return journal.Line{}, Merged{}, err
		}
		switch {
		case !ours.Started.Equal(job.Started):
		case ours.discarded && (texts.BeginsWith(theirs) || theirs.BeginsWith(texts)):
			away = ours.ID
		case texts.BeginsWith(theirs):
			return journal.Line{}, Merged{Outcome: Unchanged, ID: ours.ID}, nil
		case theirs.BeginsWith(texts) && texts.Len() >= known:
			longest, known = i, texts.Len()
		}
	}
	if longest >= 0 {
		head.ID = existing[longest].ID
		l := journal.Line{Job: head.ID, Packed: theirs.From(known), Head: &head, Merged: true}
		return l, Merged{Extended, head.ID, l.Count(), existing[longest].head.UnitKey()}, nil
	}
	if away != "" {
		return journal.Line{}, Merged{Outcome: Discarded, ID: away}, nil
	}
	outcome := Added
	if free != job.ID {
		outcome = KeptBoth
	}
	head.ID, job.ID = free, free
	l := journal.Line{Job: free, Started: &job.Started, Packed: theirs, Head: &head, Merged: true}
	return l, Merged{Outcome: outcome, ID: free, Entries: l.Count()}, nil
}

// maxBaseBytes leaves room for "~" and a number in an id.
const maxBaseBytes = 58

// baseID returns an id without the number added on import.
func baseID(id string) string {
	if at := strings.LastIndexByte(id, '~'); at > 0 && strings.Trim(id[at+1:], "0123456789") == "" {
		return id[:at]
	}
	return id
}

// rootID is the same for all ids that can be variants of each other.
func rootID(id string) string {
	for {
		base := baseID(id)
		if base = base[:min(len(base), maxBaseBytes)]; base == id {
			return id
		}
		id = base
	}
}

// stored is a job that is there, its head, and whether it is discarded.
type stored struct {
	job.Job
	head      guide.Head
	discarded bool
}

// variants returns the jobs stored under an id and its numbered variants, and the id
// for one more.
func (s snapshot) variants(id string) (existing []stored, free string, err error) {
	base := baseID(id)
	for k := 0; ; k++ {
		name := fmt.Sprintf("%s~%d", base[:min(len(base), maxBaseBytes)], k)
		switch {
		case k == 0:
			name = id
		case k == 1:
			name = base
		}
		if k > 0 && name == id {
			continue
		}
		job, r, err := s.Load(name)
		switch {
		case err == nil:
			existing = append(existing, stored{job, r.Head, r.Discarded()})
		case !errors.Is(err, fault.ErrNoJob):
			return nil, "", err
		case k == 0:
			free = id
		case k > 1:
			return existing, cmp.Or(free, name), nil
		}
	}
}
