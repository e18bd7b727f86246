// This file holds what can be asked of the screen as it is now: its text, what
// went wrong on it, and what the program left switched on.

//go:build unix

package screen

import (
	"fmt"
	"slices"
	"strings"

	"golang.org/x/term"
)

// Raw returns all bytes the program has written so far.
func (s *Session) Raw() []byte {
	s.mu.Lock()
	defer s.mu.Unlock()
	return slices.Clone(s.raw)
}

// Screen returns the rows of the screen, without the blanks at their ends.
func (s *Session) Screen() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.display.rows()
}

// AltScreen says whether the program shows the alternate screen.
func (s *Session) AltScreen() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.display.emu.IsAltScreen()
}

// Wrapped returns each row that ran over the right margin into the next, as it
// was when it did. None means that everything fitted.
func (s *Session) Wrapped() []string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return slices.Clone(s.display.wraps)
}

// Scrolled returns how many lines were scrolled off the main screen (as any
// command that prints does) and off the alternate one (where it spoils a
// frame). Scrolling a part of the screen on purpose (CSI S, T) is not counted.
func (s *Session) Scrolled() (mainLines, altLines int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.display.scrolls, s.display.altRolls
}

// Forget starts Wrapped and Scrolled from nothing again.
func (s *Session) Forget() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.display.wraps, s.display.scrolls, s.display.altRolls = nil, 0, 0
}

// Leftovers names what the program has changed in the terminal and not put
// back: "alternate screen", "hidden cursor", "no autowrap", "bracketed paste",
// "focus reports", "mouse reports", "raw input". After a clean exit there are none.
func (s *Session) Leftovers() []string {
	s.t.Helper()
	s.mu.Lock()
	defer s.mu.Unlock()
	left := s.display.leftovers()
	now, err := term.GetState(int(s.master.Fd()))
	if err != nil {
		s.t.Fatalf("read the line settings: %v", err)
	}
	if *now != *s.cooked {
		left = append(left, "raw input")
	}
	return left
}

// portrait draws the screen in a frame, for messages.
func (s *Session) portrait() string {
	s.mu.Lock()
	defer s.mu.Unlock()
	var b strings.Builder
	fmt.Fprintf(&b, "+-- %d by %d, ended %t\n", s.display.emu.Width(), s.display.emu.Height(), s.ended)
	for _, row := range s.display.rows() {
		b.WriteString("| " + row + "\n")
	}
	b.WriteString("+--")
	return b.String()
}
