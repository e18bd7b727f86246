package store

// This file looks a store through: every page, every record, every index, every
// line of the journal, and one against the other. It changes nothing.

import (
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"io/fs"
	"maps"
	"slices"
	"time"

	"go.etcd.io/bbolt"

	"garage/tundish/model/job"
)

// Verify looks a store through, also a damaged one, and says what is wrong. It
// is an error only where there is nothing to look at: no file, a foreign or a
// newer one, one that another window holds and that cannot be read beside it.
func Verify(path string) (Report, error) {
	path, err := locate(path)
	if err != nil {
		return Report{}, err
	}
	a := audit{report: &Report{Path: path}, jobs: map[string]jobRecord{}, index: map[indexKey]bool{},
		inBolt: prints{}, inJournal: prints{}}
	f, beside, err := openToRead(path, Options{})
	if err != nil {
		if errors.Is(err, ErrAbsent) && journalBeside(path) == heldJournal {
			return Report{}, lost(path)
		}
		return Report{}, err
	}
	a.report.Beside = beside
	s := &Store{path: path, file: f, opening: Opening{Beside: beside}}
	defer s.Close()
	state, _, err := s.inspect(Options{noSurvey: true}, current())
	if err != nil && !errors.Is(err, ErrDamaged) {
		return Report{}, err
	}
	if err != nil {
		a.report.find(path, "%s", factOf(err))
	} else {
		a.readBolt(state)
	}
	safe := a.report.OK()
	a.readJournal(s, state, err == nil)
	if safe {
		a.askBolt(s)
	}
	return *a.report, nil
}

func factOf(err error) string {
	var told *Error
	if errors.As(err, &told) {
		return told.Fact
	}
	return err.Error()
}

// audit is one look through a store.
type audit struct {
	report    *Report
	jobs      map[string]jobRecord
	index     map[indexKey]bool // index keys met and not yet accounted for
	inBolt    prints
	inJournal prints
}

// prints is what tells one job's entries from another's: a checksum each.
type prints map[string]*jobPrint

type jobPrint struct {
	started time.Time
	sums    []uint32
}

// add takes the next entry of a job; false where it is not the next.
func (p prints) add(id string, e job.Entry) bool {
	job := p[id]
	if job == nil {
		job = &jobPrint{}
		p[id] = job
	}
	text, err := json.Marshal(e)
	if err != nil || e.Seq != len(job.sums)+1 {
		return false
	}
	job.sums = append(job.sums, crc32.Checksum(text, castagnoli()))
	return true
}

// readBolt looks the bbolt file through.
func (a *audit) readBolt(state snapshot) {
	fault := func(err error) { a.report.find(state.path, "%v", err) }
	look := survey{tree: state.tree, fault: fault, record: func(bucket string, key, payload []byte) {
		if err := a.record(bucket, key, payload); err != nil {
			fault(fmt.Errorf("%s %q: %w", bucket, key, err))
		}
	}}
	look.run()
	for _, id := range slices.Sorted(maps.Keys(a.jobs)) {
		if err := a.account(id); err != nil {
			fault(fmt.Errorf("job %q: %w", id, err))
		}
	}
	for key := range a.index {
		fault(fmt.Errorf("%s: a place %q that no job has", key.bucket, key.key))
	}
	for _, id := range slices.Sorted(maps.Keys(a.inBolt)) {
		if _, ok := a.jobs[id]; !ok {
			fault(fmt.Errorf("entries of job %q, which is not there", id))
		}
	}
}

// record looks at one record.
func (a *audit) record(bucket string, key, payload []byte) error {
	switch bucket {
	case jobsBucket:
		var r jobRecord
		if err := json.Unmarshal(payload, &r); err != nil {
			return err
		}
		a.jobs[string(key)] = r
	case entriesBucket:
		id, seq := entryOf(key)
		e, err := decodeEntry(seq, payload)
		if err == nil && !a.inBolt.add(id, e) {
			err = errors.New("does not follow the entry before")
		}
		if odd := e.CheckSense(); err == nil && odd != nil { // let in before imports were held to it
			a.report.note(a.report.Path, "job %q, entry %d: %v; strike it out, or give the right value", id, seq, odd)
		}
		return err
	case startedBucket, openBucket, unitsBucket:
		a.index[indexKey{bucket, string(key)}] = true
	case draftsBucket:
		return json.Unmarshal(payload, new(Draft))
	case settingsBucket, aboutBucket:
		return json.Unmarshal(payload, new(any))
	default:
		return errors.New("a bucket that no store has")
	}
	return nil
}

// entryOf splits a key of the entries bucket; 0 where it is none.
func entryOf(key []byte) (id string, seq int) {
	at := len(key) - seqBytes - 1
	if at < 1 || key[at] != 0 {
		return "", 0
	}
	return string(key[:at]), int(binary.BigEndian.Uint32(key[at+1:]))
}

// account compares a job's line with its entries and its places in the indexes.
func (a *audit) account(id string) error {
	r := a.jobs[id]
	for _, key := range indexKeys(id, r) {
		if !a.index[key] {
			return fmt.Errorf("is not in the index %s", key.bucket)
		}
		delete(a.index, key)
	}
	job := a.inBolt[id]
	if job == nil {
		job = &jobPrint{}
		a.inBolt[id] = job
	}
	job.started = r.Started
	if r.Head.ID != id || r.Count != len(job.sums) {
		return fmt.Errorf("%d of %d entries are there", len(job.sums), r.Count)
	}
	a.report.Jobs++
	a.report.Entries += r.Count
	return nil
}

// askBolt lets bbolt check the file itself, where no damage was found that could
// lead it astray. The file is closed with that.
func (a *audit) askBolt(s *Store) {
	path := s.path
	err, _ := guard(path, func() error {
		o := s.boltOptions(s.file)
		o.ReadOnly = true
		db, err := bbolt.Open(path, fileMode, o)
		if err != nil {
			return err
		}
		defer db.Close()
		return db.View(func(tx *bbolt.Tx) error {
			for wrong := range tx.Check() {
				a.report.find(path, "%v", wrong)
			}
			return nil
		})
	})
	if err != nil {
		a.report.find(path, "%v", err)
	}
}

// readJournal looks the journal through and compares it with bbolt, where that
// could be read.
func (a *audit) readJournal(s *Store, state snapshot, readable bool) {
	path := s.path + journalSuffix
	j, first, err := openJournal(path, false)
	switch {
	case errors.Is(err, fs.ErrNotExist) && readable:
		a.report.note(path, "not there; the next opening writes it anew")
		return
	case err != nil:
		a.report.find(path, "%v", err)
		return
	}
	defer j.file.Close()
	if first.Journal == 0 {
		a.report.find(path, "its first line cannot be read")
	}
	m := mark{End: 1 << 62} // not known: every line counts as in bbolt
	if readable {
		known := false
		if m, known = a.markOf(state, path, first); !known {
			return
		}
	}
	upToMark := *j
	upToMark.sizeBytes = min(j.sizeBytes, m.End)
	a.readLines(&upToMark, m, readable)
	if readable && !s.opening.Beside { // what another window has added since is not looked at
		a.readBehind(s, state, j, m)
	}
	if readable && a.report.OK() {
		a.compare(s.path)
	}
}

// markOf is bbolt's place in a journal; false where that says all there is to say.
func (a *audit) markOf(state snapshot, path string, first line) (m mark, known bool) {
	found, err := state.getJSON(aboutBucket, []byte(markKey), &m)
	id, idErr := state.storeID()
	switch {
	case err != nil:
		a.report.find(path, "%s", factOf(err))
	case !found: // cut off in the first opening, between the journal and its mark
		a.report.note(path, "the store does not know it yet; the next opening sees to that")
	case idErr == nil && first.Journal > 0 && first.Store != id:
		a.report.find(path, "it is of another store")
	default:
		return m, true
	}
	return mark{}, false
}

// readBehind says what the next opening will do with what lies behind the mark.
func (a *audit) readBehind(s *Store, state snapshot, j *journal, m mark) {
	rest, fits, err := j.behind(m)
	switch {
	case err != nil:
		a.report.find(j.path, "%v", err)
	case fits && rest.alien:
		if err := s.knowsAll(state); err != nil {
			a.report.find(j.path, "%s", factOf(err))
		} else {
			a.report.note(j.path, "it holds more than goes on from the store; the next opening writes it anew")
		}
		return
	}
	if len(rest.lines) > 0 {
		a.report.note(j.path, "%d lines are not in the store yet; the next opening puts them in", len(rest.lines))
	}
	if rest.torn {
		a.report.note(j.path, "its end was cut off in the writing; the next opening takes it out")
	}
}

// readLines reads every line into inJournal.
func (a *audit) readLines(j *journal, m mark, readable bool) {
	last, met := mark{N: -1}, !readable
	err := j.scan(0, func(at int64, text []byte) bool {
		l, sum, err := decodeLine(text)
		if err == nil {
			err = l.check()
		}
		if err == nil && !last.follows(l) {
			err = fmt.Errorf("does not follow %v", last)
		}
		if err != nil {
			a.report.find(j.path, "line at byte %d: %v", at, err)
		} else {
			met = met || at+int64(len(text)) == m.End && l.N == m.N && sum == m.Sum
			a.report.Lines += min(l.N, 1)
			a.readLine(j.path, l)
		}
		last = mark{N: l.N, Sum: sum}
		return true
	})
	switch {
	case err != nil:
		a.report.find(j.path, "%v", err)
	case !met:
		a.report.find(j.path, "it does not hold the last line that the store knows")
	}
}

func (a *audit) readLine(path string, l line) {
	if l.Started != nil {
		a.inJournal[l.Job] = &jobPrint{started: *l.Started}
	}
	for _, e := range l.Entries {
		if !a.inJournal.add(l.Job, e) {
			a.report.find(path, "line %d: entry %d of job %q does not follow the one before", l.N, e.Seq, l.Job)
			return
		}
	}
}

// compare compares the two copies of every job.
func (a *audit) compare(path string) {
	for _, id := range slices.Sorted(maps.Keys(a.inBolt)) {
		b, j := a.inBolt[id], a.inJournal[id]
		if j == nil || !j.started.Equal(b.started) || !slices.Equal(j.sums, b.sums) {
			a.report.find(path, "job %q is not the same in its journal", id)
		}
		delete(a.inJournal, id)
	}
	for _, id := range slices.Sorted(maps.Keys(a.inJournal)) {
		a.report.find(path, "job %q is in its journal only", id)
	}
}
