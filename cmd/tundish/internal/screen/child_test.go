// This file holds the programs the tests run in a terminal. They are the test
// binary itself, started again with a name in SCREEN_TEST_CHILD.

//go:build unix

package screen

import (
	"fmt"
	"os"
	"os/signal"
	"syscall"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
	"golang.org/x/term"
)

const childVariable = "SCREEN_TEST_CHILD"

func TestMain(m *testing.M) {
	children := map[string]func() int{
		"print": childPrint, "keys": childKeys, "ask": childAsk, "size": childSize,
		"paint": childPaint, "deaf": childDeaf, "tea": childTea, "tall": childTall,
	}
	if name := os.Getenv(childVariable); name != "" {
		os.Exit(children[name]())
	}
	code := m.Run()
	RemoveBuilds()
	os.Exit(code)
}

// startChild runs the named program. TERM is dumb unless set otherwise, since
// the test binary holds Bubble Tea, which else asks the terminal at its start.
func startChild(t testing.TB, name string, o Options, env ...string) *Session {
	t.Helper()
	self, err := os.Executable()
	if err != nil {
		t.Fatal(err)
	}
	o.Env = CleanEnv(t.TempDir(), append([]string{"TERM=dumb", childVariable + "=" + name}, env...)...)
	return Start(t, self, o)
}

// rawInput puts the terminal in raw mode and returns what puts it back.
func rawInput() (restore func()) {
	old, err := term.MakeRaw(0)
	if err != nil {
		panic(err)
	}
	return func() { _ = term.Restore(0, old) }
}

// childPrint prints its arguments, with escapes as given, and exits with 3.
func childPrint() int {
	for _, arg := range os.Args[1:] {
		fmt.Print(arg)
	}
	return 3
}

// childKeys shows each chunk of keys it reads; q ends it, with exit code 7.
func childKeys() int {
	defer rawInput()()
	fmt.Print("\x1b[?2004hready\r\n")
	buf := make([]byte, 256)
	for i := 1; ; i++ {
		n, err := os.Stdin.Read(buf)
		if err != nil {
			return 1
		}
		fmt.Printf("%d got %q\r\n", i, buf[:n])
		if string(buf[:n]) == "q" {
			fmt.Print("\x1b[?2004l")
			return 7
		}
	}
}

// childAsk asks the terminal all it can answer and shows the replies.
func childAsk() int {
	defer rawInput()()
	buf := make([]byte, 256)
	ask := func(name, query string) {
		fmt.Print(query)
		n, _ := os.Stdin.Read(buf)
		fmt.Printf("\r\n%s %q", name, buf[:n])
	}
	ask("cursor", "\x1b[5;9H\x1b[6n")
	ask("text colour", "\x1b]10;?\x1b\\")
	ask("background", "\x1b]11;?\x1b\\")
	ask("kind", "\x1b[c")
	return 0
}

// childSize shows the size of the terminal at the start and at each change.
func childSize() int {
	defer rawInput()()
	changes := make(chan os.Signal, 1)
	signal.Notify(changes, syscall.SIGWINCH)
	for {
		cols, rows, err := term.GetSize(1)
		fmt.Printf("\x1b[H\x1b[2J%d by %d, %v", cols, rows, err)
		<-changes
	}
}

// childPaint draws on the alternate screen with everything switched on. Key q
// puts all back, another key ends it without.
func childPaint() int {
	restore := rawInput()
	fmt.Print("\x1b[?1049h\x1b[?25l\x1b[?2004h\x1b[?1002h\x1b[?1004h\x1b[?7l\x1b[3;4H")
	fmt.Print("\x1b[1;31mred\x1b[0m \x1b[4;38;5;200;48;2;1;2;3mmixed\x1b[0m \x1b[7;9;2;3mturned\x1b[0m plain")
	buf := make([]byte, 1)
	_, _ = os.Stdin.Read(buf)
	if buf[0] == 'q' {
		fmt.Print("\x1b[?7h\x1b[?1004l\x1b[?1002l\x1b[?2004l\x1b[?25h\x1b[?1049l")
		restore()
	}
	return 0
}

// childDeaf never reads, and ignores what can be ignored.
func childDeaf() int {
	defer rawInput()()
	signal.Ignore(syscall.SIGTERM)
	fmt.Print("deaf")
	select {}
}

func childTea() int { return runTea(&typewriter{}) }

func childTall() int { return runTea(&typewriter{lines: 300}) }

func runTea(m tea.Model) int {
	if _, err := tea.NewProgram(m, tea.WithAltScreen()).Run(); err != nil {
		fmt.Println(err)
		return 1
	}
	return 0
}

// typewriter is a small Bubble Tea program: it shows the keys it gets, the size
// and, to make a long frame, a number of lines. Key ctrl+x forgets the keys,
// ctrl+c ends it.
type typewriter struct {
	cols, rows, lines int
	keys              string
}

func (m *typewriter) Init() tea.Cmd { return nil }

func (m *typewriter) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	switch msg := msg.(type) {
	case tea.WindowSizeMsg:
		m.cols, m.rows = msg.Width, msg.Height
	case tea.KeyMsg:
		if msg.Type == tea.KeyCtrlC {
			return m, tea.Quit
		}
		if m.keys += "<" + msg.String() + ">"; msg.Type == tea.KeyCtrlX {
			m.keys = ""
		}
	}
	return m, nil
}

func (m *typewriter) View() string {
	view := fmt.Sprintf("size %dx%d\nkeys %s.\n", m.cols, m.rows, m.keys)
	for i := range m.lines {
		view += fmt.Sprintf("line %03d of a frame that is far longer than one read of a terminal\n", i)
	}
	return view + "the last line"
}
