package main

// This file checks how results, errors and typed values of flags are printed
// and read.

import (
	"bytes"
	"strings"
	"testing"
	"time"

	"garage/tundish/cmd/tundish/internal/look"
	"garage/tundish/model/dates"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// runHere runs a command in this process.
func runHere(t *testing.T, env map[string]string, args ...string) (code int, stdout, stderr string) {
	t.Helper()
	var out, problems bytes.Buffer
	code = run(args, &outside{
		in: strings.NewReader(""), out: &out, err: &problems,
		getenv: func(name string) string { return env[name] }, now: func() time.Time { return noon },
	})
	return code, out.String(), problems.String()
}

func TestErrorsAreOneLineThatSteersNoTerminal(t *testing.T) {
	for _, args := range [][]string{
		{"calc", "plan", "--capacity", "9\x1b[2J00\nml", "--drained", "830"},
		{"calc", "plan", "--capacity", "900", "--drained", "830", "--basis", "\x1b[31mred\n"},
		{"calc", "drip", "no\x1b[2J\nfile.csv"},
		{"\x1b[2J\u202e"},
		{"jobs", "--store", "a\x00b"},
	} {
		code, stdout, stderr := runHere(t, nil, args...)
		if code == exitDone || stdout != "" {
			t.Errorf("%q: exit code %d, output %q", args, code, stdout)
		}
		if !strings.HasPrefix(stderr, "tundish: ") || strings.Count(stderr, "\n") != 1 || !strings.HasSuffix(stderr, "\n") {
			t.Errorf("%q: not one line: %q", args, stderr)
		}
		if strings.ContainsAny(stderr, "\x1b\x00\u202e") {
			t.Errorf("%q: control characters in %q", args, stderr)
		}
	}
}

func TestStoreIsNamedByFlagThenEnvironmentThenDataFolder(t *testing.T) {
	t.Setenv("HOME", "/home/nobody")
	env := map[string]string{"XDG_DATA_HOME": "/data"}
	for _, row := range []struct{ flag, variable, want string }{
		{"", "", "/data/tundish/jobs.db"},
		{"", "env.db", "env.db"},
		{"flag.db", "env.db", "flag.db"},
	} {
		env["TUNDISH_STORE"] = row.variable
		o := &outside{getenv: func(name string) string { return env[name] }, storeFlag: row.flag}
		if got, err := o.storePath(); err != nil || got != row.want {
			t.Errorf("--store %q TUNDISH_STORE %q: %q, %v; want %q", row.flag, row.variable, got, err, row.want)
		}
	}
}

// A job that is not finished is listed however old it is.
func TestShortListHidesOnlyWhatIsFinished(t *testing.T) {
	var heads []guide.Head
	for i := range 60 {
		h := guide.Head{ID: job.NewID(noon, uint32(i)), Started: noon.AddDate(0, -i, 0), Phase: guide.Done, UnitState: verdict.Proven}
		switch i {
		case 40:
			h.Phase, h.UnitState = guide.Open, verdict.Empty
		case 50:
			h.Phase = guide.ToRecheck
		}
		heads = append(heads, h)
	}
	listed := func(c jobsCommand) string {
		some, hidden := c.listed(heads)
		jobs := make([]listedJob, len(some))
		for i, h := range some {
			jobs[i].Head = h
		}
		var out bytes.Buffer
		if err := jobSheet(jobs, "", hidden, dates.English).Write(&out); err != nil {
			t.Fatal(err)
		}
		return out.String()
	}
	short := listed(jobsCommand{})
	if n := strings.Count(short, "(no name yet)"); n != shortList+2 {
		t.Errorf("%d jobs in the short list, want %d", n, shortList+2)
	}
	for _, want := range []string{heads[40].ID + "  OPEN · EMPTY", heads[50].ID + "  TO RE-CHECK · FILLED, PROVEN", "38 older ones"} {
		if !strings.Contains(short, want) {
			t.Errorf("%q is not in\n%s", want, short)
		}
	}
	if n := strings.Count(listed(jobsCommand{All: true}), "(no name yet)"); n != 60 {
		t.Errorf("%d jobs with --all, want 60", n)
	}
}

func TestASCIIWhereTheLocaleSaysSo(t *testing.T) {
	for _, row := range []struct {
		env   map[string]string
		flag  bool
		ascii bool
	}{
		{nil, false, false},
		{nil, true, true},
		{map[string]string{"LANG": "C.UTF-8"}, false, false},
		{map[string]string{"LANG": "de_DE.utf8"}, false, false},
		{map[string]string{"LANG": "C"}, false, true},
		{map[string]string{"LANG": "en_US.ISO-8859-1"}, false, true},
		{map[string]string{"LC_ALL": "C", "LANG": "C.UTF-8"}, false, true},
		{map[string]string{"LC_CTYPE": "C.UTF-8", "LANG": "C"}, false, false},
	} {
		o := &outside{getenv: func(name string) string { return row.env[name] }}
		if got := (look.Flags{ASCII: row.flag}).ASCIIOnly(o.getenv); got != row.ascii {
			t.Errorf("%v, --ascii %v: %v", row.env, row.flag, got)
		}
	}
}
