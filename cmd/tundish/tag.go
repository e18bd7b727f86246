package main

// This file writes the tag for the steering wheel.

import (
	"bytes"
	"time"

	"github.com/alecthomas/kong"

	"garage/tundish/model/report"
)

type tagCommand struct {
	jobFlag
	Format string `enum:"txt,html" default:"txt" help:"One of: ${enum}. Without it the ending of --output tells, else txt."`
	outputFlag
	jsonFlag
}

// Run writes the tag. Where none is needed, the car may be driven: that is a
// failure, so that no script hangs up an empty sheet.
func (c *tagCommand) Run(o *outside, k *kong.Context) error {
	s, id, err := c.find(o)
	if err != nil {
		return err
	}
	defer s.Close()
	state, err := storeJournal{s}.state(id)
	if err != nil {
		return err
	}
	options := report.Options{Zone: time.Local}
	if c.JSON {
		words, err := report.TagOf(state, options)
		if err != nil {
			return err
		}
		return o.printJSON(words)
	}
	var text bytes.Buffer
	if err := report.Tag(&text, c.format(k, c.Format) == report.HTML.String(), state, options); err != nil {
		return err
	}
	return c.put(o, text.Bytes())
}
