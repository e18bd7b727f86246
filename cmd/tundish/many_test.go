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
	"syscall"
	"testing"

	"garage/tundish/cmd/tundish/internal/screen"
	"garage/tundish/model/job"
)

// manyJobs writes a whole job so many times, each under an id of its own, and
// says where the files are.
func manyJobs(b *testing.B, count int) []string {
	b.Helper()
	text, err := os.ReadFile("../../testdata/jobs/drain-port.json")
	if err != nil {
		b.Fatal(err)
	}
	folder := b.TempDir()
	files := make([]string, count)
	for i := range files {
		files[i] = fmt.Sprintf("%05d.json", i)
		one := bytes.Replace(text, []byte("20260418-700000"), []byte(job.NewID(noon, uint32(i))), 1)
		if err := os.WriteFile(filepath.Join(folder, files[i]), one, 0o600); err != nil {
			b.Fatal(err)
		}
	}
	b.Chdir(folder)
	return files
}

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
	var problems bytes.Buffer
	cmd := exec.Command(screen.Build(b, "garage/tundish/cmd/tundish"), args...)
	cmd.Env = append(os.Environ(), "GODEBUG=gctrace=1")
	cmd.Stderr = &problems
	if err := cmd.Run(); err != nil {
		b.Fatalf("%v: %s", err, problems.String())
	}
	heapMB := 0
	for _, line := range heapGrown.FindAllStringSubmatch(problems.String(), -1) {
		mb, err := strconv.Atoi(line[1])
		if err != nil {
			b.Fatal(err)
		}
		heapMB = max(heapMB, mb)
	}
	b.ReportMetric(float64(heapMB), "peak-heap-MB")
	b.ReportMetric((cmd.ProcessState.UserTime() + cmd.ProcessState.SystemTime()).Seconds(), "cpu-s")
	if usage, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage); ok {
		kib := float64(usage.Maxrss)
		if runtime.GOOS == "darwin" {
			kib /= 1 << 10 // there it is in bytes
		}
		b.ReportMetric(kib/(1<<10), "peak-resident-MiB")
	}
}

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
