package files

// This file takes names on a disk that knows no links.

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"testing"
)

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

func TestNameIsTakenOnlyOnceWithoutLinks(t *testing.T) {
	t.Chdir(t.TempDir())
	put(t, "temp", "ours")
	put(t, "out.txt", "theirs")
	if err := placeWithoutLink("temp", "out.txt"); !errors.Is(err, fs.ErrExist) {
		t.Errorf("error %v, want that the file exists", err)
	}
	holds(t, "out.txt", "theirs")
	if err := placeWithoutLink("temp", "new.txt"); err != nil {
		t.Error(err)
	}
	holds(t, "new.txt", "ours")
	if err := placeWithoutLink("temp", "newer.txt"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("error %v of a file that is not there", err)
	}
	if _, err := os.Lstat("newer.txt"); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("newer.txt: %v, want that the name is given back", err)
	}
}
