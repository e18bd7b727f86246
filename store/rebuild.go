package store

// This file puts a new file in the place of a damaged one when the store is opened, where
// the journal has all of it.

import (
	"errors"
	"os"
	"path/filepath"
	"strings"
	"time"

	"garage/tundish/store/disk"
	"garage/tundish/store/fault"
	"garage/tundish/store/journal"
	"garage/tundish/store/steps"
)

// rebuild makes the locked file anew from the journal and returns the name under which
// the damaged one is kept. Nothing is changed, and the error says why, where the file is
// not damaged, or the journal is not whole or lacks an entry that the file still holds.
func (s *Store) rebuild(step steps.Func) (aside string, err error) {
	save := salvage{report: &Report{Path: s.path}, path: s.path, bolt: pieces{}, journal: pieces{}, drafts: map[string]Draft{},
		step: step}
	if err = save.readBolt(s.file); err == nil {
		err = save.readJournal()
	}
	if err != nil {
		return "", err
	}
	whole := !save.intact && save.report.AfterLine > 0 && save.store != "" && (save.id == "" || save.id == save.store)
	if !whole || !save.journal.holds(save.bolt) {
		return "", errors.New("it is not damaged, or its journal is not whole")
	}
	temp := s.path + mendedSuffix
	defer disk.Remove(temp, temp+journal.Suffix)
	if err := errors.Join(disk.Remove(temp, temp+journal.Suffix), save.writeFor(temp, save.store)); err != nil || !save.report.OK() {
		return "", errors.Join(err, save.report.Err())
	}
	if aside, err = disk.KeepBeside(s.path, "damaged", time.Now()); err != nil {
		return "", err
	}
	return aside, disk.Replace(temp, s.path)
}

// sweep removes what a run that was killed has left beside the locked file.
func (s *Store) sweep() {
	folder, name := filepath.Split(s.path)
	disk.Sweep(folder, func(of string) bool {
		return of == name || of == name+journal.Suffix || of == name+mendedSuffix ||
			of == name+purgedSuffix || of == name+purgedSuffix+journal.Suffix || strings.HasPrefix(of, name+schemaMark)
	})
	for _, name := range []string{s.path + mendedSuffix, s.path + purgedSuffix} {
		_ = disk.Remove(name, name+journal.Suffix) // what is left is in nobody's way
	}
}

// mendedSuffix names the new file while it is written.
const mendedSuffix = ".mended"

// suspectSuffix names an empty file: damage was met in a store that is too large to be
// looked through whenever it is opened, or the disk failed, so the next opening does.
const suspectSuffix = ".suspect"

// met returns the error of a call, and has the store looked through at its next opening
// where that is damage. Where the mark cannot be made Verify remains.
func (s *Store) met(err error) error {
	if told, ok := errors.AsType[*fault.Error](err); ok && told.Kind == fault.ErrDamaged && told.Path == s.path && !s.opening.Beside {
		s.suspect()
	}
	return err
}

func (s *Store) suspect() { _ = os.WriteFile(s.path+suspectSuffix, nil, disk.FileMode) }

// forget has both files read from the disk: after a sync that failed, what the system
// keeps of them in memory may never have got there (Rebello et al., "Can Applications
// Recover from fsync Failures?", USENIX ATC 2020).
func (s *Store) forget() {
	disk.Forget(s.path)
	disk.Forget(s.path + journal.Suffix)
}

func (s *Store) suspected() bool {
	_, err := os.Stat(s.path + suspectSuffix)
	return err == nil
}

// holds reports whether one copy has every entry that another has.
func (p pieces) holds(other pieces) bool {
	for id, theirs := range other {
		for seq := range theirs.entries {
			if _, ok := p.of(id).entries[seq]; !ok {
				return false
			}
		}
	}
	return true
}

// writeFor writes all that was read into a new file that goes on from the journal that is
// there, so that this stays as it is.
func (s *salvage) writeFor(path, id string) error {
	if err := disk.WriteWhole(path, disk.PutInPlace, func(f *os.File) error { return fillNew(f.Name(), schemaVersion, id) }); err != nil {
		return err
	}
	to, err := Open(path, Options{noSync: true})
	if err != nil {
		return err
	}
	if err = s.fill(to); err == nil {
		err = to.goOnFrom(s.end)
	}
	if err == nil {
		err = disk.SyncData(to.file)
	}
	return errors.Join(err, to.Close())
}

// goOnFrom records a place in another journal than the store's own.
func (s *Store) goOnFrom(m journal.Mark) error {
	state, err := s.ready()
	if err != nil {
		return err
	}
	if m.Worked, err = state.worked(); err != nil {
		return err
	}
	return s.commit(state, func(c *change) error { return c.apply(nil, nil, m) })
}
