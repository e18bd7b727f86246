package main

// This file holds the packages to the one direction in which they may know each
// other: cmd to tui, report and store; these to the rooms of model, each of which
// knows the ones below it.

import (
	"os/exec"
	"slices"
	"strings"
	"testing"
)

const module, charm = "garage/tundish/", "github.com/charmbracelet/"

// rooms are those of a job, from the lowest: each may know the ones before it and
// the leaves.
var rooms = []string{"job", "device", "estimate", "push", "verdict", "ask", "guide", "car", "share", "agenda", "pool", "report", "sheet",
	"paper"}

// forTests are packages of model that only tests know.
var forTests = []string{"garage", "jobtest"}

// leaves are numbers, physics and text, which know nothing of a job.
var leaves = []string{"adjust", "balance", "card", "dates", "drip", "hydraulics", "jsonwalk", "learn", "measure", "oil", "qr", "quantity",
	"text", "thread", "vessel", "words"}

// arrow forbids packages below one path to import what begins with others.
type arrow struct {
	from      string
	forbidden []string
	why       string
}

func arrows() []arrow {
	var list []arrow
	ofModel := func(names []string) []string {
		paths := make([]string, len(names))
		for i, name := range names {
			paths[i] = module + "model/" + name
		}
		return paths
	}
	for i, room := range rooms {
		list = append(list, arrow{module + "model/" + room, ofModel(rooms[i+1:]), "a room knows only those below it"})
	}
	for _, leaf := range leaves {
		list = append(list, arrow{module + "model/" + leaf, ofModel(rooms), "numbers and physics know nothing of a job"})
	}
	return append(list, []arrow{
		{module + "model", []string{module + "tui", module + "store", module + "cmd"}, "the model knows neither screens nor store"},
		{module + "model", []string{"os", "net", "syscall", "go.etcd.io/", charm + "bubbletea", charm + "bubbles", charm + "lipgloss"},
			"the model is pure"},
		{module + "store", []string{module + "tui", module + "cmd", charm}, "the store knows no screens"},
		{module + "store/pages", []string{module}, "pages know nothing of what is in them"},
		{module + "store/disk", []string{module}, "files know nothing of what is in them"},
		{module + "store/journal", []string{module + "store/pages", "go.etcd.io/"}, "the journal is a copy of its own"},
		{module + "tui", []string{module + "store", module + "cmd", "go.etcd.io/"}, "the screens know a journal, not the store"},
		{strings.TrimSuffix(module, "/"), []string{module + "model/garage", module + "model/jobtest", module + "model/words",
			module + "cmd/tundish/internal/screen", module + "testdata/golden"},
			"only tests work in the simulated garage, on an emulated screen, or look for words"},
		{module + "cmd/tundish/internal/boot", []string{module, charm + "bubbletea"}, "it must be ready before Bubble Tea is"},
		{module + "cmd/tundish/internal/screen", []string{module}, "the harness knows nothing of the program"},
	}...)
}

// below reports whether a path is another, or lies under it.
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
		if room, ok := strings.CutPrefix(fields[0], module+"model/"); ok && !slices.Contains(slices.Concat(rooms, leaves, forTests), room) {
			t.Errorf("%s is no room that is known here", fields[0])
		}
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
