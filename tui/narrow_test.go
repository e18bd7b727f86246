package tui

// This file tests that styles and widths go together.

import (
	"strings"
	"testing"
	"time"

	"github.com/charmbracelet/x/ansi"

	"garage/tundish/model/sheet"
	"garage/tundish/tui/session/sessiontest"
	"garage/tundish/tui/theme"
)

// Colours change nothing of what is read: each frame of a job says the same with and
// without them, half-typed fields too.
func TestColoursChangeNoWord(t *testing.T) {
	st := newStage(t, sessiontest.NewMemory(), minWidth, minHeight)
	st.slow = 9 * time.Minute
	frames := 0
	same := func() {
		t.Helper()
		plain := st.app
		plain.theme = theme.New(theme.Options{})
		for _, look := range []theme.Options{{Colour: theme.TrueColour, Dark: true}, {Colour: theme.ANSI16}, {Colour: theme.NoColour}} {
			coloured := st.app
			coloured.theme = theme.New(look)
			if got, want := ansi.Strip(coloured.View()), plain.View(); strings.TrimRight(got, " ") != strings.TrimRight(want, " ") {
				t.Fatalf("%v:\n%s\nwithout:\n%s", look.Colour, got, want)
			}
		}
		frames++
	}
	for st.app.job.on && st.app.job.sheet.ID != sheet.Later {
		same()
		if l, ok := st.app.job.line(); ok && l.Kind == sheet.Reading && !isRun(l) {
			for _, topic := range l.Topics() {
				if said := st.typing[topic]; said != "" {
					st.typed(said)
					same()
					st.typed("*")
				}
			}
		}
		st.answer()
	}
	if frames < 40 {
		t.Errorf("%d frames compared", frames)
	}
}
