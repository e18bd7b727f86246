package tty

// This file takes the terminal's answer out of the keys.

import (
	"bytes"
	"os"
	"runtime"
	"strings"
	"time"

	"github.com/charmbracelet/x/ansi"
	"github.com/lucasb-eyer/go-colorful"
)

// AskBackground asks a terminal for the colour of its background. Nobody waits
// for the answer. Source: XTerm Control Sequences, "Operating System Commands".
const AskBackground = ansi.RequestBackgroundColor

// Answers reports whether a terminal of that name (TERM) can be asked: some
// old ones print what they do not know, and some multiplexers keep it. On
// Windows Bubble Tea reads the console past [Input.Read], answers too.
func Answers(term string) bool {
	if runtime.GOOS == "windows" {
		return false
	}
	for _, mute := range []string{"", "dumb", "linux", "vt", "ansi", "cons", "sun", "screen"} {
		if term == mute || mute != "" && strings.HasPrefix(term, mute) {
			return false
		}
	}
	return true
}

// Input is a terminal for Bubble Tea to read, which hears the answer to
// [AskBackground] and does not pass it on as keys, whenever it comes, and ends a paste
// after which nothing comes.
type Input struct {
	*os.File
	Heard func(dark bool) // called from Read
	sieve sieve
	paste paste
}

// Read gives the keys. It may give none and no error where all that came was
// of the answer.
func (in *Input) Read(p []byte) (int, error) {
	const room = maxAnswer + len(pasteEnd)
	if len(p) <= room {
		return in.File.Read(p) // no room for what may have been held back
	}
	n, err := in.File.Read(p[:len(p)-room])
	keys, answer := in.sieve.pass(p[:n])
	if dark, ok := darkness(answer); ok && in.Heard != nil {
		in.Heard(dark)
	}
	if err == nil {
		keys = in.paste.ended(keys, func(within time.Duration) bool { return comes(in.File, within) })
	}
	return copy(p, keys), err
}

// An answer is ESC ] 11 ; colour, ended by BEL or ST.
const (
	answerStart = "\x1b]11;"
	maxColour   = 57 // characters; some 20 are needed
	maxAnswer   = len(answerStart) + maxColour + 2
)

// sieve takes answers out of a stream of bytes that comes in pieces.
type sieve struct{ held []byte }

// pass gives what of the stream is keys, and the colour of an answer that is
// complete. What may be the beginning of one is held back until it is clear;
// a lone ESC is a key.
func (s *sieve) pass(piece []byte) (keys []byte, answer string) {
	stream := append(s.held, piece...)
	s.held = nil
	for {
		at := bytes.Index(stream, []byte(answerStart))
		if at < 0 {
			at = len(stream) - beginning(stream)
			s.held = bytes.Clone(stream[at:])
			return append(keys, stream[:at]...), answer
		}
		body := stream[at+len(answerStart):]
		size := colour(body)
		end, open := ending(body[size:])
		switch {
		case end > 0 && size <= maxColour:
			keys, answer = append(keys, stream[:at]...), string(body[:size])
			stream = body[size+end:]
		case open && size <= maxColour:
			s.held = bytes.Clone(stream[at:])
			return append(keys, stream[:at]...), answer
		default: // not an answer after all
			keys = append(keys, stream[:at+len(answerStart)]...)
			stream = body
		}
	}
}

// beginning is how many bytes at the end of the stream may be the beginning of
// an answer, from two on.
func beginning(stream []byte) int {
	for n := len(answerStart) - 1; n >= 2; n-- {
		if bytes.HasSuffix(stream, []byte(answerStart[:n])) {
			return n
		}
	}
	return 0
}

// colour measures the printable text that body begins with, one more than
// allowed at most.
func colour(body []byte) (size int) {
	for size < len(body) && size <= maxColour && body[size] > ' ' && body[size] < 0x7f {
		size++
	}
	return size
}

// ending measures the end of an answer at the beginning of rest, 0 where there
// is none; open where it may still come.
func ending(rest []byte) (size int, open bool) {
	switch {
	case bytes.HasPrefix(rest, []byte("\a")):
		return 1, false
	case bytes.HasPrefix(rest, []byte("\x1b\\")):
		return 2, false
	}
	return 0, len(rest) == 0 || string(rest) == "\x1b"
}

// darkness judges a colour as XParseColor writes it: dark where white text
// stands out from it better than black: contrast ratio and relative luminance
// (the Y of XYZ) are those of WCAG 2.2.
func darkness(text string) (dark, ok bool) {
	c := ansi.XParseColor(text)
	if c == nil {
		return false, false
	}
	opaque, _ := colorful.MakeColor(c)
	_, luminance, _ := opaque.Xyz()
	const white, black, flare = 1, 0, 0.05
	return (white+flare)/(luminance+flare) > (luminance+flare)/(black+flare), true
}
