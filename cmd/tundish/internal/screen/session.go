// This file holds a running program: starting it in a pseudo-terminal, reading
// what it writes, and ending it in every way a program can end. What can be
// asked of its screen is in ask.go, typing in input.go.

//go:build unix

package screen

import (
	"cmp"
	"errors"
	"os"
	"os/exec"
	"os/signal"
	"slices"
	"sync"
	"syscall"
	"testing"
	"time"

	"github.com/creack/pty"
	"golang.org/x/term"
)

// Answer is how the terminal answers a program that asks it something: where
// the cursor is (CSI 6n), its colours (OSC 10, 11), what it is (DA1).
type Answer uint8

const (
	AnswerAll   Answer = iota // answers at once, with a dark background
	AnswerLight               // answers at once, with a light background
	Mute                      // never answers, as some terminals do
)

func (a Answer) String() string { return [...]string{"answers, dark", "answers, light", "mute"}[a] }

// Options say how to start a program. The zero value is an 80 by 24 terminal
// that answers, an environment from [CleanEnv] with an empty home folder, and
// the working directory of the test.
type Options struct {
	Args       []string
	Env        []string // the whole environment
	Dir        string
	Cols, Rows int
	Answer     Answer
	Deadline   time.Duration // of each wait; 30 s when zero
}

func (o Options) withDefaults(t testing.TB) Options {
	t.Helper()
	if o.Env == nil {
		o.Env = CleanEnv(t.TempDir())
	}
	o.Cols, o.Rows = cmp.Or(o.Cols, 80), cmp.Or(o.Rows, 24)
	o.Deadline = cmp.Or(o.Deadline, 30*time.Second)
	return o
}

// CleanEnv returns an environment that is the same on every machine: the home
// folder given, 256 colours and more, UTF-8, UTC. Entries of extra ("NAME=value")
// come last and so win.
func CleanEnv(home string, extra ...string) []string {
	env := []string{
		"HOME=" + home, "TERM=xterm-256color", "COLORTERM=truecolor", "LANG=C.UTF-8", "TZ=UTC",
	}
	for _, name := range []string{"PATH", "TMPDIR", "GOCOVERDIR"} {
		if v, ok := os.LookupEnv(name); ok {
			env = append(env, name+"="+v)
		}
	}
	return append(env, extra...)
}

// Session is one program running in one terminal. Its methods fail the test
// with a picture of the screen when they cannot do what they say. They are
// meant for the goroutine of the test.
type Session struct {
	t       testing.TB
	o       Options
	cmd     *exec.Cmd
	master  *os.File
	cooked  *term.State // line settings before the program changed them
	started time.Time
	exited  chan struct{} // closed when the process has been reaped
	read    chan struct{} // closed when the last byte has been read

	mu        sync.Mutex // guards what follows
	display   *display
	raw       []byte
	changed   chan struct{} // closed and replaced at every change
	changedAt time.Time
	ended     bool // nothing more will come
}

// Start runs the program bin. It is killed and reaped when the test ends.
func Start(t testing.TB, bin string, o Options) *Session {
	t.Helper()
	o = o.withDefaults(t)
	s := &Session{
		t: t, o: o,
		exited: make(chan struct{}), read: make(chan struct{}), changed: make(chan struct{}),
		display: newDisplay(o.Cols, o.Rows, o.Answer == AnswerLight),
	}
	s.cmd = exec.Command(bin, o.Args...)
	s.cmd.Env, s.cmd.Dir = o.Env, o.Dir
	if err := s.spawn(); err != nil {
		s.master.Close() // nil where there is none
		t.Fatalf("start %s in a terminal: %v", bin, err)
	}
	answered := s.answer()
	go s.readAll()
	go func() {
		_ = s.cmd.Wait() // the outcome is read from ProcessState
		close(s.exited)
	}()
	t.Cleanup(func() { s.end(answered) })
	return s
}

// Process is the program as the system knows it.
func (s *Session) Process() *os.Process {
	s.t.Helper()
	if s.cmd.Process == nil {
		s.t.Fatal("the program was never started")
	}
	return s.cmd.Process
}

// spawn opens the pseudo-terminal and starts the program on its far side.
func (s *Session) spawn() error {
	master, tty, err := pty.Open()
	if err != nil {
		return err
	}
	defer master.Close()
	defer tty.Close()
	if err := pty.Setsize(master, &pty.Winsize{Cols: uint16(s.o.Cols), Rows: uint16(s.o.Rows)}); err != nil {
		return err
	}
	if s.cooked, err = term.GetState(int(master.Fd())); err != nil {
		return err
	}
	if s.master, err = unblocked(master); err != nil {
		return err
	}
	s.cmd.Stdin, s.cmd.Stdout, s.cmd.Stderr = tty, tty, tty
	s.cmd.SysProcAttr = &syscall.SysProcAttr{Setsid: true, Setctty: true}
	if signal.Ignored(syscall.SIGHUP) { // tests under nohup: the program would ignore it as well
		signal.Notify(make(chan os.Signal, 1), syscall.SIGHUP)
	}
	s.started = time.Now()
	return s.cmd.Start()
}

// unblocked returns a second handle on f whose reads end when it is closed and
// whose writes can have a deadline. (Asking f for its descriptor, as package
// pty does, makes it block for good.)
func unblocked(f *os.File) (*os.File, error) {
	syscall.ForkLock.RLock()
	fd, err := syscall.Dup(int(f.Fd()))
	if err == nil {
		syscall.CloseOnExec(fd)
	}
	syscall.ForkLock.RUnlock()
	if err != nil {
		return nil, err
	}
	if err := syscall.SetNonblock(fd, true); err != nil {
		syscall.Close(fd)
		return nil, err
	}
	return os.NewFile(uintptr(fd), f.Name()), nil
}

// answer carries the emulator's replies to the program. Two goroutines, so
// that a program that does not read cannot stop its own output from being read.
func (s *Session) answer() (done chan struct{}) {
	done = make(chan struct{})
	queue := make(chan []byte, 1024)
	go func() {
		defer close(queue)
		buf := make([]byte, 4096)
		for {
			// It must be read all the time, since feed blocks until an answer is taken.
			n, err := s.display.emu.Read(buf)
			if err != nil {
				return
			}
			if s.o.Answer != Mute {
				queue <- slices.Clone(buf[:n])
			}
		}
	}()
	go func() {
		defer close(done)
		for reply := range queue {
			_, _ = s.master.Write(reply) // fails only once the terminal is closed
		}
	}()
	return done
}

// readAll feeds the screen until the program has closed the terminal.
func (s *Session) readAll() {
	defer close(s.read)
	buf := make([]byte, 32<<10)
	for {
		n, err := s.master.Read(buf)
		now := time.Now() // the emulator's own work is not the program's
		s.mu.Lock()
		s.raw = append(s.raw, buf[:n]...)
		s.display.feed(buf[:n])
		s.ended = err != nil // EIO on Linux, EOF elsewhere, or closed by us
		s.changedAt = now
		close(s.changed)
		s.changed = make(chan struct{})
		s.mu.Unlock()
		if err != nil {
			return
		}
	}
}

// end is the clean-up of every session.
func (s *Session) end(answered chan struct{}) {
	if s.t.Failed() {
		s.t.Logf("the screen at the end:\n%s", s.portrait())
	}
	_ = s.cmd.Process.Kill() // an error means that it is gone already
	<-s.exited
	_ = s.master.Close() // closed already after CloseTerminal
	<-s.read
	s.display.close()
	<-answered
}

// Resize changes the size of the terminal; the program gets SIGWINCH. What it
// had written for the old width but was not read yet meets the new one, as it
// does on a desk: see [Session.Forget].
func (s *Session) Resize(cols, rows int) {
	s.t.Helper()
	s.mu.Lock()
	defer s.mu.Unlock()
	s.display.resize(cols, rows)
	if err := pty.Setsize(s.master, &pty.Winsize{Cols: uint16(cols), Rows: uint16(rows)}); err != nil {
		s.t.Fatalf("resize to %d by %d: %v", cols, rows, err)
	}
}

// Signal sends a signal to the program (not to its children).
func (s *Session) Signal(sig os.Signal) {
	s.t.Helper()
	if err := s.cmd.Process.Signal(sig); err != nil {
		s.t.Fatalf("send %v: %v\n%s", sig, err, s.portrait())
	}
}

// Kill ends the program with SIGKILL, as a lost battery would, and reaps it.
func (s *Session) Kill() {
	s.t.Helper()
	if err := s.cmd.Process.Kill(); err != nil && !errors.Is(err, os.ErrProcessDone) {
		s.t.Fatalf("kill: %v", err)
	}
	s.reap()
}

// CloseTerminal closes the window: the program gets SIGHUP and can neither
// read nor write any more.
func (s *Session) CloseTerminal() {
	s.t.Helper()
	if err := s.master.Close(); err != nil {
		s.t.Fatalf("close the terminal: %v", err)
	}
}

// reap waits for the process and for the last of its output.
func (s *Session) reap() syscall.WaitStatus {
	s.t.Helper()
	select {
	case <-s.exited:
	case <-time.After(s.o.Deadline):
		s.t.Fatalf("the program still runs after %v\n%s", s.o.Deadline, s.portrait())
	}
	select {
	case <-s.read:
	case <-time.After(2 * time.Second): // a child of the program holds the terminal open
	}
	status, _ := s.cmd.ProcessState.Sys().(syscall.WaitStatus)
	return status
}

// WaitExit waits until the program ends by itself and returns its exit code.
func (s *Session) WaitExit() (code int) {
	s.t.Helper()
	status := s.reap()
	if !status.Exited() {
		s.t.Fatalf("the program did not exit, it was ended by %v\n%s", status.Signal(), s.portrait())
	}
	return status.ExitStatus()
}
