package main

// This file prints the sheets of a job, or of all units of a car, to be filled in under the car.

import (
	"bytes"
	"cmp"

	"github.com/alecthomas/kong"

	"garage/tundish/model/guide"
	"garage/tundish/model/paper"
	"garage/tundish/model/report"
)

type paperCommand struct {
	jobOrCarFlag
	Format string `enum:"txt,html" default:"txt" help:"One of: ${enum}. Without it the ending of --output tells, else txt."`
	outputFlag
	jsonFlag
}

// Run prints the sheets.
func (c *paperCommand) Run(o *outside, k *kong.Context) error {
	s, id, units, err := c.find(o, k)
	if err != nil {
		return err
	}
	defer s.Close()
	var page bytes.Buffer
	html := c.format(k, c.Format) == report.HTML.String()
	if id == "" {
		err = paper.WriteCar(&page, html, units, o.now())
	} else {
		var g *guide.Guide
		if g, err = (storeJournal{s}).state(id); err == nil {
			err = paper.Write(&page, html, g, o.now())
		}
	}
	if err != nil {
		return err
	}
	if c.JSON {
		return o.printJSON(map[string]string{"job": cmp.Or(id, units.ID), "text": page.String()})
	}
	return c.put(o, page.Bytes())
}
