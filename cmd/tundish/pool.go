package main

// This file adds up exported jobs of many cars to what they teach together.

import (
	"bytes"
	"errors"
	"fmt"
	"runtime/debug"

	"github.com/alecthomas/kong"

	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/model/card"
	"garage/tundish/model/estimate"
	"garage/tundish/model/pool"
	"garage/tundish/model/text"
)

type poolCommand struct {
	Files []string `arg:"" name:"file" complete:"file" help:"Jobs as JSON, from: tundish summary JOB --format json --share. - is standard input."`
	jsonFlag
	Card string `placeholder:"FILE" complete:"file" help:"Write a unit card of the jobs whose owners named the kind of unit --kind, for: tundish import. One that is there is kept, unless --force."`
	Kind string `placeholder:"NAME" help:"The kind of unit, as its owners named it for the club; capitals and signs do not count."`
	forceFlag
}

// Run goes through the files in order and keeps none. One that is no job
// is named and left out; that is a failure, told after the rest is shown.
func (c *poolCommand) Run(o *outside, k *kong.Context) error {
	if (c.Card == "") != (c.Kind == "") {
		return cli.Usage(k, errors.New("--card and --kind go together"))
	}
	defer debug.SetGCPercent(debug.SetGCPercent(400)) // little lives long: a third of the time would go into collecting it
	var jobs pool.Pool
	leftOut := 0
	bar := o.progress("reading", "files", "nothing was written")
	defer bar.End()
	for i, f := range o.readJobs(c.Files, func(f *jobFile) (err error) {
		f.told, err = pool.Of(f.job)
		return err
	}) {
		if err := bar.Step(i, len(c.Files)); err != nil {
			return err
		}
		if f.err != nil || f.notes.Unknowns > 0 {
			bar.Wipe()
		}
		f.tell(o)
		if f.err == nil {
			jobs.Add(f.told)
			continue
		}
		leftOut++
		fmt.Fprintf(o.err, "tundish: %s; left out\n", text.Visible(f.err.Error()))
	}
	bar.End()
	if err := c.print(o, jobs.Result()); err != nil {
		return err
	}
	if err := c.writeCard(o, &jobs); err != nil {
		return err
	}
	if leftOut > 0 {
		return fmt.Errorf("%d of %d files left out, see the lines above; mend them or do not name them", leftOut, len(c.Files))
	}
	return nil
}

// writeCard writes the card that is asked for, and says on standard error what is on it.
func (c *poolCommand) writeCard(o *outside, jobs *pool.Pool) error {
	if c.Card == "" {
		return nil
	}
	made, others, err := jobs.Card(c.Kind)
	if err != nil {
		return err
	}
	var b bytes.Buffer
	if err := card.Write(&b, made); err != nil {
		return err
	}
	if err := c.Write(o.owned, c.Card, b.Bytes()); err != nil {
		return err
	}
	fmt.Fprintf(o.err, "tundish: card %q, %d jobs: %.0f ± %.0f ml came out\n", made.Name, made.Jobs, made.Out.Mean,
		estimate.Coverage*made.Out.U())
	if others > 0 {
		fmt.Fprintf(o.err, "tundish: %d more of that name are another kind of unit, or filled another way: not on it\n", others)
	}
	return nil
}

func (c *poolCommand) print(o *outside, result pool.Pooled) error {
	if c.JSON {
		return o.printJSON(result)
	}
	return result.WriteText(o.out)
}
