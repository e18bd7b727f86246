// Package config is the settings: one small file of lines, key = value, in the folder
// that the XDG Base Directory Specification has for them.
package config

import (
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
)

// Key is a setting.
type Key struct {
	Name    string
	Help    string
	Default string
	OneOf   []string // nil takes any text
}

// Keys are all settings.
func Keys() []Key {
	return []Key{
		{"background", "of the terminal; auto asks it", "auto", []string{"light", "dark", "auto"}},
		{"bell", "whether a wait that is over rings", "on", []string{"on", "off"}},
		{"dates", "how days are written: English, German, French, Spanish, or 2026-04-18", "en", []string{"en", "de", "fr", "es", "iso"}},
		{"records", "folder that is on offer for records; empty: records beside the jobs", "", nil},
		{"units", "on offer for the first job of a unit", "metric", []string{"metric", "us", "imperial"}},
	}
}

// find is the setting of a name.
func find(name string) (Key, error) {
	var names []string
	for _, k := range Keys() {
		if k.Name == name {
			return k, nil
		}
		names = append(names, k.Name)
	}
	return Key{}, fmt.Errorf("there is no setting %q: they are %s", name, strings.Join(names, ", "))
}

// Settings are those that are set, by name.
type Settings map[string]string

// Get is a setting, or what counts where it is not set.
func (s Settings) Get(name string) (string, error) {
	k, err := find(name)
	if value, ok := s[name]; ok {
		return value, err
	}
	return k.Default, err
}

// set sets a setting.
func (s Settings) set(name, value string) error {
	k, err := find(name)
	switch {
	case err != nil:
		return err
	case k.OneOf != nil && !slices.Contains(k.OneOf, value):
		return fmt.Errorf("%s: %q is not one of %s", name, value, strings.Join(k.OneOf, ", "))
	case strings.ContainsFunc(value, func(r rune) bool { return r < ' ' }):
		return fmt.Errorf("%s: one line of text is wanted", name)
	}
	s[name] = strings.TrimSpace(value)
	return nil
}

// Path is the file of the settings; home is "" where there is no home folder.
func Path(getenv func(string) string, home string) (string, error) {
	folder := getenv("XDG_CONFIG_HOME")
	if !filepath.IsAbs(folder) { // the specification has a relative one ignored
		if home == "" {
			return "", errors.New("no folder for settings: set XDG_CONFIG_HOME")
		}
		folder = filepath.Join(home, ".config")
	}
	return filepath.Join(folder, "tundish", "config"), nil
}

// Read reads the settings. Where there is no file nothing is set. The error names the
// first line that is not understood; what the others say counts.
func Read(path string) (s Settings, err error) {
	s = Settings{}
	text, err := os.ReadFile(path)
	if errors.Is(err, fs.ErrNotExist) {
		return s, nil
	}
	if err != nil {
		return s, err
	}
	n := 0
	for line := range strings.Lines(string(text)) {
		n++
		line = strings.TrimSpace(line)
		if line == "" || strings.HasPrefix(line, "#") {
			continue
		}
		name, value, ok := strings.Cut(line, "=")
		wrong := errors.New("key = value is wanted")
		if ok {
			wrong = s.set(strings.TrimSpace(name), strings.TrimSpace(value))
		}
		if wrong != nil && err == nil {
			err = fmt.Errorf("%s: line %d: %w", path, n, wrong)
		}
	}
	return s, err
}

// write writes the settings that are set, in the place of those that are there, whole
// or not at all.
func write(path string, s Settings) error {
	if err := os.MkdirAll(filepath.Dir(path), 0o777); err != nil {
		return err
	}
	var b strings.Builder
	b.WriteString("# Settings of tundish; see: tundish config list\n")
	for _, name := range slices.Sorted(maps.Keys(s)) {
		b.WriteString(name + " = " + s[name] + "\n")
	}
	temp := path + ".new"
	if err := os.WriteFile(temp, []byte(b.String()), 0o666); err != nil {
		return err
	}
	return os.Rename(temp, path)
}
