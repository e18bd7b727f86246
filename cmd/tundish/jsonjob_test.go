//go:build unix

package main

// This file does jobs with the real program over guide --json, at the pace of the
// trade: it knows the form and nothing of the program's insides.

import (
	"encoding/json"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"garage/tundish/cmd/tundish/internal/screen"
	"garage/tundish/tui/stream/streamtest"
)

// jsonJob is the program doing a job by objects, on a store of its own.
type jsonJob struct {
	*streamtest.Driver
	t     testing.TB
	store string
	cmd   *exec.Cmd
	now   time.Time // when the next answer is given
}

// aMonthAgo is when the jobs of tests begin: what happened is told beside each answer.
var aMonthAgo = time.Now().Add(-30 * 24 * time.Hour).Truncate(time.Second)

// startJSON starts the program on a store, with answers by topic.
func startJSON(t testing.TB, store string, answers map[string][]string, args ...string) *jsonJob {
	t.Helper()
	return (&jsonJob{t: t, store: store, now: aMonthAgo}).again(answers, args...)
}

// again starts the program once more on the same store.
func (j *jsonJob) again(answers map[string][]string, args ...string) *jsonJob {
	j.t.Helper()
	j.cmd = exec.Command(screen.Build(j.t, "garage/tundish/cmd/tundish"), append([]string{"--store", j.store, "guide", "--json"},
		args...)...)
	j.cmd.Env = screen.CleanEnv(filepath.Dir(j.store))
	in, err := j.cmd.StdinPipe()
	if err != nil {
		j.t.Fatal(err)
	}
	out, err := j.cmd.StdoutPipe()
	if err != nil {
		j.t.Fatal(err)
	}
	if err := j.cmd.Start(); err != nil {
		j.t.Fatal(err)
	}
	cmd := j.cmd
	j.t.Cleanup(func() { _ = cmd.Process.Kill() })
	j.Driver = streamtest.New(j.t, in, out)
	j.Answers, j.At = answers, j.at
	j.Settle()
	return j
}

// at is when the next answer is given: as long after the last as the work takes.
func (j *jsonJob) at(p streamtest.Prompt) time.Time {
	pause := time.Minute
	switch p.Topic {
	case "drain.magnet":
		pause = 25 * time.Minute // it drips
	case "seat.floor_and_exhaust", "fill.level_weeps":
		pause = 15 * time.Minute // it settles
	case "close.leak_check":
		pause = 3 * time.Hour
	case "close.washer_recheck":
		pause = 20 * time.Hour
	}
	j.now = j.now.Add(pause)
	return j.now
}

// done waits for the program to end by itself.
func (j *jsonJob) done() {
	j.t.Helper()
	if err := j.cmd.Wait(); err != nil {
		j.t.Errorf("the program ended with %v\n%s", err, j.Log.String())
	}
}

// leave leaves the job, and waits for the program's end.
func (j *jsonJob) leave() {
	j.t.Helper()
	j.Write(`{"leave":true}`)
	if o, more := j.Next(); more {
		j.t.Errorf("after leave: %s", o.Raw)
	}
	j.done()
}

// prints runs a command on the store; read reads what it prints as JSON.
func (j *jsonJob) prints(args ...string) []byte {
	j.t.Helper()
	cmd := exec.Command(screen.Build(j.t, "garage/tundish/cmd/tundish"), append([]string{"--store", j.store}, args...)...)
	cmd.Env = screen.CleanEnv(filepath.Dir(j.store))
	out, err := cmd.Output()
	if err != nil {
		j.t.Fatalf("%s: %v", strings.Join(args, " "), err)
	}
	return out
}

func (j *jsonJob) read(into any, args ...string) {
	j.t.Helper()
	if err := json.Unmarshal(j.prints(args...), into); err != nil {
		j.t.Fatalf("%s: %v", strings.Join(args, " "), err)
	}
}

// figures are those of the record of the newest job.
func (j *jsonJob) figures() recorded {
	j.t.Helper()
	var record struct{ Figures recorded }
	j.read(&record, "summary", "last", "--format", "json")
	return record.Figures
}

// storedJob is what the record of the newest job has of its entries.
func (j *jsonJob) entries() (list []struct {
	Seq     int
	Topic   string
	Strikes int
	At      time.Time
}) {
	j.t.Helper()
	record := struct{ Job struct{ Entries any } }{}
	record.Job.Entries = &list
	j.read(&record, "summary", "last", "--format", "json")
	return list
}

// drainOnly is a first job through the drain port alone, of invented figures.
func drainOnly() map[string][]string {
	return map[string][]string{
		"prepare.capacity": {"600-680"}, "prepare.capacity_means": {"refill"}, "prepare.prior_level": {"believed"},
		"prepare.hose_holds":    {"25"},
		"drain.oil_temperature": {"warm"}, "drain.magnet": {"paste"}, "measure.amount": {"588"}, "preload.amount": {"730"},
		"fill.left_in_vessel": {"22"}, "seat.washer": {"new"}, "seat.tightened": {"wrench"}, "seat.escaped": {"46"},
		"close.decision":   {"accept"},
		"close.leak_check": {"dry"}, "close.washer_recheck": {"dry"},
	}
}

// levelPortJob is one with a level port.
func levelPortJob() map[string][]string {
	a := drainOnly()
	for topic, answer := range map[string]string{
		"prepare.fill_path": "level_port", "prepare.capacity": "640", "prepare.capacity_means": "level", "fill.left_in_vessel": "95",
		"fill.level_weeps": "weeps", "fill.overflow": "0",
	} {
		a[topic] = []string{answer}
	}
	return a
}

// storePath is a store that is not there yet.
func storePath(t testing.TB) string { return filepath.Join(t.TempDir(), "jobs.db") }
