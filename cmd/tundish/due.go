package main

// This file lists what is due over all jobs of the store.

import (
	"bytes"
	"errors"
	"fmt"
	"slices"
	"time"

	"github.com/alecthomas/kong"

	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/cmd/tundish/internal/rows"
	"garage/tundish/model/agenda"
	"garage/tundish/model/dates"
	"garage/tundish/model/text"
	"garage/tundish/store"
)

type dueCommand struct {
	ICS string `name:"ics" placeholder:"FILE" complete:"file" help:"${help_ics}"`
	forceFlag
	Done   string `placeholder:"JOB" complete:"job" help:"Store that something this job left to do is done: waste handed in, a look after a drive."`
	Item   string `placeholder:"ITEM" help:"Which, where several are due: waste, leak or washer."`
	Answer string `placeholder:"TEXT" help:"What was seen (dry, weeps), or where the waste was brought. Without it the program asks."`
	jsonFlag
}

// Run writes the calendar, then prints the list: what cannot wait, what is
// overdue, then the rest by day.
func (c *dueCommand) Run(o *outside, k *kong.Context) error {
	switch {
	case c.Done != "" && c.ICS != "":
		return cli.Usage(k, errors.New("store what is done, then write the calendar: leave one out"))
	case c.Done != "":
		return c.done(o, k)
	case c.Item+c.Answer != "":
		return cli.Usage(k, errors.New("--item and --answer are of a job: name it with --done"))
	}
	items, err := dueItems(o)
	if err != nil {
		return err
	}
	if c.ICS != "" {
		if err := c.writeCalendar(o, items); err != nil || c.ICS == cli.StandardInput {
			return err
		}
	}
	return o.show(c.jsonFlag, items, dueSheet(items, o.dates()))
}

// writeCalendar writes what is due on a day.
func (c *dueCommand) writeCalendar(o *outside, items []agenda.Item) error {
	var dues []agenda.Due
	for _, i := range items {
		dues = append(dues, i.Due)
	}
	var text bytes.Buffer
	err := agenda.Calendar(&text, dues, o.now())
	if errors.Is(err, agenda.ErrNothingDue) {
		return fmt.Errorf("%w, so there is no calendar to write; see: tundish due", err)
	}
	if err != nil {
		return err
	}
	return outputFlag{Output: c.ICS, forceFlag: c.forceFlag}.put(o, text.Bytes())
}

// dueItems goes through all jobs and keeps what is due, in the order of the list.
// Where no store was made yet there is nothing to do.
func dueItems(o *outside) ([]agenda.Item, error) {
	items := []agenda.Item{}
	s, kept, err := rows.List(o.readStore, o.jobRows, func(_ rows.Jobs, kept []store.Made) ([]store.Made, error) { return kept, nil })
	if o.noneYet(err) {
		return items, nil
	}
	if err != nil {
		return nil, err
	}
	defer s.Close()
	units, err := s.AgendaUnits(kept)
	if err != nil {
		return nil, err
	}
	return append(items, agenda.New(units, o.now().In(time.Local)).All(units)...), nil
}

func dueSheet(items []agenda.Item, form dates.Language) *sheet {
	s := new(sheet)
	if len(items) == 0 {
		s.Note("nothing is due")
	}
	for _, i := range items {
		day := ""
		if !i.Due.Day.IsZero() {
			day = form.Short(i.Due.Day)
		}
		s.Add(i.When, day, "%s: %s", i.What, names(i.Head))
		s.Under("  job %s  %s", i.Job, text.Visible(i.Detail))
	}
	if slices.ContainsFunc(items, func(i agenda.Item) bool { return i.WasteML != nil }) {
		s.Note("waste oil handed in? tundish due --done JOB")
	}
	return s
}
