package main

import (
	"encoding/json"
	"errors"
	"io"
	"os/exec"
	"strings"
	"testing"
)

// arrows are the imports that may not be, directly or by way of others.
var arrows = []struct{ from, to, why string }{
	{"garage/tundish/model", "garage/tundish/store", "the model keeps nothing"},
	{"garage/tundish/model", "garage/tundish/tui", "the model draws nothing"},
	{"garage/tundish/model", "os", "the model touches nothing outside"},
	{"garage/tundish/store", "garage/tundish/tui", "the store draws nothing"},
	{"garage/tundish/tui", "garage/tundish/store", "the screens know only the journal that they are given"},
	{"garage/tundish/tui", "go.etcd.io/bbolt", "the screens know only the journal that they are given"},
}

// goPackage is what go list tells of a package.
type goPackage struct {
	ImportPath string
	Imports    []string
}

// Packages point one way: cmd to tui, store and model; tui and store to model.
func TestPackagesPointOneWay(t *testing.T) {
	out, err := exec.Command("go", "list", "-json=ImportPath,Imports", "garage/tundish/...").Output()
	if err != nil {
		t.Fatal(err)
	}
	imports := map[string][]string{}
	for dec := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p goPackage
		if err := dec.Decode(&p); errors.Is(err, io.EOF) {
			break
		} else if err != nil {
			t.Fatal(err)
		}
		imports[p.ImportPath] = p.Imports
	}
	if len(imports) < 10 {
		t.Fatalf("only %d packages listed", len(imports))
	}
	for _, a := range arrows {
		for pkg := range imports {
			if pkg != a.from && !strings.HasPrefix(pkg, a.from+"/") {
				continue
			}
			if way := wayTo(imports, pkg, a.to, map[string]bool{}); way != nil {
				t.Errorf("%s: %s", strings.Join(way, " -> "), a.why)
			}
		}
	}
}

// wayTo is a chain of imports inside this module that leads from a package to
// another, or one under it; nil where there is none.
func wayTo(imports map[string][]string, from, to string, seen map[string]bool) []string {
	if seen[from] {
		return nil
	}
	seen[from] = true
	for _, next := range imports[from] {
		if next == to || strings.HasPrefix(next, to+"/") && strings.Contains(to, "/") {
			return []string{from, next}
		}
		if way := wayTo(imports, next, to, seen); way != nil {
			return append([]string{from}, way...)
		}
	}
	return nil
}
