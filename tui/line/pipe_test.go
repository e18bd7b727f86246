package line

// This file has a journal refuse an answer of a pipe, where nobody hears it.

import (
	"bytes"
	"errors"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/tui"
	"garage/tundish/tui/session/sessiontest"
	"garage/tundish/tui/theme"
)

// failsOnce refuses one write, and takes those after it.
type failsOnce struct {
	*bytes.Buffer
	mem *sessiontest.Memory
}

// Write hears what is said: once the refusal was said there is room again.
func (f failsOnce) Write(said []byte) (int, error) {
	if bytes.Contains(said, []byte("NOT ")) {
		f.mem.Fail = nil
	}
	return f.Buffer.Write(said)
}

// uncertain is the error of a disk that failed in the middle of it.
type uncertain struct{ error }

func (uncertain) Uncertain() bool { return true }

// The answers after one that was not stored are none to the question that is asked
// again, so a pipe ends there. At a terminal it is typed again.
func TestAnAnswerOfAPipeThatIsNotStoredEndsIt(t *testing.T) {
	for _, c := range []struct {
		cause error
		piped bool
		want  string
	}{
		{errors.New("disk full"), true, "NOT STORED: disk full"},
		{errors.New("disk full"), false, "NOT STORED: disk full"},
		{uncertain{errors.New("the disk failed")}, true, "NOT CERTAIN: the disk failed"},
	} {
		mem := sessiontest.NewMemory()
		mem.Fail = c.cause
		out := failsOnce{&bytes.Buffer{}, mem}
		cfg := tui.Config{Journal: mem, Clock: func() time.Time { return morning }, After: tea.Tick, Chance: func() uint32 { return 1 },
			Piped: c.piped}
		err := Run(strings.NewReader("7\n7\n7\n"), out, cfg, nil, theme.New(theme.Options{}))
		if c.piped != errors.Is(err, c.cause) || c.piped != (len(mem.Jobs) == 0) || strings.Count(out.String(), c.want) != 1 {
			t.Errorf("piped %v: %v, %d jobs\n%s", c.piped, err, len(mem.Jobs), out)
		}
	}
}
