package main

// This file checks what a job that is done leaves to do.

import (
	"os"
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
	ics := filepath.Join(t.TempDir(), "due.ics")
	code, stdout, stderr := runHere(t, nil, "due", "--ics", ics, "--store", path)
	calendar, err := os.ReadFile(ics)
	if code != exitDone || err != nil || !strings.HasPrefix(string(calendar), "BEGIN:VCALENDAR\r\n") || !strings.Contains(string(calendar), "20300418") {
		t.Errorf("exit code %d, %v, %s%s%s", code, err, stdout, stderr, calendar)
	}
	if code, _, stderr := runHere(t, nil, "due", "--ics", ics, "--store", path); code != exitFailed || !strings.Contains(stderr, "--force") {
		t.Errorf("an existing file: exit code %d, %s", code, stderr)
	}
	code, stdout, stderr = runHere(t, nil, "tag", "last", "--store", path)
	if code != exitFailed || stdout != "" || !strings.Contains(stderr, "no tag is needed") {
		t.Errorf("exit code %d, %s%s", code, stdout, stderr)
	}
	code, stdout, stderr = runHere(t, nil, "jobs", "--store", path)
	if code != exitDone || !strings.Contains(stdout, "DONE · FILL PROVEN  van, rear axle; next change 18 Apr 2030") {
		t.Errorf("exit code %d, %s%s", code, stdout, stderr)
	}
}
