package sheet

// This file says what stands round the lines of a sheet: what the hands do, the figure
// that matters, what it means, and what comes next.

import (
	"fmt"
	"math"
	"strings"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/push"
	"garage/tundish/model/verdict"
)

// Words are the texts of a sheet, a paragraph each.
type Words struct {
	Intro   []string  // what the hands do
	Caption string    // what the figure is, over it
	Figure  string    // to be read from two metres, "" none
	After   []string  // what the figure means, under it
	Notes   []string  // under the lines
	Next    string    // how the next sheet begins
	Counted time.Time // a clock with seconds among them counts from here, or to here; zero: there is none
}

// worder says what stands round the lines of one sheet.
type worder func(g *guide.Guide, s Sheet, now time.Time) Words

var worders = [numIDs]worder{
	Prepare1: prepareWords,
	Prepare2: fixed("What you measure and fill with. ( ) = taken as it stands, unless you type.",
		"have at hand: oil, a new washer, adapter, cap and the rest."),
	Prepare3: atHandWords,
	Isolate:  isolateWords,
	Drain:    drainWords,
	Measure:  measureWords,
	Preload:  preloadWords,
	Fill:     fillWords,
	Level:    levelWords,
	Cap:      capWords,
	Seat:     seatWords,
	Verdict:  verdictWords,
	Close:    fixed("", "LATER, when you start tundish again: a look after a drive, and one the next day."),
	Later:    laterWords,
}

func wordsOf(g *guide.Guide, s Sheet, now time.Time) Words {
	w := worders[s.ID](g, s, now)
	if s.ID == Verdict { // says all of it in its own words
		return w
	}
	for _, f := range s.live.FindingsAt(s.ID.Step(), s.Round) {
		w.Notes = append(w.Notes, strings.TrimSpace(f.Text+" "+f.Do))
	}
	return w
}

func fixed(intro, next string) worder {
	return func(*guide.Guide, Sheet, time.Time) Words { return Words{Intro: some(intro), Next: next} }
}

// some is a text as a list; none where there is none.
func some(texts ...string) []string {
	var list []string
	for _, t := range texts {
		if t != "" {
			list = append(list, t)
		}
	}
	return list
}

func prepareWords(g *guide.Guide, s Sheet, _ time.Time) Words {
	if g.KnowsUnit() {
		return lastTimeWords(s)
	}
	return Words{Intro: some("At the desk, hands clean. The maker's manual decides."),
		Next: "jug, vessel, hose, plug. Then the list of what to have at hand."}
}

func atHandWords(g *guide.Guide, s Sheet, _ time.Time) Words {
	w := Words{Intro: some("HAVE AT HAND before the car goes up. Plug out, there is no going to the shop."), After: s.live.AtHandList(),
		Notes: some("Then: drive 10 to 20 minutes, park level, let the exhaust cool, lift."),
		Next:  "ISOLATE. A few lines, then the plug comes out."}
	if g.Automatic() {
		w.Notes = append(w.Notes,
			"BEFORE YOU BUY: oil black and burnt, and it slips? To a workshop. New oil does not cure that, and can end it.")
	}
	if g.DryStart() {
		w.Notes, w.Next = nil, "ISOLATE. A few lines, then the oil goes in."
	}
	return w
}

func isolateWords(g *guide.Guide, _ Sheet, _ time.Time) Words {
	w := Words{Intro: some("Go and do these, in this order. Then come back once and confirm each."),
		Next: "DRAIN. The plug comes OUT and the unit is EMPTY. Let it drip; look at the magnet and at the oil."}
	if g.DryStart() {
		w.Next = "PRE-LOAD. The amount for the vessel stands here then."
	}
	return w
}

// drainWords show how long it has dripped. Where the clock does not go with the job
// nothing is counted.
func drainWords(g *guide.Guide, _ Sheet, now time.Time) Words {
	w := Words{Caption: "Plug out, arms clear of the stream. DRIPPING FOR", Next: "MEASURE. Jug level, froth gone; read it, type it."}
	wait, ok := g.Wait()
	clock, _ := g.ClockAt(now)
	if !ok || clock != guide.ClockFits {
		w.Intro, w.Caption = some("Plug out, arms clear of the stream. Until only slow drops come."), ""
		return w
	}
	past := now.Sub(wait.Since)
	w.Figure, w.Counted = clockText(past), wait.Since
	if past >= wait.For {
		w.After = some("enough: " + wait.Over)
	} else {
		w.After = some(fmt.Sprintf("enough at 1 drop in 5 s; this oil: about %d min", int(wait.For.Minutes()+0.5)))
	}
	w.After = append(w.After, some(g.DropsText())...)
	if d := g.Drips(now); len(d.Readings) > 0 {
		w.After = append(w.After, d.Text(g.Units()))
	}
	return w
}

func measureWords(g *guide.Guide, s Sheet, _ time.Time) Words {
	how := "Pour the pan into the jug. Jug level, froth gone, eye at the surface."
	if _, scale := g.ScaleDivisionG(); scale {
		how = "Weigh it, container taken off; or pour it into the jug: level, froth gone, eye at the surface."
	}
	w := Words{Intro: some(how),
		Next: "PRE-LOAD. The amount for the vessel stands here then."}
	if !s.live.Measured() {
		return w
	}
	u := s.live.Units()
	out := s.live.Drained().Total
	if plan, err := s.live.Plan(0); err == nil && !plan.Undecided {
		w.Next = "PRE-LOAD. " + u.FormatVolume(plan.PreloadML) + " into the vessel."
		w.Notes = some(fmt.Sprintf("%s came out at %s; the aim is %s.", u.FormatVolume(out.Nominal), u.FormatTemperature(20),
			s.live.FormatU(plan.Target)), movesAim(s.live), capital(s.live.RenewedText()))
	}
	return w
}

// endsAt says where a push ends.
func endsAt(g *guide.Guide, ml float64) string {
	if ml < 0.5 {
		return "when the vessel is empty"
	}
	return "at " + g.Units().FormatVolume(ml)
}

func preloadWords(g *guide.Guide, s Sheet, _ time.Time) Words {
	r := s.Round
	w := Words{Intro: some("Vessel upright, valve shut."), Next: "FILL. Adapter in by hand, hose on, breather OPEN. Stay at the vessel."}
	if g.Path().PouredIn() {
		w.Next = nextAfterLoad[g.Path()]
	}
	plan, err := s.live.Plan(r)
	if err != nil || plan.Undecided || s.live.RoundKind(r) != job.RoundAdds {
		return w
	}
	u := s.live.Units()
	if g.Path().RunsEngine() && r == 0 {
		first := s.live.FirstChargeML(plan)
		w.Intro, w.Caption, w.Figure = some("Engine OFF. The rest stands measured and ready."), "FIRST PART, ENGINE OFF",
			u.FormatVolume(first)
		w.After = some("= a first part of " + loadTerms(s.live, r) + "; about " + u.FormatVolume(plan.PreloadML-first) +
			" more goes in with the engine running.")
		return w
	}
	w.Caption, w.Figure = "POUR INTO THE VESSEL", u.FormatVolume(plan.PreloadML)
	w.After = some("= " + loadTerms(s.live, r) + ", rounded up.")
	if end, ok := s.live.StopMarkML(r); ok && g.Pushes(r) {
		w.After[0] += " The push ends " + endsAt(s.live, end) + "."
	}
	return w
}

// nextAfterLoad is how the sheet after the load begins, by what sets the level.
var nextAfterLoad = map[job.Path]string{
	job.LevelPort:    "FILL. Breather open, oil in at the top until it weeps.",
	job.FillAbove:    "FILL. Breather open, all of it in at the fill plug, slowly.",
	job.OverflowTube: "FILL. What must be so before the engine is started.",
	job.Dipstick:     "FILL. What must be so before the engine is started.",
}

func fillWords(g *guide.Guide, s Sheet, _ time.Time) Words {
	r := s.Round
	switch {
	case g.Path().RunsEngine():
		return runWords(g, s)
	case g.RoundKind(r) == job.RoundLetsOut:
		return Words{Intro: some("Clean pan under it. Catch all of it, and measure it."),
			Next: "SEAT WASHER. Plug back in with a NEW washer."}
	case g.Path() == job.FillAbove:
		return Words{Intro: some("Under the car. Pour it all in, slowly. If it will not all go in: STOP, measure what is left."),
			Next: "SEAT WASHER. Fill plug in with a NEW washer."}
	case g.Path().PouredIn():
		until := "until it weeps from the level hole."
		if low, high, below := g.LipRule(); below {
			until = fmt.Sprintf("until it stands %g to %g mm below the hole.", low, high)
		}
		return Words{Intro: some("Under the car. Pour slowly " + until),
			Next: "SEAT WASHER. Fill plug in with a NEW washer."}
	}
	w := Words{Next: "CAP. Hose off with its end held up; cap the adapter at once."}
	if i := s.FirstOpen(); i >= 0 && s.Lines[i].Kind == Confirm && s.Lines[i].prompts[0].Topic != job.PressureOff {
		w.Intro = append(some("Under the car, then stay at the vessel; turn the screen towards it."), forecast(g, r)...)
		return w
	}
	w.Caption, w.Figure = stopMark(g, r)
	if g.Items(job.FillReading, r) > 0 && !g.HasIn(job.FillEnded, r) {
		more := "STOP. SHUT the valve."
		if ml := g.ToPushML(r); ml >= 1 {
			more = "PUSH ON, " + g.Units().FormatVolume(ml) + " more."
		}
		w.After = some("now " + more)
	}
	w.After = append(w.After, "No air out of the breather: STOP, shut the valve.")
	return w
}

// forecast says how long the push takes, what is taken for that, and what warmth gains.
func forecast(g *guide.Guide, round int) []string {
	f := g.Push(round, g.NewOilTempC(round))
	if f.Tell == push.CannotTell {
		return nil
	}
	told := some(fmt.Sprintf("The push at %s: %s (%s).", g.Show(f.TempC, job.DimC), f.Text(), strings.Join(f.Assumed, ", ")))
	if f.Warmer != "" {
		told = append(told, f.Warmer)
	}
	return told
}

func capWords(g *guide.Guide, s Sheet, now time.Time) Words {
	w := Words{Intro: some("Hose off, its end held up. Cap on the adapter. Then leave it alone for 10 minutes."),
		Notes: some("Spill pan: leave it; it is read once, after the swap."),
		Next:  "SEAT WASHER. Adapter out, thumb on the hole, plug with NEW washer in."}
	settle(&w, g, now)
	return w
}

// closeOutBegins is how the work ends: not with the car down while another unit is to be
// done, and with no wheel turned where the engine has run.
func closeOutBegins(g *guide.Guide) string {
	switch {
	case len(g.Offered.OpenUnits)+len(g.Offered.ToCome) > 0:
		return "CLOSE OUT. The car stays up, the tag on, for its other units."
	case g.Path().RunsEngine():
		return "CLOSE OUT. Tag off, jack away."
	}
	return "CLOSE OUT. Wheels turned by hand, tag off, jack away."
}

// verdictWords are the one word of the verdict and what stands below it.
func verdictWords(g *guide.Guide, s Sheet, _ time.Time) Words {
	w := Words{Next: closeOutBegins(g)}
	h, err := g.Headline(s.Round)
	if err != nil {
		return w
	}
	w.Figure = h.Word.String()
	odds := h.Odds
	if h.Assumes {
		odds += ", if the assumptions hold"
	}
	w.After = some(h.Amount, capital(h.Sentence), odds, capital(h.StaysText()))
	if len(h.Why) > 0 {
		w.Notes = append(w.Notes, "Not PROVEN: "+strings.Join(h.Why, "; ")+".")
	}
	if h.Amount == "" && h.Next != "" {
		w.Notes = append(w.Notes, capital(h.Next)+".")
	}
	if !verdict.Acceptable(h.Verdict) {
		w.Next = "what you choose: PRE-LOAD once more, or a way out; the tag stays on."
	}
	if !h.Verdict.MayDrive {
		w.Notes = append(w.Notes, "NOT TO BE DRIVEN as it is.")
	}
	return w
}

func capital(text string) string {
	if text == "" {
		return ""
	}
	return strings.ToUpper(text[:1]) + text[1:]
}

// settle shows how long it still has to settle.
func settle(w *Words, g *guide.Guide, now time.Time) {
	wait, ok := g.Wait()
	clock, _ := g.ClockAt(now)
	if !ok || clock != guide.ClockFits {
		return
	}
	w.Caption = "TO SETTLE"
	if left := wait.Ends().Sub(now); left > 0 {
		w.Figure, w.Counted = clockText(left), wait.Ends()
	} else {
		w.Figure, w.Caption = "0:00", "SETTLED"
	}
}

func seatWords(g *guide.Guide, s Sheet, now time.Time) Words {
	w := Words{Next: "the VERDICT. The tag stays on until then."}
	if g.Pushes(s.Round) {
		w.Intro = some("Breather shut, pan, light. Plug with its NEW washer, thread oiled, in the working hand. Adapter: key to "+
			"the last thread, then fingers, pressed UP; straight off, the other thumb onto the port; plug in under it. "+
			"3 turns by hand before any key.",
			portWords(s.live, s.Round)+"Binds: back out, thumb on; a wrong or crossed thread, never forced.")
	} else {
		w.Intro = some("Plug in by hand; binds: back out, start again.")
	}
	if i := s.FirstOpen(); i >= 0 && s.Lines[i].Place.Topic == job.FloorAndExhaust {
		settle(&w, g, now)
	}
	return w
}

// portWords say what the open port lets out, where its thread is known.
func portWords(live *guide.Guide, round int) string {
	rate, ok := live.PortMLPerS(round)
	if !ok {
		return ""
	}
	return "Open, the port lets out about " + live.Units().FormatVolume(math.Round(rate)) + " a second. "
}

func laterWords(g *guide.Guide, _ Sheet, now time.Time) Words {
	w := Words{Intro: some("LATER, when you start tundish again (in the calendar file too).")}
	if wait, ok := g.Wait(); ok && now.Before(wait.Ends()) {
		w.Notes = some("Earliest " + wait.Ends().In(now.Location()).Format("2 Jan 15:04") + ".")
	}
	return w
}

func resumeWords(g *guide.Guide) Words {
	w := Words{Intro: some("RESUME. Look, do not remember. In this order:")}
	if g.Measured() {
		w.Intro = append(w.Intro, "Drained: "+g.Units().FormatVolume(g.Drained().Total.Nominal)+" out.")
	}
	if s, ok := Now(g, g.Updated); ok {
		w.Next = strings.ToUpper(s.ID.Step().String()) + ", where you left."
	}
	return w
}

func stopWords(live *guide.Guide, p guide.Prompt) Words {
	w := Words{Figure: "STOP", After: some(ended(p.AskText(live)), p.WhyText(live))}
	if p.Kind == job.Choose {
		w.After = append(w.After, "Nothing is chosen for you:")
	}
	return w
}

// ended is a sentence with its end.
func ended(text string) string {
	if strings.HasSuffix(text, "?") {
		return text
	}
	return text + "."
}

// clockText is a running time: minutes and seconds, hours when they count.
func clockText(d time.Duration) string {
	d = max(d, 0)
	if d >= time.Hour {
		return fmt.Sprintf("%d:%02d:%02d", int(d.Hours()), int(d.Minutes())%60, int(d.Seconds())%60)
	}
	return fmt.Sprintf("%d:%02d", int(d.Minutes()), int(d.Seconds())%60)
}
