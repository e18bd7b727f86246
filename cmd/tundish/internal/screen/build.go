// This file holds the building of the program under test.

package screen

import (
	"os"
	"os/exec"
	"path"
	"path/filepath"
	"strings"
	"sync"
	"testing"
)

// builds holds one *build for each package and set of flags, so that each is
// built once in a test process.
var builds sync.Map

type build struct {
	once sync.Once
	bin  string
	out  []byte
	err  error
}

// Build builds the command in package pkg (an import path, or a path relative
// to the test's folder) with the flags given, once in a test process, and
// returns the path of the binary. When TUNDISH_TEST_BINARY is set, it is taken
// for the package named tundish instead of building it.
//
// The folder of the binaries outlives a test; end it with [RemoveBuilds].
func Build(t testing.TB, pkg string, flags ...string) string {
	t.Helper()
	if bin := os.Getenv("TUNDISH_TEST_BINARY"); bin != "" && path.Base(filepath.ToSlash(pkg)) == "tundish" {
		return bin
	}
	v, _ := builds.LoadOrStore(pkg+"\x00"+strings.Join(flags, "\x00"), new(build))
	b := v.(*build)
	b.once.Do(func() { b.run(pkg, flags) })
	if b.err != nil {
		t.Fatalf("build %s: %v\n%s", pkg, b.err, b.out)
	}
	return b.bin
}

func (b *build) run(pkg string, flags []string) {
	dir, err := os.MkdirTemp("", "tundish-build-")
	if err != nil {
		b.err = err
		return
	}
	b.bin = filepath.Join(dir, "program")
	args := append(append([]string{"build", "-o", b.bin}, flags...), pkg)
	b.out, b.err = exec.Command("go", args...).CombinedOutput()
}

// RemoveBuilds deletes what Build has built. Call it at the end of TestMain.
func RemoveBuilds() {
	builds.Range(func(key, v any) bool {
		builds.Delete(key)
		if bin := v.(*build).bin; bin != "" {
			_ = os.RemoveAll(filepath.Dir(bin)) // a leftover in the temporary folder is harmless
		}
		return true
	})
}
