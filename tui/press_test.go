package tui

// This file holds what each key does on a sheet, on a number pad alone.

import (
	"testing"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
	"garage/tundish/tui/session/sessiontest"
)

func small(t testing.TB) *stage {
	t.Helper()
	return newStage(t, sessiontest.NewMemory(), 80, 24)
}

func (st *stage) count() int { return st.state().Count }

// other is a digit that is not one.
func other(key rune) string {
	if key == '4' {
		return "5"
	}
	return "4"
}

func TestACautionTakesItsOwnDigitAtOnce(t *testing.T) {
	st := small(t).upTo(sheet.Isolate)
	l, before := st.line(), st.count()
	st.typed(other(l.Key))
	st.enter()
	st.press(tea.KeySpace)
	st.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{l.Key}, Paste: true})
	if st.count() != before {
		t.Fatalf("%d answers stored by keys that are not the line's", st.count()-before)
	}
	st.typed(other(l.Key))
	st.sees("open is "+string(l.Key), "►"+string(l.Key)+" [ ]")
	st.typed(string(l.Key))
	if st.count() == before {
		t.Error("its own digit did not tick it")
	}
	st.sees(string(l.Key) + " [x]")
	if kept := st.mem.Jobs[st.app.job.Job.ID]; len(kept.Entries) != st.count() {
		t.Error("a tick is not durable at once")
	}
}

// The lines for under the car come once the car stands.
func TestUnderTheCarComesOnceItStands(t *testing.T) {
	st := small(t).upTo(sheet.Isolate)
	st.sees("more for under the car")
	st.seesNot("DRAIN plug")
	for st.line().Early() {
		st.typed(string(st.line().Key))
	}
	st.sees("DRAIN plug", "Tag on the steering wheel")
	st.seesNot("more for under the car")
}

func TestAChoiceTakesItsDigitAtOnce(t *testing.T) {
	st := small(t).upToLine(job.DriveKind)
	st.typed("9")
	st.sees("one of the digits shown")
	st.typed("2")
	if got := st.state().Choice(job.Place{Topic: job.DriveKind}); got != "hybrid" {
		t.Errorf("driven by %q, want hybrid", got)
	}
	st.sees("Driven by                    hybrid")
}

func TestEnterSaysWhatIsOpen(t *testing.T) {
	st := small(t).upToLine(job.MagnetLook)
	before := st.count()
	st.enter()
	st.sees("open: on the magnet, the oil looks")
	if st.count() != before || st.app.job.sheet.ID != sheet.Drain {
		t.Error("Enter answered an observation")
	}
}

func TestZeroIsNotLooked(t *testing.T) {
	st := small(t).upToLine(job.MagnetLook)
	st.typed("00")
	if got := st.state().Choice(job.Place{Topic: job.MagnetLook}); got != job.NotLooked {
		t.Errorf("the magnet: %q, want not looked", got)
	}
	if got := st.state().Choice(job.Place{Topic: job.OilLook}); got != job.NotLooked {
		t.Errorf("the oil: %q, want not looked", got)
	}
}

// In a reading digits type, the first replaces what stood there, Enter takes.
func TestAReadingIsTyped(t *testing.T) {
	st := small(t).upToLine(job.HoseHolds)
	st.typed("30")
	st.sees("[30       ] ml")
	st.enter()
	st.press(tea.KeyPgUp)
	st.sees("Hose holds                   30 ml")
	st.backTo(job.HoseHolds)
	st.sees("[30       ] ml")
	st.typed("25")
	st.sees("[25       ] ml")
	st.enter()
	if v, _ := st.state().Num(job.Place{Topic: job.HoseHolds}); v != 25 {
		t.Errorf("the hose holds %v ml, want 25", v)
	}
}

// backTo goes back to the line of a topic.
func (st *stage) backTo(topic job.Topic) *stage {
	st.t.Helper()
	for range 60 {
		if l, ok := st.app.job.line(); ok && hasTopic(l, topic) {
			return st
		}
		st.typed("/")
	}
	st.t.Fatalf("no way back to %v\n%s", topic, st.screen())
	return st
}

func TestSignsInAReading(t *testing.T) {
	st := small(t).upToLine(job.Capacity)
	st.typed("640")
	st.typed("*")
	st.sees("[         ] ml")
	st.typed("1/2")
	if got := st.app.job.field.Text; got != "1/2" {
		t.Errorf("after a digit / types: %q", got)
	}
	st.press(tea.KeyBackspace)
	st.typed("*")
	st.typed("600-680")
	st.enter()
	st.sees("600 ml to 680 ml")

	st = small(t).upToLine(job.HoseHolds)
	st.typed("6*1.5")
	if got := st.app.job.field.Text; got != "6*1.5" {
		t.Errorf("in the hose * is times: %q", got)
	}
	st.typed("*")
	if got := st.app.job.field.Text; got != "" {
		t.Errorf("a second * clears: %q", got)
	}
	st.typed("*")
	if _, ok := st.app.overlay.(menu); !ok {
		t.Error("* on an empty field is no menu")
	}
}

func TestSumInAReading(t *testing.T) {
	st := small(t).upToLine(job.DrainedAmount)
	st.typed("330+258")
	st.sees("588 ml")
	st.typed("*")
	st.typed("+")
	if st.app.job.seen != asWorth {
		t.Error("+ on an empty field does not show what is worth knowing")
	}
}

// In the last open reading one Enter takes and completes, in one write.
func TestOneEnterTakesAndCompletes(t *testing.T) {
	st := small(t)
	st.slow = 9 * time.Minute
	st.upToLine(job.DrainedAmount)
	writes := len(st.mem.Writes)
	st.typed("588")
	st.enter()
	if st.app.job.sheet.ID != sheet.Preload {
		t.Fatalf("at %v, want at the pre-load\n%s", st.app.job.sheet.ID, st.screen())
	}
	if got := len(st.mem.Writes) - writes; got != 1 {
		t.Errorf("%d writes, want one", got)
	}
}

// Where something is to be said of a reading, Enter stays.
func TestSomethingToSayStays(t *testing.T) {
	st := small(t)
	st.slow = time.Minute // drained for too short a time
	st.upToLine(job.DrainedAmount)
	st.typed("588")
	st.enter()
	if st.app.job.sheet.ID != sheet.Measure {
		t.Fatalf("at %v, want still at the measure", st.app.job.sheet.ID)
	}
	st.sees("Drained for")
	st.enter()
	if st.app.job.sheet.ID != sheet.Preload {
		t.Errorf("at %v, want at the pre-load", st.app.job.sheet.ID)
	}
}

func TestUnknownByAPoint(t *testing.T) {
	st := small(t).upToLine(job.HoseHolds)
	st.typed(".")
	st.enter()
	if v, ok := st.state().Answer(job.Place{Topic: job.HoseHolds}); !ok || !v.Value.Unknown {
		t.Errorf("the hose: %+v, want not known", v.Value)
	}
}

// A unit that is doubted is asked for in place, and the figure keeps the keys.
func TestDoubtedUnitIsAskedInPlace(t *testing.T) {
	st := small(t)
	st.slow = 9 * time.Minute
	st.upToLine(job.DrainedAmount)
	before := st.count()
	st.typed("0.588")
	st.enter()
	st.sees("0.588 ml, so little?", "1 no: 0.588 L = 588 ml", "2 yes, 0.588 ml")
	if st.count() != before {
		t.Fatal("stored before it is clear")
	}
	st.enter()
	if st.count() != before {
		t.Fatal("Enter chose a meaning")
	}
	st.typed("/")
	st.seesNot("so little?")
	st.enter()
	st.typed("1")
	if got := st.state().Drained().Total.Nominal; got < 560 || got > 600 {
		t.Errorf("%v ml came out, want about 585", got)
	}
}

// - and a digit takes a tick off.
func TestUntick(t *testing.T) {
	st := small(t).upTo(sheet.Isolate)
	first := st.line()
	st.typed(string(first.Key))
	st.typed("-")
	st.sees("NOT so")
	st.typed(string(first.Key))
	st.sees("►" + string(first.Key) + " [ ]")
	if st.state().HasItem(first.Place.Topic, 0, 0) {
		t.Error("the tick still stands")
	}
	st.typed("-")
	st.typed("/") // leaves it
	if st.app.job.not {
		t.Error("/ does not leave it")
	}
}

// / goes back line by line, then sheet by sheet; Enter returns.
func TestBackLineBySheet(t *testing.T) {
	st := small(t).upToLine(job.OilLook)
	st.typed("/")
	if st.line().Place.Topic != job.MagnetLook {
		t.Errorf("back at %v", st.line().Place.Topic)
	}
	st.typed("/")
	if st.app.job.sheet.ID != sheet.Isolate || !st.app.job.Visit.Looking() {
		t.Fatalf("at %v, want a look at the sheet before", st.app.job.sheet.ID)
	}
	before := st.count()
	st.typed(string(st.line().Key))
	if st.count() != before {
		t.Error("looking back changed something")
	}
	st.enter()
	if st.app.job.sheet.ID != sheet.Drain || st.line().Place.Topic != job.OilLook {
		t.Errorf("Enter returns to %v, %v", st.app.job.sheet.ID, st.line().Place.Topic)
	}
	st.press(tea.KeyPgUp)
	st.press(tea.KeyPgUp)
	if st.app.job.sheet.ID != sheet.Prepare3 {
		t.Errorf("two pages up is %v", st.app.job.sheet.ID)
	}
	st.press(tea.KeyPgDown)
	st.press(tea.KeyPgDown)
	if st.app.job.sheet.ID != sheet.Drain || st.app.job.Visit.Looking() {
		t.Errorf("two pages down is %v, looking %v", st.app.job.sheet.ID, st.app.job.Visit.Looking())
	}
}

// A reading is corrected in its line on its sheet; the load is worked out again, and
// it is said.
func TestCorrectInPlace(t *testing.T) {
	st := small(t)
	st.slow = 9 * time.Minute
	st.upTo(sheet.Preload)
	before, _ := loadOf(st.state())
	st.backTo(job.HoseHolds)
	st.typed("85")
	st.enter()
	if after, _ := loadOf(st.state()); after != before+60 {
		t.Errorf("load %v, want %v", after, before+60)
	}
	st.sees("worked out again: load")
	st.enter()
	if st.app.job.sheet.ID != sheet.Preload {
		t.Errorf("at %v, want at the pre-load again", st.app.job.sheet.ID)
	}
}

// hasTopic reports whether a line stands for a question.
func hasTopic(l sheet.Line, topic job.Topic) bool {
	for _, t := range l.Topics() {
		if t == topic {
			return true
		}
	}
	return false
}

// A digit opens a line that is worth knowing, and it is typed on the sheet.
func TestWorthKnowing(t *testing.T) {
	st := small(t).upTo(sheet.Prepare2)
	st.typed("+")
	st.sees("WORTH KNOWING for prepare")
	ask := st.app.job.sheet.Lines[st.app.job.folded()[0]].Ask
	st.typed("1")
	if st.line().Ask != ask {
		t.Errorf("keys go to %q, want %q", st.line().Ask, ask)
	}
	st.sees(ask)
	st.typed("/")
	st.typed("+")
	st.typed("/")
	if st.app.job.seen != asSheet {
		t.Error("/ does not leave the page")
	}
}

// The push: a reading is not needed, Enter alone ends it.
func TestThePush(t *testing.T) {
	st := small(t)
	st.slow = 9 * time.Minute
	st.upToLine(job.FillReading)
	st.sees("STOP WHEN THE VESSEL READS")
	st.typed("300")
	st.sees("so far", "PUSH ON")
	st.enter()
	if st.state().Items(job.FillReading, 0) != 1 || st.line().Place.Topic != job.FillReading {
		t.Fatalf("%d readings, at %v", st.state().Items(job.FillReading, 0), st.line().Place.Topic)
	}
	st.enter()
	if !hasTopic(st.line(), job.FillEnded) {
		t.Fatalf("Enter alone goes to %v", st.line().Ask)
	}
	st.enter()
	if st.state().Has(job.FillEnded) {
		t.Error("Enter said how the push ended")
	}
	st.typed("1")
	st.typed(string(st.line().Key))
	st.sees("NOT PROVEN")
}

// A stop has nothing preselected; its first choice leads back to the reading.
func TestStopLeadsBackToTheReading(t *testing.T) {
	st := small(t)
	st.slow = 9 * time.Minute
	st.upToLine(job.DrainedAmount)
	st.typed("430")
	st.enter()
	if st.app.job.sheet.ID != sheet.Stop {
		t.Fatalf("at %v, want a stop\n%s", st.app.job.sheet.ID, st.screen())
	}
	st.sees("██", "I read or typed it wrong")
	before := st.count()
	st.enter()
	if st.count() != before {
		t.Fatal("Enter chose")
	}
	st.typed(string(st.line().Options[0].Key))
	if !hasTopic(st.line(), job.DrainedAmount) {
		t.Fatalf("back at %v", st.line().Ask)
	}
	st.typed("588")
	st.enter()
	if id := st.app.job.sheet.ID; id == sheet.Stop {
		t.Fatalf("still at the stop\n%s", st.screen())
	}
	if got := st.state().Drained().Total.Nominal; got < 560 {
		t.Errorf("%v ml came out", got)
	}
}

// The verdict takes its digit, never Enter, and + shows how it was worked out.
func TestTheVerdictTakesItsDigit(t *testing.T) {
	st := small(t)
	st.slow = 9 * time.Minute
	st.upTo(sheet.Verdict)
	before := st.count()
	st.enter()
	st.typed("1")
	if st.count() != before {
		t.Fatal("accepted by another key")
	}
	st.typed("+")
	if _, ok := st.app.overlay.(reading); !ok {
		t.Error("+ does not show how it was worked out")
	}
	st.press(tea.KeyEsc)
	st.typed("6")
	if st.app.job.sheet.ID != sheet.Close {
		t.Errorf("at %v, want at the close-out", st.app.job.sheet.ID)
	}
}

// From far only the figure and the open line are seen; keys do what they do.
func TestFarView(t *testing.T) {
	st := small(t).upToLine(job.MagnetLook)
	st.typed(".")
	st.seesNot("came out", "The oil looks", "Next:")
	st.sees("On the magnet", "1 clean")
	st.typed("1")
	st.sees("The oil looks")
	st.typed(".")
	st.sees("came out", "Next:")
}

// Undo takes the whole of the last line back.
func TestUndoTakesTheLineBack(t *testing.T) {
	st := small(t).upToLine(job.DriveKind)
	st.typed("/")
	st.typed("*")
	st.typed("2")
	st.enter()
	if g := st.state(); g.UnitName() != "" || g.HasItem(job.UnitKind, 0, 0) {
		t.Errorf("unit %q still stands", g.UnitName())
	}
	st.sees("struck out")
}

// Whoever presses nothing but Enter gets no further than the first sheet.
func TestEnterAloneGetsNowhere(t *testing.T) {
	st := small(t)
	for range 50 {
		st.enter()
	}
	if st.count() != 0 || st.app.job.sheet.ID != sheet.Prepare1 {
		t.Errorf("%d answers, at %v", st.count(), st.app.job.sheet.ID)
	}
}

// A first job by the number pad alone stays within the counts that are promised.
func TestCountsOfAFirstJob(t *testing.T) {
	st := small(t)
	st.slow = 9 * time.Minute
	st.upTo(sheet.Later)
	t.Logf("%d keys", st.keys)
	if st.keys > 64 {
		t.Errorf("%d keys, want 64 at most", st.keys)
	}
}

// Keys that a terminal hands on at once are taken one by one.
func TestFastKeysAreTakenOneByOne(t *testing.T) {
	st := small(t).upToLine(job.Capacity)
	st.typed("12")
	st.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("*640")})
	st.sees("[640 ")
	st = small(t).upToLine(job.DriveKind)
	before := st.count()
	st.send(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune("21")})
	if got := st.state().Choice(job.Place{Topic: job.DriveKind}); got != "hybrid" || st.count() != before+1 {
		t.Errorf("chose %q with %d entries; want hybrid by the first", got, st.count()-before)
	}
}
