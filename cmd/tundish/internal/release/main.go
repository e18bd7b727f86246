// Command release makes of the program's binaries what is handed out beside them:
// Debian packages, a list of what is linked in (SBOM), checksums. The same binaries
// give the same bytes: times are those of the commit, orders are by name.
//
//	release FOLDER   holds tundish-OS-ARCH for each system; the rest is written there
//
// .ci/release builds the binaries and calls it.
package main

import (
	"bytes"
	"compress/gzip"
	"crypto/sha256"
	"debug/buildinfo"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"runtime/debug"
	"slices"
	"strings"
	"time"

	"garage/tundish/cmd/tundish/internal/about"
	"garage/tundish/cmd/tundish/internal/reference"
)

const program = "tundish"

// manual names the file that .ci/release writes the man page to: the program alone
// can tell it.
const manual = program + ".1"

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: release FOLDER")
		os.Exit(2)
	}
	if err := release(os.Args[1]); err != nil {
		fmt.Fprintln(os.Stderr, "release:", err)
		os.Exit(1)
	}
}

// binary is the program for a system.
type binary struct {
	path string
	arch string // of Go
	os   string
	info *debug.BuildInfo
}

func release(folder string) error {
	binaries, err := binariesOf(folder)
	if err != nil {
		return err
	}
	version, day, err := versionOf(binaries)
	if err != nil {
		return err
	}
	for _, b := range binaries {
		if b.os != "linux" {
			continue
		}
		files, err := installed(folder, b)
		if err != nil {
			return err
		}
		p := debianPackage{Name: program, Version: debianVersion(version), Arch: b.arch, Day: day, Files: files}
		if err := os.WriteFile(filepath.Join(folder, p.FileName()), p.Bytes(), 0o644); err != nil {
			return err
		}
	}
	bill, err := billOf(binaries, version, day)
	if err != nil {
		return err
	}
	if err := os.WriteFile(filepath.Join(folder, program+".cdx.json"), bill, 0o644); err != nil {
		return err
	}
	return checksums(folder)
}

// binariesOf reads what is built into the binaries of a folder.
func binariesOf(folder string) (list []binary, err error) {
	paths, err := filepath.Glob(filepath.Join(folder, program+"-*-*"))
	if err != nil {
		return nil, err
	}
	for _, path := range paths {
		name := strings.Split(strings.TrimSuffix(filepath.Base(path), ".exe"), "-")
		info, err := buildinfo.ReadFile(path)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", path, err)
		}
		list = append(list, binary{path: path, os: name[1], arch: name[2], info: info})
	}
	if len(list) == 0 {
		return nil, fmt.Errorf("%s: there is no %s-OS-ARCH", folder, program)
	}
	return list, nil
}

// versionOf is the one version of all binaries, and the time of its commit.
func versionOf(binaries []binary) (version string, day time.Time, err error) {
	set := map[string]string{}
	for _, s := range binaries[0].info.Settings {
		set[s.Key] = s.Value
	}
	for _, b := range binaries {
		if b.info.Main.Version != binaries[0].info.Main.Version {
			return "", day, fmt.Errorf("%s is of another version than %s", b.path, binaries[0].path)
		}
	}
	if set["vcs.time"] == "" {
		return "", day, errors.New("the binaries do not know their commit: build them with -buildvcs=true in a clone")
	}
	day, err = time.Parse(time.RFC3339, set["vcs.time"])
	return binaries[0].info.Main.Version, day, err
}

// debianVersion is a version as Debian orders them: what is before a version sorts
// below it (Debian Policy 5.6.12).
func debianVersion(version string) string {
	version = strings.TrimPrefix(version, "v")
	base, before, ok := strings.Cut(version, "-")
	if !ok {
		return version
	}
	return base + "~" + strings.ReplaceAll(before, "-", ".")
}

// installed are the files of a package.
func installed(folder string, b binary) ([]file, error) {
	body, err := os.ReadFile(b.path)
	if err != nil {
		return nil, err
	}
	page, err := os.ReadFile(filepath.Join(folder, manual))
	if err != nil {
		return nil, fmt.Errorf("the man page: %w", err)
	}
	licence, err := os.ReadFile("LICENSE")
	if err != nil {
		return nil, fmt.Errorf("run it at the top of the tree: %w", err)
	}
	files := []file{
		{"usr/bin/" + program, body, 0o755},
		{"usr/share/man/man1/" + program + ".1.gz", zipped(page), 0o644},
		{"usr/share/doc/" + program + "/copyright", append(licence, "\nLinked in:\n\n"+about.NoticesText...), 0o644},
	}
	for shell, path := range map[string]string{
		"bash": "bash-completion/completions/" + program, "zsh": "zsh/vendor-completions/_" + program,
		"fish": "fish/vendor_completions.d/" + program + ".fish",
	} {
		script, err := reference.Script(shell)
		if err != nil {
			return nil, err
		}
		files = append(files, file{"usr/share/" + path, []byte(script), 0o644})
	}
	slices.SortFunc(files, func(a, b file) int { return strings.Compare(a.path, b.path) })
	return files, nil
}

// zipped is a text as gzip writes it without a name or a time.
func zipped(text []byte) []byte {
	var b bytes.Buffer
	w, err := gzip.NewWriterLevel(&b, gzip.BestCompression)
	if err == nil {
		_, err = w.Write(text)
	}
	if err = errors.Join(err, w.Close()); err != nil {
		panic(err) // into memory nothing fails
	}
	return b.Bytes()
}

// checksums writes SHA256SUMS of all that is in the folder, as sha256sum -c reads it.
func checksums(folder string) error {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return err
	}
	const sums = "SHA256SUMS"
	var b strings.Builder
	for _, e := range entries {
		if e.Name() == sums {
			continue
		}
		text, err := os.ReadFile(filepath.Join(folder, e.Name()))
		if err != nil {
			return err
		}
		fmt.Fprintf(&b, "%x  %s\n", sha256.Sum256(text), e.Name())
	}
	return os.WriteFile(filepath.Join(folder, sums), []byte(b.String()), 0o644)
}
