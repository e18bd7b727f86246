// This file holds the screen the program writes to: it cuts the byte stream
// into characters and control sequences, gives them to the emulator one at a
// time, and notes what a person would see go wrong (a line running over the
// right margin, the screen scrolling). No processes, no locks.

//go:build unix

package screen

import (
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

	// atMargin: the last character filled the last column, so the next one
	// wraps (the "last column flag" of the VT100). Kept here because the
	// emulator forgets it after a wide character.
	atMargin bool
	last     uv.Position // cell of the last character, for a combining mark that follows
	lastSet  bool

	wraps    []string // each row that ran over, as it was when it did
	scrolls  int      // lines scrolled on the main screen
	altRolls int      // lines scrolled on the alternate screen
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

// replies is what the emulator answers to queries. It must be read all the
// time, since feed blocks until an answer is taken; it ends after close.
func (d *display) replies() io.Reader { return d.emu }

// close ends replies. The emulator's own Close is not used: it races with Read.
func (d *display) close() {
	if c, ok := d.emu.InputPipe().(io.Closer); ok {
		_ = c.Close() // a pipe in memory: closing cannot fail
	}
}

// cursorAtEnd says whether the cursor is at the start of the last row.
func (d *display) cursorAtEnd() bool {
	at := d.emu.CursorPosition()
	return at.X == 0 && at.Y == d.emu.Height()-1
}

// feed writes bytes from the program to the screen. A sequence may be split
// over calls at any byte.
func (d *display) feed(p []byte) {
	b := append(d.tail, p...)
	cut := len(b) - unfinished(b)
	b, part := b[:cut], b[cut:]
	for len(b) > 0 {
		seq, width, n, state := ansi.DecodeSequence(b, ansi.NormalState, nil)
		if state != ansi.NormalState {
			break
		}
		n = max(n, 1) // a stray byte is passed on as it is
		if isControl(seq) {
			d.control(b[:n])
		} else {
			d.print(seq, width)
		}
		b = b[n:]
	}
	d.tail = slices.Concat(b, part)
}

// isControl says whether a piece of the stream is not a character: C0, DEL,
// C1, a sequence that begins with one of them, or not UTF-8.
func isControl(seq []byte) bool {
	r, size := utf8.DecodeRune(seq)
	return r < ' ' || r >= 0x7f && r < 0xa0 || r == utf8.RuneError && size <= 1
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

// print shows one character (a grapheme cluster) of the given width in columns.
func (d *display) print(seq []byte, width int) {
	if width == 0 {
		d.combine(seq)
		return
	}
	at := d.emu.CursorPosition()
	if (d.atMargin || at.X+width > d.emu.Width()) && d.wrapsAround() && width <= d.emu.Width() {
		d.wraps = append(d.wraps, d.row(at.Y))
		d.control([]byte("\r"))
		d.control([]byte("\n"))
		at = d.emu.CursorPosition()
	}
	_, _ = d.emu.Write(seq) // fails only after Close, which is never called
	d.last, d.lastSet = at, true
	d.atMargin = at.X+width >= d.emu.Width() && d.wrapsAround()
}

// combine adds a mark of no width (an accent, a variation selector) to the
// character before it. A mark with nothing before it is dropped.
func (d *display) combine(mark []byte) {
	if !d.lastSet {
		return
	}
	if c := d.emu.CellAt(d.last.X, d.last.Y); c != nil {
		joined := *c
		joined.Content += string(mark)
		d.emu.SetCell(d.last.X, d.last.Y, &joined)
	}
}

// control passes on a control character or sequence. A line feed that leaves
// the cursor where it was has scrolled the screen.
func (d *display) control(seq []byte) {
	before := d.emu.CursorPosition()
	_, _ = d.emu.Write(seq)
	if isLineFeed(seq) && d.emu.CursorPosition().Y == before.Y {
		if d.emu.IsAltScreen() {
			d.altRolls++
		} else {
			d.scrolls++
		}
	}
	if !keepsMargin(seq) {
		d.atMargin, d.lastSet = false, false
	}
}

func isLineFeed(seq []byte) bool {
	switch string(seq) {
	case "\n", "\v", "\f", "\x1bD", "\x1bE":
		return true
	}
	return false
}

// keepsMargin says whether a sequence leaves the cursor at the margin: colours,
// modes and operating system commands do, anything that moves or erases does not.
func keepsMargin(seq []byte) bool {
	if strings.HasPrefix(string(seq), "\x1b]") || string(seq) == "\a" {
		return true
	}
	final := seq[len(seq)-1]
	return strings.HasPrefix(string(seq), "\x1b[") && (final == 'm' || final == 'h' || final == 'l' || final == 'n')
}

// wrapsAround says whether autowrap (DECAWM) is on, as it is until reset.
func (d *display) wrapsAround() bool {
	on, set := d.modes[ansi.ModeAutoWrap]
	return on || !set
}

func (d *display) resize(cols, rows int) {
	d.emu.Resize(cols, rows)
	d.atMargin, d.lastSet = false, false
}

// row returns one row of text without the blanks at its end.
func (d *display) row(y int) string {
	var b strings.Builder
	for x := range d.emu.Width() {
		c := d.emu.CellAt(x, y)
		switch {
		case c == nil || c.Width == 0 && c.Content == "": // right half of a wide character
		case c.Content == "":
			b.WriteByte(' ')
		default:
			b.WriteString(c.Content)
		}
	}
	return strings.TrimRight(b.String(), " ")
}

func (d *display) rows() []string {
	out := make([]string, d.emu.Height())
	for y := range out {
		out[y] = d.row(y)
	}
	return out
}

// leftovers names what the program has switched on and not off again.
func (d *display) leftovers() []string {
	var left []string
	add := func(name string, on bool) {
		if on {
			left = append(left, name)
		}
	}
	cursor, set := d.modes[ansi.ModeTextCursorEnable]
	add("alternate screen", d.emu.IsAltScreen())
	add("hidden cursor", set && !cursor)
	add("no autowrap", !d.wrapsAround())
	add("bracketed paste", d.modes[ansi.ModeBracketedPaste])
	add("focus reports", d.modes[ansi.ModeFocusEvent])
	add("mouse reports", d.modes[ansi.ModeMouseNormal] || d.modes[ansi.ModeMouseButtonEvent] || d.modes[ansi.ModeMouseAnyEvent])
	return left
}
