package main

// This file checks that what is exported never takes the place of anything.

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"garage/tundish/cmd/tundish/internal/files"
	"garage/tundish/model/job"
)

// inFolder goes to a folder with nothing in it and gives what a command may
// touch there.
func inFolder(t *testing.T) *outside {
	t.Helper()
	t.Chdir(t.TempDir())
	return &outside{getenv: func(string) string { return "" }, storeFlag: "jobs.db"}
}

// holds checks what a file holds, and that no other file is left beside it.
func holds(t *testing.T, path, want string) {
	t.Helper()
	if got, err := os.ReadFile(path); err != nil || string(got) != want {
		t.Errorf("%s holds %q, %v; want %q", path, got, err, want)
	}
	if left, err := filepath.Glob(".tundish.new-*"); err != nil || len(left) > 0 {
		t.Errorf("left behind: %v, %v", left, err)
	}
}

func put(t *testing.T, path, text string) {
	t.Helper()
	if err := os.WriteFile(path, []byte(text), 0o600); err != nil {
		t.Fatal(err)
	}
}

// A file that comes to be there while ours is being made is not written over.
func TestFileThatAppearsMeanwhileIsKept(t *testing.T) {
	o := inFolder(t)
	appears := func(temp string) error {
		put(t, temp, "ours")
		put(t, "out.txt", "theirs")
		return nil
	}
	err := forceFlag{}.Commit(o.owned, "out.txt", appears)
	if !errors.Is(err, fs.ErrExist) || !strings.Contains(err.Error(), "--force") {
		t.Errorf("error %v, want that the file exists", err)
	}
	holds(t, "out.txt", "theirs")
	if err := (forceFlag{files.Force{Force: true}}).Commit(o.owned, "out.txt", appears); err != nil {
		t.Error(err)
	}
	holds(t, "out.txt", "ours")
}

func TestFileThatCannotBeMadeLeavesNothing(t *testing.T) {
	o := inFolder(t)
	put(t, "out.txt", "theirs")
	broken := errors.New("broken")
	err := (forceFlag{files.Force{Force: true}}).Commit(o.owned, "out.txt", func(string) error { return broken })
	if !errors.Is(err, broken) {
		t.Errorf("error %v", err)
	}
	holds(t, "out.txt", "theirs")
	if err := (forceFlag{}).Commit(o.owned, "new.txt", func(string) error { return broken }); !errors.Is(err, broken) {
		t.Errorf("error %v", err)
	}
	if _, err := os.Stat("new.txt"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("new.txt: %v", err)
	}
}

// The store is known by whatever name it is called, its journal even where it
// is missing.
func TestStoreIsNeverWrittenOver(t *testing.T) {
	o := inFolder(t)
	put(t, "jobs.db", "the store")
	for _, link := range []struct{ to, name string }{{"jobs.db", "link.db"}, {".", "folder"}} {
		if err := os.Symlink(link.to, link.name); err != nil {
			t.Skipf("no links here: %v", err)
		}
	}
	if err := os.Link("jobs.db", "hard.db"); err != nil {
		t.Fatal(err)
	}
	for _, named := range []string{"jobs.db", "link.db"} {
		o.storeFlag = named
		for _, path := range []string{"jobs.db", "./jobs.db", "link.db", "hard.db", "folder/jobs.db", "jobs.db.journal",
			"folder/jobs.db.journal"} {
			if err := (forceFlag{files.Force{Force: true}}).Write(o.owned, path, []byte("x")); err == nil || !strings.Contains(err.Error(),
				"the store itself") {
				t.Errorf("--store %s, written to %s: %v", named, path, err)
			}
		}
	}
	holds(t, "jobs.db", "the store")
}

// A link that is written over with --force goes on being one.
func TestForceFollowsLinks(t *testing.T) {
	o := inFolder(t)
	put(t, "real.txt", "old")
	if err := os.Symlink("real.txt", "link.txt"); err != nil {
		t.Skipf("no links here: %v", err)
	}
	if err := (forceFlag{files.Force{Force: true}}).Write(o.owned, "link.txt", []byte("new")); err != nil {
		t.Fatal(err)
	}
	holds(t, "real.txt", "new")
	if to, err := os.Readlink("link.txt"); err != nil || to != "real.txt" {
		t.Errorf("the link goes to %q, %v", to, err)
	}
}

// The guide writes beside what is there, into a folder that it makes.
func TestGuideExportsBesideWhatIsThere(t *testing.T) {
	o := inFolder(t)
	j := openJournal(t)
	job := keep(t, j, noon, "van", "rear axle", job.NoTopic)
	export := exportTo(o, "tundish-", recordOf(o, j.Store))
	for _, want := range []string{"tundish-" + job.ID + ".html", "tundish-" + job.ID + "-2.html", "tundish-" + job.ID + "-3.html"} {
		path, err := export(job.ID, "some/records")
		if here, _ := filepath.Abs("some/records"); err != nil || filepath.Dir(path) != here || filepath.Base(path) != want {
			t.Errorf("written to %s, %v; want %s", path, err, want)
		}
		if text, err := os.ReadFile(path); err != nil || !strings.Contains(string(text), "<!doctype html>") &&
			!strings.Contains(string(text), "<!DOCTYPE html>") {
			t.Errorf("%s is no HTML: %v", path, err)
		}
	}
	home, _ := filepath.Abs(".")
	t.Setenv("HOME", home)
	for typed, want := range map[string]string{"~": home, "~/kept": home + "/kept", "~kept": home + "/~kept"} {
		if path, err := export(job.ID, typed); err != nil || filepath.Dir(path) != want {
			t.Errorf("%s: written to %s, %v", typed, path, err)
		}
	}
	if _, err := export(job.ID, "some/records/tundish-"+job.ID+".html"); err == nil {
		t.Error("a file is taken for a folder")
	}
}
