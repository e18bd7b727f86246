package tui

// This file presses keys at random for a long time.

import (
	"os"
	"slices"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"
	"pgregory.net/rapid"

	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
	"garage/tundish/model/text"
	"garage/tundish/testdata/runs"
	"garage/tundish/tui/session/sessiontest"
)

// soakEvents is how many events one random walk has.
const soakEvents = 500

// Whatever is pressed, pasted or resized, the screens do not panic, lose no entry
// that was accepted, confirm no caution but by its digit, and never draw past the
// terminal.
func TestSoak(t *testing.T) {
	walks := 1
	if os.Getenv("TUNDISH_LONG") != "" {
		walks = 9
	}
	for walk := range walks {
		soak(t, rapid.SliceOfN(event(), soakEvents, soakEvents).Example(walk+1))
	}
}

// The same for short walks that rapid can make smaller.
func TestSoakShort(t *testing.T) {
	runs.Check(t, 40, func(rt *rapid.T) {
		soak(t, rapid.SliceOfN(event(), 1, 60).Draw(rt, "events"))
	})
}

// happening is something that can happen; digit is the character that it presses, 0
// where that is none or more than one.
type happening struct {
	do    func(*stage)
	digit rune
}

func soak(t *testing.T, events []happening) {
	t.Helper()
	mem := sessiontest.NewMemory()
	st := newStage(t, mem, 80, 24)
	st.slow = time.Minute
	longest := map[string]int{}
	for i, e := range events {
		was := st.app.job
		e.do(st)
		for id, j := range mem.Jobs {
			if len(j.Entries) < longest[id] {
				t.Fatalf("event %d: job %s has %d entries, it had %d", i, id, len(j.Entries), longest[id])
			}
			for _, entry := range j.Entries[longest[id]:] {
				if l, ok := was.line(); entry.Topic.Info().Kind == job.Acknowledge && guarded(entry.Topic) &&
					(!ok || l.Kind == sheet.Confirm && l.Key != e.digit && e.digit != anyDigit) {
					t.Fatalf("event %d, %q: %v was confirmed\n%s", i, e.digit, entry.Topic, st.screen())
				}
			}
			longest[id] = len(j.Entries)
			if err := j.Check(); err != nil {
				t.Fatalf("event %d: %v", i, err)
			}
		}
		if i%7 == 0 {
			st.fits()
			st.saysHowTheUnitIs()
		}
		if st.out { // left: start again, as an owner would
			st = newStage(t, mem, st.app.width, st.app.height)
			st.slow = time.Minute
		}
	}
	st.fits()
}

// guarded are the cautions: what is on offer with a sheet, and is acknowledged by it
// being complete, is none.
func guarded(topic job.Topic) bool {
	return !slices.Contains([]job.Topic{job.AtHand, job.PlanAccepted, job.Undo}, topic)
}

// fits checks that nothing is drawn past the terminal.
func (st *stage) fits() {
	st.t.Helper()
	rows := strings.Split(st.app.View(), "\n")
	if len(rows) > max(st.app.height, 1) {
		st.t.Fatalf("%d rows on %d", len(rows), st.app.height)
	}
	for _, r := range rows {
		if text.Width(r) > st.app.width {
			st.t.Fatalf("%d columns on %d: %q", text.Width(r), st.app.width, ansi.Strip(r))
		}
	}
}

// saysHowTheUnitIs checks that whatever lies over the job, the screen says the state
// of the unit.
func (st *stage) saysHowTheUnitIs() {
	st.t.Helper()
	if st.app.screen == screenJob && st.app.fatal == nil && st.app.width >= 15 {
		want := st.state().UnitState().String()
		if left := st.state().StateWords(); strings.HasPrefix(left, "LEFT ") { // low or high
			want = left
		}
		st.sees(want)
	}
}

// event draws something that can happen. Answering properly is likely enough for a
// walk to get to the later sheets.
func event() *rapid.Generator[happening] {
	keys := []tea.KeyType{
		tea.KeyEnter, tea.KeyEsc, tea.KeyUp, tea.KeyDown, tea.KeyPgUp, tea.KeyPgDown, tea.KeyTab, tea.KeyBackspace,
		tea.KeyDelete, tea.KeyLeft, tea.KeyRight, tea.KeyHome, tea.KeyEnd, tea.KeyF1, tea.KeyF2, tea.KeyF3, tea.KeyCtrlJ, tea.KeyCtrlU,
		tea.KeySpace, tea.KeyCtrlC,
	}
	return rapid.Custom(func(rt *rapid.T) happening {
		switch n := rapid.IntRange(0, 20).Draw(rt, "kind"); {
		case n < 10:
			return happening{properAnswer, anyDigit}
		case n < 13:
			r := rapid.SampledFrom([]rune("0123456789*/?+.-x漢")).Draw(rt, "key")
			return happening{func(st *stage) { st.typed(string(r)) }, r}
		case n < 14:
			s := rapid.SampledFrom([]string{"550", "600-680", "1,5", "500+330", "830@60", "905 g", "é漢字"}).Draw(rt, "text")
			return happening{func(st *stage) { st.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(s)}) }, anyDigit}
		case n < 16:
			k := rapid.SampledFrom(keys).Draw(rt, "special")
			return happening{func(st *stage) { st.press(k) }, 0}
		case n == 16:
			w, h := rapid.IntRange(1, 200).Draw(rt, "w"), rapid.IntRange(1, 70).Draw(rt, "h")
			return happening{func(st *stage) { st.send(tea.WindowSizeMsg{Width: w, Height: h}) }, 0}
		case n == 17:
			s := rapid.StringN(0, 400, -1).Draw(rt, "pasted")
			return happening{func(st *stage) { st.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(s), Paste: true}) }, 0}
		case n == 18:
			d := time.Duration(rapid.IntRange(0, 20000).Draw(rt, "seconds")) * time.Second
			return happening{func(st *stage) { st.clock(d) }, 0}
		case n == 19:
			x, y := rapid.IntRange(-1, 120).Draw(rt, "x"), rapid.IntRange(-1, 50).Draw(rt, "y")
			return happening{func(st *stage) {
				st.send(tea.MouseMsg{X: x, Y: y, Button: tea.MouseButtonLeft, Action: tea.MouseActionPress})
			}, 0}
		}
		return happening{func(st *stage) { st.send(HangupMsg{}) }, 0}
	})
}

// anyDigit stands for the proper digit, whichever that is.
const anyDigit = -1

// properAnswer answers what is on the screen, whatever lies over it.
func properAnswer(st *stage) {
	switch g := st.app.job; {
	case st.app.overlay != nil:
		st.press(tea.KeyEsc)
	case st.app.screen == screenPicking:
		st.enter()
	case st.app.screen != screenJob || !g.on:
	case len(g.asked) > 0:
		st.typed("1")
	case g.seen == asWorth:
		st.typed("/")
	default:
		if g.field.Text != "" {
			st.press(tea.KeyCtrlU)
		}
		if l, ok := g.line(); ok && (l.Standing != sheet.Open || isRun(l)) {
			st.enter()
			return
		}
		st.answer()
	}
}
