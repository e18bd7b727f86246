package tty

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"pgregory.net/rapid"
)

const (
	white = "\x1b]11;rgb:ffff/ffff/ffff\x1b\\"
	black = "\x1b]11;rgb:0000/0000/0000\a"
)

// The forms of an answer and of keys are those of XTerm Control Sequences.
func TestKeysAndAnswersComeApart(t *testing.T) {
	for _, row := range []struct{ name, stream, keys, answer string }{
		{"nothing but keys", "830\r", "830\r", ""},
		{"answer ended by ST", white, "", "rgb:ffff/ffff/ffff"},
		{"answer ended by BEL", black, "", "rgb:0000/0000/0000"},
		{"answer between keys", "83" + white + "0\r", "830\r", "rgb:ffff/ffff/ffff"},
		{"Esc and arrows", "\x1b\x1b[A\x1b[B", "\x1b\x1b[A\x1b[B", ""},
		{"Esc before an answer", "\x1b" + black + "1", "\x1b1", "rgb:0000/0000/0000"},
		{"another answer", "\x1b]10;rgb:ffff/ffff/ffff\a", "\x1b]10;rgb:ffff/ffff/ffff\a", ""},
		{"the start of one, then a key", "\x1b]11;rgb\r5", "\x1b]11;rgb\r5", ""},
		{"the start of one, then an arrow", "\x1b]11;rgb\x1b[A", "\x1b]11;rgb\x1b[A", ""},
		{"no end", "\x1b]11;" + strings.Repeat("f", maxAnswer), "\x1b]11;" + strings.Repeat("f", maxAnswer), ""},
		{"a start within a start", "\x1b]11;\x1b]11;rgb:1/1/1\a", "\x1b]11;", "rgb:1/1/1"},
	} {
		for cut := range len(row.stream) + 1 {
			if cut > 0 && row.stream[cut-1] == '\x1b' && strings.HasPrefix(row.stream[cut:], "]11;") {
				continue // a lone ESC is a key
			}
			if keys, answer := passed([]byte(row.stream[:cut]), []byte(row.stream[cut:])); keys != row.keys || answer != row.answer {
				t.Errorf("%s, cut at %d: keys %q and answer %q, want %q and %q", row.name, cut, keys, answer, row.keys, row.answer)
			}
		}
	}
}

// passed sends pieces through a sieve.
func passed(pieces ...[]byte) (keys, answer string) {
	var s sieve
	for _, piece := range pieces {
		got, a := s.pass(piece)
		keys += string(got)
		answer += a
	}
	return keys, answer
}

// Whatever comes, in whatever pieces, what is passed on is the stream less its
// answers, as a regular expression finds them, and less the beginning of one
// that may still come.
func FuzzNoKeyIsLost(f *testing.F) {
	answer := regexp.MustCompile(`\x1b\]11;([!-~]{0,57})(\x07|\x1b\\)`)
	f.Add([]byte("83"+white+"0\r"), uint8(7))
	f.Add([]byte("\x1b]11;\x1b]11;x\x1b"), uint8(2))
	f.Fuzz(func(t *testing.T, stream []byte, size uint8) {
		var s sieve
		var keys []byte
		for piece := range slices.Chunk(stream, int(size)+1) {
			if len(piece) > 1 && piece[len(piece)-1] == '\x1b' || len(piece) == 1 && piece[0] == '\x1b' && len(s.held) == 0 {
				return // a lone ESC is a key
			}
			got, _ := s.pass(piece)
			keys = append(keys, got...)
			if len(s.held) > maxAnswer {
				t.Fatalf("%d bytes held back", len(s.held))
			}
		}
		keys = append(keys, s.held...)
		if want := answer.ReplaceAll(stream, nil); !bytes.Equal(keys, want) {
			t.Errorf("keys %q of %q, want %q", keys, stream, want)
		}
	})
}

// Split however it is, an answer between keys is found.
func TestAnswerInPieces(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		digits := rapid.StringMatching(`[0-9.,+/*@ a-z\r]{0,40}`)
		before, after := digits.Draw(t, "before"), digits.Draw(t, "after")
		stream := []byte(before + rapid.SampledFrom([]string{white, black}).Draw(t, "answer") + after)
		var s sieve
		var keys []byte
		heard := 0
		for len(stream) > 0 {
			n := rapid.IntRange(1, len(stream)).Draw(t, "piece")
			if stream[n-1] == '\x1b' && n < len(stream) {
				n++ // a lone ESC is a key
			}
			got, answer := s.pass(stream[:n])
			keys, stream = append(keys, got...), stream[n:]
			if answer != "" {
				heard++
			}
		}
		if string(keys) != before+after || heard != 1 {
			t.Fatalf("keys %q, %d answers; want %q, 1", keys, heard, before+after)
		}
	})
}

// Relative luminance and contrast are those of WCAG 2.2; #767676 is the grey
// that is known as the lightest with 4.5:1 on white, so black is nearer to it
// (4.62:1) than white is (4.54:1).
func TestDarkness(t *testing.T) {
	for _, row := range []struct {
		text     string
		dark, ok bool
	}{
		{"rgb:0000/0000/0000", true, true},
		{"rgb:ffff/ffff/ffff", false, true},
		{"rgb:fdfd/f6f6/e3e3", false, true},
		{"rgb:00/2b/36", true, true},
		{"rgb:7676/7676/7676", false, true},
		{"rgb:7070/7070/7070", true, true},
		{"rgba:ffff/ffff/ffff/ffff", false, true},
		{"#ffffff", false, true},
		{"", false, false},
		{"?", false, false},
		{"rgb:1/2", false, false},
	} {
		if dark, ok := darkness(row.text); dark != row.dark || ok != row.ok {
			t.Errorf("%q: dark %v, %v; want %v, %v", row.text, dark, ok, row.dark, row.ok)
		}
	}
}

func TestInputHearsTheAnswer(t *testing.T) {
	far, near, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer far.Close()
	var heard []bool
	in := &Input{File: far, Heard: func(dark bool) { heard = append(heard, dark) }}
	if _, err := near.WriteString("8" + white + "3"); err != nil {
		t.Fatal(err)
	}
	near.Close()
	keys, err := io.ReadAll(in)
	if err != nil || string(keys) != "83" || len(heard) != 1 || heard[0] {
		t.Errorf("keys %q, heard %v, %v; want 83, one light", keys, heard, err)
	}
}

// counted is a model that draws its number under a line that stays.
type counted int

func (c counted) Init() tea.Cmd                           { return nil }
func (c counted) Update(msg tea.Msg) (tea.Model, tea.Cmd) { return c + 1, nil }
func (c counted) View() string                            { return fmt.Sprintf("stays\n%d", c/2) }

// What is written to the terminal is the question and the frame when the screen has been
// cleared, then what has changed, and after a new size all of it.
func TestWhatIsDrawn(t *testing.T) {
	far, near, err := os.Pipe()
	if err != nil {
		t.Fatal(err)
	}
	defer far.Close()
	out := NewOutput(near, "?", "one\ntwo", 5, 3)
	want := ""
	for _, piece := range []string{"\x1b[?1049h", "\x1b[2J", "\x1b[H"} {
		if n, err := io.WriteString(out, piece); n != len(piece) || err != nil {
			t.Fatalf("%d bytes of %q written, %v", n, piece, err)
		}
		want += piece
	}
	want += "?\x1b[Hone\x1b[K\x1b[2;1Htwo\x1b[K\x1b[3;1H\x1b[J\x1b[2;1H"
	if n, err := out.Write([]byte("Bubble Tea's own")); n != len("Bubble Tea's own") || err != nil {
		t.Errorf("%d bytes of a frame taken, %v", n, err)
	}
	var m tea.Model = Drawn{counted(0), out}
	for _, step := range []struct {
		msg  tea.Msg
		want string
	}{
		{nil, "\x1b[Hstays\x1b[2;1H0\x1b[K\x1b[2;1H"}, // 5 columns are full: nothing is erased behind them
		{nil, "\x1b[2;1H1\x1b[K\x1b[2;1H"},
		{tea.WindowSizeMsg{Width: 5, Height: 3}, ""}, // as was known
		{tea.WindowSizeMsg{Width: 6, Height: 3}, "\x1b[Hstays\x1b[K\x1b[2;1H2\x1b[K\x1b[3;1H\x1b[J\x1b[2;1H"},
		{tea.WindowSizeMsg{Width: 6, Height: 1}, "\x1b[Hstays\x1b[K\x1b[H"},
	} {
		if m, _ = m.Update(step.msg); m.View() != "" {
			t.Error("Bubble Tea is given something to draw")
		}
		want += step.want
	}
	if _, err := io.WriteString(out, "\x1b[H"); err != nil {
		t.Fatal(err)
	}
	want += "\x1b[H\x1b[Hstays\x1b[K\x1b[H"
	near.Close()
	if got, err := io.ReadAll(far); err != nil || string(got) != want {
		t.Errorf("written %q, %v\nwant    %q", got, err, want)
	}
}

func TestWhoIsAsked(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("on Windows nobody is")
	}
	for term, want := range map[string]bool{
		"xterm-256color": true, "tmux-256color": true, "alacritty": true, "": false, "dumb": false, "linux": false,
		"vt220": false, "screen.xterm-256color": false,
	} {
		if got := Answers(term); got != want {
			t.Errorf("TERM=%q is asked: %v, want %v", term, got, want)
		}
	}
}

// However it is split, a paste is open between its marks, and ended after silence alone.
func TestPasteIsEndedAfterSilence(t *testing.T) {
	for _, row := range []struct {
		name, stream string
		open         bool
	}{
		{"keys", "830\r", false},
		{"begun", "8" + pasteStart + "30", true},
		{"ended", pasteStart + "30" + pasteEnd + "\r", false},
		{"begun twice", pasteStart + pasteStart + pasteEnd, false},
		{"another one begun", pasteStart + "1" + pasteEnd + "2" + pasteStart, true},
		{"an end alone", pasteEnd + "1", false},
	} {
		for cut := range len(row.stream) + 1 {
			for _, silent := range []bool{false, true} {
				var p paste
				p.see([]byte(row.stream[:cut]))
				asked := time.Duration(0)
				got := string(p.ended([]byte(row.stream[cut:]), func(within time.Duration) bool { asked = within; return !silent }))
				want := row.stream[cut:]
				if row.open && silent {
					want += pasteEnd
				}
				if got != want || (asked == 2*time.Second) != row.open || p.open != (row.open && !silent) {
					t.Errorf("%s, cut at %d, silent %v: %q after %v, open %v", row.name, cut, silent, got, asked, p.open)
				}
			}
		}
	}
}
