// This file holds the screen the program writes to: it cuts the byte stream
// into characters and control sequences, gives them to the emulator one at a
// time, and notes each line that ran over the right margin. No processes, no
// locks.

//go:build unix

package screen

import (
	"bytes"
	"image/color"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	uv "github.com/charmbracelet/ultraviolet"
	"github.com/charmbracelet/x/ansi"
	"github.com/charmbracelet/x/vt"
)

// display is an emulated terminal screen. It is not safe for use by several
// goroutines; Session guards it.
type display struct {
	emu   *vt.Emulator
	modes map[ansi.Mode]bool // only the modes the program has set or reset
	tail  []byte             // start of a sequence or character whose rest has not come yet
	wraps []string           // each row that ran over, as it was when it did
	full  bool               // the last character filled its row, so the next one wraps: the emulator forgets it after a wide one
	last  *uv.Cell           // the last character, for a combining mark that follows
}

// newDisplay returns a blank screen. A light one tells a program that asks
// that its background is white and its text black.
func newDisplay(cols, rows int, light bool) *display {
	d := &display{emu: vt.NewEmulator(cols, rows), modes: map[ansi.Mode]bool{}}
	if light {
		d.emu.SetDefaultBackgroundColor(color.White)
		d.emu.SetDefaultForegroundColor(color.Black)
	}
	d.emu.SetCallbacks(vt.Callbacks{
		EnableMode:  func(m ansi.Mode) { d.modes[m] = true },
		DisableMode: func(m ansi.Mode) { d.modes[m] = false },
	})
	return d
}

// close ends the emulator's answers to queries. Its own Close is not used: it races
// with Read.
func (d *display) close() {
	if c, ok := d.emu.InputPipe().(io.Closer); ok {
		_ = c.Close() // a pipe in memory: closing cannot fail
	}
}

// feed writes bytes from the program to the screen. A sequence may be split
// over calls at any byte.
func (d *display) feed(p []byte) {
	b := append(d.tail, p...)
	cut := len(b) - unfinished(b)
	b, part := b[:cut], b[cut:]
	for len(b) > 0 {
		_, width, n, state := ansi.DecodeSequence(b, ansi.NormalState, nil)
		if state != ansi.NormalState {
			break
		}
		n = max(n, 1) // a stray byte is passed on as it is
		d.write(b[:n], width)
		b = b[n:]
	}
	d.tail = slices.Concat(b, part)
}

// write shows one character of the given width in columns, adds a mark, which
// has none, to the character before it, or obeys a control sequence.
func (d *display) write(seq []byte, width int) {
	at, cols := d.emu.CursorPosition(), d.emu.Width()
	on, set := d.modes[ansi.ModeAutoWrap]
	wraps := (on || !set) && width <= cols
	r, size := utf8.DecodeRune(seq)
	switch {
	case width > 0:
		if wraps && (d.full || at.X+width > cols) {
			d.wraps = append(d.wraps, d.rows()[at.Y])
			_, _ = d.emu.Write([]byte("\r\n")) // fails only after Close, which is never called
			at = d.emu.CursorPosition()
		}
		_, _ = d.emu.Write(seq)
		d.full, d.last = wraps && at.X+width >= cols, d.emu.CellAt(at.X, at.Y)
	case r >= 0xa0 && (r != utf8.RuneError || size > 1):
		if d.last != nil {
			d.last.Content += string(seq)
		}
	default:
		_, _ = d.emu.Write(seq)
		d.full = d.full && bytes.ContainsAny(seq[len(seq)-1:], "mhln\a\\") // colours, modes and queries move nothing
	}
}

// unfinished returns how many bytes at the end of b may mean something else
// with the bytes that follow: the beginning of a character, or an escape (which
// inside a sequence may begin the end of it).
func unfinished(b []byte) int {
	if len(b) > 0 && b[len(b)-1] == ansi.ESC {
		return 1
	}
	for n := 1; n < utf8.UTFMax && n <= len(b); n++ {
		if end := b[len(b)-n:]; utf8.RuneStart(end[0]) {
			if utf8.FullRune(end) {
				return 0
			}
			return n
		}
	}
	return 0
}

func (d *display) resize(cols, rows int) {
	d.emu.Resize(cols, rows)
	d.full, d.last = false, nil
}

// cells are the rows of the screen, one cell a column; that of the right half
// of a wide character is empty.
func (d *display) cells() [][]uv.Cell {
	rows := make([][]uv.Cell, d.emu.Height())
	for y := range rows {
		rows[y] = make([]uv.Cell, d.emu.Width())
		for x := range rows[y] {
			rows[y][x] = uv.EmptyCell
			if c := d.emu.CellAt(x, y); c != nil {
				rows[y][x] = *c
			}
		}
	}
	return rows
}

// rows are the rows of text without the blanks at their ends.
func (d *display) rows() []string {
	var out []string
	for _, row := range d.cells() {
		var b strings.Builder
		for _, c := range row {
			if c.Content == "" && c.Width > 0 {
				c.Content = " "
			}
			b.WriteString(c.Content)
		}
		out = append(out, strings.TrimRight(b.String(), " "))
	}
	return out
}

// leftovers names what the program has switched on and not off again.
func (d *display) leftovers() (left []string) {
	cursor, set := d.modes[ansi.ModeTextCursorEnable]
	wrap, wrapSet := d.modes[ansi.ModeAutoWrap]
	for _, mode := range []struct {
		name string
		on   bool
	}{
		{"alternate screen", d.emu.IsAltScreen()},
		{"hidden cursor", set && !cursor},
		{"no autowrap", wrapSet && !wrap},
		{"bracketed paste", d.modes[ansi.ModeBracketedPaste]},
		{"focus reports", d.modes[ansi.ModeFocusEvent]},
		{"mouse reports", d.modes[ansi.ModeMouseNormal] || d.modes[ansi.ModeMouseButtonEvent] || d.modes[ansi.ModeMouseAnyEvent]},
	} {
		if mode.on {
			left = append(left, mode.name)
		}
	}
	return left
}
