package store

// This file reads records from one committed state of the file. A record that was
// changed is damage and never returned.

import (
	"bytes"
	"encoding/json"
	"fmt"
	"iter"
	"os"

	"garage/tundish/model/job"
	"garage/tundish/store/disk"
	"garage/tundish/store/pages"
)

// snapshot is one committed state of a store.
type snapshot struct {
	path string
	tree *pages.Tree
}

// snap returns the current state of the file.
func snap(path string, f *os.File) (snapshot, error) {
	info, err := f.Stat()
	if err != nil {
		return snapshot{}, damage(path, "%v", err)
	}
	from := disk.Reader{File: f}
	m, fault := pages.Latest(from)
	if fault == pages.Unread {
		_, err := from.ReadAt(make([]byte, pages.FirstData*pages.Size), 0)
		return snapshot{}, damage(path, "%v", err)
	}
	if fault != pages.Fine {
		return snapshot{}, damage(path, "the two pages that name its state cannot be read")
	}
	if err := m.Fits(info.Size()); err != nil {
		return snapshot{}, damage(path, "%v", err)
	}
	return snapshot{path, pages.New(from, m)}, nil
}

// bucket returns a bucket that every store has.
func (s snapshot) bucket(name string) (pages.Bucket, error) {
	b, found, err := s.tree.Bucket(name)
	if err != nil {
		return pages.Bucket{}, damage(s.path, "%v", err)
	}
	if !found {
		return pages.Bucket{}, damage(s.path, "it has no %s", name)
	}
	return b, nil
}

// get returns the payload of a record.
func (s snapshot) get(name string, key []byte) (payload []byte, found bool, err error) {
	b, err := s.bucket(name)
	if err != nil {
		return nil, false, err
	}
	met, found, err := b.Get(key)
	if err != nil {
		return nil, false, damage(s.path, "%s: %v", name, err)
	}
	for _, e := range met {
		if payload, err = s.unsealed(name, e); err != nil {
			return nil, false, err
		}
	}
	return payload, found, nil
}

// getJSON decodes a record into a value.
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

// records returns the records from a key on, in one direction, their values without
// checksum. It ends after an error.
func (s snapshot) records(name string, from []byte, back bool) iter.Seq2[pages.Element, error] {
	return func(yield func(pages.Element, error) bool) {
		b, err := s.bucket(name)
		if err != nil {
			yield(pages.Element{}, err)
			return
		}
		for e, err := range b.Elements(from, back) {
			if err != nil {
				yield(pages.Element{}, damage(s.path, "%s: %v", name, err))
				return
			}
			if e.Value, err = s.unsealed(name, e); !yield(e, err) || err != nil {
				return
			}
		}
	}
}

// survey reads everything in the state: it calls record for each intact record, and
// fault for each damage.
func (s snapshot) survey(record func(bucket string, key, payload []byte), fault func(error)) {
	s.tree.Survey(func(bucket string, e pages.Element) {
		payload, err := unseal(bucket, e.Key, e.Value)
		if err != nil || e.IsBucket {
			fault(fmt.Errorf("%s %q: %w", bucket, e.Key, errSum))
			return
		}
		record(bucket, e.Key, payload)
	}, fault)
}

// unsealed returns the payload of an element.
func (s snapshot) unsealed(name string, e pages.Element) ([]byte, error) {
	payload, err := unseal(name, e.Key, e.Value)
	if err != nil || e.IsBucket {
		return nil, damage(s.path, "%s %q: %v", name, e.Key, errSum)
	}
	return payload, nil
}

// job reads what is stored of a job besides its entries.
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
	if err == nil && !found {
		err = noJob(s.path, id)
	}
	if err != nil {
		return job.Job{}, jobRecord{}, err
	}
	j := job.Job{ID: id, Started: r.Started, Entries: make([]job.Entry, 0, r.Count)}
	for e, err := range s.records(entriesBucket, entryPrefix(id), false) {
		if err != nil {
			return job.Job{}, jobRecord{}, err
		}
		if !bytes.HasPrefix(e.Key, entryPrefix(id)) {
			break
		}
		seq := len(j.Entries) + 1
		entry, err := decodeEntry(seq, e.Value)
		if err != nil || !bytes.Equal(e.Key, entryKey(id, seq)) {
			return job.Job{}, jobRecord{}, damage(s.path, "job %q: entry %d: %v", id, seq, err)
		}
		j.Entries = append(j.Entries, entry)
	}
	if len(j.Entries) != r.Count {
		return job.Job{}, jobRecord{}, damage(s.path, "job %q: %d of %d entries are there", id, len(j.Entries), r.Count)
	}
	return j, r, nil
}
