// Package look says how the screens look, and runs them in a terminal until they are left
// or the program is told to end.
package look

import (
	"errors"
	"io"
	"os"
	"os/signal"
	"runtime/debug"
	"strings"
	"syscall"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"
	"golang.org/x/term"

	"garage/tundish/cmd/tundish/internal/boot"
	"garage/tundish/cmd/tundish/internal/tty"
	"garage/tundish/tui"
	"garage/tundish/tui/theme"
)

// Flags say how the screens look.
type Flags struct {
	Background string `enum:"light,dark,auto" default:"auto" help:"Of the terminal: ${enum}. ${help_background}"`
	ASCII      bool   `name:"ascii" help:"Draw with plain ASCII characters only."`
	NoColor    bool   `help:"No colours; NO_COLOR in the environment does the same."`
	Plain      bool   `help:"One line at a time, without a screen: for a screen reader, a serial line or a pipe."`
	Bell       *bool  `negatable:"" help:"Ring when a wait is over. Default: what the settings say."`
}

// LineMode reports whether the job is done one line at a time: asked for, or the
// terminal cannot move its cursor.
func (f Flags) LineMode(getenv func(string) string, in io.Reader, out io.Writer) bool {
	return f.Plain || (getenv("TERM") == "dumb" && IsTerminal(in) && IsTerminal(out))
}

// NeedsTerminal refuses to draw into a pipe.
func (f Flags) NeedsTerminal(getenv func(string) string, in io.Reader, out io.Writer) error {
	if f.LineMode(getenv, in, out) || IsTerminal(in) && IsTerminal(out) {
		return nil
	}
	return errors.New("the guide needs a terminal, and this is a pipe or a file; run it in a terminal, or with --plain")
}

// IsTerminal reports whether a stream is one.
func IsTerminal(stream any) bool {
	f, ok := stream.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// Program is the guide in the terminal. Where nothing says whether the terminal
// is dark, the guide begins as if it were, and turns when the terminal says so.
func (f Flags) Program(getenv func(string) string, cfg tui.Config) *tea.Program {
	debug.SetGCPercent(50) // it is open for hours and makes little at a time: memory comes before speed
	look, question := f.theme(getenv), ""
	in := &tty.Input{File: os.Stdin}
	if f.Background == "auto" && !boot.Told && look.Colour >= theme.ANSI16 && tty.Answers(getenv("TERM")) {
		question = tty.AskBackground
	}
	columns, rows, err := term.GetSize(int(os.Stdout.Fd()))
	if err != nil {
		columns, rows = 80, 24
	}
	app := tui.Open(cfg, theme.New(look), columns, rows)
	out := tty.NewOutput(os.Stdout, question, app.View(), columns, rows)
	program := tea.NewProgram(tty.Drawn{Model: app, Out: out}, tea.WithInput(in), tea.WithOutput(out), tea.WithFPS(tty.FPS),
		tea.WithAltScreen(), tea.WithMouseCellMotion(), tea.WithoutSignalHandler(), tea.WithFilter(quitWaits))
	in.Heard = func(dark bool) {
		look.Dark = dark
		program.Send(tui.ThemeMsg{Theme: theme.New(look)})
	}
	return program
}

// App takes the guide out of what draws it.
func App(m tea.Model) (tui.App, bool) {
	drawn, _ := m.(tty.Drawn)
	app, ok := drawn.Model.(tui.App)
	return app, ok
}

// quitWaits holds back a quit while a reading is being written.
func quitWaits(m tea.Model, msg tea.Msg) tea.Msg {
	app, _ := App(m)
	return tui.Filter(app, msg)
}

// Endings are the signals on which the program is to end.
var Endings = []os.Signal{syscall.SIGHUP, syscall.SIGTERM, syscall.SIGQUIT, os.Interrupt}

// PassSignals tells the screens when the program is to end, so that they can
// end after a save that is under way. Bubble Tea's own handler knows no hangup
// and may begin to listen after the first frame.
func PassSignals(program *tea.Program) (stop func()) {
	signals := make(chan os.Signal, 3)
	signal.Notify(signals, Endings...)
	done := make(chan struct{})
	go func() {
		for {
			select {
			case s := <-signals:
				program.Send(messageOf(s))
			case <-done:
				return
			}
		}
	}()
	return func() {
		signal.Stop(signals)
		close(done)
	}
}

func messageOf(s os.Signal) tea.Msg {
	switch s {
	case syscall.SIGHUP:
		return tui.HangupMsg{}
	case os.Interrupt:
		return tea.InterruptMsg{}
	}
	return tea.QuitMsg{}
}

func (f Flags) theme(getenv func(string) string) theme.Options {
	dark := boot.Dark
	if f.Background != "auto" {
		dark = f.Background == "dark"
	}
	noColour := f.NoColor || termenv.EnvNoColor()
	return theme.Options{Dark: dark, Colour: theme.ColourOf(termenv.NewOutput(os.Stdout).ColorProfile(), noColour),
		ASCII: f.ASCIIOnly(getenv)}
}

// ASCIIOnly reports whether the terminal takes nothing but ASCII: asked for, or
// the locale names another character set than UTF-8.
func (f Flags) ASCIIOnly(getenv func(string) string) bool {
	if f.ASCII {
		return true
	}
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if locale := strings.ToLower(getenv(name)); locale != "" {
			return !strings.Contains(locale, "utf-8") && !strings.Contains(locale, "utf8")
		}
	}
	return false
}
