// Package progress shows on a terminal how far a command has come that takes longer than
// a moment, and stops it between two steps where Ctrl-C is pressed. The bar is of plain
// characters, without a control sequence, so that it looks the same on any terminal.
package progress

import (
	"context"
	"fmt"
	"io"
	"os"
	"os/signal"
	"strings"
	"time"

	"golang.org/x/term"

	"garage/tundish/model/text"
)

const (
	quiet    = time.Second            // what is done by then shows nothing
	pace     = 100 * time.Millisecond // between two drawings
	barMost  = 40                     // cells
	barLeast = 10
	echo     = 2 // cells that a terminal writes ^C into
)

// Pause is set by tests alone: each step takes so much longer.
var Pause time.Duration

// Bar is how far a command has come. It is for one goroutine. A nil one shows nothing and
// stops nothing.
type Bar struct {
	words      Words
	to         *os.File // the terminal; nil draws nothing
	full, none string   // a cell
	began      time.Time
	drawn      time.Time
	width      int // of what is drawn now
	interrupts chan os.Signal
}

// Words say what is done.
type Words struct {
	Doing string // while it is done: "reading"
	Of    string // what is counted: "files"
	Then  string // what is true of those, and of the rest, where it is stopped
}

// Start begins. Where to is no terminal nothing is ever written to it. From here to
// [Bar.End] Ctrl-C ends nothing but the next step; a second one ends the program.
func Start(to io.Writer, ascii bool, words Words) *Bar {
	b := &Bar{words: words, full: "█", none: "░", began: time.Now(), interrupts: make(chan os.Signal, 1)}
	if ascii {
		b.full, b.none = "#", "-"
	}
	if f, ok := to.(*os.File); ok && term.IsTerminal(int(f.Fd())) {
		b.to = f
	}
	signal.Notify(b.interrupts, os.Interrupt)
	return b
}

// Stopped is the error of a step after Ctrl-C.
type Stopped struct {
	Done, Total int
	Words       Words
}

// Unwrap has errors.Is tell it wherever the bar is not known.
func (Stopped) Unwrap() error { return context.Canceled }

func (s Stopped) Error() string {
	return fmt.Sprintf("stopped after %d of %d %s; %s", s.Done, s.Total, s.Words.Of, s.Words.Then)
}

// Step says how many are done. The error is [Stopped], where it is to be the last.
func (b *Bar) Step(done, total int) error {
	if b == nil {
		return nil
	}
	time.Sleep(Pause)
	select {
	case <-b.interrupts:
		b.End()
		return Stopped{done, total, b.words}
	default:
	}
	if now := time.Now(); b.to != nil && now.Sub(b.began) >= quiet && now.Sub(b.drawn) >= pace {
		b.drawn = now
		b.draw(done, total)
	}
	return nil
}

// End wipes the bar and lets Ctrl-C end the program.
func (b *Bar) End() {
	if b == nil {
		return
	}
	signal.Stop(b.interrupts)
	b.Wipe()
}

// Wipe takes the bar away until the next step, for a line to be written.
func (b *Bar) Wipe() {
	if b.width > 0 {
		fmt.Fprint(b.to, "\r"+strings.Repeat(" ", b.width+echo)+"\r")
		b.width = 0
	}
}

// draw draws over what was drawn before. On a narrow terminal the bar goes first, then
// words; the last cells stay free, as writing to the very last may begin a new line.
func (b *Bar) draw(done, total int) {
	columns, _, err := term.GetSize(int(b.to.Fd()))
	if err != nil {
		return
	}
	line := b.line(done, total, columns-1-echo)
	width := text.Width(line)
	fmt.Fprint(b.to, "\r"+line+strings.Repeat(" ", max(min(b.width, columns-1-echo)-width, 0)))
	b.width = width
}

func (b *Bar) line(done, total, room int) string {
	count := fmt.Sprintf("%d of %d %s", done, total, b.words.Of)
	cells := min(room-text.Width(b.words.Doing)-text.Width(count)-2, barMost)
	if cells < barLeast || total <= 0 {
		return text.Cut(b.words.Doing+" "+count, max(room, 0), "")
	}
	full := min(done, total) * cells / total
	return b.words.Doing + " " + strings.Repeat(b.full, full) + strings.Repeat(b.none, cells-full) + " " + count
}
