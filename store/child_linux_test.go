package store

// This file runs the test binary as another process which is starved of room,
// or has no right to write: what only one system lets a test do.

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"
	"testing"

	"golang.org/x/sys/unix"

	"garage/tundish/model/job"
	"garage/tundish/store/fault"
	"garage/tundish/testdata/runs"
)

// systemRole is what a child of that name does.
func systemRole(name string) func(string) error {
	return map[string]func(string) error{
		"starve": func(arg string) error { return starve(arg, grow) },
		"crowd":  func(arg string) error { return starve(arg, crowd) },
		"fill":   fillDisk, "forbidden": forbidden,
	}[name]
}

// grow appends until the disk is full, checks that nothing but the accepted
// entries is there, makes room, and goes on.
func grow(s *Store, makeRoom func() error) error {
	job, err := s.Load(jobID(1))
	if err != nil {
		return err
	}
	add := func() error {
		next := jobOf(1, len(job.Entries)+1)
		if err := s.Append(job.ID, headFor(next), next.Entries[len(job.Entries)]); err != nil {
			return err
		}
		job = next
		return nil
	}
	for ; err == nil && len(job.Entries) < 4000; err = add() {
	}
	if !errors.Is(err, fault.ErrFull) || !strings.Contains(err.Error(), "make room") {
		return fmt.Errorf("after %d entries: %w", len(job.Entries), err)
	}
	for range 3 {
		if err := add(); !errors.Is(err, fault.ErrFull) && err != nil {
			return fmt.Errorf("full again: %w", err)
		}
	}
	if got, err := s.Load(job.ID); err != nil || !sameJob(got, job) {
		return fmt.Errorf("on the full disk: %d of %d entries, %w", len(got.Entries), len(job.Entries), err)
	}
	if err := makeRoom(); err != nil {
		return err
	}
	for range 40 {
		if err := add(); err != nil {
			return fmt.Errorf("with room again: %w", err)
		}
	}
	if got, err := s.Load(job.ID); err != nil || !sameJob(got, job) {
		return fmt.Errorf("in the end: %d of %d entries, %w", len(got.Entries), len(job.Entries), err)
	}
	return nil
}

// crowd lets in more jobs than there is room for, checks that only those are
// there of which it was told, makes room, and lets all in again.
func crowd(s *Store, makeRoom func() error) error {
	var jobs []job.Job
	for n := range 60 {
		jobs = append(jobs, jobOf(10+n, 20))
	}
	done, err := s.ImportAll(incomingOf(jobs))
	if !errors.Is(err, fault.ErrFull) {
		return fmt.Errorf("after %d jobs: %w", len(done), err)
	}
	for i, job := range jobs {
		got, err := s.Load(job.ID)
		if i < len(done) && (err != nil || !sameJob(got, job)) || i >= len(done) && !errors.Is(err, fault.ErrNoJob) {
			return fmt.Errorf("told of %d jobs; job %d: %d entries, %w", len(done), i, len(got.Entries), err)
		}
	}
	if err := makeRoom(); err != nil {
		return err
	}
	again, err := s.ImportAll(incomingOf(jobs))
	for i, m := range again {
		if (m.Outcome == Unchanged) != (i < len(done)) {
			return fmt.Errorf("job %d of %d that were in: %v", i, len(done), m.Outcome)
		}
	}
	if len(again) != len(jobs) {
		return fmt.Errorf("with room: %d jobs, %w", len(again), err)
	}
	return err
}

// starve lets no file grow beyond a limit: the store's or the journal's,
// whichever comes first. The path ends with the limit.
func starve(arg string, run func(s *Store, makeRoom func() error) error) error {
	path, limit, _ := strings.Cut(arg, "#")
	bytes, err := strconv.ParseUint(limit, 10, 64)
	if err != nil {
		return err
	}
	s, err := Open(path, Options{})
	if err != nil {
		return err
	}
	var was unix.Rlimit
	if err := unix.Getrlimit(unix.RLIMIT_FSIZE, &was); err != nil {
		return err
	}
	if err := unix.Setrlimit(unix.RLIMIT_FSIZE, &unix.Rlimit{Cur: bytes, Max: was.Max}); err != nil {
		return err
	}
	err = run(s, func() error { return unix.Setrlimit(unix.RLIMIT_FSIZE, &was) })
	return errors.Join(err, s.Close())
}

func TestFileSizeLimit(t *testing.T) {
	for _, limit := range []int{33_000, 36_864, 49_152, 49_300, 60_000, 65_535, 66_000, 100_001} {
		path, _ := storeWith(t, 2, 3)
		runChild(t, child(t, "starve", fmt.Sprintf("%s#%d", path, limit)))
		verify(t, path)
	}
	for _, limit := range []int{36_864, 66_000, 100_001, 131_072, 163_840} {
		path, _ := storeWith(t, 2, 3)
		runChild(t, child(t, "crowd", fmt.Sprintf("%s#%d", path, limit)))
		verify(t, path)
	}
}

// fillDisk mounts a small disk of its own, with a file that takes some of it.
func fillDisk(arg string) error {
	dir, size, _ := strings.Cut(arg, "#")
	if err := unix.Mount("none", dir, "tmpfs", 0, "size="+size); err != nil {
		return err
	}
	path, ballast := filepath.Join(dir, "jobs.db"), filepath.Join(dir, "ballast")
	if err := os.WriteFile(ballast, make([]byte, 400_000), 0o600); err != nil {
		return err
	}
	s, err := Open(path, Options{})
	if err != nil {
		return err
	}
	if err := s.Create(jobOf(1, 2), headFor(jobOf(1, 2))); err != nil {
		return err
	}
	if err = grow(s, func() error { return os.Remove(ballast) }); err != nil {
		return err
	}
	if err := s.Close(); err != nil {
		return err
	}
	r, err := Verify(path, nil)
	return errors.Join(err, r.Err())
}

// TestFullDisk fills a real file system, where bbolt may fail half-way through
// its pages.
func TestFullDisk(t *testing.T) {
	for size := 520_000; size < 660_000; size += runs.Of(28_672, 12_288) {
		cmd := child(t, "fill", fmt.Sprintf("%s#%d", t.TempDir(), size))
		cmd.SysProcAttr = ownMounts()
		out, err := cmd.CombinedOutput()
		if errors.Is(err, unix.EPERM) {
			t.Skip("needs the right to mount in a name space of its own")
		}
		if err != nil {
			t.Errorf("disk of %d bytes: %v: %s", size, err, out)
		}
	}
}

// ownMounts gives a process mounts of its own, which end with it.
func ownMounts() *syscall.SysProcAttr {
	return &syscall.SysProcAttr{
		Cloneflags:  syscall.CLONE_NEWNS | syscall.CLONE_NEWUSER,
		UidMappings: []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getuid(), Size: 1}},
		GidMappings: []syscall.SysProcIDMap{{ContainerID: 0, HostID: os.Getgid(), Size: 1}},
	}
}

// forbidden opens, as a user without rights, what it may not write.
func forbidden(dir string) error {
	if os.Getuid() == 0 {
		if err := syscall.Setuid(65534); err != nil {
			return err
		}
	}
	for _, name := range []string{"readonly/jobs.db", "closed/jobs.db", "readonly/new.db", "closed/a/b/new.db"} {
		_, err := Open(filepath.Join(dir, name), Options{})
		if !errors.Is(err, fault.ErrReadOnly) {
			return fmt.Errorf("%s: %w", name, err)
		}
	}
	s, err := Open(filepath.Join(dir, "readonly/jobs.db"), Options{ReadOnly: true})
	if err != nil {
		return err
	}
	_, err = s.Load(jobID(1))
	return errors.Join(err, s.Close())
}

func TestWithoutRights(t *testing.T) {
	path, _ := storeWith(t, 2, 3)
	dir := memory(t)
	must(t, os.Chmod(dir, 0o755))
	for name, mode := range map[string]os.FileMode{"readonly": 0o555, "closed": 0o000} {
		sub := filepath.Join(dir, name)
		must(t, os.Mkdir(sub, 0o755))
		write(t, filepath.Join(sub, "jobs.db"), read(t, path))
		write(t, filepath.Join(sub, "jobs.db"+journalSuffix), read(t, path+journalSuffix))
		for _, suffix := range []string{"", journalSuffix} {
			must(t, os.Chmod(filepath.Join(sub, "jobs.db"+suffix), 0o444))
		}
		must(t, os.Chmod(sub, mode))
		t.Cleanup(func() { os.Chmod(sub, 0o700) })
	}
	runChild(t, child(t, "forbidden", dir))
	if string(read(t, filepath.Join(dir, "readonly", "jobs.db"))) != string(read(t, path)) {
		t.Error("the file was changed")
	}
}
