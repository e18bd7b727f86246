package main

// This file opens the guide on an invented job in a store that is thrown away.

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"

	"github.com/alecthomas/kong"

	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/cmd/tundish/internal/look"
	"garage/tundish/store"
	"garage/tundish/tui"
	"garage/tundish/tui/demo"
	"garage/tundish/tui/stream"
)

type demoCommand struct {
	look.Flags
	JSON bool `name:"json" help:"Without a screen, for another program: one JSON object a line, both ways."`
}

// Run makes the job, opens it, and leaves nothing behind.
func (c *demoCommand) Run(o *outside, k *kong.Context) (err error) {
	if o.storeFlag != "" {
		return cli.Usage(k, errors.New("the demo has a store of its own: leave --store out"))
	}
	if !c.JSON {
		if err := c.NeedsTerminal(o.getenv, o.in, o.out); err != nil {
			return err
		}
	}
	folder, err := os.MkdirTemp("", "tundish-demo-")
	if err != nil {
		return fmt.Errorf("no folder for the demo; %w", err)
	}
	defer func() { err = errors.Join(err, os.RemoveAll(folder)) }()
	s, err := store.Open(filepath.Join(folder, "jobs.db"), store.Options{})
	if err != nil {
		return err
	}
	job, err := demo.Job(o.now())
	if err == nil {
		err = s.Create(job, headOf(job))
	}
	switch {
	case err != nil:
	case c.JSON:
		err = byObjects(o, s, stream.Config{OpenID: job.ID})
	default:
		err = openScreens(c.Flags, o, s, tui.Config{OpenID: job.ID, Coach: demo.Tour(), Passing: true, Folder: "."})
	}
	return errors.Join(err, s.Close())
}
