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
	Backspace Key = "\x7f"
	Up        Key = "\x1b[A"
	PgUp      Key = "\x1b[5~"
	CtrlC     Key = "\x03" // a byte in raw mode; SIGINT before and after
	CtrlU     Key = "\x15"
	CtrlZ     Key = "\x1a" // a byte in raw mode; the package comment says why nothing stops
)

// handGap is the longest that TypeSlow, and Press after Esc, wait for the
// program to show that it has read a key. A person leaves more.
const handGap = 100 * time.Millisecond

// Press presses one key. After Esc it gives the program a moment, since an
// escape that is read together with the next key is another key (alt).
func (s *Session) Press(k Key) {
	s.t.Helper()
	s.Type(string(k))
	if k == Esc {
		s.changeWithin(handGap)
	}
}

// TypeSlow writes text rune by rune, and gives the program a moment to show
// each.
func (s *Session) TypeSlow(text string) {
	s.t.Helper()
	for _, r := range text {
		s.Type(string(r))
		s.changeWithin(handGap)
	}
}

// Paste pastes text as a terminal does: each line end becomes a carriage
// return, and the whole is bracketed if the program has asked for that.
func (s *Session) Paste(text string) {
	s.t.Helper()
	text = strings.NewReplacer("\r\n", "\r", "\n", "\r").Replace(text)
	if ask(s, func(d *display) bool { return d.modes[ansi.ModeBracketedPaste] }) {
		text = ansi.BracketedPasteStart + text + ansi.BracketedPasteEnd
	}
	s.Type(text)
}

// Type writes text as one burst, as a fast typist or a script does: the program
// may read it all at once. A line feed is not a key; press Enter. It fails the
// test if the program does not read it before the deadline.
func (s *Session) Type(text string) {
	s.t.Helper()
	if err := s.master.SetWriteDeadline(time.Now().Add(s.o.Deadline)); err != nil {
		s.t.Fatalf("set the deadline of a key press: %v", err)
	}
	if _, err := s.master.WriteString(text); err != nil {
		s.t.Fatalf("send %q: %v\n%s", text, err, s.portrait())
	}
}
