// This file holds the building of the program under test.

package screen

import (
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"sync"
	"testing"
)

// builds holds the binary of each package, so that each is built once in a
// test process.
var builds struct {
	sync.Mutex
	of map[string]string
}

// Build builds the command in package pkg (an import path, or a path relative
// to the test's folder), once in a test process, and returns the path of the
// binary, which bears the name of its package. When TUNDISH_TEST_BINARY is set, it is
// taken for the package named tundish instead of building it. A short run skips the test.
//
// The folder of the binaries outlives a test; end it with [RemoveBuilds].
func Build(t testing.TB, pkg string) string {
	t.Helper()
	if testing.Short() {
		t.Skip("a short run, which is for races, starts no program that knows nothing of them")
	}
	if bin := os.Getenv("TUNDISH_TEST_BINARY"); bin != "" && path.Base(pkg) == "tundish" {
		return bin
	}
	builds.Lock()
	defer builds.Unlock()
	if bin := builds.of[pkg]; bin != "" {
		return bin
	}
	dir, err := os.MkdirTemp("", "tundish-build-")
	if err != nil {
		t.Fatal(err)
	}
	bin := filepath.Join(dir, path.Base(pkg))
	if out, err := exec.Command("go", "build", "-ldflags", "-s -w", "-o", bin, pkg).CombinedOutput(); err != nil {
		t.Fatalf("build %s: %v\n%s", pkg, err, out)
	}
	if builds.of == nil {
		builds.of = map[string]string{}
	}
	builds.of[pkg] = bin
	return bin
}

// RemoveBuilds deletes what Build has built. Call it at the end of TestMain.
func RemoveBuilds() {
	for _, bin := range builds.of {
		_ = os.RemoveAll(filepath.Dir(bin)) // a leftover in the temporary folder is harmless
	}
	builds.of = nil
}
