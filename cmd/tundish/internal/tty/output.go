package tty

// This file draws the frames.

import (
	"os"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
)

// FPS is the slowest clock that Bubble Tea's own drawing can have: it draws nothing.
const FPS = 1

// Output is a terminal for Bubble Tea to take and to give back; what is on it is drawn
// by [Drawn]. Bubble Tea v1 looks for a new frame as often as its clock ticks, which at
// a rate that keys do not wait for takes 2 % of a processor at rest. It writes frames by
// Write, which are dropped here, and all else by WriteString.
type Output struct {
	*os.File
	question      string // "" once it is asked
	columns, rows int
	sized         bool     // the terminal has told its size
	frame         string   // as it should be
	lines         []string // as they are on the screen; nil: not known
}

// NewOutput puts a question (an escape sequence, or "") and a frame on the
// screen as soon as there is one. A terminal that does not know the sequence
// and prints it has it drawn over.
func NewOutput(terminal *os.File, question, frame string, columns, rows int) *Output {
	return &Output{File: terminal, question: question, frame: frame, columns: columns, rows: rows}
}

// Write drops a frame of Bubble Tea's.
func (o *Output) Write(p []byte) (int, error) { return len(p), nil }

// WriteString passes on what Bubble Tea says to the terminal. It takes the screen by
// clearing it, with the cursor going home last: at once the frame is on it.
func (o *Output) WriteString(s string) (int, error) {
	n, err := o.File.WriteString(s)
	if err == nil && s == ansi.CursorHomePosition {
		_, err = o.File.WriteString(o.question)
		o.question, o.lines = "", nil
		o.draw()
	}
	return n, err
}

// resized takes the size of the terminal. The first that is told is none that is new,
// if it is that which the first frame was made for.
func (o *Output) resized(columns, rows int) {
	if o.sized || columns != o.columns || rows != o.rows {
		o.lines = nil
	}
	o.columns, o.rows, o.sized = columns, rows, true
}

// draw writes the lines of the frame that are not on the screen. A terminal that is
// gone tells so by its input.
func (o *Output) draw() {
	lines := strings.Split(o.frame, "\n")
	lines = lines[:min(len(lines), max(o.rows, 1))]
	var b strings.Builder
	for i, line := range lines {
		if i < len(o.lines) && o.lines[i] == line {
			continue
		}
		b.WriteString(ansi.CursorPosition(1, i+1) + line)
		if ansi.StringWidth(line) < o.columns { // else the cursor stands on the last cell
			b.WriteString(ansi.EraseLineRight)
		}
	}
	if below := len(lines); below < o.rows && below != len(o.lines) {
		b.WriteString(ansi.CursorPosition(1, below+1) + ansi.EraseScreenBelow)
	}
	if b.Len() > 0 {
		b.WriteString(ansi.CursorPosition(1, len(lines))) // as Bubble Tea leaves it: tells that the frame is whole
		_, _ = o.File.WriteString(b.String())
	}
	o.lines = lines
}

// Drawn is a model whose frames are on the terminal as soon as it has changed, and of
// which nothing is written where they have not.
type Drawn struct {
	tea.Model
	Out *Output
}

// Update also takes a size of the terminal, after which nobody knows what is on it.
func (d Drawn) Update(msg tea.Msg) (tea.Model, tea.Cmd) {
	if size, ok := msg.(tea.WindowSizeMsg); ok {
		d.Out.resized(size.Width, size.Height)
	}
	next, cmd := d.Model.Update(msg)
	return Drawn{next, d.Out}, cmd
}

// View draws; for Bubble Tea itself there is nothing to draw.
func (d Drawn) View() string {
	d.Out.frame = d.Model.View()
	d.Out.draw()
	return ""
}
