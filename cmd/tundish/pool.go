package main

// This file adds up exported jobs of many cars to what they teach together.

import (
	"fmt"

	"garage/tundish/model/pool"
	"garage/tundish/model/text"
)

type poolCommand struct {
	Files []string `arg:"" name:"file" complete:"file" help:"Jobs as JSON, from: tundish summary JOB --format json --share. - is standard input."`
	jsonFlag
}

// Run goes through the files in order and keeps none. One that is no job
// is named and left out; that is a failure, told after the rest is shown.
func (c *poolCommand) Run(o *outside) error {
	var jobs pool.Pool
	leftOut := 0
	for _, read := range o.readJobs(c.Files) {
		read.tell(o)
		err := read.err
		if err == nil {
			err = jobs.Add(read.job)
		}
		if err != nil {
			leftOut++
			fmt.Fprintf(o.err, "tundish: %s; left out\n", text.Visible(err.Error()))
		}
	}
	if err := c.print(o, jobs.Result()); err != nil {
		return err
	}
	if leftOut > 0 {
		return fmt.Errorf("%d of %d files left out, see the lines above; mend them or do not name them", leftOut, len(c.Files))
	}
	return nil
}

func (c *poolCommand) print(o *outside, result pool.Pooled) error {
	if c.JSON {
		return o.printJSON(result)
	}
	return result.WriteText(o.out)
}
