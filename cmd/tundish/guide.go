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

	"garage/tundish/cmd/tundish/internal/files"
	"garage/tundish/cmd/tundish/internal/look"
	"garage/tundish/model/paper"
	"garage/tundish/model/report"
	"garage/tundish/store"
	"garage/tundish/tui"
	"garage/tundish/tui/line"
	"garage/tundish/tui/stream"
	"garage/tundish/tui/theme"
)

type guideCommand struct {
	look.Flags
	JSON bool   `name:"json" help:"Without a screen, for another program: one JSON object a line, both ways."`
	Job  string `placeholder:"JOB" complete:"job" help:"Open this job: its id, the beginning of it, last for the one last worked here, or new."`
}

// newJob is the word for a job that is to be begun.
const newJob = "new"

// Run opens the job that is asked for, the open one, or a new one.
func (c *guideCommand) Run(o *outside) error {
	if !c.JSON {
		if err := c.NeedsTerminal(o.getenv, o.in, o.out); err != nil {
			return err
		}
	}
	s, err := o.writeStore()
	if err != nil {
		return err
	}
	repaired := o.repairMeanwhile(s)
	id := ""
	if c.Job != "" && c.Job != newJob {
		id, err = s.Find(c.Job)
	}
	switch {
	case err != nil:
	case c.JSON:
		err = byObjects(o, s, stream.Config{OpenID: id, New: c.Job == newJob})
	default:
		err = openScreens(c.Flags, o, s, tui.Config{OpenID: id, New: c.Job == newJob})
	}
	repaired()
	return errors.Join(err, s.Close())
}

// byObjects does a job by objects until it is left, the input ends, or the program is
// told to end.
func byObjects(o *outside, s *store.Store, cfg stream.Config) error {
	asked, stop := signal.NotifyContext(context.Background(), look.Endings...)
	defer stop()
	cfg.Journal, cfg.Clock, cfg.Chance, cfg.Leave = storeJournal{s}, o.now, rand.Uint32, asked.Done()
	return stream.Run(o.in, o.out, cfg)
}

// openScreens runs the screens on a store until they are left; cfg says what is
// special about them.
func openScreens(f look.Flags, o *outside, s *store.Store, cfg tui.Config) error {
	f, cfg = configured(f, o, s, cfg)
	cfg.Clock, cfg.After, cfg.Chance = o.now, tea.Tick, rand.Uint32
	cfg.Export, cfg.Print = exportTo(o, "tundish-", recordOf(o, s)), exportTo(o, "tundish-sheets-", sheetsOf(s, o.now))
	// For good: where a window is shut the hangup may come after the end of the
	// input, while the store is being closed.
	signal.Notify(make(chan os.Signal, 1), syscall.SIGHUP)
	if f.LineMode(o.getenv, o.in, o.out) {
		asked, stop := signal.NotifyContext(context.Background(), look.Endings...)
		defer stop()
		cfg.Piped = !look.IsTerminal(o.in)
		return line.Run(o.in, o.out, cfg, asked.Done(), theme.New(theme.Options{ASCII: f.ASCIIOnly(o.getenv)}))
	}
	program := f.Program(o.getenv, cfg)
	stop := look.PassSignals(program)
	defer stop()
	last, err := program.Run()
	app, ok := look.App(last)
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

// mostExports is how many summaries of one job may lie in a folder.
const mostExports = 1000

// recordOf makes the record of a job; sheetsOf its sheets, to be printed.
func recordOf(o *outside, s *store.Store) func(id string) ([]byte, error) {
	return func(id string) ([]byte, error) {
		return summaryOf(storeJournal{s}, id, report.HTML, report.Options{Zone: time.Local, Dates: o.dates()})
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
			return "", files.Unwritten(folder, err)
		}
		for n := 1; ; n++ {
			name := begins + id
			if n > 1 {
				name += fmt.Sprintf("-%d", n)
			}
			path, err := filepath.Abs(filepath.Join(folder, name+"."+report.HTML.String()))
			if err == nil {
				err = forceFlag{}.Write(o.owned, path, text)
			}
			if !errors.Is(err, fs.ErrExist) || n == mostExports {
				return path, err
			}
		}
	}
}
