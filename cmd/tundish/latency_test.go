//go:build unix

package main

// This file measures, in a pseudo-terminal with a screen emulator, how long the
// first frame and the frame after a key take, beside two general-purpose
// programs in the same harness:
//
//	go test ./cmd/tundish -run '^$' -bench 'Start|Key' -benchtime 100x

import (
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"garage/tundish/cmd/tundish/internal/screen"
)

// contestant is a program in the harness: how to start it, what its first
// frame shows, and two keys of which each changes the screen in a known way.
type contestant struct {
	name   string
	bin    string
	args   []string
	answer screen.Answer
	env    []string
	first  string                                // on the first frame
	ready  func(b *testing.B, s *screen.Session) // brings it to where keys are timed
	keys   [2]screen.Key
	shows  [2]func(text string) bool
}

func contestants(b *testing.B) []contestant {
	long := filepath.Join(b.TempDir(), "long.txt")
	var text strings.Builder
	for i := range 2000 {
		fmt.Fprintf(&text, "line number %04d\n", i+1)
	}
	if err := os.WriteFile(long, []byte(text.String()), 0o600); err != nil {
		b.Fatal(err)
	}
	has := func(s string) func(string) bool { return func(t string) bool { return strings.Contains(t, s) } }
	lacks := func(s string) func(string) bool { return func(t string) bool { return !strings.Contains(t, s) } }
	store := prepared(b, "How much came out?").store
	tundish := contestant{
		name: "tundish", bin: screen.Build(b, "garage/tundish/cmd/tundish"), first: "EMPTY",
		env: []string{"TUNDISH_STORE=" + store}, ready: toTheMeasure, keys: [2]screen.Key{"7",
			screen.Backspace}, shows: [2]func(string) bool{has("7 ml (at"), lacks("7 ml (at")},
	}
	mute := tundish
	mute.name, mute.answer = "tundish-mute-terminal", screen.Mute
	list := []contestant{tundish, mute}
	for _, other := range []contestant{
		{name: "less", args: []string{long}, first: "line number 0001", keys: [2]screen.Key{"j", "k"},
			shows: [2]func(string) bool{lacks("0001"), has("0001")}},
		{name: "vim", args: []string{"-u", "NONE", "-i", "NONE", "-N", long}, first: "line number 0001",
			keys: [2]screen.Key{"\x05", "\x19"}, shows: [2]func(string) bool{lacks("0001"), has("0001")}},
	} {
		bin, err := exec.LookPath(other.name)
		if err != nil {
			b.Logf("%s is not installed", other.name)
			continue
		}
		other.bin = bin
		list = append(list, other)
	}
	return list
}

// toTheMeasure answers what the demo asks first, up to a field for an amount.
func toTheMeasure(b *testing.B, s *screen.Session) {
	b.Helper()
	for range 6 { // the cautions of a break, then that the port is open
		text := s.Text()
		if m := confirmKey.FindStringSubmatch(text); m != nil {
			s.Type(m[1])
		} else if strings.Contains(text, "In the drain port now") {
			s.Type("3")
		}
		s.Settle()
	}
	s.WaitFor("How much came out?")
}

func (c contestant) start(b *testing.B) *screen.Session {
	return screen.Start(b, c.bin, screen.Options{Args: c.args, Env: screen.CleanEnv(b.TempDir(), c.env...), Answer: c.answer,
		Cols: 80, Rows: 24})
}

func BenchmarkStart(b *testing.B) {
	for _, c := range contestants(b) {
		b.Run(c.name, func(b *testing.B) {
			var times []time.Duration
			for range b.N {
				s := c.start(b)
				times = append(times, s.StartTime(func(text string) bool { return strings.Contains(text, c.first) }))
				s.Kill()
			}
			reportTimes(b, times)
		})
	}
}

func BenchmarkKey(b *testing.B) {
	for _, c := range contestants(b) {
		b.Run(c.name, func(b *testing.B) {
			s := c.start(b)
			s.WaitFor(c.first)
			if c.ready != nil {
				c.ready(b, s)
			}
			s.Settle()
			var times []time.Duration
			b.ResetTimer()
			for i := range b.N {
				times = append(times, s.PressAndTime(c.keys[i%2], c.shows[i%2]))
			}
			b.StopTimer()
			s.Kill()
			reportTimes(b, times)
		})
	}
}

// report gives the median and the 99th percentile in milliseconds.
func reportTimes(b *testing.B, times []time.Duration) {
	slices.Sort(times)
	at := func(share float64) float64 {
		return float64(times[min(int(share*float64(len(times))), len(times)-1)].Microseconds()) / 1000
	}
	b.ReportMetric(at(0.5), "p50-ms")
	b.ReportMetric(at(0.99), "p99-ms")
	b.ReportMetric(0, "ns/op")
}
