package main

// This file writes the tag for the steering wheel, and the reminders of what is
// due after a job.

import (
	"bytes"
	"fmt"
	"time"

	"garage/tundish/model"
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
	return c.write(o, c.outputFlag, func(text *bytes.Buffer, s *model.State) error {
		return summary.Tag(text, c.Format == summary.HTML.String(), s, summary.Options{Zone: time.Local})
	})
}

type remindersCommand struct {
	jobFlag
	outputFlag
}

// Run writes what is due as a calendar.
func (c *remindersCommand) Run(o *outside) error {
	return c.write(o, c.outputFlag, func(text *bytes.Buffer, s *model.State) error {
		dues := summary.Dues(s, time.Local)
		if len(dues) == 0 {
			return fmt.Errorf("job %s: nothing is due on a day; the interval in months is not known, or the job is not done", s.ID)
		}
		return summary.Calendar(text, dues, o.now())
	})
}

// write makes a text of the job and puts it where it is wanted.
func (f jobFlag) write(o *outside, to outputFlag, make func(*bytes.Buffer, *model.State) error) error {
	s, id, err := f.find(o)
	if err != nil {
		return err
	}
	defer s.Close()
	_, state, err := storeJournal{s}.folded(id)
	if err != nil {
		return err
	}
	var text bytes.Buffer
	if err := make(&text, state); err != nil {
		return err
	}
	return to.put(o, s, text.Bytes())
}
