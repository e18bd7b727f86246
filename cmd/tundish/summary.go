package main

// This file writes one job in a format that leaves the garage.

import (
	"bytes"
	"errors"
	"fmt"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"github.com/alecthomas/kong"

	"garage/tundish/cmd/tundish/internal/boot"
	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/model/ask"
	"garage/tundish/model/car"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/qr"
	"garage/tundish/model/report"
	"garage/tundish/model/share"
)

type summaryCommand struct {
	jobOrCarFlag
	Format string `enum:"md,html,txt,json,csv" default:"md" help:"One of: ${enum}. Without it the ending of --output tells, else md."`
	outputFlag
	jsonFlag
	qrFlag
	Share bool `help:"Leave out plate, VIN, owner and place, and round the odometer to 1,000."`
	Kind  bool `help:"With --share: keep the kind of unit that you named for the club, without words that name car, place or person."`
}

// Run writes the summary, whole or not at all.
func (c *summaryCommand) Run(o *outside, k *kong.Context) error {
	if c.Kind && !c.Share {
		return cli.Usage(k, errors.New("--kind goes with --share"))
	}
	s, id, units, err := c.find(o, k)
	if err != nil {
		return err
	}
	defer s.Close()
	f := report.JSON
	if !c.JSON {
		if err := f.UnmarshalText([]byte(c.format(k, c.Format))); err != nil {
			return cli.Wrong(k, "--format", err)
		}
	}
	j, options := storeJournal{s}, report.Options{Zone: time.Local, Dates: o.dates()}
	options.Share, options.Kind = c.Share, c.Kind
	if id == "" {
		if c.QR {
			return cli.Wrong(k, "--qr", errors.New("it is of one job; a page of the car has one for each unit"))
		}
		text, err := carSummary(j, units, f, options)
		if err != nil {
			return err
		}
		return c.put(o, text)
	}
	written, err := summaryOf(j, id, f, options)
	if err != nil {
		return err
	}
	text := bytes.NewBuffer(written)
	if c.QR {
		state, err := j.state(id)
		if err != nil {
			return err
		}
		if err := c.draw(k, text, f.String(), report.Facts(state, options)); err != nil {
			return err
		}
	}
	if c.Kind {
		c.tellKind(o, j, id)
	}
	return c.put(o, text.Bytes())
}

// qrFlag adds a QR code to what is printed in a terminal.
type qrFlag struct {
	QR bool `name:"qr" help:"Below the text, what a phone should keep of it as a QR code. A page (html) always has it."`
}

// draw draws a text below another, where it is asked for.
func (f qrFlag) draw(k *kong.Context, below *bytes.Buffer, format, text string) error {
	if !f.QR || format == report.HTML.String() {
		return nil
	}
	if format != report.Text.String() {
		return cli.Wrong(k, "--qr", fmt.Errorf("there is none in %s: take txt or html", format))
	}
	code, err := qr.Of(text)
	if err != nil {
		return err
	}
	_, err = below.WriteString(strings.Join(code.Lines(boot.Dark), "\n") + "\n")
	return err
}

// tellKind says on standard error what of the kind of unit is shared.
func (c *summaryCommand) tellKind(o *outside, j storeJournal, id string) {
	of, err := j.Load(id)
	if err != nil {
		return // it was written from the same
	}
	kind := job.Fold(share.WithKind(of)).Text(job.ClubKind)
	if kind == "" || kind == share.LeftOut {
		fmt.Fprintln(o.err, "tundish: no kind of unit is shared: none is named for the club, or it names car, place or person")
		return
	}
	fmt.Fprintf(o.err, "tundish: shared as of the kind %q\n", kind)
}

// format is the one that is asked for: by name, else by the ending of the file
// to write where that is one of the names.
func (f outputFlag) format(k *kong.Context, named string) string {
	for _, flag := range k.Flags() {
		if flag.Name != "format" || slices.ContainsFunc(k.Path, func(p *kong.Path) bool { return p.Flag == flag }) {
			continue
		}
		if ending := strings.ToLower(strings.TrimPrefix(filepath.Ext(f.Output), ".")); flag.EnumMap()[ending] {
			return ending
		}
	}
	return named
}

// summaryOf is a job of the store, written out.
func summaryOf(j storeJournal, id string, f report.Format, options report.Options) ([]byte, error) {
	job, err := j.Load(id)
	if err != nil {
		return nil, err
	}
	state, err := j.fold(job)
	if err != nil {
		return nil, err
	}
	if !options.Share { // the car may not be driven while another unit of it is open
		open, err := j.openUnits(job)
		if err != nil {
			return nil, err
		}
		state = guide.Fold(job, guide.Offers{Offers: ask.Offers{OpenUnits: open}, Before: state.Before()})
	}
	var text bytes.Buffer
	if err := report.Write(&text, f, state, job, options); err != nil {
		return nil, fmt.Errorf("job %s: %w", id, err)
	}
	return text.Bytes(), nil
}

// carSummary is the units of a car that are done in one go, written out. They are not
// shared: together they tell of one car.
func carSummary(j storeJournal, units car.Session, f report.Format, options report.Options) ([]byte, error) {
	if options.Share {
		return nil, errors.New("units of one car are shared one by one: tundish summary JOB --share")
	}
	var jobs []job.Job
	for _, u := range units.Units {
		job, err := j.Load(u.ID)
		if err != nil {
			return nil, err
		}
		jobs = append(jobs, job)
	}
	var text bytes.Buffer
	err := report.WriteCar(&text, f, units, jobs, options)
	return text.Bytes(), err
}
