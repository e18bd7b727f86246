package store

// This file opens files that are not as they should be: each must give one
// clear line, and the file must stay as it was.

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"go.etcd.io/bbolt"

	"garage/tundish/store/fault"
	"garage/tundish/store/record"
)

const soon = time.Millisecond // a lock that is held is not waited for

func TestOpenWhatIsNoStore(t *testing.T) {
	for _, c := range []struct {
		name string
		make func(t *testing.T, path string)
		want error
	}{
		{"an empty file", func(t *testing.T, path string) { write(t, path, nil) }, fault.ErrDamaged},
		{"one byte", func(t *testing.T, path string) { write(t, path, []byte("x")) }, fault.ErrForeign},
		{"a letter", func(t *testing.T, path string) { write(t, path, []byte(strings.Repeat("Dear Sir, ", 5000))) }, fault.ErrForeign},
		{"zeros", func(t *testing.T, path string) { write(t, path, make([]byte, 65536)) }, fault.ErrForeign},
		{"a folder", func(t *testing.T, path string) { must(t, os.Mkdir(path, 0o700)) }, fault.ErrNotFile},
		{"a bbolt file of something else", foreignBolt("other"), fault.ErrForeign},
		{"a bbolt file with a bucket like ours", foreignBolt(record.About), fault.ErrForeign},
		{"a file as a folder", func(t *testing.T, path string) {
			write(t, filepath.Dir(path), nil)
		}, fault.ErrUnread},
	} {
		dir := filepath.Join(memory(t), "a")
		path := filepath.Join(dir, "jobs.db")
		if c.want != fault.ErrUnread {
			must(t, os.Mkdir(dir, 0o700))
		}
		c.make(t, path)
		before, _ := os.ReadFile(path)
		for _, o := range []Options{{lockWait: soon}, {lockWait: soon, ReadOnly: true}} {
			_, err := Open(path, o)
			if !errors.Is(err, c.want) {
				t.Errorf("%s: %v; want %v", c.name, err, c.want)
				continue
			}
			sentence(t, dir, err)
		}
		if _, err := Verify(path, nil); err == nil && c.want != fault.ErrDamaged {
			t.Errorf("%s: verify found nothing", c.name)
		}
		after, _ := os.ReadFile(path)
		if string(after) != string(before) {
			t.Errorf("%s: the file was changed", c.name)
		}
		if _, err := os.Stat(path + journalSuffix); err == nil {
			t.Errorf("%s: a journal was made", c.name)
		}
	}
}

func foreignBolt(bucket string) func(*testing.T, string) {
	return func(t *testing.T, path string) {
		db, err := bbolt.Open(path, fileMode, &bbolt.Options{PageSize: pageBytes})
		must(t, err)
		must(t, db.Update(func(tx *bbolt.Tx) error {
			b, err := tx.CreateBucket([]byte(bucket))
			if err != nil {
				return err
			}
			return b.Put([]byte("key"), []byte("value"))
		}))
		must(t, db.Close())
	}
}

func TestSecondWindowIsTold(t *testing.T) {
	t.Parallel()
	path, jobs := storeWith(t, 2)
	s := open(t, path, Options{})
	_, err := Open(path, Options{lockWait: soon})
	if !errors.Is(err, fault.ErrLocked) {
		t.Fatalf("%v", err)
	}
	sentence(t, path, err)
	if _, err := Repair(path, path+".new", nil, nil); !errors.Is(err, fault.ErrLocked) {
		t.Errorf("repair: %v", err)
	}
	must(t, s.Append(jobs[0].ID, headFor(jobOf(0, 3)), reading(0, 3)))
	closeNow(t, s)
	open(t, path, Options{})
}

func TestMissingStoreBesideItsJournal(t *testing.T) {
	path, _ := storeWith(t, 2, 3)
	must(t, os.Remove(path))
	_, err := Open(path, Options{})
	if !errors.Is(err, fault.ErrGone) {
		t.Fatalf("an empty store would have hidden the loss: %v", err)
	}
	sentence(t, path, err)
	if _, err := os.Stat(path); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("a file was made: %v", err)
	}
	write(t, path, nil)
	if _, err := Open(path, Options{rebuilt: true}); !errors.Is(err, fault.ErrDamaged) || !strings.Contains(err.Error(), "repair") {
		t.Errorf("empty beside its journal: %v", err)
	}
}

func TestNewStoreBesideABareJournal(t *testing.T) {
	path, _ := storeWith(t)
	must(t, os.Remove(path))
	s := open(t, path, Options{})
	createJob(t, s, jobOf(1, 1))
}

func TestReadOnlyNeedsAFile(t *testing.T) {
	path := filepath.Join(memory(t), "jobs.db")
	if _, err := Open(path, Options{ReadOnly: true}); !errors.Is(err, fault.ErrAbsent) {
		t.Errorf("%v", err)
	}
	if _, err := Verify(path, nil); !errors.Is(err, fault.ErrAbsent) {
		t.Errorf("%v", err)
	}
	if _, err := Repair(path, path+".new", nil, nil); !errors.Is(err, fault.ErrAbsent) {
		t.Errorf("%v", err)
	}
}

func TestLinkToAStore(t *testing.T) {
	path, jobs := storeWith(t, 3)
	link := filepath.Join(memory(t), "link.db")
	must(t, os.Symlink(path, link))
	s := open(t, link, Options{})
	if s.Path() != path || s.Opening() != (Opening{}) {
		t.Errorf("opened %s, %+v", s.Path(), s.Opening())
	}
	if got, err := s.Load(jobs[0].ID); err != nil || !sameJob(got, jobs[0]) {
		t.Errorf("%v, %v", got, err)
	}
}

// TestMovedWhileOpen: what is accepted must be in the file that its path names.
func TestMovedWhileOpen(t *testing.T) {
	for _, gone := range []string{"", journalSuffix} {
		path, jobs := storeWith(t, 2)
		s := open(t, path, Options{})
		must(t, os.Rename(path+gone, path+gone+".away"))
		err := s.Append(jobs[0].ID, headFor(jobOf(0, 3)), reading(0, 3))
		if !errors.Is(err, fault.ErrMoved) {
			t.Fatalf("%q: %v", gone, err)
		}
		sentence(t, path, err)
		must(t, os.Rename(path+gone+".away", path+gone))
		must(t, s.Append(jobs[0].ID, headFor(jobOf(0, 3)), reading(0, 3)))
	}
}

// TestCutShortWhileOpen: a file that is cut short under the program may end it
// with SIGBUS where it is mapped into memory.
func TestCutShortWhileOpen(t *testing.T) {
	for _, left := range []int64{0, 100, pageBytes, 3 * pageBytes, 9 * pageBytes} {
		path, jobs := storeWith(t, 20, 30, 40)
		s, err := Open(path, Options{})
		must(t, err)
		must(t, os.Truncate(path, left))
		_, loadErr := s.Load(jobs[1].ID)
		_, _, listErr := s.List(ListOptions{})
		appendErr := s.Append(jobs[0].ID, headFor(jobOf(0, 21)), reading(0, 21))
		for what, err := range map[string]error{"load": loadErr, "list": listErr, "append": appendErr,
			"backup": s.Backup(path+".bak", false, nil, nil)} {
			if !errors.Is(err, fault.ErrDamaged) {
				t.Errorf("%s with %d bytes left: %v", what, left, err)
			}
		}
		if err := s.Close(); err != nil {
			t.Errorf("close: %v", err)
		}
	}
}

// TestFaultInMappedMemory: the guard itself, without the looks that come first.
func TestFaultInMappedMemory(t *testing.T) {
	path, _ := storeWith(t, 20, 30, 40)
	s, err := Open(path, Options{})
	must(t, err)
	state, err := snap(path, s.file)
	must(t, err)
	must(t, os.Truncate(path, 2*pageBytes))
	err = s.commit(state, func(c *change) error {
		return c.Tx.Bucket([]byte(record.Jobs)).Put([]byte("x"), nil)
	})
	if err == nil || !s.panicked {
		t.Errorf("%v, panicked %v", err, s.panicked)
	}
	must(t, s.Close())
	if _, err := Open(path, Options{lockWait: soon, rebuilt: true}); !errors.Is(err, fault.ErrDamaged) {
		t.Errorf("the lock was not given free: %v", err)
	}
}
