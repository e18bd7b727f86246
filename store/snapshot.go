package store

// This file reads records from one committed state of the file. What cannot be
// read as it was written is damage; it is never passed on.

import (
	"encoding/json"
	"os"

	"garage/tundish/model/job"
)

// snapshot is one committed state of a store.
type snapshot struct {
	path string
	tree *tree
}

// snap takes the state of the file as it is now.
func snap(path string, f *os.File) (snapshot, error) {
	info, err := f.Stat()
	if err != nil {
		return snapshot{}, damage(path, "%v", err)
	}
	m, fault := latestMeta(f)
	if fault != metaFine {
		return snapshot{}, damage(path, "the two pages that name its state cannot be read")
	}
	if err := m.fits(info.Size()); err != nil {
		return snapshot{}, damage(path, "%v", err)
	}
	return snapshot{path, treeOf(f, m)}, nil
}

// bucket finds a bucket that every store has.
func (s snapshot) bucket(name string) (bucket, error) {
	b, found, err := s.tree.bucket(name)
	if err != nil {
		return bucket{}, damage(s.path, "%v", err)
	}
	if !found {
		return bucket{}, damage(s.path, "it has no %s", name)
	}
	return b, nil
}

// get is the payload of one record.
func (s snapshot) get(name string, key []byte) (payload []byte, found bool, err error) {
	b, err := s.bucket(name)
	if err != nil {
		return nil, false, err
	}
	met, found, err := b.get(key)
	if err != nil {
		return nil, false, damage(s.path, "%s: %v", name, err)
	}
	for _, e := range met {
		if payload, err = unseal(name, e.key, e.value); err != nil || e.bucket {
			return nil, false, damage(s.path, "%s %q: %v", name, e.key, errSum)
		}
	}
	if !found {
		return nil, false, nil
	}
	return payload, true, nil
}

// getJSON reads one record into a value.
func (s snapshot) getJSON(name string, key []byte, into any) (found bool, err error) {
	payload, found, err := s.get(name, key)
	if err != nil || !found {
		return false, err
	}
	if err := json.Unmarshal(payload, into); err != nil {
		return false, damage(s.path, "%s %q: %v", name, key, err)
	}
	return true, nil
}

// walk reads records from a key on, in one direction, until each says enough.
func (s snapshot) walk(name string, from []byte, back bool, each func(key, payload []byte) (more bool, err error)) error {
	b, err := s.bucket(name)
	if err != nil {
		return err
	}
	var wrong error
	err = b.walk(from, back, func(e element) (bool, error) {
		payload, err := unseal(name, e.key, e.value)
		if err != nil || e.bucket {
			wrong = damage(s.path, "%s %q: %v", name, e.key, errSum)
			return false, nil
		}
		more, err := each(e.key, payload)
		wrong = err
		return more && err == nil, nil
	})
	if wrong == nil && err != nil {
		return damage(s.path, "%s: %v", name, err)
	}
	return wrong
}

// job reads what is kept of a job beside its entries.
func (s snapshot) job(id string) (r jobRecord, found bool, err error) {
	found, err = s.getJSON(jobsBucket, []byte(id), &r)
	if err == nil && found && (r.Head.ID != id || r.Count < 0 || r.Count > job.MaxEntries) {
		return jobRecord{}, false, damage(s.path, "job %q: its line is not of this job", id)
	}
	return r, found, err
}

// load reads a whole job.
func (s snapshot) load(id string) (job.Job, jobRecord, error) {
	r, found, err := s.job(id)
	if err != nil {
		return job.Job{}, jobRecord{}, err
	}
	if !found {
		return job.Job{}, jobRecord{}, noJob(s.path, id)
	}
	j := job.Job{ID: id, Started: r.Started, Entries: make([]job.Entry, 0, r.Count)}
	end := string(past(entryPrefix(id)))
	err = s.walk(entriesBucket, entryPrefix(id), false, func(key, payload []byte) (bool, error) {
		if string(key) >= end {
			return false, nil
		}
		seq := len(j.Entries) + 1
		e, err := decodeEntry(seq, payload)
		if err != nil || string(key) != string(entryKey(id, seq)) {
			return false, damage(s.path, "job %q: entry %d: %v", id, seq, err)
		}
		j.Entries = append(j.Entries, e)
		return true, nil
	})
	if err != nil {
		return job.Job{}, jobRecord{}, err
	}
	if len(j.Entries) != r.Count {
		return job.Job{}, jobRecord{}, damage(s.path, "job %q: %d of %d entries are there", id, len(j.Entries), r.Count)
	}
	return j, r, nil
}
