package main

// This file opens the guide: it joins store and screens, and sees to it that
// however the program ends, a reading on its way to the disk gets there.

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"math/rand/v2"
	"os"
	"os/signal"
	"path/filepath"
	"strings"
	"syscall"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/muesli/termenv"
	"golang.org/x/term"

	"garage/tundish/cmd/tundish/internal/boot"
	"garage/tundish/cmd/tundish/internal/tty"
	"garage/tundish/model/paper"
	"garage/tundish/model/report"
	"garage/tundish/store"
	"garage/tundish/tui"
	"garage/tundish/tui/line"
	"garage/tundish/tui/stream"
	"garage/tundish/tui/theme"
)

// lookFlags say how the screens look.
type lookFlags struct {
	Background string `enum:"light,dark,auto" default:"auto" help:"Of the terminal: ${enum}. ${help_background}"`
	ASCII      bool   `name:"ascii" help:"Draw with plain ASCII characters only."`
	NoColor    bool   `help:"No colours; NO_COLOR in the environment does the same."`
	Plain      bool   `help:"One line at a time, without a screen: for a screen reader, a serial line or a pipe."`
	Bell       *bool  `negatable:"" help:"Ring when a wait is over. Default: what the settings say."`
}

type guideCommand struct {
	lookFlags
	JSON bool   `name:"json" help:"Without a screen, for another program: one JSON object a line, both ways."`
	Job  string `placeholder:"JOB" complete:"job" help:"Open this job: its id, the beginning of it, last for the one last worked here, or new."`
}

// newJob is the word for a job that is to be begun.
const newJob = "new"

// defaultGuide is the guide as a command line without a word asks for it.
func defaultGuide() *guideCommand {
	return &guideCommand{lookFlags: lookFlags{Background: "auto"}}
}

// Run opens the job that is asked for, the open one, or a new one.
func (c *guideCommand) Run(o *outside) error {
	if !c.JSON {
		if err := c.needsTerminal(o); err != nil {
			return err
		}
	}
	s, err := o.writeStore()
	if err != nil {
		return err
	}
	mended := o.mendMeanwhile(s)
	id := ""
	if c.Job != "" && c.Job != newJob {
		id, err = s.Find(c.Job)
	}
	switch {
	case err != nil:
	case c.JSON:
		err = byObjects(o, s, stream.Config{OpenID: id, New: c.Job == newJob})
	default:
		err = c.open(o, s, tui.Config{OpenID: id, New: c.Job == newJob})
	}
	mended()
	return errors.Join(err, s.Close())
}

// byObjects does a job by objects until it is left, the input ends, or the program is
// told to end.
func byObjects(o *outside, s *store.Store, cfg stream.Config) error {
	asked, stop := signal.NotifyContext(context.Background(), endings()...)
	defer stop()
	cfg.Journal, cfg.Clock, cfg.Chance, cfg.Leave = storeJournal{s}, o.now, rand.Uint32, asked.Done()
	return stream.Run(o.in, o.out, cfg)
}

// lineMode reports whether the job is done one line at a time: asked for, or the
// terminal cannot move its cursor.
func (f lookFlags) lineMode(o *outside) bool {
	return f.Plain || (o.getenv("TERM") == "dumb" && isTerminal(o.in) && isTerminal(o.out))
}

// needsTerminal refuses to draw into a pipe.
func (f lookFlags) needsTerminal(o *outside) error {
	if f.lineMode(o) || isTerminal(o.in) && isTerminal(o.out) {
		return nil
	}
	return errors.New("the guide needs a terminal, and this is a pipe or a file; run it in a terminal, or with --plain")
}

func isTerminal(stream any) bool {
	f, ok := stream.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// open runs the screens on a store until they are left; cfg says what is
// special about them.
func (f lookFlags) open(o *outside, s *store.Store, cfg tui.Config) error {
	f, cfg = f.configured(o, s, cfg)
	cfg.Clock, cfg.Chance = o.now, rand.Uint32
	cfg.Export, cfg.Print = exportTo(o, "tundish-", recordOf(o, s)), exportTo(o, "tundish-sheets-", sheetsOf(s, o.now))
	// For good: where a window is shut the hangup may come after the end of the
	// input, while the store is being closed.
	signal.Notify(make(chan os.Signal, 1), syscall.SIGHUP)
	if f.lineMode(o) {
		asked, stop := signal.NotifyContext(context.Background(), endings()...)
		defer stop()
		cfg.Piped = !isTerminal(o.in)
		return line.Run(o.in, o.out, cfg, asked.Done(), theme.New(theme.Options{ASCII: f.asciiOnly(o)}))
	}
	program := f.program(o, cfg)
	stop := passSignals(program)
	defer stop()
	last, err := program.Run()
	app, ok := last.(tui.App)
	if ok {
		for _, line := range app.Farewell() {
			fmt.Fprintln(o.out, line) // where the window is shut, nobody is left to read it
		}
	}
	switch {
	case ok && app.Unsaved():
		return errors.Join(err, errors.New("the last reading may not have been stored; open the guide again and look"))
	case ok && app.Failure() != nil:
		return app.Failure()
	case errors.Is(err, tea.ErrInterrupted):
		return nil // left by ctrl+c, with everything stored
	}
	return err
}

// program is the guide in the terminal. Where nothing says whether the terminal
// is dark, the guide begins as if it were, and turns when the terminal says so.
func (f lookFlags) program(o *outside, cfg tui.Config) *tea.Program {
	look, question := f.theme(o), ""
	in := &tty.Input{File: os.Stdin}
	if f.Background == "auto" && !boot.Told() && look.Colour >= theme.ANSI16 && tty.Answers(o.getenv("TERM")) {
		question = tty.AskBackground
	}
	columns, rows, err := term.GetSize(int(os.Stdout.Fd()))
	if err != nil {
		columns, rows = 80, 24
	}
	app := tui.Open(cfg, theme.New(look), columns, rows)
	program := tea.NewProgram(app, tea.WithInput(in), tea.WithOutput(tty.NewOutput(os.Stdout, question, app.View())),
		tea.WithAltScreen(), tea.WithMouseCellMotion(), tea.WithoutSignalHandler(), tea.WithFilter(tui.Filter), tea.WithFPS(120))
	in.Heard = func(dark bool) {
		look.Dark = dark
		program.Send(tui.ThemeMsg{Theme: theme.New(look)})
	}
	return program
}

// mostExports is how many summaries of one job may lie in a folder.
const mostExports = 1000

// recordOf makes the record of a job; sheetsOf its sheets, to be printed.
func recordOf(o *outside, s *store.Store) func(id string) ([]byte, error) {
	return func(id string) ([]byte, error) {
		return summaryOf(storeJournal{s}, id, report.HTML, o.reportOptions())
	}
}

func sheetsOf(s *store.Store, now func() time.Time) func(id string) ([]byte, error) {
	return func(id string) ([]byte, error) {
		g, err := storeJournal{s}.state(id)
		if err != nil {
			return nil, err
		}
		var page bytes.Buffer
		err = paper.Write(&page, true, g, now())
		return page.Bytes(), err
	}
}

// exportTo writes what is made of a job into a folder, which it makes where it is not
// there, beside what is there already, and says where. ~ is the home folder.
func exportTo(o *outside, begins string, made func(id string) ([]byte, error)) func(id, folder string) (string, error) {
	return func(id, folder string) (string, error) {
		text, err := made(id)
		if err != nil {
			return "", err
		}
		if rest, ok := strings.CutPrefix(folder, "~"); ok && (rest == "" || os.IsPathSeparator(rest[0])) {
			home, err := os.UserHomeDir()
			if err != nil {
				return "", err
			}
			folder = home + rest
		}
		if err := os.MkdirAll(folder, 0o777); err != nil {
			return "", errUnwritten(folder, err)
		}
		for n := 1; ; n++ {
			name := begins + id
			if n > 1 {
				name += fmt.Sprintf("-%d", n)
			}
			path, err := filepath.Abs(filepath.Join(folder, name+"."+report.HTML.String()))
			if err == nil {
				err = forceFlag{}.write(o, path, text)
			}
			if !errors.Is(err, fs.ErrExist) || n == mostExports {
				return path, err
			}
		}
	}
}

// endings are the signals on which the program is to end.
func endings() []os.Signal {
	return []os.Signal{syscall.SIGHUP, syscall.SIGTERM, syscall.SIGQUIT, os.Interrupt}
}

// passSignals tells the screens when the program is to end, so that they can
// end after a save that is under way. Bubble Tea's own handler knows no hangup
// and may begin to listen after the first frame.
func passSignals(program *tea.Program) (stop func()) {
	signals := make(chan os.Signal, 3)
	signal.Notify(signals, endings()...)
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

func (f lookFlags) theme(o *outside) theme.Options {
	dark := boot.Dark()
	if f.Background != "auto" {
		dark = f.Background == "dark"
	}
	noColour := f.NoColor || termenv.EnvNoColor()
	return theme.Options{Dark: dark, Colour: theme.ColourOf(termenv.NewOutput(os.Stdout).ColorProfile(), noColour), ASCII: f.asciiOnly(o)}
}

// asciiOnly reports whether the terminal takes nothing but ASCII: asked for, or
// the locale names another character set than UTF-8.
func (f lookFlags) asciiOnly(o *outside) bool {
	if f.ASCII {
		return true
	}
	for _, name := range []string{"LC_ALL", "LC_CTYPE", "LANG"} {
		if locale := strings.ToLower(o.getenv(name)); locale != "" {
			return !strings.Contains(locale, "utf-8") && !strings.Contains(locale, "utf8")
		}
	}
	return false
}
