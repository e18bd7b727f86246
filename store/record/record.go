// Package record holds the tables of a store: their keys, their sealed records, and one
// committed state of them to read from.
package record

// This file holds the form of a record: a checksum, then JSON (nothing in an index).
// The checksum covers bucket and key too, so that a record in the wrong place is
// recognised as damage.

import (
	"encoding/binary"
	"encoding/json"
	"errors"
	"hash/crc32"
	"time"

	"go.etcd.io/bbolt"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/store/pages"
)

const sumBytes = 4

// ErrSum is the error of a value that was changed, or stands in a wrong place.
var ErrSum = errors.New("checksum does not fit")

// recordSum is the CRC-32C of the lengths of bucket and key, of both, and of the
// payload.
func recordSum(bucket string, key, payload []byte) uint32 {
	var room [128]byte
	head := binary.BigEndian.AppendUint32(room[:0], uint32(len(bucket)))
	head = binary.BigEndian.AppendUint32(head, uint32(len(key)))
	head = append(append(head, bucket...), key...)
	table := crc32.MakeTable(crc32.Castagnoli) // built on first use: not every command opens a store
	return crc32.Update(crc32.Checksum(head, table), table, payload)
}

// Seal returns the stored form of a payload.
func Seal(bucket string, key, payload []byte) []byte {
	out := make([]byte, sumBytes, sumBytes+len(payload))
	binary.BigEndian.PutUint32(out, recordSum(bucket, key, payload))
	return append(out, payload...)
}

// Unseal returns the payload of a stored value, or an error if it was changed.
func Unseal(bucket string, key, value []byte) ([]byte, error) {
	if len(value) < sumBytes {
		return nil, ErrSum
	}
	payload := value[sumBytes:]
	if binary.BigEndian.Uint32(value) != recordSum(bucket, key, payload) {
		return nil, ErrSum
	}
	return payload, nil
}

// Job is what is stored of a job besides its entries: its start, how many
// entries it has, its head, and how often it was discarded and taken back.
type Job struct {
	Started  time.Time  `json:"started"`
	Count    int        `json:"count"`
	Head     guide.Head `json:"head"`
	Discards int        `json:"discards,omitempty"` // odd: it is discarded
}

// Discarded reports whether it is.
func (r Job) Discarded() bool { return r.Discards%2 == 1 }

// DecodeEntry reads an entry and checks that it has the number in its key.
func DecodeEntry(seq int, payload []byte) (job.Entry, error) {
	var e job.Entry
	if err := json.Unmarshal(payload, &e); err != nil {
		return job.Entry{}, err
	}
	if e.Seq != seq {
		return job.Entry{}, errors.New("entry stands in another entry's place")
	}
	return e, e.Check()
}

// PutAll stores records, their values without checksum, in one transaction.
func PutAll(db *bbolt.DB, bucket string, records []pages.Element) error {
	return db.Update(func(tx *bbolt.Tx) error {
		b := tx.Bucket([]byte(bucket))
		b.FillPercent = FillShare
		for _, e := range records {
			if err := b.Put(e.Key, Seal(bucket, e.Key, e.Value)); err != nil {
				return err
			}
		}
		return nil
	})
}
