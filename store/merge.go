package store

// This file lets in jobs from elsewhere. A job that both sides went on with in
// different ways is kept twice, never mixed.

import (
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/store/journal"
)

// Outcome is what became of a job that was let in.
type Outcome uint8

// The outcomes.
const (
	Unchanged Outcome = iota // all its entries were there
	Added                    // it was new
	Extended                 // it had entries more, they were added
	KeptBoth                 // it differs from the one that is there: kept under another id
)

// String is the outcome in words.
func (o Outcome) String() string {
	words := [...]string{"nothing new", "added", "extended", "differs, both kept"}
	if int(o) < len(words) {
		return words[o]
	}
	return fmt.Sprintf("outcome %d", uint8(o))
}

// Merged says what became of one job.
type Merged struct {
	Outcome Outcome
	ID      string // id under which the job now stands
	Entries int    // entries that were added
}

// Incoming is a job from elsewhere, with its line of the list.
type Incoming struct {
	Job  job.Job
	Head guide.Head
}

// ImportAll lets jobs in, one after the other, each whole with its line of the
// list, and as many as it can in one transaction. A job that is there already,
// or the beginning of one, adds nothing; one that goes on where ours ends
// extends it; any other of the same id is kept beside ours as id~2, id~3, ….
// Letting the same in again adds nothing.
//
// On an error all those of which done tells are in, durably, and nothing of the
// one behind them, whose error it is: ErrInvalid where it is not whole.
func (s *Store) ImportAll(jobs []Incoming) (done []Merged, err error) {
	for len(done) < len(jobs) {
		rest := jobs[len(done):]
		some, err := s.importSome(rest)
		if err != nil { // of whichever: one at a time it shows whose it is
			some, err = s.importSome(rest[:1])
		}
		if err != nil {
			return done, err
		}
		done = append(done, some...)
	}
	return done, nil
}

// importSome lets the first of the jobs in, and those behind it up to one that
// may be kin of one before, all or none.
func (s *Store) importSome(jobs []Incoming) (done []Merged, err error) {
	stems := map[string]bool{}
	err = s.accept(func(state snapshot) (lines []journal.Line, err error) {
		for _, in := range jobs {
			stem := rootStem(in.Job.ID)
			if stems[stem] {
				break
			}
			stems[stem] = true
			l, merged, err := state.merge(in.Job, in.Head)
			if err != nil {
				return nil, err
			}
			if done = append(done, merged); merged.Outcome != Unchanged {
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

// merge finds what a job adds to a state; no line where it is Unchanged.
func (s snapshot) merge(job job.Job, head guide.Head) (journal.Line, Merged, error) {
	if err := job.Check(); err != nil {
		return journal.Line{}, Merged{}, &Error{Kind: ErrInvalid, Path: s.path, Fact: "job not imported", Cause: err}
	}
	kin, free, err := s.family(job.ID)
	if err != nil {
		return journal.Line{}, Merged{}, err
	}
	var theirs []string
	if len(kin) > 0 {
		if theirs, err = entryTexts(job.Entries); err != nil {
			return journal.Line{}, Merged{}, err
		}
	}
	longest, known := -1, 0
	for i, ours := range kin {
		texts, err := entryTexts(ours.Entries)
		if err != nil {
			return journal.Line{}, Merged{}, err
		}
		switch {
		case !ours.Started.Equal(job.Started):
		case begins(texts, theirs):
			return journal.Line{}, Merged{Unchanged, ours.ID, 0}, nil
		case begins(theirs, texts) && len(texts) >= known:
			longest, known = i, len(texts)
		}
	}
	if longest >= 0 {
		head.ID = kin[longest].ID
		l := journal.Line{Job: head.ID, Entries: job.Entries[known:], Head: &head, Merged: true}
		return l, Merged{Extended, head.ID, len(l.Entries)}, nil
	}
	outcome := Added
	if free != job.ID {
		outcome = KeptBoth
	}
	head.ID, job.ID = free, free
	l := creation(job, head)
	l.Merged = true
	return l, Merged{outcome, free, len(job.Entries)}, nil
}

// maxStemBytes leaves room for "~" and a number in an id.
const maxStemBytes = 58

// kinStem is an id without the number that it was given when it was let in.
func kinStem(id string) string {
	if at := strings.LastIndexByte(id, '~'); at > 0 && strings.Trim(id[at+1:], "0123456789") == "" {
		return id[:at]
	}
	return id
}

// rootStem is the same for all ids that can be kin of each other.
func rootStem(id string) string {
	for {
		stem := kinStem(id)
		if stem = stem[:min(len(stem), maxStemBytes)]; stem == id {
			return id
		}
		id = stem
	}
}

// family is the jobs that stand under an id and its numbered kin, and the id
// that a further one takes.
func (s snapshot) family(id string) (kin []job.Job, free string, err error) {
	stem := kinStem(id)
	for k := 0; ; k++ {
		name := fmt.Sprintf("%s~%d", stem[:min(len(stem), maxStemBytes)], k)
		switch {
		case k == 0:
			name = id
		case k == 1:
			name = stem
		}
		if k > 0 && name == id {
			continue
		}
		job, _, err := s.load(name)
		switch {
		case err == nil:
			kin = append(kin, job)
		case !errors.Is(err, ErrNoJob):
			return nil, "", err
		case k == 0:
			free = id
		case k > 1:
			return kin, cmp.Or(free, name), nil
		}
	}
}

func entryTexts(entries []job.Entry) ([]string, error) {
	texts := make([]string, len(entries))
	for i, e := range entries {
		text, err := json.Marshal(e)
		if err != nil {
			return nil, err
		}
		texts[i] = string(text)
	}
	return texts, nil
}

func sameEntry(a, b job.Entry) bool {
	texts, err := entryTexts([]job.Entry{a, b})
	return err == nil && texts[0] == texts[1]
}

// begins reports whether all begins with the first texts.
func begins(all, first []string) bool {
	return len(first) <= len(all) && slices.Equal(all[:len(first)], first)
}
