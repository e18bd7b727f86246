// Package lines reads lines as they come, so that a clock can be heard while one is
// waited for.
package lines

import (
	"bufio"
	"errors"
	"io"
	"strings"
)

// Most is the longest line that is read, bytes.
const Most = 1 << 16

// Line is one line without its end and outer space. Of one that is longer than Most
// nothing is kept but that it was.
type Line struct {
	Text    string
	TooLong bool
}

// Of reads lines until the input ends, or done is closed. The channel is closed at the
// end, of which ended then tells the cause: io.EOF, or the input's error.
func Of(in io.Reader, done <-chan struct{}) (read <-chan Line, ended func() error) {
	lines := make(chan Line)
	cause := io.EOF
	go func() {
		defer close(lines)
		for r := bufio.NewReaderSize(in, Most); ; {
			line, err := next(r)
			if err != nil && line == (Line{}) {
				cause = err
				return
			}
			select {
			case lines <- line:
			case <-done:
				return
			}
		}
	}()
	return lines, func() error { return cause }
}

// next reads a line; the last may lack its end.
func next(r *bufio.Reader) (Line, error) {
	part, err := r.ReadSlice('\n')
	if !errors.Is(err, bufio.ErrBufferFull) {
		return Line{Text: strings.TrimSpace(string(part))}, err
	}
	for errors.Is(err, bufio.ErrBufferFull) {
		_, err = r.ReadSlice('\n')
	}
	return Line{TooLong: true}, err
}
