package store

// This file checks a store: every page, record, index key and line of the journal, and
// each file against the other. It changes nothing.

import (
	"cmp"
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
	"garage/tundish/store/disk"
	"garage/tundish/store/fault"
	"garage/tundish/store/journal"
	"garage/tundish/store/record"
	"garage/tundish/store/steps"
)

// Verify checks a store and reports what is wrong. It returns an error only if there
// is nothing to check: no file, a foreign or newer one, or one that another window has
// open and that cannot be read meanwhile. step, where it is not nil, is told how far it has
// come.
func Verify(path string, step steps.Func) (Report, error) {
	path, err := locate(path)
	if err != nil {
		return Report{}, err
	}
	f, beside, err := openToRead(path, Options{Step: step})
	if err != nil {
		return Report{}, err
	}
	s := &Store{path: path, file: f, opening: Opening{Beside: beside}}
	defer s.Close()
	a := audit{store: s, report: &Report{Path: path, Beside: beside},
		jobs: map[string]record.Job{}, index: map[record.IndexKey]bool{}, made: map[string]bool{}, inBolt: fingerprints{},
		inJournal: fingerprints{}, step: step}
	a.state, _, err = s.inspect(Options{noSurvey: true}, current())
	switch {
	case err == nil:
		a.readable = true
		a.count()
		a.readBolt()
	case errors.Is(err, fault.ErrDamaged), errors.Is(err, fault.ErrUnread):
		a.report.Find(path, "%s", factOf(err))
		if info, statErr := f.Stat(); errors.Is(err, fault.ErrUnread) || statErr == nil && info.Size() == 0 {
			a.report.Cause = err
		}
	default:
		return Report{}, err
	}
	safe := a.report.OK() && a.stopped == nil
	a.readJournal(path + journal.Suffix)
	if safe {
		a.askBolt()
	}
	return *a.report, a.stopped
}

// factOf returns what an error says, without the name of the file and what to do.
func factOf(err error) string {
	told, ok := errors.AsType[*fault.Error](err)
	switch {
	case !ok:
		return err.Error()
	case told.Cause != nil:
		return fmt.Sprintf("%s (%v)", told.Fact, told.Cause)
	}
	return told.Fact
}

// audit is one check of a store.
type audit struct {
	store     *Store
	state     snapshot
	readable  bool // the state can be read
	report    *Report
	jobs      map[string]record.Job
	index     map[record.IndexKey]bool // index keys that no job has yet accounted for
	made      map[string]bool          // keys of what is made of units; true: there is something in the row
	inBolt    fingerprints
	inJournal fingerprints
	step      steps.Func
	stopped   error // error of that: nothing more is looked at
	done      int   // entries looked at, in either file
	total     int   // of both files; 0: not known
}

// count finds how many entries there are, of a file that may be damaged.
func (a *audit) count() {
	for e, err := range a.state.Records(record.Jobs, nil, false) {
		var r record.Job
		if err != nil || json.Unmarshal(e.Value, &r) != nil {
			a.total = 0
			return
		}
		a.total += 2 * r.Count
	}
}

// looked goes on by some entries.
func (a *audit) looked(entries int) {
	a.done += entries
	if a.stopped == nil {
		a.stopped = a.step.Step(steps.Verifying, a.done, a.total)
	}
}

// fingerprints hold the checksums of each job's entries.
type fingerprints map[string]*fingerprint

type fingerprint struct {
	started  time.Time
	sums     []uint32
	discards int
}

// add adds the next entry of a job; it reports whether it is the next.
func (p fingerprints) add(id string, e job.Entry) bool {
	job := p[id]
	if job == nil {
		job = &fingerprint{}
		p[id] = job
	}
	text, err := json.Marshal(e)
	if err != nil || e.Seq != len(job.sums)+1 {
		return false
	}
	job.sums = append(job.sums, crc32.Checksum(text, crc32.MakeTable(crc32.Castagnoli)))
	return true
}

// readBolt checks the bbolt file.
func (a *audit) readBolt() {
	wrong := func(err error) {
		if disk.IsIO(err) {
			a.report.Cause = fault.Unread(a.state.Path, err)
		}
		a.report.Find(a.state.Path, "%v", disk.Plain(err))
	}
	a.state.Survey(func(bucket string, key, payload []byte) {
		if err := a.record(bucket, key, payload); err != nil {
			wrong(fmt.Errorf("%s %q: %w", bucket, key, err))
		}
	}, wrong)
	for _, id := range slices.Sorted(maps.Keys(a.jobs)) {
		if err := a.account(id); err != nil {
			wrong(fmt.Errorf("job %q: %w", id, err))
		}
	}
	byBucket := func(a, b record.IndexKey) int {
		return cmp.Or(cmp.Compare(a.Bucket, b.Bucket), cmp.Compare(a.Key, b.Key))
	}
	for _, key := range slices.SortedFunc(maps.Keys(a.index), byBucket) {
		wrong(fmt.Errorf("%s: a place %q that no job has", key.Bucket, key.Key))
	}
	if err := a.checkMade(); err != nil {
		wrong(err)
	}
	for _, id := range slices.Sorted(maps.Keys(a.inBolt)) {
		if _, ok := a.jobs[id]; !ok {
			wrong(fmt.Errorf("entries of job %q, which is not there", id))
		}
	}
}

// checkMade looks whether lists have a row of every unit and of every job of no unit, and
// none of others with something in it.
func (a *audit) checkMade() error {
	var m journal.Mark
	if _, err := a.state.GetJSON(record.About, []byte(markKey), &m); err != nil || m.Made == "" {
		return err
	}
	_, keys, err := a.state.MadeKeys()
	if err != nil {
		return err
	}
	for _, key := range keys {
		if _, there := a.made[string(key)]; !there {
			return fmt.Errorf("%s: %q, which lists show, is not there", record.Made, key)
		}
		delete(a.made, string(key))
	}
	for _, key := range slices.Sorted(maps.Keys(a.made)) {
		_, id := record.MadeOf([]byte(key))
		if _, there := a.jobs[id]; a.made[key] && !there {
			return fmt.Errorf("%s: %q, which no job has", record.Made, key)
		}
	}
	return nil
}

// record checks one record.
func (a *audit) record(bucket string, key, payload []byte) error {
	if a.stopped != nil {
		return nil
	}
	switch bucket {
	case record.Jobs:
		var r record.Job
		if err := json.Unmarshal(payload, &r); err != nil {
			return err
		}
		a.jobs[string(key)] = r
	case record.Entries:
		a.looked(1)
		id, seq := record.EntryOf(key)
		e, err := record.DecodeEntry(seq, payload)
		if err == nil && !a.inBolt.add(id, e) {
			err = errors.New("does not follow the entry before")
		}
		if odd := e.CheckSense(); err == nil && odd != nil { // imported before imports were checked for this
			a.report.Note(a.report.Path, "job %q, entry %d: %v; strike it out, or give the right value", id, seq, odd)
		}
		return err
	case record.Started, record.Open, record.Units:
		a.index[record.IndexKey{Bucket: bucket, Key: string(key)}] = true
	case record.Drafts:
		return json.Unmarshal(payload, new(Draft))
	case record.Made:
		if a.made[string(key)] = len(payload) > 0; len(payload) > 0 {
			return json.Unmarshal(payload, new(any))
		}
	case record.Settings, record.About:
		return json.Unmarshal(payload, new(any))
	default:
		return errors.New("a bucket that no store has")
	}
	return nil
}

// account compares a job's record with its entries and index keys.
func (a *audit) account(id string) error {
	r := a.jobs[id]
	for _, key := range record.IndexKeys(id, r) {
		if !a.index[key] {
			return fmt.Errorf("is not in the index %s", key.Bucket)
		}
		delete(a.index, key)
	}
	job := a.inBolt[id]
	if job == nil {
		job = &fingerprint{}
		a.inBolt[id] = job
	}
	job.started, job.discards = r.Started, r.Discards
	if r.Head.ID != id || r.Count != len(job.sums) {
		return fmt.Errorf("%d of %d entries are there", len(job.sums), r.Count)
	}
	a.report.Jobs++
	a.report.Entries += r.Count
	a.report.Discarded += r.Discards % 2
	return nil
}

// askBolt lets bbolt check the file too, after no damage was found that bbolt could not
// survive. That closes the file.
func (a *audit) askBolt() {
	path := a.store.path
	err, _ := guard(path, func() error {
		o := a.store.boltOptions(a.store.file)
		o.ReadOnly = true
		db, err := bbolt.Open(path, disk.FileMode, o)
		if err != nil {
			return err
		}
		defer db.Close()
		return db.View(func(tx *bbolt.Tx) error {
			fits := true
			for range tx.Check() { // in words of the library's inside
				fits = false
			}
			if !fits {
				a.report.Find(path, "its pages do not fit together")
			}
			return nil
		})
	})
	if err != nil {
		a.report.Find(path, "%s", factOf(err))
	}
}

// readJournal checks the journal and compares it with bbolt if that is readable.
func (a *audit) readJournal(path string) {
	j, first, err := openJournal(path, false)
	switch {
	case errors.Is(err, fs.ErrNotExist) && a.readable:
		a.report.Note(path, "not there; the next opening writes it anew")
		return
	case err != nil:
		a.report.Find(path, "%s", factOf(unopened(path, err, false)))
		return
	}
	defer j.Close()
	if first.Journal == 0 {
		a.report.Find(path, "its first line cannot be read")
	}
	m := journal.Mark{End: 1 << 62} // unknown: read to the end
	if a.readable {
		known := false
		if m, known = a.markOf(path, first); !known {
			return
		}
	}
	a.readLines(j, m)
	if !a.readable {
		return
	}
	if !a.report.Beside { // what another window has added since is not checked
		a.readBehind(j, m)
	}
	if a.report.OK() {
		a.compare()
	}
}

// markOf returns bbolt's place in a journal; known is false if there is nothing more to
// check.
func (a *audit) markOf(path string, first journal.Line) (m journal.Mark, known bool) {
	found, err := a.state.GetJSON(record.About, []byte(markKey), &m)
	id, idErr := a.state.storeID()
	switch {
	case err != nil:
		a.report.Find(path, "%s", factOf(err))
	case !found: // the first opening was interrupted after the journal was written
		a.report.Note(path, "the store does not know it yet; the next opening sees to that")
	case idErr == nil && first.Journal > 0 && first.Store != id:
		a.report.Find(path, "it is of another store")
	default:
		return m, true
	}
	return journal.Mark{}, false
}

// readLines reads every line up to a mark.
func (a *audit) readLines(j *journal.Journal, m journal.Mark) {
	last, met := journal.Mark{N: -1}, !a.readable
	for l, err := range j.UpTo(m.End).Lines(0) {
		switch {
		case a.stopped != nil:
			return
		case err != nil:
			a.report.Find(j.Path, "%s", factOf(fault.Unread(j.Path, err)))
			return
		case l.Bad == nil && !last.Follows(l.Line):
			l.Bad = fmt.Errorf("does not follow line %d", last.N)
		}
		if l.Bad != nil {
			a.report.Find(j.Path, "line at byte %d: %v", l.At, l.Bad)
		} else {
			met = met || l.IsAt(m)
			a.report.Lines += min(l.N, 1)
			a.readLine(j.Path, l.Line)
		}
		last = journal.Mark{N: l.N, Sum: l.Sum}
	}
	if !met {
		a.report.Find(j.Path, "it does not hold the last line that the store knows")
	}
}

func (a *audit) readLine(path string, l journal.Line) {
	a.looked(len(l.Entries))
	if l.Started != nil {
		a.inJournal[l.Job] = &fingerprint{started: *l.Started}
	}
	if l.Discard > 0 && a.inJournal[l.Job] == nil {
		a.report.Find(path, "line %d: job %q, which it discards or takes back, is not there", l.N, l.Job)
		return
	}
	if l.Discard > 0 {
		a.inJournal[l.Job].discards = l.Discard
	}
	for _, e := range l.Entries {
		if !a.inJournal.add(l.Job, e) {
			a.report.Find(path, "line %d: entry %d of job %q does not follow the one before", l.N, e.Seq, l.Job)
			return
		}
	}
}

// readBehind reports what the next opening will do with what follows the mark.
func (a *audit) readBehind(j *journal.Journal, m journal.Mark) {
	rest, fits, err := j.Behind(m)
	switch {
	case err != nil:
		a.report.Find(j.Path, "%s", factOf(fault.Unread(j.Path, err)))
	case fits && rest.Unrelated:
		if err := a.store.holdsAll(a.state); err != nil {
			a.report.Find(j.Path, "%s", factOf(err))
		} else {
			a.report.Note(j.Path, "it holds more than goes on from the store; the next opening writes it anew")
		}
		return
	}
	if len(rest.Lines) > 0 {
		a.report.Note(j.Path, "%d lines are not in the store yet; the next opening puts them in", len(rest.Lines))
	}
	if rest.Torn {
		a.report.Note(j.Path, "its end was cut off in the writing; the next opening takes it out")
	}
}

// compare compares the two copies of every job.
func (a *audit) compare() {
	for _, id := range slices.Sorted(maps.Keys(a.inBolt)) {
		b, j := a.inBolt[id], a.inJournal[id]
		if j == nil || !j.started.Equal(b.started) || j.discards != b.discards || !slices.Equal(j.sums, b.sums) {
			a.report.Find(a.state.Path, "job %q is not the same in its journal", id)
		}
		delete(a.inJournal, id)
	}
	for _, id := range slices.Sorted(maps.Keys(a.inJournal)) {
		a.report.Find(a.state.Path, "job %q is in its journal only", id)
	}
}
