package about

import (
	"runtime/debug"
	"testing"
	"time"
)

func TestVersionIsThatOfTheBuild(t *testing.T) {
	info := &debug.BuildInfo{GoVersion: "go1.26.0", Settings: []debug.BuildSetting{
		{Key: "vcs.revision", Value: "0123456789abcdef0123"}, {Key: "vcs.time", Value: "2026-11-29T10:00:00Z"},
		{Key: "vcs.modified", Value: "true"}, {Key: "GOOS", Value: "linux"}, {Key: "GOARCH", Value: "arm64"},
	}}
	v := versionOf(info)
	want := Version{"devel", "0123456789abcdef0123", "2026-11-29T10:00:00Z", true, "go1.26.0", "linux/arm64"}
	if v != want || v.Line() != "devel 0123456789ab" || !v.Day().Equal(time.Date(2026, 11, 29, 10, 0, 0, 0, time.UTC)) {
		t.Errorf("%+v %q %v", v, v.Line(), v.Day())
	}
	info.Main.Version = "v1.2.3"
	if line := versionOf(info).Line(); line != "v1.2.3" {
		t.Error(line)
	}
	if bare := versionOf(&debug.BuildInfo{}); bare.Line() != "devel" || !bare.Day().IsZero() {
		t.Errorf("%+v", bare)
	}
}

func TestChangesAreListsUnderMonths(t *testing.T) {
	list := allChanges()
	if len(list) < 2 {
		t.Fatalf("%d", len(list))
	}
	for _, c := range list {
		if _, err := time.Parse("January 2006", c.When); err != nil || len(c.Lines) == 0 {
			t.Errorf("%q: %d lines, %v", c.When, len(c.Lines), err)
		}
	}
}
