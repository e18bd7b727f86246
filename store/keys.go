package store

// This file names the buckets and builds their keys. Keys sort in the order in which
// they are read: times and numbers are big-endian.

import (
	"encoding/binary"
	"time"

	"garage/tundish/model/guide"
)

// The buckets. Only entries and jobs hold what cannot be derived; the three indexes
// are derived from the jobs' records.
const (
	aboutBucket    = "about"    // schema, store id, place in the journal
	jobsBucket     = "jobs"     // id → jobRecord
	entriesBucket  = "entries"  // id, 0, seq → entry
	startedBucket  = "started"  // started, id → nothing
	openBucket     = "open"     // started, id → nothing; unfinished jobs only
	unitsBucket    = "units"    // length of unit key, unit key, started, id → nothing
	draftsBucket   = "drafts"   // id → Draft
	settingsBucket = "settings" // unused; part of schema 1
)

// Tables is every bucket of the schema, sorted.
func Tables() []string {
	return []string{aboutBucket, draftsBucket, entriesBucket, jobsBucket, openBucket,
		settingsBucket, startedBucket, unitsBucket}
}

const (
	timeBytes = 12 // seconds with the sign bit inverted, nanoseconds
	seqBytes  = 4
)

func timeKey(t time.Time) []byte {
	key := binary.BigEndian.AppendUint64(nil, uint64(t.Unix())^1<<63)
	return binary.BigEndian.AppendUint32(key, uint32(t.Nanosecond()))
}

// timedKey sorts by time, then by id.
func timedKey(t time.Time, id string) []byte { return append(timeKey(t), id...) }

// timedID returns the id at the end of a timed key, empty if the key is too short.
func timedID(key []byte) string {
	if len(key) <= timeBytes {
		return ""
	}
	return string(key[timeBytes:])
}

// entryPrefix is the prefix of the keys of a job's entries; no id contains a 0 byte.
func entryPrefix(id string) []byte { return append([]byte(id), 0) }

func entryKey(id string, seq int) []byte {
	return binary.BigEndian.AppendUint32(entryPrefix(id), uint32(seq))
}

func unitPrefix(unitKey string) []byte {
	return append(binary.BigEndian.AppendUint16(nil, uint16(len(unitKey))), unitKey...)
}

// unitOf splits a key of the units bucket into unit prefix and timed key.
func unitOf(key []byte) (prefix, timed []byte, ok bool) {
	if len(key) < 2 {
		return nil, nil, false
	}
	n := 2 + int(binary.BigEndian.Uint16(key))
	if len(key) <= n+timeBytes {
		return nil, nil, false
	}
	return key[:n], key[n:], true
}

// past returns the first key after all keys with a prefix, nil if there is none.
func past(prefix []byte) []byte {
	end := append([]byte(nil), prefix...)
	for i := len(end) - 1; i >= 0; i-- {
		if end[i]++; end[i] != 0 {
			return end[:i+1]
		}
	}
	return nil
}

// indexKey is a key of an index.
type indexKey struct {
	bucket string
	key    string
}

// indexKeys returns a job's keys in all indexes; a discarded one has none.
func indexKeys(id string, r jobRecord) []indexKey {
	if r.discarded() {
		return nil
	}
	started := string(timedKey(r.Started, id))
	keys := []indexKey{{startedBucket, started}}
	if unfinished(r.Head) {
		keys = append(keys, indexKey{openBucket, started})
	}
	if unit := r.Head.UnitKey(); unit != "" {
		keys = append(keys, indexKey{unitsBucket, string(unitPrefix(unit)) + started})
	}
	return keys
}

func unfinished(h guide.Head) bool { return h.Phase == guide.Open || h.Phase == guide.ToRecheck }
