//go:build unix

package main

// This file measures what many files at once cost the real program: the time,
// and the most memory that it held.

import (
	"bytes"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"runtime"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"garage/tundish/cmd/tundish/internal/screen"
	"garage/tundish/model/job"
)

// manyJobs writes a whole job so many times, each under an id of its own, five a unit
// and a year apart, and goes to their folder.
func manyJobs(b *testing.B, count int) []string {
	b.Helper()
	text, err := os.ReadFile("../../testdata/jobs/drain-port.json")
	if err != nil {
		b.Fatal(err)
	}
	folder := b.TempDir()
	files := make([]string, count)
	for i := range files {
		files[i] = fmt.Sprintf("%06d.json", i)
		one := bytes.Replace(text, []byte("20260418-700000"), []byte(job.NewID(noon, uint32(i))), 1)
		one = bytes.ReplaceAll(one, []byte("blue estate"), fmt.Appendf(nil, "estate %d", i/jobsAUnit))
		one = bytes.ReplaceAll(one, []byte("2026-04-"), fmt.Appendf(nil, "%d-04-", 2026-i%jobsAUnit))
		if err := os.WriteFile(filepath.Join(folder, files[i]), one, 0o600); err != nil {
			b.Fatal(err)
		}
	}
	b.Chdir(folder)
	return files
}

const jobsAUnit = 5

// heapGrown is what a line of the collector's trace says of the heap at the end
// of a collection, before what is dead was taken out of it (package runtime,
// GODEBUG gctrace).
var heapGrown = regexp.MustCompile(`(?m)^gc .* \d+->(\d+)->\d+ MB`)

// costs runs the program and reports the time that processors gave to it, which
// is not longer on a busy machine, and the most that it held: its heap, and all
// of its memory. In that count the pages of the store's file that it has looked
// at: they are the system's, which takes them back as it needs them.
func costs(b *testing.B, args ...string) {
	b.Helper()
	cmd, problems := timed(b, append([]string{screen.Build(b, "garage/tundish/cmd/tundish")}, args...), "GODEBUG=gctrace=1")
	heapMB := 0
	for _, line := range heapGrown.FindAllStringSubmatch(problems, -1) {
		mb, err := strconv.Atoi(line[1])
		if err != nil {
			b.Fatal(err)
		}
		heapMB = max(heapMB, mb)
	}
	b.ReportMetric(float64(heapMB), "peak-heap-MB")
	b.ReportMetric(cpu(cmd), "cpu-s")
	if usage, ok := cmd.SysUsage().(*syscall.Rusage); ok {
		kib := float64(usage.Maxrss)
		if runtime.GOOS == "darwin" {
			kib /= 1 << 10 // there it is in bytes
		}
		b.ReportMetric(kib/(1<<10), "peak-resident-MiB")
	}
}

// timed runs a command to its end, and returns what it wrote on standard error.
func timed(b *testing.B, args []string, env ...string) (*os.ProcessState, string) {
	b.Helper()
	var problems bytes.Buffer
	cmd := exec.Command(args[0], args[1:]...)
	cmd.Env = append(os.Environ(), env...)
	cmd.Stderr = &problems
	if err := cmd.Run(); err != nil {
		b.Fatalf("%v: %s", err, problems.String())
	}
	return cmd.ProcessState, problems.String()
}

func cpu(p *os.ProcessState) float64 { return (p.UserTime() + p.SystemTime()).Seconds() }

// The heap must not grow with the number of files, but for their names and the
// number that the pool keeps of each:
//
//	go test ./cmd/tundish -run '^$' -bench Many -benchtime 1x
func BenchmarkManyFiles(b *testing.B) {
	screen.Build(b, "garage/tundish/cmd/tundish")
	for _, count := range []int{200, 2000, 20000} {
		b.Run(fmt.Sprintf("pool/%d", count), func(b *testing.B) {
			files := manyJobs(b, count)
			for b.Loop() {
				costs(b, append([]string{"pool"}, files...)...)
			}
		})
		b.Run(fmt.Sprintf("import/%d", count), func(b *testing.B) {
			files := manyJobs(b, count)
			for b.Loop() {
				costs(b, append([]string{"--store", filepath.Join(b.TempDir(), "jobs.db"), "import"}, files...)...)
			}
		})
	}
}

// The same files, read and stored by the plain script in testdata/peer in the same run:
// how often its time the program takes, by the clock and of processors. The script uses
// one of these, the program all that there are:
//
//	go test ./cmd/tundish -run '^$' -bench BesideAScript -benchtime 1x -timeout 30m
func BenchmarkBesideAScript(b *testing.B) {
	python, script := peer(b)
	tundish := screen.Build(b, "garage/tundish/cmd/tundish")
	files := manyJobs(b, 5000)
	for name, do := range map[string]struct{ ours, theirs func() []string }{
		"import": {func() []string { return []string{tundish, "--store", filepath.Join(b.TempDir(), "jobs.db"), "import"} },
			func() []string { return []string{python, script, "import", filepath.Join(b.TempDir(), "peer.db")} }},
		"pool": {func() []string { return []string{tundish, "pool"} }, func() []string { return []string{python, script, "read"} }},
	} {
		b.Run(name, func(b *testing.B) {
			besides(b, func() []string { return append(do.ours(), files...) }, func() []string { return append(do.theirs(), files...) })
		})
	}
}

// peer is the interpreter itself, not what may stand before it and choose one, and the
// script.
func peer(b *testing.B) (python, script string) {
	b.Helper()
	itself, err := exec.Command("python3", "-c", "import sys; print(sys.executable)").Output()
	if err != nil {
		b.Skip("python3 is not installed: there is nothing to compare with")
	}
	if script, err = filepath.Abs("../../testdata/peer/import.py"); err != nil {
		b.Fatal(err)
	}
	return strings.TrimSpace(string(itself)), script
}

// besides runs the program and the peer, one after the other.
func besides(b *testing.B, our, their func() []string) {
	b.Helper()
	var ours, theirs, oursCPU, theirsCPU float64
	for b.Loop() {
		began := time.Now()
		p, _ := timed(b, their())
		middle := time.Now()
		t, _ := timed(b, our())
		ours, theirs = ours+time.Since(middle).Seconds(), theirs+middle.Sub(began).Seconds()
		oursCPU, theirsCPU = oursCPU+cpu(t), theirsCPU+cpu(p)
	}
	b.ReportMetric(ours/theirs, "of-peer")
	b.ReportMetric(oursCPU/theirsCPU, "of-peer-cpu")
	b.ReportMetric(theirs/float64(b.N), "peer-s")
	b.ReportMetric(ours/float64(b.N), "s")
	b.ReportMetric(oursCPU/float64(b.N), "cpu-s")
}

// What lists take, and the history of one unit, beside what the script takes to read as
// much of its SQLite; with TUNDISH_LONG of 100,000 jobs too:
//
//	go test ./cmd/tundish -run '^$' -bench ListsBesideAScript -benchtime 5x -timeout 60m
func BenchmarkListsBesideAScript(b *testing.B) {
	python, script := peer(b)
	tundish, counts := screen.Build(b, "garage/tundish/cmd/tundish"), []int{5000}
	if os.Getenv("TUNDISH_LONG") != "" {
		counts = append(counts, 100000)
	}
	for _, count := range counts {
		b.Run(strconv.Itoa(count), func(b *testing.B) {
			files, folder := manyJobs(b, count), b.TempDir()
			path, theirs := filepath.Join(folder, "jobs.db"), filepath.Join(folder, "peer.db")
			timed(b, append([]string{tundish, "--store", path, "import"}, files...))
			timed(b, append([]string{python, script, "import", theirs}, files...))
			for _, c := range [][2][]string{
				{{"due"}, {"newest", theirs}},
				{{"jobs"}, {"jobs", theirs}},
				{{"history", job.NewID(noon, 0)}, {"unit", theirs, "estate 0, rear axle"}},
			} {
				b.Run(c[0][0], func(b *testing.B) {
					besides(b, func() []string { return append([]string{tundish, "--store", path}, c[0]...) },
						func() []string { return append([]string{python, script}, c[1]...) })
				})
			}
		})
	}
}
