package record

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
	About    = "about"    // schema, store id, place in the journal
	Jobs     = "jobs"     // id → Job
	Entries  = "entries"  // id, 0, seq → entry
	Started  = "started"  // started, id → nothing
	Open     = "open"     // started, id → nothing; unfinished jobs only
	Units    = "units"    // length of unit key, unit key, started, id → nothing
	Drafts   = "drafts"   // id → Draft
	Settings = "settings" // in a backup the unit cards, and a list of their names; else empty
	Made     = "made"     // length of unit key, unit key; or madeAlone, id → what a program made of it; made when it is first needed
)

// Tables is every bucket of the schema that there must be, sorted.
var Tables = []string{About, Drafts, Entries, Jobs, Open, Settings, Started, Units}

const (
	timeBytes = 12 // seconds with the sign bit inverted, nanoseconds
	seqBytes  = 4
)

// TimeKey sorts by time.
func TimeKey(t time.Time) []byte {
	key := binary.BigEndian.AppendUint64(nil, uint64(t.Unix())^1<<63)
	return binary.BigEndian.AppendUint32(key, uint32(t.Nanosecond()))
}

// TimedID returns the id at the end of a timed key, empty if the key is too short.
func TimedID(key []byte) string {
	if len(key) <= timeBytes {
		return ""
	}
	return string(key[timeBytes:])
}

// entryPrefix is the prefix of the keys of a job's entries; no id contains a 0 byte.
func entryPrefix(id string) []byte { return append([]byte(id), 0) }

// EntryKey is the key of an entry.
func EntryKey(id string, seq int) []byte {
	return binary.BigEndian.AppendUint32(entryPrefix(id), uint32(seq))
}

// UnitPrefix is the prefix of the keys of a unit.
func UnitPrefix(unitKey string) []byte {
	return append(binary.BigEndian.AppendUint16(nil, uint16(len(unitKey))), unitKey...)
}

// UnitOf splits a key of the units bucket into unit prefix and timed key.
func UnitOf(key []byte) (prefix, timed []byte, ok bool) {
	if len(key) < 2 {
		return nil, nil, false
	}
	n := 2 + int(binary.BigEndian.Uint16(key))
	if len(key) <= n+timeBytes {
		return nil, nil, false
	}
	return key[:n], key[n:], true
}

// Past returns the first key after all keys with a prefix, nil if there is none.
func Past(prefix []byte) []byte {
	end := append([]byte(nil), prefix...)
	for i := len(end) - 1; i >= 0; i-- {
		if end[i]++; end[i] != 0 {
			return end[:i+1]
		}
	}
	return nil
}

// IndexKey is a key of an index.
type IndexKey struct {
	Bucket string
	Key    string
}

// indexes are all of them.
var indexes = []string{Started, Open, Units}

// IndexKeys returns a job's keys in all indexes; a discarded one has none.
func IndexKeys(id string, r Job) (keys []IndexKey) {
	for _, index := range indexes {
		if key := KeyIn(index, id, r); key != "" {
			keys = append(keys, IndexKey{index, key})
		}
	}
	return keys
}

// KeyIn returns a job's key in an index, empty where it is not in it.
func KeyIn(index, id string, r Job) string {
	started := string(append(TimeKey(r.Started), id...))
	switch {
	case r.Discarded(), index == Open && !Unfinished(r.Head):
		return ""
	case index != Units:
		return started
	}
	if unit := r.Head.UnitKey(); unit != "" {
		return string(UnitPrefix(unit)) + started
	}
	return ""
}

// Unfinished reports whether a job is in the index of those that are not finished.
func Unfinished(h guide.Head) bool { return h.Phase == guide.Open || h.Phase == guide.ToRecheck }

// EntryOf splits a key of the entries bucket; seq is 0 if it is none.
func EntryOf(key []byte) (id string, seq int) {
	at := len(key) - seqBytes - 1
	if at < 1 || key[at] != 0 {
		return "", 0
	}
	return string(key[:at]), int(binary.BigEndian.Uint32(key[at+1:]))
}
