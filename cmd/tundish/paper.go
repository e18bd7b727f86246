package main

// This file prints the sheets of a job, to be filled in under the car.

import (
	"bytes"
	"time"

	"github.com/alecthomas/kong"

	"garage/tundish/model/paper"
	"garage/tundish/model/report"
)

type paperCommand struct {
	jobFlag
	Format string `enum:"txt,html" default:"txt" help:"One of: ${enum}. Without it the ending of --output tells, else txt."`
	outputFlag
	jsonFlag
}

// Run prints the sheets.
func (c *paperCommand) Run(o *outside, k *kong.Context) error {
	s, id, err := c.find(o)
	if err != nil {
		return err
	}
	defer s.Close()
	g, err := storeJournal{s}.state(id)
	if err != nil {
		return err
	}
	var page bytes.Buffer
	if err := paper.Write(&page, c.format(k, c.Format) == report.HTML.String(), g, time.Now()); err != nil {
		return err
	}
	if c.JSON {
		return o.printJSON(map[string]string{"job": id, "text": page.String()})
	}
	return c.put(o, page.Bytes())
}
