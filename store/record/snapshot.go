package record

// This file reads records from one committed state of the file. A record that was
// changed is damage and never returned.

import (
	"bytes"
	"encoding/json"
	"fmt"
	"iter"
	"os"

	jsonv2 "github.com/go-json-experiment/json"

	"garage/tundish/model/job"
	"garage/tundish/store/disk"
	"garage/tundish/store/fault"
	"garage/tundish/store/pages"
)

// Snapshot is one committed state of a store.
type Snapshot struct {
	Path string
	Tree *pages.Tree
}

// Snap returns the current state of the file.
func Snap(path string, f *os.File) (Snapshot, error) {
	info, err := f.Stat()
	if err != nil {
		return Snapshot{}, fault.Damage(path, "%v", err)
	}
	from := disk.Reader{File: f}
	m, wrong := pages.Latest(from)
	if wrong == pages.Unread {
		_, err := from.ReadAt(make([]byte, pages.FirstData*pages.Size), 0)
		return Snapshot{}, fault.Damage(path, "%v", err)
	}
	if wrong != pages.Fine {
		return Snapshot{}, fault.Damage(path, "the two pages that name its state cannot be read")
	}
	if err := m.Fits(info.Size()); err != nil {
		return Snapshot{}, fault.Damage(path, "%v", err)
	}
	return Snapshot{path, pages.New(from, m)}, nil
}

// bucket returns a bucket that every store has.
func (s Snapshot) bucket(name string) (pages.Bucket, error) {
	b, found, err := s.Tree.Bucket(name)
	if err != nil {
		return pages.Bucket{}, fault.Damage(s.Path, "%v", err)
	}
	if !found {
		return pages.Bucket{}, fault.Damage(s.Path, "it has no %s", name)
	}
	return b, nil
}

// Get returns the payload of a record.
func (s Snapshot) Get(name string, key []byte) (payload []byte, found bool, err error) {
	b, err := s.bucket(name)
	if err != nil {
		return nil, false, err
	}
	met, found, err := b.Get(key)
	if err != nil {
		return nil, false, fault.Damage(s.Path, "%s: %v", name, err)
	}
	for _, e := range met {
		if payload, err = s.unsealed(name, e); err != nil {
			return nil, false, err
		}
	}
	return payload, found, nil
}

// GetJSON decodes a record into a value.
func (s Snapshot) GetJSON(name string, key []byte, into any) (found bool, err error) {
	payload, found, err := s.Get(name, key)
	if err != nil || !found {
		return false, err
	}
	if err := json.Unmarshal(payload, into); err != nil {
		return false, fault.Damage(s.Path, "%s %q: %v", name, key, err)
	}
	return true, nil
}

// Records returns the records from a key on, in one direction, their values without
// checksum. It ends after an error.
func (s Snapshot) Records(name string, from []byte, back bool) iter.Seq2[pages.Element, error] {
	return func(yield func(pages.Element, error) bool) {
		b, err := s.bucket(name)
		if err != nil {
			yield(pages.Element{}, err)
			return
		}
		for e, err := range b.Elements(from, back) {
			if err != nil {
				yield(pages.Element{}, fault.Damage(s.Path, "%s: %v", name, err))
				return
			}
			if e.Value, err = s.unsealed(name, e); !yield(e, err) || err != nil {
				return
			}
		}
	}
}

// Count returns the number of records of a bucket.
func (s Snapshot) Count(name string) (n int, err error) {
	for _, err := range s.Records(name, nil, false) {
		if err != nil {
			return 0, err
		}
		n++
	}
	return n, nil
}

// Survey reads everything in the state: it calls record for each intact record, and
// wrong for each damage.
func (s Snapshot) Survey(record func(bucket string, key, payload []byte), wrong func(error)) {
	s.Tree.Survey(func(bucket string, e pages.Element) {
		payload, err := Unseal(bucket, e.Key, e.Value)
		if err != nil || e.IsBucket {
			wrong(fmt.Errorf("%s %q: %w", bucket, e.Key, ErrSum))
			return
		}
		record(bucket, e.Key, payload)
	}, wrong)
}

// unsealed returns the payload of an element.
func (s Snapshot) unsealed(name string, e pages.Element) ([]byte, error) {
	payload, err := Unseal(name, e.Key, e.Value)
	if err != nil || e.IsBucket {
		return nil, fault.Damage(s.Path, "%s %q: %v", name, e.Key, ErrSum)
	}
	return payload, nil
}

// Job reads what is stored of a job besides its entries.
func (s Snapshot) Job(id string) (r Job, found bool, err error) {
	payload, found, err := s.Get(Jobs, []byte(id))
	if err == nil && found {
		if wrong := jsonv2.Unmarshal(payload, &r); wrong != nil {
			return Job{}, false, fault.Damage(s.Path, "%s %q: %v", Jobs, id, wrong)
		}
	}
	if err == nil && found && (r.Head.ID != id || r.Count < 0 || r.Count > job.MaxEntries) {
		return Job{}, false, fault.Damage(s.Path, "job %q: its line is not of this job", id)
	}
	return r, found, err
}

// Load reads a whole job.
func (s Snapshot) Load(id string) (job.Job, Job, error) {
	r, found, err := s.Job(id)
	if err == nil && !found {
		err = fault.NoJob(s.Path, id)
	}
	if err != nil {
		return job.Job{}, Job{}, err
	}
	j := job.Job{ID: id, Started: r.Started, Entries: make([]job.Entry, 0, r.Count)}
	for e, err := range s.Records(Entries, entryPrefix(id), false) {
		if err != nil {
			return job.Job{}, Job{}, err
		}
		if !bytes.HasPrefix(e.Key, entryPrefix(id)) {
			break
		}
		seq := len(j.Entries) + 1
		entry, err := DecodeEntry(seq, e.Value)
		if err != nil || !bytes.Equal(e.Key, EntryKey(id, seq)) {
			return job.Job{}, Job{}, fault.Damage(s.Path, "job %q: entry %d: %v", id, seq, err)
		}
		j.Entries = append(j.Entries, entry)
	}
	if len(j.Entries) != r.Count {
		return job.Job{}, Job{}, fault.Damage(s.Path, "job %q: %d of %d entries are there", id, len(j.Entries), r.Count)
	}
	return j, r, nil
}
