// This file holds what a person does at the keyboard: keys, typing, pasting.

//go:build unix

package screen

import (
	"strings"
	"time"

	"github.com/charmbracelet/x/ansi"
)

// Key is what a terminal sends for one key press, by the table "PC-Style
// Function Keys" and "VT220-Style Function Keys" of XTerm Control Sequences
// (invisible-island.net/xterm/ctlseqs/ctlseqs.html), with cursor keys in
// normal mode.
type Key string

const (
	Enter     Key = "\r"
	Esc       Key = "\x1b"
	Tab       Key = "\t"
	ShiftTab  Key = "\x1b[Z"
	Space     Key = " "
	Backspace Key = "\x7f"
	Up        Key = "\x1b[A"
	Down      Key = "\x1b[B"
	Right     Key = "\x1b[C"
	Left      Key = "\x1b[D"
	Home      Key = "\x1b[H"
	End       Key = "\x1b[F"
	Insert    Key = "\x1b[2~"
	Delete    Key = "\x1b[3~"
	PgUp      Key = "\x1b[5~"
	PgDn      Key = "\x1b[6~"

	CtrlA Key = "\x01"
	CtrlC Key = "\x03" // a byte in raw mode; SIGINT before and after
	CtrlD Key = "\x04"
	CtrlE Key = "\x05"
	CtrlK Key = "\x0b"
	CtrlL Key = "\x0c"
	CtrlR Key = "\x12"
	CtrlS Key = "\x13"
	CtrlU Key = "\x15"
	CtrlW Key = "\x17"
	CtrlX Key = "\x18"
	CtrlZ Key = "\x1a" // a byte in raw mode; the package comment says why nothing stops

	F1  Key = "\x1bOP"
	F2  Key = "\x1bOQ"
	F3  Key = "\x1bOR"
	F4  Key = "\x1bOS"
	F5  Key = "\x1b[15~"
	F6  Key = "\x1b[17~"
	F7  Key = "\x1b[18~"
	F8  Key = "\x1b[19~"
	F9  Key = "\x1b[20~"
	F10 Key = "\x1b[21~"
	F11 Key = "\x1b[23~"
	F12 Key = "\x1b[24~"
)

// handGap is the longest that TypeSlow, and Press after Esc, wait for the
// program to show that it has read a key. A person leaves more.
const handGap = 100 * time.Millisecond

// Press presses one key. After Esc it gives the program a moment, since an
// escape that is read together with the next key is another key (alt).
func (s *Session) Press(k Key) {
	s.t.Helper()
	s.write([]byte(k))
	if k == Esc {
		s.changeWithin(handGap)
	}
}

// Type writes text as one burst, as a fast typist or a script does: the
// program may read it all at once. A line feed is not a key; press Enter.
func (s *Session) Type(text string) {
	s.t.Helper()
	s.write([]byte(text))
}

// TypeSlow writes text rune by rune, and gives the program a moment to show
// each.
func (s *Session) TypeSlow(text string) {
	s.t.Helper()
	for _, r := range text {
		s.write([]byte(string(r)))
		s.changeWithin(handGap)
	}
}

// Paste pastes text as a terminal does: each line end becomes a carriage
// return, and the whole is bracketed if the program has asked for that.
func (s *Session) Paste(text string) {
	s.t.Helper()
	text = strings.NewReplacer("\r\n", "\r", "\n", "\r").Replace(text)
	s.mu.Lock()
	bracketed := s.display.modes[ansi.ModeBracketedPaste]
	s.mu.Unlock()
	if bracketed {
		text = ansi.BracketedPasteStart + text + ansi.BracketedPasteEnd
	}
	s.write([]byte(text))
}

// write sends bytes to the program. It fails the test if the program does not
// read them before the deadline.
func (s *Session) write(p []byte) {
	s.t.Helper()
	if err := s.master.SetWriteDeadline(time.Now().Add(s.o.Deadline)); err != nil {
		s.t.Fatalf("set the deadline of a key press: %v", err)
	}
	if _, err := s.master.Write(p); err != nil {
		s.t.Fatalf("send %q: %v\n%s", p, err, s.portrait())
	}
}
