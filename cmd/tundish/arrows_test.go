package main

// This file holds the packages to the one direction in which they may know each
// other: cmd to tui, store and model; tui and store to model.

import (
	"os/exec"
	"strings"
	"testing"
)

// arrow forbids packages below one path to import what begins with others.
type arrow struct {
	from      string
	forbidden []string
	why       string
}

func arrows() []arrow {
	const module, charm = "garage/tundish/", "github.com/charmbracelet/"
	return []arrow{
		{module + "model", []string{module + "tui", module + "store", module + "cmd"}, "the model knows neither screens nor store"},
		{module + "model", []string{"os", "net", "syscall", "go.etcd.io/", charm + "bubbletea", charm + "bubbles", charm + "lipgloss"}, "the model is pure"},
		{module + "store", []string{module + "tui", module + "cmd", "github.com/charmbracelet/"}, "the store knows no screens"},
		{module + "tui", []string{module + "store", module + "cmd", "go.etcd.io/"}, "the screens know a journal, not the store"},
		{strings.TrimSuffix(module, "/"), []string{module + "model/garage", module + "cmd/tundish/internal/screen"}, "only tests work in the simulated garage, or on an emulated screen"},
		{module + "cmd/tundish/internal/boot", []string{module, "github.com/charmbracelet/bubbletea"}, "it must be ready before Bubble Tea is"},
		{module + "cmd/tundish/internal/screen", []string{module}, "the harness knows nothing of the program"},
	}
}

// below says whether a path is another, or lies under it.
func below(path, root string) bool {
	return path == root || strings.HasPrefix(path, strings.TrimSuffix(root, "/")+"/")
}

func TestArrowsPointOneWay(t *testing.T) {
	out, err := exec.Command("go", "list", "-f", `{{.ImportPath}} {{join .Imports " "}}`, "garage/tundish/...").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	met := map[string]bool{}
	for line := range strings.Lines(string(out)) {
		fields := strings.Fields(line)
		for _, a := range arrows() {
			if !below(fields[0], a.from) {
				continue
			}
			met[a.from] = true
			for _, imported := range fields[1:] {
				for _, f := range a.forbidden {
					if below(imported, f) {
						t.Errorf("%s imports %s: %s", fields[0], imported, a.why)
					}
				}
			}
		}
	}
	for _, a := range arrows() {
		if !met[a.from] {
			t.Errorf("there is no package %s any more: the rule about it checks nothing", a.from)
		}
	}
}

// The program never goes to a network: what could is not even in it.
func TestNoNetworkIsBuiltIn(t *testing.T) {
	out, err := exec.Command("go", "list", "-deps", "garage/tundish/cmd/tundish").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	for dep := range strings.Lines(string(out)) {
		if dep = strings.TrimSpace(dep); below(dep, "net/http") || below(dep, "crypto/tls") {
			t.Errorf("%s is built in: see who imports it with go list -deps", dep)
		}
	}
}
