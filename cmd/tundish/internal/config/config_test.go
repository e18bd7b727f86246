package config

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

func TestSettingsAreKept(t *testing.T) {
	path := filepath.Join(t.TempDir(), "tundish", "config")
	s, err := Read(path)
	if err != nil || len(s) != 0 {
		t.Fatalf("%v, %v", s, err)
	}
	for name, value := range map[string]string{"units": "us", "records": "~/a = b # c", "bell": "off"} {
		if err := s.set(name, value); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	if err := write(path, s); err != nil {
		t.Fatal(err)
	}
	again, err := Read(path)
	for _, k := range Keys() {
		was, _ := s.Get(k.Name)
		if is, getErr := again.Get(k.Name); err != nil || getErr != nil || is != was {
			t.Errorf("%s: %q, was %q, %v", k.Name, is, was, err)
		}
	}
}

func TestSettingsRefuseWhatMakesNoSense(t *testing.T) {
	s := Settings{}
	for _, row := range [][2]string{{"colour", "red"}, {"units", "furlongs"}, {"bell", ""}, {"records", "a\nb = c"}} {
		if err := s.set(row[0], row[1]); err == nil {
			t.Errorf("%s = %q is taken", row[0], row[1])
		}
	}
	if _, err := s.Get("colour"); err == nil || !strings.Contains(err.Error(), "background, bell, dates, records, units") {
		t.Errorf("%v", err)
	}
	for _, k := range Keys() {
		if value, _ := s.Get(k.Name); value != k.Default || k.OneOf != nil && s.set(k.Name, value) != nil {
			t.Errorf("%s: %q is no value of its own", k.Name, value)
		}
	}
}

// A line that is not understood is named, and the others count.
func TestBadLinesAreNamed(t *testing.T) {
	path := filepath.Join(t.TempDir(), "config")
	if err := os.WriteFile(path, []byte("# mine\n\nunits=us\nnonsense\nbell = loud\ndates = de\n"), 0o600); err != nil {
		t.Fatal(err)
	}
	s, err := Read(path)
	if err == nil || !strings.Contains(err.Error(), "config: line 4: key = value") || s["units"] != "us" || s["dates"] != "de" ||
		len(s) != 2 {
		t.Errorf("%v, %v", s, err)
	}
}

// XDG Base Directory Specification: a path that is not absolute is ignored.
func TestFileIsWhereXDGSays(t *testing.T) {
	for folder, want := range map[string]string{"": "/home/x/.config/tundish/config", "/c": "/c/tundish/config",
		"c": "/home/x/.config/tundish/config"} {
		if got, err := Path(func(string) string { return folder }, "/home/x"); err != nil || got != want {
			t.Errorf("%q: %q, %v", folder, got, err)
		}
	}
	if _, err := Path(func(string) string { return "" }, ""); err == nil {
		t.Error("no home, and still a file")
	}
}
