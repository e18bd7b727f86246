package main

// This file writes the tag for the steering wheel.

import (
	"bytes"
	"fmt"
	"time"

	"github.com/alecthomas/kong"

	"garage/tundish/model/car"
	"garage/tundish/model/job"
	"garage/tundish/model/report"
	"garage/tundish/model/text"
)

type tagCommand struct {
	jobOrCarFlag
	Format string `enum:"txt,html" default:"txt" help:"One of: ${enum}. Without it the ending of --output tells, else txt."`
	outputFlag
	jsonFlag
	qrFlag
}

// Run writes the tag. Where none is needed, the car may be driven: that is a
// failure, so that no script hangs up an empty sheet.
func (c *tagCommand) Run(o *outside, k *kong.Context) error {
	s, id, units, err := c.find(o, k)
	if err != nil {
		return err
	}
	defer s.Close()
	words, err := tagOf(storeJournal{s}, id, units, report.Options{Zone: time.Local, Dates: o.dates()})
	if err != nil {
		return err
	}
	if c.JSON {
		return o.printJSON(struct {
			report.TagWords
			Code string `json:"qr_text"`
		}{words, words.Code()})
	}
	var tag bytes.Buffer
	format := c.format(k, c.Format)
	if err := words.Write(&tag, format == report.HTML.String()); err != nil {
		return err
	}
	if err := c.draw(k, &tag, format, words.Code()); err != nil {
		return err
	}
	return c.put(o, tag.Bytes())
}

// tagOf is what the tag of a job says, or of all units of a car. Of a unit that is right,
// beside one that is not, it is the other's that is needed.
func tagOf(j storeJournal, id string, units car.Session, options report.Options) (report.TagWords, error) {
	if id == "" {
		return report.CarTagOf(units, options)
	}
	state, err := j.state(id)
	if err != nil {
		return report.TagWords{}, err
	}
	words, err := report.TagOf(state, options)
	if err == nil {
		return words, nil
	}
	entries, _ := state.Ledger()
	open, openErr := j.openUnits(job.Job{ID: id, Started: state.Started, Entries: entries})
	if openErr == nil && len(open) > 0 {
		return words, fmt.Errorf("this unit needs none, but the %s is %s; print: tundish tag --car %q", text.Visible(open[0].Name),
			open[0].State, text.Visible(state.Vehicle()))
	}
	return words, err
}
