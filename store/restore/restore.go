// Package restore puts a backup in the place of a store. What was there keeps another
// name, and nothing of it is mixed in unless a journal is named for that.
package restore

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"time"

	"garage/tundish/store"
	"garage/tundish/store/disk"
	"garage/tundish/store/journal"
	"garage/tundish/store/steps"
)

// Done is what restoring did.
type Done struct {
	Path    string   `json:"path"`
	Jobs    int      `json:"jobs"`             // that are in the store now
	Cards   *int     `json:"cards,omitempty"`  // unit cards of the backup that lie beside the store now; nil: it was made without
	TakenUp int      `json:"taken_up"`         // lines of the named journal that went on from the backup
	Kept    []string `json:"kept"`             // files that were there, under their new names
	Newer   []Newer  `json:"newer"`            // what the journal that was there holds and the store now does not
	Back    []string `json:"back,omitempty"`   // jobs that were discarded after the backup and are in the lists again
	Away    []string `json:"away,omitempty"`   // jobs that were taken back after the backup and are discarded again
	Unread  string   `json:"unread,omitempty"` // why that cannot be told of all of the journal
}

// Newer is what a journal holds of a job beyond the store.
type Newer struct {
	Job     string `json:"job"`
	Entries int    `json:"entries"`
}

// Store puts the store of a backup at a path, and, where a journal is named, what that
// holds after it. The backup is only read. On an error what was there is as it was, or is
// there under the names in Kept. The error of step comes before anything is changed.
func Store(path, backup, journalFile string, now time.Time, step steps.Func) (d Done, err error) {
	if path, err = disk.Locate(path); err != nil {
		return d, err
	}
	d.Kept, d.Newer = []string{}, []Newer{}
	if d.Path = path; store.Owns(path, backup) {
		return d, fmt.Errorf("%s: that is the store itself; name a backup", backup)
	}
	if err := disk.MakeFolder(filepath.Dir(path)); err != nil {
		return d, fmt.Errorf("%s: %w", path, err)
	}
	held, err := lock(path)
	if err != nil {
		return d, err
	}
	if held != nil {
		defer held.Close()
	}
	room, err := os.MkdirTemp(filepath.Dir(path), ".restore-")
	if err != nil {
		return d, fmt.Errorf("%s: %w", path, err)
	}
	defer os.RemoveAll(room)
	temp := filepath.Join(room, "jobs.db")
	if err := d.build(temp, backup, journalFile, step); err != nil {
		return d, err
	}
	if err := d.compare(temp, path+journal.Suffix, step); err != nil {
		return d, err
	}
	if err := d.swap(temp, path, now); err != nil {
		return d, err
	}
	return d, d.putCards(now)
}

// putCards puts the cards of the backup into their folder. What is there and is not the
// same keeps another name; of a backup without cards all stays as it is.
func (d *Done) putCards(now time.Time) error {
	s, err := store.Open(d.Path, store.Options{ReadOnly: true})
	if err != nil {
		return err
	}
	cards, err := s.Cards()
	if err := errors.Join(err, s.Close()); err != nil || cards == nil {
		return err
	}
	folder := store.CardsBeside(d.Path)
	there, err := filepath.Glob(filepath.Join(folder, store.CardFiles))
	if err != nil {
		return err
	}
	for _, file := range there {
		name := filepath.Base(file)
		if text, err := os.ReadFile(file); err == nil && cards[name] != nil && bytes.Equal(text, cards[name]) {
			continue
		}
		if err := d.keep(file, now); err != nil {
			return err
		}
		if err := disk.Remove(file); err != nil {
			return err
		}
	}
	if len(cards) > 0 {
		err = disk.MakeFolder(folder)
	}
	for name, text := range cards {
		err = errors.Join(err, disk.WriteWhole(filepath.Join(folder, name), disk.Replace, func(f *os.File) error {
			_, err := f.Write(text)
			return err
		}))
	}
	n := len(cards)
	d.Cards = &n
	return err
}

// lock locks the store that is there, damaged or not; nil if none is.
func lock(path string) (*os.File, error) {
	f, err := disk.Open(path, true)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	if got, err := disk.TryLock(f, false); err != nil || !got {
		return nil, errors.Join(fmt.Errorf("%s: another window has it open; close that window and try again", path), err, f.Close())
	}
	return f, nil
}

// build makes the new store under another name and verifies it.
func (d *Done) build(temp, backup, journalFile string, step steps.Func) error {
	from, err := store.Open(backup, store.Options{ReadOnly: true, Step: step})
	if err != nil {
		return err
	}
	if err := errors.Join(from.Backup(temp, false, nil, step), from.Close()); err != nil {
		return err
	}
	if journalFile != "" {
		lines, err := os.ReadFile(journalFile)
		if err == nil {
			err = os.WriteFile(temp+journal.Suffix, lines, disk.FileMode)
		}
		if err != nil {
			return err
		}
	}
	s, err := store.Open(temp, store.Options{Step: step})
	if errors.Is(err, context.Canceled) {
		return err
	}
	if err != nil {
		return fmt.Errorf("%s does not go on from %s: %w", journalFile, backup, err)
	}
	did := s.Opening()
	if err := s.Close(); err != nil {
		return err
	}
	if d.TakenUp = did.Replayed; journalFile != "" && did.JournalMade != "" {
		return fmt.Errorf("%s: it does not go on from %s: %s; restore without it", journalFile, backup, did.JournalMade)
	}
	r, err := store.Verify(temp, step)
	if err == nil {
		err = r.Err()
	}
	d.Jobs = r.Jobs
	return err
}

// compare says what a journal holds beyond a store.
func (d *Done) compare(temp, journalFile string, step steps.Func) error {
	j, _, err := journal.Open(journalFile, false)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		d.Unread = disk.Plain(err).Error()
		return nil // it is kept
	}
	defer j.Close()
	s, err := store.Open(temp, store.Options{ReadOnly: true})
	if err != nil {
		return err
	}
	defer s.Close()
	discarded, err := s.Discarded()
	if err != nil {
		return err
	}
	has := map[string]int{}
	for _, h := range discarded {
		has[h.ID] = h.Entries
	}
	ids, last, turns := d.told(j)
	slices.Sort(ids)
	for i, id := range ids {
		if err := step.Step(steps.Comparing, i, len(ids)); err != nil {
			return err
		}
		have := -1 // a job that is missing altogether may have no entries
		away, isAway := has[id]
		kept, err := s.Load(id)
		switch {
		case err == nil:
			have = len(kept.Entries)
		case isAway:
			have = away
		}
		switch {
		case err == nil && turns[id]%2 == 1:
			d.Back = append(d.Back, id)
		case isAway && turns[id]%2 == 0:
			d.Away = append(d.Away, id)
		}
		if last[id] > have {
			d.Newer = append(d.Newer, Newer{id, last[id] - max(have, 0)})
		}
	}
	return nil
}

// told is what a journal says of each job: the number of its last entry, and how often it
// was discarded and taken back.
func (d *Done) told(j *journal.Journal) (ids []string, last, turns map[string]int) {
	last, turns = map[string]int{}, map[string]int{}
	for l, err := range j.Lines(0) {
		if err != nil {
			d.Unread = disk.Plain(err).Error()
			break
		}
		if l.Bad != nil {
			d.Unread = l.Bad.Error()
			continue
		}
		if _, met := last[l.Job]; !met && l.N > 0 {
			ids = append(ids, l.Job)
		}
		turns[l.Job] = max(turns[l.Job], l.Discard)
		for _, e := range l.Entries {
			last[l.Job] = max(last[l.Job], e.Seq)
		}
	}
	return ids, last, turns
}

// keep gives a file that is there another name.
func (d *Done) keep(file string, now time.Time) error {
	if _, err := os.Lstat(file); errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	aside, err := disk.KeepBeside(file, "replaced", now)
	if err == nil {
		d.Kept = append(d.Kept, aside)
	}
	return err
}

// swap puts the new store in the place of what is there: first the journal, since a file
// beside a journal that holds no more than it is in order.
func (d *Done) swap(temp, path string, now time.Time) error {
	if err := d.keep(path+journal.Suffix, now); err != nil {
		return err
	}
	if err := disk.Replace(temp+journal.Suffix, path+journal.Suffix); err != nil {
		return err
	}
	if err := d.keep(path, now); err != nil {
		return err
	}
	return disk.Replace(temp, path)
}
