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
)

func TestSentences(t *testing.T) {
	const p = "/home/x/jobs.db"
	for _, c := range []struct {
		err  error
		kind error
		want string
	}{
		{locked(p, nil), errLocked,
			"/home/x/jobs.db: another window has it open; close that window, or wait until it is done, and try again"},
		{damage(p, "page %d holds keys of another page", 7), ErrDamaged,
			"/home/x/jobs.db: damaged: page 7 holds keys of another page; nothing was changed; run: tundish verify, then: tundish repair"},
		{empty(p), ErrDamaged, "/home/x/jobs.db: damaged: the file is empty; if it never held jobs, remove it and start again"},
		{lost(p), errGone, "/home/x/jobs.db: the file is gone, its journal is there; put the file back, or run: tundish repair"},
		{foreign(p, "it holds something else"), errForeign,
			"/home/x/jobs.db: not a store of this program: it holds something else; it was not changed; name another file with --store"},
		{newer(p, 7, 1), errNewer,
			"/home/x/jobs.db: written by a newer version of this program (schema 7, this one knows 1); " +
				"it was not changed; install the newer version"},
		{older(p, 0, "it was not changed"), ErrOlder, "/home/x/jobs.db: written by an older version (schema 0); it was not changed"},
		{readOnly(p, fs.ErrPermission), ErrReadOnly,
			"/home/x/jobs.db: cannot be written (permission denied); make file and folder writable for you, " +
				"or name another file with --store"},
		{full(p, syscall.ENOSPC), errFull,
			"/home/x/jobs.db: no room on the disk, nothing was stored (no space left on device); make room and try again"},
		{uncertain(p, syscall.EIO), errUncertain,
			"/home/x/jobs.db: the disk failed while storing, and whether the last entry is stored cannot be told (input/output error); " +
				"make a backup to another disk with: tundish backup; then open it again and look"},
		{moved(p), errMoved,
			"/home/x/jobs.db: moved, replaced or removed while open, nothing was stored; put it back, " +
				"or close the program and open it again"},
		{exists(p, "name another file"), errExists,
			"/home/x/jobs.db: a file of that name is there, it was not written over; name another file"},
		{noJob(p, "2027"), errNoJob, `/home/x/jobs.db: no job "2027"; run: tundish jobs`},
		{invalid(p, "a draft must be %d bytes at most", 9), errInvalid, "/home/x/jobs.db: a draft must be 9 bytes at most"},
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
