package disk

import (
	"errors"
	"io/fs"
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

func TestRoomIsToldApart(t *testing.T) {
	for _, c := range []struct {
		err  error
		room bool
	}{
		{syscall.ENOSPC, true}, {syscall.EFBIG, true}, {syscall.EDQUOT, true},
		{&fs.PathError{Op: "write", Path: "x", Err: syscall.ENOSPC}, true},
		{errors.New("file resize error: truncate x: file too large"), true}, // as bbolt says it
		{syscall.EIO, false}, {fs.ErrPermission, false},
	} {
		if IsFull(c.err) != c.room {
			t.Errorf("%v: %v", c.err, !c.room)
		}
	}
}

// TestPutInPlace writes over nothing, Replace over what is there; neither leaves its
// temporary file.
func TestWriteWhole(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a")
	fill := func(text string) func(*os.File) error {
		return func(f *os.File) error { _, err := f.WriteString(text); return err }
	}
	refused := errors.New("refused")
	for _, c := range []struct {
		place func(temp, path string) error
		fill  func(*os.File) error
		want  error
		holds string
	}{
		{PutInPlace, fill("one"), nil, "one"}, {PutInPlace, fill("two"), fs.ErrExist, "one"}, {Replace, fill("three"), nil, "three"},
		{Replace, func(*os.File) error { return refused }, refused, "three"},
	} {
		err := WriteWhole(path, c.place, c.fill)
		text, _ := os.ReadFile(path)
		if !errors.Is(err, c.want) || (err == nil) != (c.want == nil) || string(text) != c.holds {
			t.Errorf("%v, %q; want %v, %q", err, text, c.want, c.holds)
		}
	}
	if left, _ := filepath.Glob(filepath.Join(filepath.Dir(path), ".*")); len(left) > 0 {
		t.Errorf("left over: %v", left)
	}
}

func TestSetAsideAndRemove(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a")
	if aside, err := SetAside(path); aside != "" || err != nil {
		t.Errorf("%q, %v", aside, err)
	}
	for _, want := range []string{path + ".aside-1", path + ".aside-2"} {
		if err := os.WriteFile(path, nil, FileMode); err != nil {
			t.Fatal(err)
		}
		if aside, err := SetAside(path); aside != want || err != nil {
			t.Errorf("%q, %v; want %q", aside, err, want)
		}
	}
	if err := Remove(path, path+".aside-1", path+".aside-2"); err != nil {
		t.Error(err)
	}
	if left, _ := filepath.Glob(path + "*"); len(left) > 0 {
		t.Errorf("left over: %v", left)
	}
	if err := os.MkdirAll(filepath.Join(path, "b"), folderMode); err != nil || Remove(path) == nil {
		t.Errorf("a folder that is not empty was removed: %v", err)
	}
}

func TestPathsOfOneFile(t *testing.T) {
	dir := t.TempDir()
	file, link, other := filepath.Join(dir, "file"), filepath.Join(dir, "link"), filepath.Join(dir, "other")
	for _, path := range []string{file, other} {
		if err := os.WriteFile(path, nil, FileMode); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Symlink(file, link); err != nil {
		t.Skip("no links here")
	}
	if at, err := Locate(link); err != nil || at != file {
		t.Errorf("%q, %v", at, err)
	}
	for _, c := range []struct {
		a, b string
		want bool
	}{{file, link, true}, {file, other, false}, {file, filepath.Join(dir, "none"), false}, {filepath.Join(dir, "none"),
		filepath.Join(dir, ".", "none"), true}, {filepath.Join(dir, "none"), filepath.Join(dir, "no"), false}} {
		if SamePath(c.a, c.b) != c.want || SamePath(c.b, c.a) != c.want {
			t.Errorf("%s and %s: %v", c.a, c.b, !c.want)
		}
	}
	f, err := os.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if !IsAt(file, f) || !IsAt(link, f) || IsAt(other, f) || IsAt(filepath.Join(dir, "none"), f) {
		t.Error("an open file is where it is, and nowhere else")
	}
}

// TestLock: readers share, a writer is alone.
func TestLock(t *testing.T) {
	path := filepath.Join(t.TempDir(), "a")
	open := func() *os.File {
		f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, FileMode)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { _ = f.Close() })
		return f
	}
	a, b := open(), open()
	for _, c := range []struct{ first, second, want bool }{{true, true, true}, {true, false, false}, {false, true, false},
		{false, false, false}} {
		if got, err := TryLock(a, c.first); !got || err != nil {
			t.Errorf("%v, %v", got, err)
		}
		if got, err := TryLock(b, c.second); got != c.want || err != nil {
			t.Errorf("%+v: %v, %v", c, got, err)
		}
		if err := errors.Join(Unlock(a), Unlock(b)); err != nil {
			t.Error(err)
		}
	}
}
