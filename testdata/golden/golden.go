// Package golden compares what tests make with what somebody has looked over and kept.
package golden

import (
	"flag"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

var update = flag.Bool("update", false, "write what is kept anew: look at what changed")

// Check compares a text with the file that is kept, or writes it with -update.
func Check(t testing.TB, path, got string) {
	t.Helper()
	if *update {
		if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(path, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	kept, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	g, w := strings.Split(got, "\n"), strings.Split(string(kept), "\n")
	for i := range max(len(g), len(w)) {
		if have, want := at(g, i), at(w, i); have != want {
			t.Errorf("%s, line %d:\n got %s\nwant %s\nlook it over, then run this test with -update", path, i+1, have, want)
			return
		}
	}
}

func at(lines []string, i int) string {
	if i < len(lines) {
		return lines[i]
	}
	return "nothing: the text ends before"
}
