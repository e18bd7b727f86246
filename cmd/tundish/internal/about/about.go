// Package about is what the program says of itself: which version it is, what
// changed for who uses it, and the notices of all that is linked into it.
package about

import (
	_ "embed"
	"fmt"
	"runtime/debug"
	"strings"
	"time"
)

// Version is which program this is.
type Version struct {
	Version  string `json:"version"`  // of the module, "devel" where it was built from a working tree
	Commit   string `json:"commit"`   // "" where the build was not told
	Date     string `json:"date"`     // of the commit, RFC 3339, "" where the build was not told
	Modified bool   `json:"modified"` // there was more in the tree than the commit
	Go       string `json:"go"`
	System   string `json:"system"` // linux/amd64
}

// ThisVersion reads the version out of the running program.
func ThisVersion() Version {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return Version{Version: "unknown"}
	}
	return versionOf(info)
}

func versionOf(info *debug.BuildInfo) Version {
	set := map[string]string{}
	for _, s := range info.Settings {
		set[s.Key] = s.Value
	}
	v := Version{Version: info.Main.Version, Commit: set["vcs.revision"], Date: set["vcs.time"], Modified: set["vcs.modified"] == "true",
		Go: info.GoVersion, System: set["GOOS"] + "/" + set["GOARCH"]}
	if v.Version == "" || v.Version == "(devel)" {
		v.Version = "devel"
	}
	return v
}

// Line is the version in one line.
func (v Version) Line() string {
	if v.Version == "devel" && v.Commit != "" {
		return fmt.Sprintf("devel %.12s", v.Commit)
	}
	return v.Version
}

// Day is that of the commit; the zero Time where it is not known.
func (v Version) Day() time.Time {
	day, _ := time.Parse(time.RFC3339, v.Date) // the zero Time is the answer then
	return day
}

//go:embed changes.txt
var changes string

// change is what a version brought to who uses it.
type change struct {
	When  string   `json:"when"`
	Lines []string `json:"lines"`
}

// allChanges are all of them, newest first.
func allChanges() (list []change) {
	for line := range strings.Lines(changes) {
		line = strings.TrimSpace(line)
		if text, ok := strings.CutPrefix(line, "- "); ok {
			last := &list[len(list)-1]
			last.Lines = append(last.Lines, text)
		} else if line != "" {
			list = append(list, change{When: line})
		}
	}
	return list
}

// NoticesText is all notices to be read.
//
//go:embed notices.txt
var NoticesText string

// noticeMark begins the notice of a module.
const noticeMark = "==== "

// Notice is the notice of a module that is linked in.
type Notice struct {
	Module  string `json:"module"` // "go" is the standard library
	Version string `json:"version"`
	Licence string `json:"licence"` // by its SPDX identifier
	Text    string `json:"text"`
}

// Notices are those of all that is linked in on any system.
func Notices() (list []Notice) {
	for _, part := range strings.Split("\n"+NoticesText, "\n"+noticeMark)[1:] {
		head, text, _ := strings.Cut(part, "\n")
		n := Notice{Text: strings.TrimSpace(text)}
		if _, err := fmt.Sscan(head, &n.Module, &n.Version, &n.Licence); err == nil {
			list = append(list, n)
		}
	}
	return list
}
