//go:build unix

package main

import (
	"bytes"
	"encoding/json"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strings"
	"testing"
	"time"

	"garage/tundish/cmd/tundish/internal/screen"
)

var commitDay = time.Date(2026, 11, 29, 10, 0, 0, 0, time.UTC)

func smallPackage(program []byte) debianPackage {
	return debianPackage{Name: "tundish", Version: "1.2.3", Arch: runtime.GOARCH, Day: commitDay, Files: []file{
		{"usr/bin/tundish", program, 0o755}, {"usr/share/doc/tundish/copyright", []byte("odd"), 0o644},
	}}
}

// dpkg-deb reads the package, each folder is in it before what it holds, and the same
// files give the same bytes.
func TestDebianPackageIsOneForDpkg(t *testing.T) {
	p := smallPackage([]byte("#!/bin/sh\n"))
	if !bytes.Equal(p.Bytes(), p.Bytes()) {
		t.Error("twice the same are not the same bytes")
	}
	path := filepath.Join(t.TempDir(), p.FileName())
	if err := os.WriteFile(path, p.Bytes(), 0o600); err != nil {
		t.Fatal(err)
	}
	if _, err := exec.LookPath("dpkg-deb"); err != nil {
		t.Skip("SKIPPED: no dpkg-deb here")
	}
	for flag, want := range map[string][]string{
		"--info":     {"Package: tundish", "Version: 1.2.3", "Architecture: " + runtime.GOARCH, "md5sums"},
		"--contents": {"drwxr-xr-x root/root", "-rwxr-xr-x root/root        10 2026-11-29", "./usr/share/doc/tundish/copyright"},
	} {
		cmd := exec.Command("dpkg-deb", flag, path)
		cmd.Env = append(os.Environ(), "TZ=UTC")
		out, err := cmd.CombinedOutput()
		for _, w := range want {
			if err != nil || !strings.Contains(string(out), w) {
				t.Errorf("dpkg-deb %s: %v: %q is not in\n%s", flag, err, w, out)
			}
		}
	}
	root := t.TempDir()
	if out, err := exec.Command("dpkg-deb", "--raw-extract", path, root).CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	sums := exec.Command("md5sum", "--check", "--strict", "DEBIAN/md5sums")
	sums.Dir = root
	if out, err := sums.CombinedOutput(); err != nil {
		t.Errorf("%v\n%s", err, out)
	}
}

// Debian Policy 5.6.12: what is before a version sorts below it.
func TestVersionsSortAsDebianSortsThem(t *testing.T) {
	for version, want := range map[string]string{
		"v1.2.3": "1.2.3", "v0.0.0-20261129100000-0123456789ab": "0.0.0~20261129100000.0123456789ab", "v1.2.3-rc.1": "1.2.3~rc.1",
	} {
		if got := debianVersion(version); got != want {
			t.Errorf("%s: %s, want %s", version, got, want)
		}
	}
}

func TestBillNamesWhatIsLinkedIn(t *testing.T) {
	of := func(deps ...*debug.Module) []binary {
		return []binary{{info: &debug.BuildInfo{GoVersion: "go1.26.0", Deps: deps}}}
	}
	kong := &debug.Module{Path: "github.com/alecthomas/kong", Version: "v1.17.0"}
	text, err := billOf(of(kong), "v1.2.3", commitDay)
	if err != nil {
		t.Fatal(err)
	}
	var b bill
	if err := json.Unmarshal(text, &b); err != nil {
		t.Fatal(err)
	}
	if b.Format != "CycloneDX" || len(b.Components) != 2 || b.Components[0].PURL != "pkg:golang/github.com/alecthomas/kong@v1.17.0" ||
		b.Components[0].Licences[0].Licence.ID != "MIT" || b.Components[1].Name != "std" || len(b.Dependencies[0].Upon) != 2 ||
		b.Metadata.Timestamp != "2026-11-29T10:00:00Z" {
		t.Errorf("%s", text)
	}
	if again, _ := billOf(of(kong), "v1.2.3", commitDay); !bytes.Equal(text, again) {
		t.Error("twice the same are not the same bytes")
	}
	if _, err := billOf(of(&debug.Module{Path: "example.org/unknown", Version: "v1.0.0"}), "v1.2.3", commitDay); err == nil {
		t.Error("a module without a notice is let through")
	}
}

// The package is installed by dpkg in a root of its own; its man page and its
// completion work from there.
func TestDebianPackageIsInstalled(t *testing.T) {
	if os.Getenv("TUNDISH_LONG") == "" {
		t.Skip("it builds the program: set TUNDISH_LONG")
	}
	for _, program := range []string{"dpkg", "man", "bash"} {
		if _, err := exec.LookPath(program); err != nil || os.Geteuid() != 0 {
			t.Skipf("SKIPPED: no %s here, or not root", program)
		}
	}
	body, err := os.ReadFile(screen.Build(t, "garage/tundish/cmd/tundish"))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(screen.RemoveBuilds)
	folder, root := t.TempDir(), t.TempDir()
	run := func(name string, args ...string) string {
		t.Helper()
		cmd := exec.Command(name, args...)
		cmd.Env = append(screen.CleanEnv(folder), "PATH="+root+"/usr/bin:"+os.Getenv("PATH"),
			"MANPATH="+root+"/usr/share/man", "MANPAGER=cat")
		out, err := cmd.Output()
		if err != nil {
			t.Fatalf("%s %q: %v", name, args, err)
		}
		return string(out)
	}
	program := filepath.Join(folder, "tundish-linux-"+runtime.GOARCH)
	write := func(path string, text []byte) {
		if err := os.WriteFile(path, text, 0o755); err != nil {
			t.Fatal(err)
		}
	}
	write(program, body)
	write(filepath.Join(folder, manual), []byte(run(program, "man")))
	t.Chdir("../../../..")
	files, err := installed(folder, binary{path: program, arch: runtime.GOARCH})
	if err != nil {
		t.Fatal(err)
	}
	p := smallPackage(nil)
	p.Files = files
	write(filepath.Join(folder, p.FileName()), p.Bytes())
	for _, d := range []string{"info", "updates", "triggers"} {
		if err := os.MkdirAll(filepath.Join(root, "var/lib/dpkg", d), 0o755); err != nil {
			t.Fatal(err)
		}
	}
	write(filepath.Join(root, "var/lib/dpkg/status"), nil)
	run("dpkg", "--root="+root, "--force-not-root", "--install", filepath.Join(folder, p.FileName()))
	if page := run("man", "tundish"); !strings.Contains(page, "tundish calc plan") {
		t.Errorf("man tundish prints\n%s", page)
	}
	if got := run("bash", "--norc", "-c", `source "$0"; COMP_WORDS=(tundish summ) COMP_CWORD=1; _tundish; echo "${COMPREPLY[@]}"`,
		root+"/usr/share/bash-completion/completions/tundish"); got != "summary\n" {
		t.Errorf("bash completes summ to %q", got)
	}
	run(root+"/usr/bin/tundish", "import", "testdata/jobs/drain-port.json")
	if got := run("bash", "--norc", "-c", `source "$0"; COMP_WORDS=(tundish summary 2026) COMP_CWORD=2; _tundish; echo "${COMPREPLY[@]}"`,
		root+"/usr/share/bash-completion/completions/tundish"); !strings.HasPrefix(got, "20260418-700000") {
		t.Errorf("bash completes the beginning of a job to %q", got)
	}
	for _, file := range []string{"zsh/vendor-completions/_tundish", "fish/vendor_completions.d/tundish.fish", "doc/tundish/copyright"} {
		if _, err := os.Stat(filepath.Join(root, "usr/share", file)); err != nil {
			t.Error(err)
		}
	}
}
