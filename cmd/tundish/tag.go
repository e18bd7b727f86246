package main

// This file writes the tag for the steering wheel.

import (
	"bytes"
	"time"

	"garage/tundish/model/summary"
)

type tagCommand struct {
	jobFlag
	Format string `enum:"txt,html" default:"txt" help:"One of: ${enum}."`
	outputFlag
}

// Run writes the tag. Where none is needed, the car may be driven: that is a
// failure, so that no script hangs up an empty sheet.
func (c *tagCommand) Run(o *outside) error {
	s, id, err := c.find(o)
	if err != nil {
		return err
	}
	defer s.Close()
	_, state, err := storeJournal{s}.folded(id)
	if err != nil {
		return err
	}
	var text bytes.Buffer
	if err := summary.Tag(&text, c.Format == summary.HTML.String(), state, summary.Options{Zone: time.Local}); err != nil {
		return err
	}
	return c.put(o, text.Bytes())
}
