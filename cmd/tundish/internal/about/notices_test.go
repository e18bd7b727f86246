package about

// This file holds the notices to what is linked in, and writes them anew:
//
//	go test ./cmd/tundish/internal/about -run Notices -update

import (
	"cmp"
	"encoding/json"
	"flag"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write notices.txt anew")

type goModule struct {
	Path, Version, Dir string
	Main               bool
}

// linked are the modules that the program is linked with on a system, but itself.
func linked(t *testing.T, system string) (list []goModule) {
	t.Helper()
	root, err := exec.Command("go", "env", "GOROOT").Output()
	if err != nil {
		t.Fatalf("go env: %v", err)
	}
	list = append(list, goModule{Path: "go", Version: runtime.Version(), Dir: strings.TrimSpace(string(root))})
	cmd := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{.Path}}\t{{.Version}}\t{{.Dir}}\t{{.Main}}{{end}}",
		"garage/tundish/cmd/tundish")
	cmd.Env = append(os.Environ(), "CGO_ENABLED=0", "GOOS="+system)
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	for line := range strings.Lines(string(out)) {
		f := strings.Split(strings.TrimSpace(line), "\t")
		if m := (goModule{Path: f[0]}); len(f) == 4 && f[3] == "false" {
			m.Version, m.Dir = f[1], f[2]
			list = append(list, m)
		}
	}
	return list
}

// released are the systems that there are files for.
var released = []string{"linux", "darwin", "windows"}

// licenceOf is the SPDX identifier of a licence by its words; "" of one that is not
// known here, and must be looked at.
func licenceOf(text string) string {
	text = strings.Join(strings.Fields(text), " ")
	switch {
	case strings.Contains(text, "Apache License Version 2.0"):
		return "Apache-2.0"
	case strings.Contains(text, "Permission is hereby granted, free of charge"):
		return "MIT"
	case strings.Contains(text, "Redistribution and use in source and binary forms") && strings.Contains(text, "Neither the name"),
		strings.Contains(text, "Redistribution and use in source and binary forms") && strings.Contains(text, "may not be used to endorse"):
		return "BSD-3-Clause"
	case strings.Contains(text, "Redistribution and use in source and binary forms"):
		return "BSD-2-Clause"
	}
	return ""
}

// noticeOf is what a module's own files say.
func noticeOf(t *testing.T, m goModule) Notice {
	t.Helper()
	n := Notice{Module: m.Path, Version: m.Version}
	for _, pattern := range []string{"LICENSE*", "LICENCE*", "COPYING*", "NOTICE*", "THIRD_PARTY_LICENSES/*"} {
		files, _ := filepath.Glob(filepath.Join(m.Dir, pattern)) // only a bad pattern is an error
		for _, file := range files {
			text, err := os.ReadFile(file)
			if info, statErr := os.Stat(file); statErr == nil && info.IsDir() {
				continue
			}
			if err != nil {
				t.Fatal(err)
			}
			n.Licence = cmp.Or(n.Licence, licenceOf(string(text)))
			n.Text = strings.TrimSpace(n.Text + "\n\n" + strings.TrimSpace(strings.ReplaceAll(string(text), "\r\n", "\n")))
		}
	}
	if n.Text == "" { // one that says it in its README alone
		readme, err := os.ReadFile(filepath.Join(m.Dir, "README.md"))
		if err != nil {
			t.Fatal(err)
		}
		if _, says, ok := strings.Cut(string(readme), "\n## License\n"); ok && strings.HasPrefix(strings.TrimSpace(says), "MIT") {
			n.Licence, n.Text = "MIT", "License: "+strings.TrimSpace(says)
		}
	}
	return n
}

// The notices are those of the modules that are linked in on any system, of the
// versions that are, in the words of their own files.
func TestNoticesAreComplete(t *testing.T) {
	systems := released
	if os.Getenv("TUNDISH_LONG") == "" && !*update {
		systems = []string{runtime.GOOS}
	}
	want := map[string]Notice{}
	for _, system := range systems {
		for _, m := range linked(t, system) {
			if _, known := want[m.Path]; !known {
				want[m.Path] = noticeOf(t, m)
			}
		}
	}
	if *update {
		write(t, want)
		return
	}
	have := map[string]Notice{}
	for _, n := range Notices() {
		have[n.Module] = n
	}
	for path, w := range want {
		h, ok := have[path]
		if path == "go" { // whatever toolchain is in use: its notice is the same from version to version
			h.Version, w.Version = "", ""
		}
		if !ok || h != w {
			t.Errorf("%s %s: the notice is not that of its files: .ci/notices writes it anew", path, w.Version)
		}
		if w.Licence == "" || w.Text == "" {
			t.Errorf("%s: no licence that is known here: look at it", path)
		}
	}
	if len(systems) == len(released) {
		for path := range have {
			if _, ok := want[path]; !ok {
				t.Errorf("%s is not linked in: .ci/notices leaves it out", path)
			}
		}
	}
	if len(want) < 10 {
		t.Errorf("only %d modules", len(want))
	}
}

func write(t *testing.T, all map[string]Notice) {
	t.Helper()
	var b strings.Builder
	for _, n := range slices.SortedFunc(func(yield func(Notice) bool) {
		for _, n := range all {
			if !yield(n) {
				return
			}
		}
	}, func(a, b Notice) int { return cmp.Compare(a.Module, b.Module) }) {
		b.WriteString(noticeMark + n.Module + " " + n.Version + " " + n.Licence + "\n\n" + n.Text + "\n\n")
	}
	if err := os.WriteFile("notices.txt", []byte(b.String()), 0o644); err != nil {
		t.Fatal(err)
	}
}

// What is parsed of the notices is all of their text.
func TestNoticesRoundTrip(t *testing.T) {
	var b strings.Builder
	for _, n := range Notices() {
		b.WriteString(noticeMark + n.Module + " " + n.Version + " " + n.Licence + "\n\n" + n.Text + "\n\n")
	}
	if b.String() != NoticesText {
		t.Error("a notice is lost or cut in two")
	}
	if _, err := json.Marshal(Notices()); err != nil {
		t.Error(err)
	}
}
