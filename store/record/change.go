package record

// This file changes records in a transaction, after it has looked at the pages that bbolt
// will use.

import (
	"encoding/json"
	"reflect"
	"slices"

	"go.etcd.io/bbolt"

	"garage/tundish/model/guide"
	"garage/tundish/store/fault"
)

// Change is a transaction that is being built, and the state it starts from.
type Change struct {
	Tx   *bbolt.Tx
	From Snapshot
}

// FillShare is how full bbolt leaves a page that it splits: nearly full, since new
// keys mostly come last. The file is a third smaller than with half-full pages.
const FillShare = 0.9

// Put checks the pages on the path to a key before bbolt uses them.
func (c Change) Put(name string, key, payload []byte) error {
	if _, _, err := c.From.Get(name, key); err != nil {
		return err
	}
	b := c.Tx.Bucket([]byte(name))
	b.FillPercent = FillShare
	return b.Put(key, Seal(name, key, payload))
}

// Del also checks the neighbouring pages: bbolt may merge them.
func (c Change) Del(name string, key []byte) error {
	if _, found, err := c.From.Get(name, key); err != nil || !found {
		return err
	}
	b, err := c.From.bucket(name)
	if err != nil {
		return err
	}
	if err := b.Around(key); err != nil {
		return fault.Damage(c.From.Path, "%s: %v", name, err)
	}
	return c.Tx.Bucket([]byte(name)).Delete(key)
}

// PutJSON puts a value as JSON.
func (c Change) PutJSON(name string, key []byte, value any) error {
	payload, err := json.Marshal(value)
	if err != nil {
		return err
	}
	return c.Put(name, key, payload)
}

// Reindex replaces a job's old index keys by its new ones.
func (c Change) Reindex(id string, was, is Job) error {
	var old []IndexKey
	if was.Head.ID != "" {
		old = IndexKeys(id, was)
	}
	now := IndexKeys(id, is)
	for _, k := range now {
		if slices.Contains(old, k) {
			continue
		}
		if err := c.Put(k.Bucket, []byte(k.Key), nil); err != nil {
			return err
		}
	}
	for _, k := range old {
		if slices.Contains(now, k) {
			continue
		}
		if err := c.Del(k.Bucket, []byte(k.Key)); err != nil {
			return err
		}
	}
	return nil
}

// PutHeads replaces heads. They are derived from the entries of jobs, so the journal need
// not know. It is an error if there is no such job, or if the head is of another number of
// entries.
func (c Change) PutHeads(heads []guide.Head) error {
	for _, h := range heads {
		was, found, err := c.From.Job(h.ID)
		switch {
		case err != nil:
			return err
		case !found:
			return fault.NoJob(c.From.Path, h.ID)
		case was.Discarded():
			return fault.Discarded(c.From.Path, h.ID)
		case was.Count != h.Entries || !was.Started.Equal(h.Started):
			return fault.Invalid(c.From.Path, "job %q: its head is not of it as it is", h.ID)
		case reflect.DeepEqual(was.Head, h):
			continue
		}
		is := was
		is.Head = h
		if err := c.Reindex(h.ID, was, is); err != nil {
			return err
		}
		if err := c.PutJSON(Jobs, []byte(h.ID), is); err != nil {
			return err
		}
	}
	return nil
}
