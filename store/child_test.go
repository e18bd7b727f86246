package store

// This file runs the test binary again as another process, which the tests kill.

import (
	"bufio"
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"
	"time"

	"garage/tundish/testdata/runs"
)

// childVariable names what the process is to do instead of testing.
const childVariable = "STORE_TEST_CHILD"

func TestMain(m *testing.M) {
	role, path, _ := strings.Cut(os.Getenv(childVariable), " ")
	if role == "" {
		os.Exit(m.Run())
	}
	run := appendForEver
	if role != "append" {
		run = systemRole(role)
	}
	if err := run(path); err != nil {
		fmt.Println(err)
		os.Exit(1)
	}
}

// child starts this binary in a role.
func child(t *testing.T, role, path string) *exec.Cmd {
	t.Helper()
	self, err := os.Executable()
	must(t, err)
	ctx, cancel := context.WithTimeout(context.Background(), time.Minute)
	t.Cleanup(cancel)
	cmd := exec.CommandContext(ctx, self)
	cmd.Env = append(os.Environ(), childVariable+"="+role+" "+path)
	return cmd
}

func runChild(t *testing.T, cmd *exec.Cmd) string {
	t.Helper()
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	return string(out)
}

// appendForEver appends to job 1 and says the number of each entry that was
// accepted, until it is killed.
func appendForEver(path string) error {
	s, err := Open(path, Options{})
	if err != nil {
		return err
	}
	job, err := s.Load(jobID(1))
	if err != nil {
		return err
	}
	for fmt.Println("open"); ; fmt.Println(len(job.Entries)) {
		e := reading(1, len(job.Entries)+1)
		job.Entries = append(job.Entries, e)
		if err := s.Append(job.ID, headFor(job), e); err != nil {
			return err
		}
	}
}

// TestKill kills a process in the middle of its appending, again and again:
// every entry that it said was accepted is there, and at most one more.
func TestKill(t *testing.T) {
	t.Parallel()
	rounds := runs.Of(10, 20)
	if n, err := strconv.Atoi(os.Getenv("TUNDISH_KILL_ROUNDS")); err == nil {
		rounds = n
	}
	random := rand.New(rand.NewPCG(uint64(time.Now().UnixNano()), 4))
	path := filepath.Join(t.TempDir(), "jobs.db")
	s, err := Open(path, Options{})
	must(t, err)
	createJob(t, s, jobOf(1, 0))
	closeNow(t, s)
	entries, replayed := 0, 0
	for round := range rounds {
		if entries > 4000 {
			must(t, os.Remove(path))
			must(t, os.Remove(path+journalSuffix))
			s, err := Open(path, Options{})
			must(t, err)
			createJob(t, s, jobOf(1, 0))
			closeNow(t, s)
			entries = 0
		}
		said := killed(t, path, time.Duration(random.IntN(40000))*time.Microsecond)
		r := verify(t, path)
		s := open(t, path, Options{})
		replayed += s.Opening().Replayed
		job, err := s.Load(jobID(1))
		must(t, err)
		if said = max(said, entries); len(job.Entries) < said || len(job.Entries) > said+1 {
			t.Fatalf("round %d: %d entries; %d were accepted (%+v)", round, len(job.Entries), said, r)
		}
		if !sameJob(job, jobOf(1, len(job.Entries))) {
			t.Fatalf("round %d: the entries are not those that were typed", round)
		}
		entries = len(job.Entries)
		closeNow(t, s)
	}
	t.Logf("%d rounds, %d entries in the end, %d put in from the journal", rounds, entries, replayed)
}

// killed runs the process, kills it after a while of appending, and gives the
// last number that it said.
func killed(t *testing.T, path string, after time.Duration) (said int) {
	t.Helper()
	cmd := child(t, "append", path)
	out, err := cmd.StdoutPipe()
	must(t, err)
	must(t, cmd.Start())
	lines := bufio.NewScanner(out)
	if !lines.Scan() || lines.Text() != "open" {
		t.Fatalf("the process said %q", lines.Text())
	}
	time.AfterFunc(after, func() { _ = cmd.Process.Kill() })
	for lines.Scan() {
		if n, err := strconv.Atoi(lines.Text()); err == nil { // the last line may be cut off
			said = n
		}
	}
	_ = cmd.Wait()
	return said
}
