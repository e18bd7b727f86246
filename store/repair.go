package store

// This file builds a new store from what can still be read of a damaged one's two
// files. It overwrites nothing.

import (
	"cmp"
	"encoding/json"
	"errors"
	"io/fs"
	"maps"
	"os"
	"slices"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/store/disk"
	"garage/tundish/store/fault"
	"garage/tundish/store/journal"
	"garage/tundish/store/pages"
	"garage/tundish/store/record"
	"garage/tundish/store/steps"
)

// Repair reads a damaged store and its journal, and writes the jobs of both into a new
// store at into, which must not exist. headOf makes a job's head; nil keeps the stored
// one. Entries in neither copy, and those after them in their job, are lost and named
// in the findings. A job that differs between the copies is kept twice. Where the error of
// step ends it, there is no new store.
func Repair(damaged, into string, headOf func(job.Job) guide.Head, step steps.Func) (Report, error) {
	damaged, err := locate(damaged)
	if err != nil {
		return Report{}, err
	}
	if into, err = locate(into); err != nil {
		return Report{}, err
	}
	for _, name := range []string{into, into + journal.Suffix} {
		if _, err := os.Lstat(name); err == nil {
			return Report{}, fault.Exists(name, "name another file")
		}
	}
	save := salvage{report: &Report{Path: into}, path: damaged, headOf: headOf,
		bolt: pieces{}, journal: pieces{}, drafts: map[string]Draft{}, step: step}
	if err := save.read(); err != nil {
		return Report{}, err
	}
	if err := save.write(into); err != nil {
		return *save.report, err
	}
	return *save.report, nil
}

// salvage is what a repair has read from both copies.
type salvage struct {
	report  *Report
	path    string
	headOf  func(job.Job) guide.Head
	bolt    pieces
	journal pieces
	drafts  map[string]Draft
	worked  string       // job last worked in the guide, from the bbolt file
	resumed string       // the same, from the journal
	id      string       // of the store, from the bbolt file
	store   string       // the same, from the journal
	end     journal.Mark // after the last line of the journal
	found   bool         // anything of a store was read
	intact  bool         // all of the bbolt file was read
	known   int          // number of the last line of the journal that is in the bbolt file
	step    steps.Func
	bytes   int   // read so far
	total   int   // pages of both files
	stopped error // error of step: nothing more is read of the bbolt file
}

// pieces is what one copy holds, by job id.
type pieces map[string]*piece

// piece is what one copy holds of a job.
type piece struct {
	job     job.Job // Started is zero if unknown
	head    guide.Head
	count   int // number of entries according to the copy
	turns   int // how often it was discarded and taken back, according to the copy
	entries map[int]job.Entry
}

func (p pieces) of(id string) *piece {
	if p[id] == nil {
		p[id] = &piece{job: job.Job{ID: id}, entries: map[int]job.Entry{}}
	}
	return p[id]
}

// read reads both copies.
func (s *salvage) read() error {
	f, err := openLocked(s.path, Options{ReadOnly: true}, nil)
	switch {
	case errors.Is(err, fault.ErrGone):
	case errors.Is(err, fault.ErrUnread):
		s.report.Note(s.path, "%s", factOf(err))
	case err != nil:
		return err
	default:
		defer f.Close()
		if err := s.readBolt(f); err != nil {
			return err
		}
	}
	if err := s.readJournal(); err != nil {
		return err
	}
	if info, err := os.Stat(s.path); !s.found && err == nil && info.Size() == 0 && journal.Beside(s.path) == journal.None {
		return fault.Empty(s.path)
	}
	if !s.found {
		return &fault.Error{Kind: fault.ErrDamaged, Path: s.path, Fact: "nothing of a store can be read from it or its journal",
			Next: "take a backup instead"}
	}
	return nil
}

// readBolt reads what is left of the bbolt file: what its tree reaches and, if that is
// damaged, all other leaf pages.
func (s *salvage) readBolt(f *os.File) error {
	look := &Store{path: s.path, file: f}
	for _, name := range []string{s.path, s.path + journal.Suffix} {
		if info, err := os.Stat(name); err == nil {
			s.total += int(info.Size()) / steps.PageBytes
		}
	}
	state, _, err := look.inspect(Options{noSurvey: true}, current())
	if errors.Is(err, fault.ErrUnread) {
		s.report.Note(s.path, "%s", factOf(err))
	}
	if err != nil && !errors.Is(err, fault.ErrDamaged) && !errors.Is(err, fault.ErrUnread) {
		return err
	}
	if s.intact = err == nil; s.intact {
		s.found = true
		state.Survey(s.record, func(err error) {
			if s.intact = false; disk.IsIO(err) {
				s.report.Note(s.path, "%v", err)
			}
		})
		if s.intact || s.stopped != nil {
			return s.stopped
		}
	}
	info, err := f.Stat()
	if err != nil {
		return fault.Unread(s.path, err)
	}
	pages.EachInLeaves(disk.Reader{File: f}, info.Size(), s.recognise)
	return s.stopped
}

// recognise finds the bucket of a record by its checksum.
func (s *salvage) recognise(e pages.Element) {
	if s.stopped != nil {
		return
	}
	for _, name := range record.Tables {
		if payload, err := record.Unseal(name, e.Key, e.Value); err == nil {
			s.record(name, e.Key, payload)
			return
		}
	}
}

// record keeps one record. Of several the first counts, since those that the tree
// reaches come first; of a job's records the newest: both its numbers only grow.
func (s *salvage) record(bucket string, key, payload []byte) {
	s.bytes += len(key) + len(payload)
	if s.stopped == nil {
		s.stopped = s.step.Step(steps.Reading, s.bytes/steps.PageBytes, s.total)
	}
	if s.stopped != nil {
		return
	}
	s.found = true
	switch bucket {
	case record.Jobs:
		var r record.Job
		p := s.bolt.of(string(key))
		if json.Unmarshal(payload, &r) == nil && (p.job.Started.IsZero() || r.Count+r.Discards > p.count+p.turns) {
			p.job.Started, p.head, p.count, p.turns = r.Started, r.Head, r.Count, r.Discards
		}
	case record.Entries:
		id, seq := record.EntryOf(key)
		if e, err := record.DecodeEntry(seq, payload); err == nil {
			s.bolt.of(id).keep(e)
		}
	case record.About:
		var m journal.Mark
		if string(key) == storeKey {
			_ = json.Unmarshal(payload, &s.id) // one that is none is of no journal
		} else if string(key) == markKey && json.Unmarshal(payload, &m) == nil {
			s.worked, s.known = cmp.Or(s.worked, m.Worked), max(s.known, m.N)
		}
	case record.Drafts:
		var d Draft
		if _, ok := s.drafts[string(key)]; !ok && json.Unmarshal(payload, &d) == nil {
			s.drafts[string(key)] = d
		}
	}
}

func (p *piece) keep(e job.Entry) {
	if _, ok := p.entries[e.Seq]; !ok {
		p.entries[e.Seq] = e
	}
}

// readJournal reads every complete line of the journal, in sequence or not, and says
// what is missing of it.
func (s *salvage) readJournal() error {
	path := s.path + journal.Suffix
	j, first, err := openJournal(path, false)
	if errors.Is(err, fs.ErrNotExist) {
		if !s.intact {
			s.report.Find(path, "it is not there, and not all of the store can be read: jobs may be missing altogether")
		}
		return nil
	}
	if err != nil {
		return s.unreadJournal(unopened(path, err, false))
	}
	defer j.Close()
	if first.Journal > journal.Version {
		return fault.Newer(path, first.Journal, journal.Version)
	}
	if first.Store != "" && first.Store != s.id {
		s.known = -1 // lines of another store
	}
	s.store = first.Store
	var chain journal.Chain
	before := s.bytes
	for l, err := range j.Lines(0) {
		if err != nil {
			return s.unreadJournal(fault.Unread(path, err))
		}
		if err := s.step.Step(steps.Reading, (before+int(l.At))/steps.PageBytes, s.total); err != nil {
			return err
		}
		if gap, found := chain.Add(l); found && gap.Before > 1 && !(s.intact && gap.Before <= s.known+1) {
			s.report.Find(path, "%v", gap)
		}
		if l.Bad == nil {
			s.found, s.end = true, l.Mark()
			s.take(l.Line)
		}
	}
	s.readEnd(path, &chain)
	return nil
}

// unreadJournal goes on without the rest of a journal that the disk does not give.
func (s *salvage) unreadJournal(err error) error {
	switch {
	case !errors.Is(err, fault.ErrUnread):
		return err
	case s.intact:
		s.report.Note(s.path+journal.Suffix, "%s; all of the store could be", factOf(err))
	default:
		s.report.Find(s.path+journal.Suffix, "%s", factOf(err))
	}
	return nil
}

// readEnd says what cannot be told of the end of a journal.
func (s *salvage) readEnd(path string, chain *journal.Chain) {
	gap, torn := chain.End()
	switch {
	case s.intact && chain.Last() < s.known: // the store holds what is missing here
	case torn && s.intact: // it would be taken out when the store is opened
		s.report.Note(path, "%v; it had not been accepted, unless the store is an older copy", gap)
	case torn:
		s.report.Find(path, "%v", gap)
	case !s.intact && chain.Last() < s.known:
		s.report.Find(path, "it ends after line %d, and line %d was stored: what is after it is missing", chain.Last(), s.known)
	case !s.intact:
		s.report.AfterLine = chain.Last()
		s.report.Note(path, "whether anything was stored after its last line, line %d, cannot be told", chain.Last())
	}
}

func (s *salvage) take(l journal.Line) {
	if l.N == 0 {
		return
	}
	p := s.journal.of(l.Job)
	if l.Started != nil {
		p.job.Started = *l.Started
	}
	p.head, p.turns = *l.Head, max(p.turns, l.Discard)
	for _, e := range l.Entries {
		p.keep(e)
		p.count = max(p.count, e.Seq)
	}
	if l.Worked() {
		s.resumed = l.Job
	}
}

// ids are those of all jobs.
func (s *salvage) ids() (ids []string) {
	ids = slices.Sorted(maps.Keys(s.journal))
	for _, id := range slices.Sorted(maps.Keys(s.bolt)) {
		if s.journal[id] == nil {
			ids = append(ids, id)
		}
	}
	return ids
}

// jobs combines the pieces of some: one job for each id, or two if the copies differ.
// turns says how often the job of each was discarded and taken back.
func (s *salvage) jobs(ids []string) (jobs []Incoming, turns []int) {
	for _, id := range ids {
		j, b := s.journal.of(id), s.bolt.of(id)
		turns = append(turns, max(j.turns, b.turns))
		if !j.agrees(b) {
			s.report.Find(s.path, "job %q is not the same in its journal, both are kept", id)
			jobs, turns = append(jobs, s.whole(j), s.whole(b)), append(turns, max(j.turns, b.turns))
			continue
		}
		for _, e := range b.entries {
			j.keep(e)
		}
		if j.job.Started.IsZero() {
			j.job.Started = b.job.Started
		}
		if b.count >= j.count && b.head.ID != "" {
			j.head, j.count = b.head, b.count
		}
		jobs = append(jobs, s.whole(j))
	}
	return jobs, turns
}

// agrees reports whether two copies contradict each other nowhere.
func (p *piece) agrees(q *piece) bool {
	if !p.job.Started.IsZero() && !q.job.Started.IsZero() && !p.job.Started.Equal(q.job.Started) {
		return false
	}
	for seq, e := range p.entries {
		if other, both := q.entries[seq]; both && !journal.Same(e, other) {
			return false
		}
	}
	return true
}

// whole returns the job up to the first missing entry.
func (s *salvage) whole(p *piece) Incoming {
	job := p.job
	for e, ok := p.entries[1]; ok; e, ok = p.entries[e.Seq+1] {
		job.Entries = append(job.Entries, e)
	}
	if job.Started.IsZero() && len(job.Entries) > 0 {
		job.Started = job.Entries[0].At
		s.report.Find(s.path, "job %q: its start is lost, the time of its first entry stands for it", job.ID)
	}
	if have, were := len(job.Entries), max(p.count, len(p.entries)); have < were {
		s.report.Find(s.path, "job %q: entry %d is in neither copy, it and the %d behind it are lost", job.ID, have+1, were-have-1)
	}
	head := p.head
	head.ID, head.Started = job.ID, job.Started
	if s.headOf != nil {
		head = s.headOf(job)
	}
	return Incoming{Job: job, Head: head}
}

// write builds the new store under another name and then renames it, its journal
// first.
func (s *salvage) write(into string) error {
	temp := into + ".new"
	defer os.Remove(temp)
	defer os.Remove(temp + journal.Suffix)
	if err := disk.Remove(temp, temp+journal.Suffix); err != nil {
		return fault.Unwritten(into, err)
	}
	to, err := Open(temp, Options{noSync: true})
	if err != nil {
		return err
	}
	if err = s.fill(to); err == nil {
		err = to.syncAll()
	}
	if err = errors.Join(err, to.Close()); err != nil {
		return fault.Unwritten(into, err)
	}
	if err := os.Rename(temp+journal.Suffix, into+journal.Suffix); err != nil {
		return fault.Unwritten(into, err)
	}
	if err := disk.PutInPlace(temp, into); errors.Is(err, fs.ErrExist) {
		return fault.Exists(into, "name another file")
	} else if err != nil {
		return fault.Unwritten(into, err)
	}
	return nil
}

// fillJobs is how many jobs are imported into the new store at once.
const fillJobs = 100

// fill imports all that was read into the new store.
func (s *salvage) fill(to *Store) error {
	ids := s.ids()
	for i := 0; i < len(ids); i += fillJobs {
		err := s.step.Step(steps.Writing, i, len(ids))
		if err == nil {
			err = s.fillWith(to, ids[i:min(i+fillJobs, len(ids))])
		}
		if err != nil {
			return err
		}
	}
	for id, d := range s.drafts {
		if err := to.SaveDraft(id, d); err != nil && !errors.Is(err, fault.ErrInvalid) {
			return err
		}
	}
	s.report.Lines = to.journal.Mark.N
	return to.setWorked(cmp.Or(s.worked, s.resumed))
}

// fillWith imports some jobs.
func (s *salvage) fillWith(to *Store, ids []string) error {
	for jobs, turns := s.jobs(ids); len(jobs) > 0; {
		done, err := to.ImportAll(jobs)
		for i, d := range done {
			if d.Outcome != Unchanged {
				s.report.Jobs++
				s.report.Entries += d.Entries
			}
			if turns[i] > 0 {
				s.report.Discarded += turns[i] % 2
				err = cmp.Or(err, to.turn(d.ID, func(record.Job) (int, error) { return turns[i], nil }))
			}
		}
		jobs, turns = jobs[len(done):], turns[len(done):]
		if errors.Is(err, fault.ErrInvalid) {
			s.report.Find(s.path, "job %q cannot be kept: %v", jobs[0].Job.ID, err)
			jobs, turns = jobs[1:], turns[1:]
		} else if err != nil {
			return err
		}
	}
	return nil
}

// setWorked records which job was last worked in the guide, if it exists.
func (s *Store) setWorked(id string) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	state, err := s.ready()
	if err != nil || id == "" {
		return err
	}
	if _, found, err := state.Job(id); err != nil || !found {
		return err
	}
	s.journal.Mark.Worked = id
	return s.commit(state, func(c *change) error { return c.apply(nil, nil, s.journal.Mark) })
}

// syncAll makes durable what was written without syncing.
func (s *Store) syncAll() error {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.journal.Flush = disk.SyncData
	return errors.Join(disk.SyncData(s.file), s.journal.Sync())
}
