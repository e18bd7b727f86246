package tui

// This file tests what lies over the job, lists, the mouse, and what comes late.

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
	"garage/tundish/testdata/runs"
	"garage/tundish/tui/input"
	"garage/tundish/tui/session/sessiontest"
)

// click clicks on the first row that shows a text, where it stands.
func (st *stage) click(text string) {
	st.t.Helper()
	for y, row := range strings.Split(st.screen(), "\n") {
		if before, _, ok := strings.Cut(row, text); ok {
			st.send(tea.MouseMsg{X: len([]rune(before)) + 1, Y: y, Button: tea.MouseButtonLeft, Action: tea.MouseActionPress})
			return
		}
	}
	st.t.Fatalf("nowhere on the screen: %q\n%s", text, st.screen())
}

// A click on an option of the open line is its digit, on another line turns to it;
// a caution and the verdict take none.
func TestMouseOnASheet(t *testing.T) {
	st := small(t).upToLine(job.DriveKind)
	st.click("2 hybrid")
	if got := st.state().Choice(job.Place{Topic: job.DriveKind}); got != "hybrid" {
		t.Errorf("a click chose %q", got)
	}
	st.click("Which unit?")
	if !hasTopic(st.line(), job.UnitName) {
		t.Errorf("a click turns to %q", st.line().Ask)
	}
	st.click("That figure means") // not before those above it are answered
	if hasTopic(st.line(), job.CapacityMeans) {
		t.Error("a click passed a line that is open")
	}
	for _, at := range []sheet.ID{sheet.Isolate, sheet.Verdict} {
		st := small(t)
		st.slow = 9 * time.Minute
		st.upTo(at)
		before := st.count()
		for y := range 24 {
			for x := 0; x < 80; x += runs.Of(6, 3) {
				st.send(tea.MouseMsg{X: x, Y: y, Button: tea.MouseButtonLeft, Action: tea.MouseActionPress})
			}
		}
		if st.count() != before || st.app.job.sheet.ID != at {
			t.Errorf("%v: clicks answered something", at)
		}
	}
}

func TestMousePointsAtItems(t *testing.T) {
	st := small(t).upToLine(job.MagnetLook)
	st.typed("*")
	st.click("This unit over the years")
	if m, ok := st.app.overlay.(menu); !ok || m.items[m.chosen.At].label != "This unit over the years" {
		t.Errorf("the menu points elsewhere: %+v", st.app.overlay)
	}
	st.click("Correct an earlier answer")
	st.enter()
	c, ok := st.app.overlay.(corrections)
	if !ok {
		t.Fatal("no list of answers")
	}
	st.send(tea.MouseMsg{Button: tea.MouseButtonWheelDown, Action: tea.MouseActionPress})
	if next := st.app.overlay.(corrections).chosen.At; next != c.chosen.At+1 {
		t.Errorf("the wheel went from %d to %d", c.chosen.At, next)
	}
}

// Of the list of answers each leads to its line, by its number.
func TestCorrectionLeadsToItsLine(t *testing.T) {
	st := newStage(t, sessiontest.NewMemory(), minWidth, minHeight).upToLine(job.LoadedAmount)
	e, _ := st.state().Answer(job.Place{Topic: job.Capacity})
	st.typed("*")
	st.typed("1")
	st.enter()
	st.sees("Which answer is wrong?")
	st.typed(fmt.Sprint(e.Seq))
	st.enter()
	if !hasTopic(st.line(), job.Capacity) {
		t.Fatalf("at %q", st.line().Ask)
	}
	st.sees("[600-680 ")
	st.enter()
	if !hasTopic(st.line(), job.LoadedAmount) {
		t.Errorf("Enter goes back to %q", st.line().Ask)
	}
}

// Every item of a list can be pointed at with digits alone, however long it is.
func TestEveryNumberOfAListCanBeTyped(t *testing.T) {
	k := input.NewKeys()
	for _, n := range []int{1, 4, 9, 10, 37, 120} {
		for number := 1; number <= n; number++ {
			p := input.Pointer{At: -1}
			for _, r := range fmt.Sprint(number) {
				msg := tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}}
				if leaves(msg, k) && !p.Awaits(msg, n) {
					t.Fatalf("of %d items, number %d: %c leaves the list", n, number, r)
				}
				p = p.Among(msg, k, n, n, func(number int) int { return number - 1 })
			}
			if p.At != number-1 {
				t.Errorf("of %d items, %d points at index %d", n, number, p.At)
			}
		}
	}
}

func TestPointerStaysInItsList(t *testing.T) {
	k := input.NewKeys()
	for typed, want := range map[string]int{"0": 1, "9": 1, "x": 1, "3": 2, "13": 2, "44": 3} {
		p := input.Pointer{At: 1}
		p = p.Among(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune(typed)}, k, 4, 4, func(number int) int { return number - 1 })
		if p.At != want {
			t.Errorf("%q in a list of 4 points at index %d, want %d", typed, p.At, want)
		}
	}
}

// Whatever lies over the job says how it is left, on the narrowest screen too, and is
// left by the key that a number pad has for it.
func TestTheWayBackIsAlwaysSaid(t *testing.T) {
	st := newStage(t, sessiontest.NewMemory(), minWidth, minHeight)
	st.slow = 9 * time.Minute
	st.upTo(sheet.Close)
	for number, back := range map[string]string{"1": "0 back", "3": "Enter = back", "6": "Enter = back"} {
		st.typed("*")
		st.sees("0 back to the job")
		st.typed(number)
		st.enter()
		if st.app.overlay == nil {
			t.Fatalf("nothing opens with %s", number)
		}
		rows := strings.Split(st.screen(), "\n")
		if last := rows[len(rows)-1]; !strings.Contains(last, back) {
			t.Errorf("%s: the line of keys does not say how to leave: %s", number, last)
		}
		st.typed("/")
		if st.app.overlay != nil {
			t.Errorf("%s: / does not leave it", number)
		}
	}
}

// The long pages are read to their end with the keys of a number pad.
func TestPagesTurnOnTheNumberPad(t *testing.T) {
	st := newStage(t, sessiontest.NewMemory(), minWidth, minHeight)
	st.slow = 9 * time.Minute
	st.upTo(sheet.Verdict)
	st.typed("+")
	top := st.screen()
	st.typed("+")
	if st.screen() == top {
		t.Fatal("+ does not turn the page")
	}
	st.typed("-")
	if st.screen() != top {
		t.Errorf("- does not turn it back:\n%s", st.screen())
	}
}

// The job that is pointed at is on the screen, however long the names are.
func TestThePickIsSeen(t *testing.T) {
	heads := make([]guide.Head, 12)
	for i := range heads {
		heads[i] = guide.Head{ID: fmt.Sprint("job", i), Vehicle: fmt.Sprintf("the very long green estate car number %d", i+1),
			UnitName: "rear axle, limited slip"}
	}
	st := newStage(t, sessiontest.NewMemory(), minWidth, minHeight)
	st.app.picker, st.app.screen = newPicker(heads, nil), screenPicking
	for i := range heads {
		st.sees(fmt.Sprintf("number %d,", i+1), st.app.theme.Glyphs.ArrowRight+fmt.Sprintf("  %d ", i+1))
		st.press(tea.KeyDown)
	}
}

// The sums are read whole.
func TestSumsAreNotCutOff(t *testing.T) {
	st := newStage(t, sessiontest.NewMemory(), minWidth, 60)
	st.slow = 9 * time.Minute
	st.upTo(sheet.Verdict)
	lines := sumLines(st.app.scene(minWidth, 1000))
	if len(lines) < 10 {
		t.Fatalf("%d lines of sums", len(lines))
	}
	for _, line := range lines {
		if shown := st.app.fit([]string{line}); strings.Contains(shown, st.app.theme.Glyphs.Ellipsis) {
			t.Errorf("cut off: %s", line)
		}
	}
}

// recorder counts the records that are written.
func (st *stage) recorder(err error) *int {
	n := new(int)
	st.app.cfg.Folder = "/home/somebody/records"
	st.app.cfg.Export = func(_, folder string) (string, error) {
		if *n++; err != nil {
			return "", err
		}
		return folder + "/tundish-20260418.html", nil
	}
	return n
}

const whereItWent = "record written: /home/somebody/records/tundish-20260418.html"

// F3 writes the record at any time, whatever is typed by then, and over the menu.
func TestF3WritesTheRecordAtAnyTime(t *testing.T) {
	st := small(t)
	written := st.recorder(nil)
	st.press(tea.KeyF3)
	st.sees("nothing is stored yet")
	st.upToLine(job.DrainedAmount)
	st.typed("58")
	st.press(tea.KeyF3)
	st.sees("Write the record", "> /home/somebody/records")
	st.enter()
	st.sees(whereItWent, "[58 ")
	st.press(tea.KeyF3)
	st.typed("/elsewhere") // in the place of what is on offer
	st.enter()
	st.sees("record written: /elsewhere/tundish-20260418.html")
	st.press(tea.KeyF3)
	st.press(tea.KeyEsc)
	st.press(tea.KeyCtrlU)
	st.typed("*")
	st.press(tea.KeyF3)
	st.typed("*") // which clears, and nothing is written nowhere
	st.enter()
	st.typed("/x")
	st.press(tea.KeyBackspace)
	st.enter()
	st.sees("record written: //tundish-20260418.html")
	if *written != 3 {
		t.Errorf("%d records written, want 3", *written)
	}
}

func TestRecordNotWritten(t *testing.T) {
	st := small(t).upToLine(job.MagnetLook)
	st.recorder(errors.New("disk full"))
	st.press(tea.KeyF3)
	st.enter()
	st.sees("record not written: disk full")
}

// A second Enter on the list of jobs loads nothing: it would come in over what is
// answered by then.
func TestAJobIsLoadedOnce(t *testing.T) {
	mem := sessiontest.NewMemory()
	st := newStage(t, mem, 80, 24)
	st.slow = 9 * time.Minute
	st.upTo(sheet.Later)
	st = newStage(t, mem, 80, 24)
	st.sees("Which job?")
	enter := tea.KeyMsg{Type: tea.KeyEnter}
	m, load := st.app.Update(enter)
	m, again := m.Update(enter)
	if load == nil || again != nil {
		t.Fatal("the second Enter loads the job again")
	}
	m, _ = m.Update(load())
	if a := m.(App); a.screen != screenJob || a.job.Job.ID == "" {
		t.Error("the first did not open it")
	}
}

// A record or a history that was asked for in one job says nothing in the next.
func TestWhatIsOfAnotherJobIsDropped(t *testing.T) {
	st := small(t)
	st.recorder(nil)
	st.upToLine(job.Capacity)
	var late []tea.Cmd
	for _, want := range []intent{wantWrite{"record", st.app.cfg.Folder, st.app.cfg.Export}, wantHistory{}} {
		_, cmd := st.app.carryOut(want)
		late = append(late, cmd)
	}
	_, cmd := st.app.carryOut(wantNew{})
	st.run(cmd)
	for _, cmd := range late {
		st.run(cmd)
	}
	if st.app.overlay != nil || strings.Contains(st.screen(), whereItWent) {
		t.Errorf("the new job shows what is of the other\n%s", st.screen())
	}
}

// A small terminal says so, and how the unit is.
func TestTooSmall(t *testing.T) {
	st := small(t).upTo(sheet.Drain)
	st.send(tea.WindowSizeMsg{Width: 59, Height: 24})
	st.sees("EMPTY", "tundish needs 60 x 20", "nothing is lost")
	st.fits()
}

// What is confirmed after a printed page is begun to be typed in is from paper, and the
// sheets are written where the record is.
func TestSheetsArePrintedAndTypedIn(t *testing.T) {
	st := newStage(t, sessiontest.NewMemory(), 80, 24).upToLine(job.GroundAndChocks)
	st.app.cfg.Print = func(_, folder string) (string, error) { return folder + "/sheets.html", nil }
	st.typed("*")
	st.typed("4")
	st.enter()
	st.sees("Write the sheets", "Into which folder?")
	st.typed("/there")
	st.enter()
	st.sees("sheets written: /there/sheets.html")
	st.typed("*")
	st.typed("5")
	st.enter()
	if g := st.state(); !g.Has(job.FromPaper) || st.line().Place.Topic != job.GroundAndChocks {
		t.Errorf("from paper %t, at %q", g.Has(job.FromPaper), st.line().Ask)
	}
}
