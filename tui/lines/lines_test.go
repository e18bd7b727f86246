package lines

import (
	"errors"
	"io"
	"strings"
	"testing"
	"testing/iotest"
)

func TestLines(t *testing.T) {
	long := strings.Repeat("x", Most+1)
	broken := errors.New("broken")
	for _, c := range []struct {
		name  string
		in    io.Reader
		want  []Line
		cause error
	}{
		{"nothing", strings.NewReader(""), nil, io.EOF},
		{"two", strings.NewReader("a\r\n b \n"), []Line{{Text: "a"}, {Text: "b"}}, io.EOF},
		{"empty ones", strings.NewReader("\n\na\n"), []Line{{}, {}, {Text: "a"}}, io.EOF},
		{"no end", strings.NewReader("a\nb"), []Line{{Text: "a"}, {Text: "b"}}, io.EOF},
		{"too long", strings.NewReader("a\n" + long + "\nb\n"), []Line{{Text: "a"}, {TooLong: true}, {Text: "b"}}, io.EOF},
		{"byte by byte", iotest.OneByteReader(strings.NewReader("ab\nc\n")), []Line{{Text: "ab"}, {Text: "c"}}, io.EOF},
		{"an error", io.MultiReader(strings.NewReader("a\n"), iotest.ErrReader(broken)), []Line{{Text: "a"}}, broken},
	} {
		t.Run(c.name, func(t *testing.T) {
			read, ended := Of(c.in, nil)
			var got []Line
			for line := range read {
				got = append(got, line)
			}
			if len(got) != len(c.want) {
				t.Fatalf("read %d lines, want %d", len(got), len(c.want))
			}
			for i := range got {
				if got[i] != c.want[i] {
					t.Errorf("line %d is %+v, want %+v", i, got[i], c.want[i])
				}
			}
			if err := ended(); !errors.Is(err, c.cause) {
				t.Errorf("ended with %v, want %v", err, c.cause)
			}
		})
	}
}

// A reader that is not listened to any more ends at its next line.
func TestDoneEndsTheReading(t *testing.T) {
	done := make(chan struct{})
	read, _ := Of(strings.NewReader("a\nb\nc\n"), done)
	<-read
	close(done)
	for range read { // ends, or the test does not
	}
}
