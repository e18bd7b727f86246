package tty

// This file brings the first frame forward.

import (
	"os"
	"strings"

	"github.com/charmbracelet/x/ansi"
)

// Output is a terminal for Bubble Tea to draw on, with something on it as soon
// as Bubble Tea has taken and cleared the screen. Bubble Tea itself draws at
// the first tick of its clock, some milliseconds later, over what is there.
type Output struct {
	*os.File
	first string // "" once it is written
}

// NewOutput puts a question (an escape sequence, or "") and a frame on the
// screen as soon as there is one. A terminal that does not know the sequence
// and prints it has it drawn over.
func NewOutput(terminal *os.File, question, frame string) *Output {
	return &Output{terminal, question + ansi.CursorHomePosition + strings.ReplaceAll(frame, "\n", "\r\n")}
}

// Write passes p on. Bubble Tea takes the screen by clearing it, with the
// cursor going home last; should it ever do that otherwise, nothing is brought
// forward.
func (o *Output) Write(p []byte) (int, error) {
	n, err := o.File.Write(p)
	if first := o.first; first != "" && err == nil && string(p) == ansi.CursorHomePosition {
		o.first = ""
		_, err = o.File.WriteString(first)
	}
	return n, err
}

// WriteString is as [Output.Write].
func (o *Output) WriteString(s string) (int, error) { return o.Write([]byte(s)) }
