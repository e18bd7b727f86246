package main

// This file checks what a job that is done leaves to do.

import (
	"path/filepath"
	"strings"
	"testing"

	"garage/tundish/model"
	"garage/tundish/store"
)

// A job that is done has its next change in the calendar, and needs no tag.
func TestDoneJobHasRemindersAndNoTag(t *testing.T) {
	path := filepath.Join(t.TempDir(), "jobs.db")
	s, err := store.Open(path, store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	keep(t, storeJournal{s}, noon, "van", "rear axle", model.NoTopic)
	if err := s.Close(); err != nil {
		t.Fatal(err)
	}
	// 48 months after 18 April 2026; RFC 5545 for the form.
	code, stdout, stderr := runHere(t, nil, "reminders", "last", "--store", path)
	if code != exitDone || !strings.HasPrefix(stdout, "BEGIN:VCALENDAR\r\n") || !strings.Contains(stdout, "20300418") {
		t.Errorf("exit code %d, %s%s", code, stdout, stderr)
	}
	code, stdout, stderr = runHere(t, nil, "tag", "last", "--store", path)
	if code != exitFailed || stdout != "" || !strings.Contains(stderr, "no tag is needed") {
		t.Errorf("exit code %d, %s%s", code, stdout, stderr)
	}
	code, stdout, stderr = runHere(t, nil, "jobs", "--store", path)
	if code != exitDone || !strings.Contains(stdout, "DONE · FILL PROVEN  van, rear axle; next change: 2030-04-18") {
		t.Errorf("exit code %d, %s%s", code, stdout, stderr)
	}
}
