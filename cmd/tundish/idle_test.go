//go:build unix

package main

// This file looks at the guide at rest, in a pseudo-terminal: what it writes, and what it
// takes of a processor and of memory:
//
//	go test ./cmd/tundish -run '^$' -bench Idle -benchtime 5x     # five minutes each

import (
	"bytes"
	"fmt"
	"os"
	"strings"
	"testing"
	"time"

	"garage/tundish/cmd/tundish/internal/screen"
)

// resting is a guide with nobody at it.
type resting struct {
	name   string
	args   []string
	left   string // the question that its job was left at; "" no job yet
	shows  string // when it rests
	clock  bool   // with seconds is on its screen
	most   int    // bytes that are written at a full minute, where minutes are on it
	sayNot string // of the sheet: is never drawn again
}

var atRest = []resting{
	{name: "sheet", shows: "manual for this unit", sayNot: "manual"},
	{name: "clock", left: "On the magnet", shows: "DRIPPING FOR", clock: true, sayNot: "arms clear"},
	{name: "minutes", left: "How much came out?", shows: "How much came out?", most: 400, sayNot: "How much"},
	{name: "demo", args: []string{"demo"}, shows: "RESUME", most: 400, sayNot: "RESUME"},
	{name: "line", args: []string{"guide", "--plain"}, shows: "manual for this unit", sayNot: "manual"},
	{name: "json", args: []string{"guide", "--json"}, shows: "makers_manual", sayNot: "manual"},
}

// start brings it to where it rests.
func (r resting) start(t testing.TB) *screen.Session {
	t.Helper()
	env := []string{}
	if r.left != "" {
		env = append(env, "TUNDISH_STORE="+prepared(t, r.left).store)
	}
	s := screen.Start(t, screen.Build(t, "garage/tundish/cmd/tundish"), screen.Options{Args: r.args, Answer: screen.Mute,
		Env: screen.CleanEnv(t.TempDir(), env...)})
	for range 12 { // what is asked of who comes back to a job
		s.Settle()
		text := s.Text()
		if strings.Contains(text, r.shows) {
			return s
		}
		if m := confirmKey.FindStringSubmatch(text); m != nil {
			s.Type(m[1])
		} else if strings.Contains(text, "In the drain port now") {
			s.Type("3")
		}
	}
	s.WaitFor(r.shows)
	return s
}

// Where nothing changes nothing is written, and where a clock runs nothing but the clock.
func TestAtRestNothingIsWritten(t *testing.T) {
	t.Parallel()
	for _, r := range atRest {
		t.Run(r.name, func(t *testing.T) {
			t.Parallel()
			s := r.start(t)
			s.Settle()
			before := len(s.Raw())
			time.Sleep(3500 * time.Millisecond) // rest
			written := s.Raw()[before:]
			if r.clock && len(written) == 0 || !r.clock && len(written) > r.most || bytes.Contains(written, []byte(r.sayNot)) {
				t.Errorf("written: %q", written)
			}
		})
	}
}

// BenchmarkIdle rests a minute a round.
func BenchmarkIdle(b *testing.B) {
	if _, err := os.Stat("/proc/self/stat"); err != nil {
		b.Skip("no /proc")
	}
	for _, r := range atRest {
		b.Run(r.name, func(b *testing.B) {
			s := r.start(b)
			s.Settle()
			before, used, began := len(s.Raw()), processorTime(b, s.Process().Pid), time.Now()
			for range b.N {
				time.Sleep(time.Minute)
			}
			rested := time.Since(began)
			b.ReportMetric(100*float64(processorTime(b, s.Process().Pid)-used)/float64(rested), "cpu-%")
			b.ReportMetric(float64(len(s.Raw())-before)/float64(b.N), "bytes/min")
			b.ReportMetric(residentMB(b, s.Process().Pid), "rss-MB")
			b.ReportMetric(0, "ns/op")
		})
	}
}

// ticksPerS is the unit of times in /proc on all Linux that Go runs on (man 5 proc, USER_HZ).
const ticksPerS = 100

// processorTime is what a process was given: fields 14 and 15 of its line (man 5 proc).
func processorTime(b *testing.B, pid int) time.Duration {
	b.Helper()
	line, err := os.ReadFile(fmt.Sprintf("/proc/%d/stat", pid))
	if err != nil {
		b.Fatal(err)
	}
	_, rest, _ := bytes.Cut(line, []byte(") ")) // after its name
	var user, system int
	const before = 11 // fields between
	if _, err := fmt.Sscan(strings.Join(strings.Fields(string(rest))[before:before+2], " "), &user, &system); err != nil {
		b.Fatal(err)
	}
	return time.Duration(user+system) * time.Second / ticksPerS
}

// residentMB is the memory that a process holds, its share of the program's file in it.
func residentMB(b *testing.B, pid int) float64 {
	b.Helper()
	status, err := os.ReadFile(fmt.Sprintf("/proc/%d/status", pid))
	if err != nil {
		b.Fatal(err)
	}
	_, rest, _ := strings.Cut(string(status), "VmRSS:")
	var kB float64
	if _, err := fmt.Sscan(rest, &kB); err != nil {
		b.Fatal(err)
	}
	return kB / 1024
}
