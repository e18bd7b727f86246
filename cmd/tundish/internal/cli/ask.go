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
	fmt.Fprintf(out, "%s y or n: ", question)
	answer, _ := bufio.NewReader(in).ReadString('\n') // the end of the input is no
	switch strings.ToLower(strings.TrimSpace(answer)) {
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
