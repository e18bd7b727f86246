//go:build unix

package main

// This file measures what many files at once cost the real program: the time,
// and the most memory that it held.

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"syscall"
	"testing"

	"garage/tundish/cmd/tundish/internal/screen"
	"garage/tundish/model"
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
		one := bytes.Replace(text, []byte("20260418-700000"), []byte(model.NewID(noon, uint32(i))), 1)
		if err := os.WriteFile(filepath.Join(folder, files[i]), one, 0o600); err != nil {
			b.Fatal(err)
		}
	}
	b.Chdir(folder)
	return files
}

// costs runs the program and reports the most memory that it held.
func costs(b *testing.B, args ...string) {
	b.Helper()
	cmd := exec.Command(screen.Build(b, "garage/tundish/cmd/tundish"), args...)
	cmd.Stdout, cmd.Stderr = io.Discard, os.Stderr
	if err := cmd.Run(); err != nil {
		b.Fatal(err)
	}
	if usage, ok := cmd.ProcessState.SysUsage().(*syscall.Rusage); ok {
		kib := float64(usage.Maxrss)
		if runtime.GOOS == "darwin" {
			kib /= 1 << 10 // there it is in bytes
		}
		b.ReportMetric(kib/(1<<10), "peak-MiB")
	}
}

// The memory must not grow with the number of files:
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
