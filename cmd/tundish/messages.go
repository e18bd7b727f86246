package main

// This file holds the rules of what is printed outside the guide, and the
// sentences that more than one command prints.
//
//   - Results go to standard output, everything else to standard error.
//   - An error is one line: "tundish: fact; what to do". Lower case, no period.
//     With --json it is one line of JSON: {"error": "fact; what to do", "exit_code": 1}.
//   - Nothing here asks the terminal anything or prints an escape sequence.
//   - Text that came from a file is printed with control characters made visible.
//   - Exit 0: done. Exit 1: failed, or what was asked for cannot be told.
//     Exit 2: wrong usage. Exit 130: stopped by Ctrl-C, between two steps.

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"

	"github.com/alecthomas/kong"

	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/cmd/tundish/internal/look"
	"garage/tundish/cmd/tundish/internal/progress"
	"garage/tundish/cmd/tundish/internal/reference"
	"garage/tundish/cmd/tundish/internal/rows"
	"garage/tundish/model/text"
	"garage/tundish/store/steps"
)

// The exit codes.
const (
	exitDone    = 0
	exitFailed  = 1
	exitUsage   = 2
	exitStopped = 130 // 128 and the number of SIGINT, as shells say it
)

// progress is how far a command has come, on standard error where that is a terminal.
func (o *outside) progress(doing, of, then string) *progress.Bar {
	return progress.Start(o.err, look.Flags{}.ASCIIOnly(o.getenv), progress.Words{Doing: doing, Of: of, Then: then})
}

// steps shows how far work on a store has come, a bar for each thing that is done; then is
// what is true where it is stopped, if it is not the opening that is.
func (o *outside) steps(then string) (step steps.Func, end func()) {
	var bar *progress.Bar
	var now steps.Kind
	return func(k steps.Kind, done, total int) error {
		if k != now {
			bar.End()
			w := rows.Doing(k)
			bar, now = o.progress(w.Doing, w.Of, cmp.Or(then, w.Then)), k
		}
		return bar.Step(done, total)
	}, func() { bar.End() }
}

// misused is the usage error of a command line that could not be read.
func misused(app *kong.Application, args []string, err error) error {
	var parse *kong.ParseError
	if word, _, _ := reference.Mistyped(app, args); word != "" && errors.As(err, &parse) &&
		parse.Error() == "unexpected argument "+word {
		return unknownCommand(app, args, err)
	}
	command := app.Name
	if errors.As(err, &parse) && parse.Context != nil {
		if node := parse.Context.Selected(); node != nil {
			command = "tundish " + node.Path()
		}
	}
	return cli.UsageError{Cause: err, Command: command}
}

// fail prints an error, if there is one, and returns the exit code.
func fail(o *outside, err error) int {
	if err == nil {
		return exitDone
	}
	code := exitFailed
	if _, usage := errors.AsType[cli.UsageError](err); usage {
		code = exitUsage
	}
	if stopped, is := errors.AsType[progress.Stopped](err); is {
		code, err = exitStopped, stopped // whatever it ended says no more
	}
	if o.json {
		var b bytes.Buffer
		out := json.NewEncoder(&b)
		out.SetEscapeHTML(false)
		_ = out.Encode(failure{text.Visible(err.Error()), code}) // a text and a number can be encoded
		_, _ = o.err.Write(text.VisibleJSON(b.Bytes()))          // nobody is left to tell
		return code
	}
	fmt.Fprintf(o.err, "tundish: %s\n", text.Visible(err.Error()))
	return code
}

// failure is an error in JSON.
type failure struct {
	Error    string `json:"error"`
	ExitCode int    `json:"exit_code"`
}
