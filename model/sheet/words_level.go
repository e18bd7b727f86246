package sheet

// This file says what stands round the lines of a level that is read with the engine
// running: what must be so before it starts, and what the oil does as it warms.

import (
	"fmt"
	"math"
	"strings"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// runWords are for what must be so before the engine is started.
func runWords(g *guide.Guide, s Sheet) Words {
	w := Words{Intro: some("BEFORE THE ENGINE IS STARTED. The first part is in. All is at hand: once it runs, the oil warms fast."),
		Next: "LEVEL. Engine on, selector through, the rest in, then the level in its range."}
	if g.RoundKind(s.Round) == job.RoundLetsOut && g.Path() == job.Dipstick {
		w.Intro = some("Draw it off through the stick's tube, catch and measure it. Then the level is read again.")
	}
	if open := g.Offered.OpenUnits; len(open) > 0 {
		var names []string
		for _, u := range open {
			names = append(names, u.Name+" "+u.State.String())
		}
		w.Caption, w.Figure = "NOT WHILE ANOTHER UNIT IS OPEN", "NO ENGINE"
		w.After = some(strings.Join(names, ", ") + ". Close and fill it first.")
	}
	return w
}

// levelWords show how warm the oil is, and what a level does as it warms.
func levelWords(g *guide.Guide, s Sheet, now time.Time) Words {
	u := g.Units()
	low, high, ok := g.LevelWindow()
	w := Words{Intro: some(levelIntro[g.Path()]), Next: "SEAT WASHER. Engine off, plug tight with a NEW washer."}
	if g.Path() == job.Dipstick {
		w.Next = "SEAT WASHER. Engine off, stick back in."
	}
	if !ok {
		return w
	}
	window := u.FormatTemperature(low) + " to " + u.FormatTemperature(high)
	w.Caption, w.Figure = "LEVEL IN THIS RANGE ONLY", window
	last := g.Items(job.OilRunning, s.Round) - 1
	if last >= 0 {
		tempC, _ := g.Num(job.At(job.OilRunning, s.Round, last))
		w.Figure = u.FormatTemperature(tempC)
		switch {
		case tempC < low:
			w.Caption = "TOO COLD YET: WAIT FOR " + window
		case g.Path() == job.Dipstick && tempC <= high:
			w.Caption = "IN THE RANGE: READ THE STICK NOW"
		case tempC > high:
			w.Caption = "TOO WARM: PLUG IN, ENGINE OFF, COOL BELOW " + u.FormatTemperature(low)
		default:
			w.Caption = "IN THE RANGE: CHECK NOW, PLUG IN BEFORE " + u.FormatTemperature(high)
		}
	}
	w.After = some(warming(g, s.Round))
	if e, on := g.Answer(job.At(job.EngineOn, s.Round, 0)); on && !g.HasIn(job.EngineOff, s.Round) {
		if goes, _ := g.ClockAt(now); goes == guide.ClockFits {
			w.After = append(w.After, "Engine running for "+clockText(now.Sub(e.Happened()))+".")
			w.Counted = e.Happened()
		}
	}
	return w
}

var levelIntro = map[job.Path]string{
	job.OverflowTube: "Engine on; selector through; the rest in at once. " +
		"In the range: check plug out, let it run to drops, plug in. Catch it all.",
	job.Dipstick: "Engine on; selector through; add in small steps. In the range: stick wiped, in, out, both sides read.",
}

// dropML is the volume of a drop of oil, about (common practice, no source).
const dropML = 0.04

// warming says how much a kelvin lifts the level and, from two looks at the oil, what that
// lets out of a tube: drops that never end while the oil warms are right.
func warming(g *guide.Guide, round int) string {
	u, k := g.Units(), g.MLPerK()
	n := g.Items(job.OilRunning, round)
	first, ok1 := g.Answer(job.At(job.OilRunning, round, n-2))
	second, ok2 := g.Answer(job.At(job.OilRunning, round, n-1))
	if minutes := second.At.Sub(first.At).Minutes(); ok1 && ok2 && minutes > 0.2 {
		perMin := (second.Value.Number - first.Value.Number) / minutes
		text := fmt.Sprintf("%s a minute lifts the level by %s a minute", u.FormatTemperatureDifference(perMin),
			u.FormatVolume(perMin*k))
		if g.Path() == job.OverflowTube && perMin > 0 {
			text += fmt.Sprintf(": %.0f drops in 10 s are that", math.Round(perMin*k/dropML/6))
		}
		return text + "."
	}
	return fmt.Sprintf("Each %s warmer lifts the level by %s.", u.FormatTemperatureDifference(1), u.FormatVolume(k))
}
