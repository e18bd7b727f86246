package store

// This file pins the sentence of every error: file, fact, what to do next.

import (
	"errors"
	"io/fs"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"unicode"

	"garage/tundish/store/fault"
)

func TestSentences(t *testing.T) {
	const p = "/home/x/jobs.db"
	for _, c := range []struct {
		err  error
		kind error
		want string
	}{
		{fault.Locked(p, nil), fault.ErrLocked,
			"/home/x/jobs.db: another window has it open; close that window, or wait until it is done, and try again"},
		{fault.Damage(p, "page %d holds keys of another page", 7), fault.ErrDamaged,
			"/home/x/jobs.db: damaged: page 7 holds keys of another page; nothing was changed; run: tundish verify, then: tundish repair"},
		{fault.Empty(p), fault.ErrDamaged, "/home/x/jobs.db: damaged: the file is empty; if it never held jobs, remove it and start again"},
		{fault.Lost(p), fault.ErrGone,
			"/home/x/jobs.db: the file is gone, its journal is there; put the file back, or run: tundish repair"},
		{fault.Foreign(p, "it holds something else"), fault.ErrForeign,
			"/home/x/jobs.db: not a store of this program: it holds something else; it was not changed; name another file with --store"},
		{fault.Newer(p, 7, 1), fault.ErrNewer,
			"/home/x/jobs.db: written by a newer version of this program (schema 7, this one knows 1); " +
				"it was not changed; install the newer version"},
		{fault.Older(p, 0, "it was not changed"), fault.ErrOlder,
			"/home/x/jobs.db: written by an older version (schema 0); it was not changed"},
		{fault.ReadOnly(p, fs.ErrPermission), fault.ErrReadOnly,
			"/home/x/jobs.db: cannot be written (permission denied); make file and folder writable for you, " +
				"or name another file with --store"},
		{fault.Full(p, syscall.ENOSPC), fault.ErrFull,
			"/home/x/jobs.db: no room on the disk, nothing was stored (no space left on device); make room and try again"},
		{fault.Uncertain(p, syscall.EIO), fault.ErrUncertain,
			"/home/x/jobs.db: the disk failed while storing, and whether the last entry is stored cannot be told (input/output error); " +
				"make a backup to another disk with: tundish backup; then open it again and look"},
		{fault.Moved(p), fault.ErrMoved,
			"/home/x/jobs.db: moved, replaced or removed while open, nothing was stored; put it back, " +
				"or close the program and open it again"},
		{fault.Exists(p, "name another file"), fault.ErrExists,
			"/home/x/jobs.db: a file of that name is there, it was not written over; name another file"},
		{fault.NoJob(p, "2027"), fault.ErrNoJob, `/home/x/jobs.db: no job "2027"; run: tundish jobs`},
		{fault.Invalid(p, "a draft must be %d bytes at most", 9), fault.ErrInvalid, "/home/x/jobs.db: a draft must be 9 bytes at most"},
	} {
		if c.err.Error() != c.want {
			t.Errorf("got  %s\nwant %s", c.err, c.want)
		}
		if !errors.Is(c.err, c.kind) {
			t.Errorf("%v is not %v", c.err, c.kind)
		}
	}
}

// sentence is the form that every error of an open or a read must have.
func sentence(t *testing.T, path string, err error) {
	t.Helper()
	text := err.Error()
	last := rune(text[len(text)-1])
	if !strings.HasPrefix(text, path) || strings.ContainsAny(text, "\n\r\t") || last == '.' || !strings.Contains(text, "; ") {
		t.Errorf("not one clear line: %q", text)
	}
	if regexp.MustCompile(`(?i)panic|goroutine|runtime error|bolt`).MatchString(text) || strings.ContainsFunc(text, unicode.IsControl) {
		t.Errorf("speaks of the inside: %q", text)
	}
}
