package cli

// This file asks before what somebody may regret.

import (
	"bufio"
	"errors"
	"fmt"
	"io"
	"strings"

	"github.com/alecthomas/kong"
)

// Asker asks somebody a line at a time.
type Asker struct {
	in   *bufio.Reader
	out  io.Writer
	asks bool
}

// NewAsker asks on out and reads from in, unless there is nobody to ask.
func NewAsker(in io.Reader, out io.Writer, asks bool) Asker {
	return Asker{bufio.NewReader(in), out, asks}
}

// Say prints a line before a question.
func (a Asker) Say(line string, args ...any) {
	if a.asks {
		fmt.Fprintf(a.out, line+"\n", args...)
	}
}

// For asks for something; "" where there is nobody to ask, and at the end of the input.
func (a Asker) For(what string) string {
	if !a.asks {
		return ""
	}
	fmt.Fprintf(a.out, "%s ", what)
	answer, _ := a.in.ReadString('\n')
	return strings.TrimSpace(answer)
}

// AskFlag has a command ask before it does what somebody may regret.
type AskFlag struct {
	Yes bool `short:"y" help:"Do not ask first: for a script."`
	JSONFlag
}

// errRefused says that nothing was done, and how it is done without a question.
var errRefused = errors.New("nothing was changed, as the answer was not y; in a script add --yes")

// Agreed asks a question and is nil where the answer is y or yes.
func (f AskFlag) Agreed(in io.Reader, out io.Writer, question string) error {
	if f.Yes {
		return nil
	}
	switch strings.ToLower(NewAsker(in, out, true).For(question + " y or n:")) {
	case "y", "yes":
		return nil
	}
	return errRefused
}

// AsksInJSON is an error of usage: with --json there is nobody to ask.
func (f AskFlag) AsksInJSON(k *kong.Context) error {
	if f.JSON && !f.Yes {
		return Usage(k, errors.New("--json asks nobody: add --yes"))
	}
	return nil
}
