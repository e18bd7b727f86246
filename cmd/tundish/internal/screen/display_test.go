// This file holds the tests of the screen itself, without a program: what wraps,
// wide characters, marks, and a stream cut at any byte.

//go:build unix

package screen

import (
	"io"
	"slices"
	"strings"
	"testing"

	"pgregory.net/rapid"
)

// shown feeds the chunks to a screen and returns it.
func shown(t rapid.TB, cols, rows int, chunks ...string) *display {
	t.Helper()
	d := newDisplay(cols, rows, false)
	go func() { _, _ = io.Copy(io.Discard, d.emu) }()
	defer d.close()
	for _, c := range chunks {
		d.feed([]byte(c))
	}
	return d
}

// What a terminal shows for a stream. Autowrap with a pending last column:
// VT100 User Guide, DECAWM, and DEC STD 070; cursor moves and erasing: ECMA-48,
// 5th edition, 8.3 (CUP, CUU, ED, EL, DL); widths: Unicode UAX #11. A wide
// character that does not fit goes to the next row: xterm, from memory.
func TestDisplay(t *testing.T) {
	for _, row := range []struct {
		name       string
		cols, rows int
		in         []string
		want       []string
		wraps      []string
	}{
		{"plain", 6, 3, []string{"ab\r\ncd"}, []string{"ab", "cd", ""}, nil},
		{"full row does not wrap", 4, 2, []string{"abcd\r\nef"}, []string{"abcd", "ef"}, nil},
		{"full row, colour, end of line", 4, 2, []string{"abcd\x1b[m\r\nef"}, []string{"abcd", "ef"}, nil},
		{"one too many", 4, 2, []string{"abcde"}, []string{"abcd", "e"}, []string{"abcd"}},
		{"one too many after a colour", 4, 2, []string{"abcd\x1b[1me"}, []string{"abcd", "e"}, []string{"abcd"}},
		{"one too many on the last row", 4, 2, []string{"\nabcde"}, []string{"abcd", "e"}, []string{"abcd"}},
		{"autowrap off", 4, 2, []string{"\x1b[?7labcdef"}, []string{"abcf", ""}, nil},
		{"move off the margin", 4, 2, []string{"abcd\x1b[2Dxy"}, []string{"axyd", ""}, nil},
		{"scroll", 4, 2, []string{"a\r\nb\r\nc"}, []string{"b", "c"}, nil},
		{"scroll by index", 4, 2, []string{"a\r\nb\x1bD"}, []string{"b", ""}, nil},
		{"place and erase", 5, 2, []string{"abcde\x1b[1;3H\x1b[K\x1b[2;2HZ"}, []string{"ab", " Z"}, nil},
		{"delete a row", 5, 3, []string{"a\r\nb\r\nc\x1b[2;1H\x1b[M"}, []string{"a", "c", ""}, nil},
		{"wide", 8, 1, []string{"油é温x"}, []string{"油é温x"}, nil},
		{"wide fills the row", 4, 2, []string{"油温\r\nx"}, []string{"油温", "x"}, nil},
		{"after a wide full row", 4, 2, []string{"油温x"}, []string{"油温", "x"}, []string{"油温"}},
		{"wide does not fit", 3, 2, []string{"油温"}, []string{"油", "温"}, []string{"油"}},
		{"wide in one column", 1, 2, []string{"油"}, []string{"", ""}, nil},
		{"half of a wide one overwritten", 6, 1, []string{"油温\x1b[1;2Hx"}, []string{" x温"}, nil},
		{"mark", 4, 1, []string{"e\u0301x"}, []string{"e\u0301x"}, nil},
		{"mark in the next read", 4, 1, []string{"e", "\u0301x"}, []string{"e\u0301x"}, nil},
		{"mark at the margin", 2, 2, []string{"ae\u0301"}, []string{"ae\u0301", ""}, nil},
		{"mark after nothing", 4, 1, []string{"\u0301x"}, []string{"x"}, nil},
		{"character cut in two", 4, 1, []string{"\xe6\xb2", "\xb9x"}, []string{"油x"}, nil},
		{"sequence cut in two", 4, 2, []string{"a\x1b[2", ";2Hb"}, []string{"a", " b"}, nil},
		{"end of a query cut in two", 2, 2, []string{"ab\x1b]11;?\x1b", "\\c"}, []string{"ab", "c"}, []string{"ab"}},
		{"title is not text", 8, 1, []string{"\x1b]2;a title\x07x"}, []string{"x"}, nil},
		{"the replacement character is one", 2, 2, []string{"a\ufffdb"}, []string{"a\ufffd", "b"}, []string{"a\ufffd"}},
		{"stray bytes", 4, 1, []string{"a\xffb"}, nil, nil},
		{"alternate screen", 4, 2, []string{"ab\x1b[?1049hcd\x1b[?1049l"}, []string{"ab", ""}, nil},
	} {
		t.Run(row.name, func(t *testing.T) {
			d := shown(t, row.cols, row.rows, row.in...)
			if got := d.rows(); row.want != nil && !slices.Equal(got, row.want) {
				t.Errorf("rows %q, want %q", got, row.want)
			}
			if !slices.Equal(d.wraps, row.wraps) {
				t.Errorf("wraps %q, want %q", d.wraps, row.wraps)
			}
		})
	}
}

func TestDisplayResize(t *testing.T) {
	d := shown(t, 4, 2, "abcd")
	d.resize(8, 2)
	d.feed([]byte("ef"))
	if got := d.rows()[0]; got != "abcdef" {
		t.Errorf("row %q, want abcdef: a wider screen has no pending wrap", got)
	}
}

// pieces a program writes: text of all widths, moves, colours, modes, titles.
var pieces = []string{
	"a", "bc ", "830 ml", "é", "油", "温度", "e\u0301", "█▌", "\r", "\n", "\r\n", "\t", "\b",
	"\x1b[2;3H", "\x1b[H", "\x1b[A", "\x1b[3C", "\x1b[K", "\x1b[J", "\x1b[1;31m", "\x1b[38;2;1;2;3m", "\x1b[0m",
	"\x1b[?25l", "\x1b[?1049h", "\x1b[?1049l", "\x1b]2;title\x07", "\x1b]11;?\x1b\\", "\x1b[6n", "\x1b7", "\x1b8", "\x1bD",
}

// A terminal does not care where the stream is cut into reads.
func TestDisplayIndependentOfCuts(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		stream := strings.Join(rapid.SliceOfN(rapid.SampledFrom(pieces), 1, 60).Draw(t, "stream"), "")
		cols, rows := rapid.IntRange(2, 12).Draw(t, "cols"), rapid.IntRange(1, 5).Draw(t, "rows")
		var chunks []string
		for rest := stream; rest != ""; {
			n := rapid.IntRange(1, len(rest)).Draw(t, "cut")
			chunks, rest = append(chunks, rest[:n]), rest[n:]
		}
		whole, cut := shown(t, cols, rows, stream), shown(t, cols, rows, chunks...)
		if !slices.Equal(whole.rows(), cut.rows()) || !slices.Equal(whole.wraps, cut.wraps) {
			t.Errorf("%q: whole %q %q, cut %q: %q %q", stream, whole.rows(), whole.wraps, chunks, cut.rows(), cut.wraps)
		}
	})
}

// No stream may hang or crash the screen, and it keeps its size.
func FuzzDisplay(f *testing.F) {
	f.Add([]byte("a\xff\x9b\x1b[999999999;;::5m\x1b]x\x1bP\x1b\\"), 3)
	f.Add([]byte(strings.Join(pieces, "")), 5)
	f.Fuzz(func(t *testing.T, stream []byte, cols int) {
		cols = 1 + (cols%40+40)%40
		d := shown(t, cols, 4, string(stream))
		if rows := d.rows(); len(rows) != 4 || d.emu.Width() != cols {
			t.Errorf("%d rows, %d columns", len(rows), d.emu.Width())
		}
	})
}
