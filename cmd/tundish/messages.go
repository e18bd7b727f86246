package main

// This file holds the rules of what is printed outside the guide, and the
// sentences that more than one command prints.
//
//   - Results go to standard output, everything else to standard error.
//   - An error is one line: "tundish: fact; what to do". Lower case, no period.
//   - Nothing here asks the terminal anything or prints an escape sequence.
//   - Text that came from a file is printed with control characters made visible.
//   - Exit 0: done. Exit 1: failed, or what was asked for cannot be told.
//     Exit 2: wrong usage.

import (
	"errors"
	"fmt"

	"github.com/alecthomas/kong"

	"garage/tundish/model/text"
)

const description = "An oil change by measurement: what came out, what belongs in, and what is really inside.\n\n" +
	"Without a command it opens the guide: at the open job, or with a new one."

// coverageNote explains every ± in text.
const coverageNote = "± is twice the standard uncertainty: the true value is within it 19 times in 20"

// The exit codes.
const (
	exitDone   = 0
	exitFailed = 1
	exitUsage  = 2
)

// usageError is wrong usage: a flag or argument that makes no sense.
type usageError struct {
	cause   error
	command string // whose help tells more
}

func (e usageError) Error() string {
	return fmt.Sprintf("%v; see: %s --help", e.cause, e.command)
}

func (e usageError) Unwrap() error { return e.cause }

// misused is the usage error of a command line that could not be read.
func misused(err error) error {
	command := "tundish"
	var parse *kong.ParseError
	if errors.As(err, &parse) && parse.Context != nil {
		if node := parse.Context.Selected(); node != nil {
			command = "tundish " + node.Path()
		}
	}
	return usageError{err, command}
}

// usage is the usage error of flags that make no sense together.
func usage(c *kong.Context, err error) error {
	return usageError{err, "tundish " + c.Selected().Path()}
}

// wrong is the usage error of a flag whose value makes no sense.
func wrong(c *kong.Context, flag string, err error) error {
	return usageError{fmt.Errorf("%s: %w", flag, err), "tundish " + c.Selected().Path()}
}

// fail prints an error, if there is one, and returns the exit code.
func fail(o *outside, err error) int {
	if err == nil {
		return exitDone
	}
	fmt.Fprintf(o.err, "tundish: %s\n", text.Visible(err.Error()))
	if _, usage := errors.AsType[usageError](err); usage {
		return exitUsage
	}
	return exitFailed
}
