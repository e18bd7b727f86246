package ask

// This file asks how a unit's level is set, and for the level as it was read: at the
// lip of a hole or so far below it, at an overflow tube, on a dipstick. The last two
// are read with the oil warm and the engine running.

import (
	"errors"
	"fmt"
	"strings"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/quantity"
)

// waySpec asks through what the unit is filled, and what sets its level.
func waySpec() Spec {
	return Spec{
		Topic: job.FillPath, Options: pathOptions, OptionsOf: waysIn, Ask: "Way in for the oil",
		Why: "A quantity is measured in; a level is read where the manual has it.",
		Stale: func(s *Known, p job.Place, e job.Entry) bool {
			return s.Automatic() && !hasToken(waysIn(s, p), e.Value.Choice)
		},
	}
}

// waysIn are the ways that a unit of its kind can have. Converter, clutches and cooler
// of a gearbox that changes gear by itself keep oil that no drain brings out (common
// practice, no source): what went in does not say where its level is.
func waysIn(s *Known, _ job.Place) []Option {
	var ways []Option
	for _, o := range pathOptions {
		if !s.Automatic() || o.Token == job.OverflowTube.String() || o.Token == job.Dipstick.String() {
			ways = append(ways, o)
		}
	}
	return ways
}

func hasToken(options []Option, token string) bool {
	for _, o := range options {
		if o.Token == token {
			return true
		}
	}
	return false
}

func runsEngine(s *Known, _ job.Place) bool { return s.Path().RunsEngine() }

func hasPath(paths ...job.Path) condition {
	return func(s *Known, _ job.Place) bool {
		for _, p := range paths {
			if s.Path() == p {
				return true
			}
		}
		return false
	}
}

// levelSettingSpecs ask for the maker's rule of the level. None of it has a usual
// answer where the maker has one of his own.
func levelSettingSpecs() []Spec {
	stick, lip := hasPath(job.Dipstick), hasPath(job.LevelPort)
	return []Spec{
		{
			Topic: job.MakersPage, Check: checkPage, Ask: "Maker's page for the running check",
			Hint: "manual, chapter, page",
			When: func(s *Known, p job.Place) bool { return runsEngine(s, p) && s.Drivetrain() != job.Combustion },
			Why:  "It stops and starts by itself: no level without the maker's service mode.",
		},
		{
			Topic: job.LevelWindow, Check: checkWindow, When: runsEngine, Ask: "Level is read at, oil",
			HintOf: inUnits(func(u quantity.Units) string { return windowLike(u) }),
			Why:    "From THIS gearbox's manual. There is no usual one; without it no level.",
		},
		choosing(job.SelectorAt, selectorOptions, "Selector at the reading", "From the manual.").when(runsEngine),
		optional(job.FirstCharge, checkFirstCharge, "First part in, engine off", "From the manual. Never start an empty box.",
			"not stated").when(runsEngine),
		{
			Topic: job.StickBand, When: stick, Check: between(20, 3000), Ask: "Stick, LOW to HIGH: amount, length",
			HintOf:  inUnits(func(u quantity.Units) string { return u.BareVolume(400) + ", 15 mm" }),
			Default: offering(job.Value{Number: estimate.UsualBandML, Unit: job.DimML}),
		},
		{
			Topic: job.StickBandMM, When: stick, Check: between(3, 200), Ask: "Stick, LOW to HIGH: length",
			Default: offering(job.Value{Number: estimate.UsualBandMM, Unit: job.DimMM}),
		},
		Spec{
			Topic: job.LipBelow, Check: between(0, 150), When: lip, Ask: "Level, mm below the lip",
			Hint: "0-5", Why: "Only where the manual says so; some have it 12 mm down.", Unknown: "at the lip",
		}.notNeeded(),
		choosing(job.LipStands, lipOptions, "That level holds for a car", "The same axle shows another level lifted and on its wheels.").
			when(func(s *Known, p job.Place) bool { _, _, below := s.LipRule(); return below && lip(s, p) }),
		optional(job.OilSurface, between(10, 5000), "Oil's surface in the unit, cm²",
			"Length by width inside: a millimetre is that much oil.",
			"not measured").when(hasPath(job.LevelPort, job.OverflowTube)),
		optional(job.LipDistance, between(1, 1000), "Hole or tube to the middle of that", "What a car that leans is off by goes with it.",
			"not measured").when(hasPath(job.LevelPort, job.OverflowTube)),
	}
}

// fillPlugSpecs ask for the plug at the top, which has a washer and a torque of its own.
func fillPlugSpecs() []Spec {
	plug := hasPath(job.LevelPort, job.FillAbove)
	return []Spec{
		optional(job.FillWasher, longest(40), "Fill plug: its washer", "A new one every time.", "as the drain plug's").when(plug),
		optional(job.FillTorque, between(1, 400), "Fill plug: its torque", "From the manual.", "not looked up").when(plug),
	}
}

// The oil temperatures at which makers have a level read, °C, are between 20 and 80
// (published windows; how wide one may be is trade judgement).
const (
	coolestWindowC = 0.0
	warmestWindowC = 110.0
	widestWindowK  = 40.0
)

// windowLike is a window as it can be typed.
func windowLike(u quantity.Units) string {
	low, _, _ := strings.Cut(u.FormatTemperature(35), " ")
	return low + "-" + u.FormatTemperature(45)
}

func checkWindow(s *Known, _ job.Place, v job.Value) error {
	low, high := v.Ends()
	switch u := s.Units(); {
	case low < coolestWindowC || high > warmestWindowC:
		return fmt.Errorf("a gearbox is read between %s and %s", u.FormatTemperature(coolestWindowC), u.FormatTemperature(warmestWindowC))
	case high-low > widestWindowK:
		return fmt.Errorf("a range is at most %s wide", u.FormatTemperatureDifference(widestWindowK))
	case high-low < 1:
		return fmt.Errorf("a range has two ends, such as %s", windowLike(u))
	}
	return nil
}

// checkPage wants more than a word: the page itself is what the check goes by.
func checkPage(s *Known, p job.Place, v job.Value) error {
	if len(strings.TrimSpace(v.Text)) < 4 {
		return errors.New("manual and page; without it: not here, a licensed workshop")
	}
	return longest(100)(s, p, v)
}

func checkFirstCharge(s *Known, _ job.Place, v job.Value) error {
	if c := s.CapacityML(); c > 0 && (v.Number < c/10 || v.Number > 2*c) {
		return fmt.Errorf("%s to %s for such a box; never start an empty one", s.Show(c/10, job.DimML), s.Show(2*c, job.DimML))
	}
	return nil
}

// runSpecs ask for what is settled before the engine is started, and for what is done
// while it runs.
func runSpecs() []Spec {
	added := amountSpec(job.AddedRunning, "Added at once, engine running", func(s *Known, p job.Place) bool {
		return runsEngine(s, p) && addRound(s, p)
	})
	added.Unknown = "none"
	added.Why = "Converter, clutches and cooler fill: the rest goes in as they do."
	return []Spec{
		{
			Topic: job.ExhaustOut, Safety: true, When: runsEngine, Check: engineMayRun,
			Ask: "Exhaust led outdoors; CO alarm on the floor; on ramps or four stands",
			Why: "Carbon monoxide gives no warning. Lifted wheels turn in D and R.",
		},
		{
			Topic: job.SecondPerson, When: runsEngine, Check: longest(40), Ask: "At the wheel, with the key",
			Hint: "a name",
			Why:  "Foot on the brake, does only what you call. Nobody under the car meanwhile.",
		},
		{
			Topic: job.EngineOn, Safety: true, When: runsEngine, Check: engineMayRun, Ask: "Engine ON, brake held, nobody under the car",
			Why: "Hair, sleeves, hands clear of fan, belts, shafts. Air conditioning off.",
		},
		{
			Topic: job.SelectorMoved, Safety: true, When: runsEngine, AskOf: askSelector,
			Why: "As long in each as the manual says; else the clutches are not full.",
		},
		withSpec(job.AddedRunning, added.When),
		added,
	}
}

func askSelector(s *Known, _ job.Place) string {
	at := "N"
	if s.Choice(job.Place{Topic: job.SelectorAt}) == job.SelectorPark {
		at = "P"
	}
	return "Selector through EVERY position and back to " + at
}

// engineMayRun refuses the engine while any unit of the car is open or empty: wheels
// and shafts would run dry, or turn beside somebody's hands.
func engineMayRun(s *Known, _ job.Place, _ job.Value) error {
	if open := s.Offered.OpenUnits; len(open) > 0 {
		return fmt.Errorf("NO ENGINE: the %s is %s. Close it first", open[0].Name, open[0].State)
	}
	return nil
}

// oilRunning asks for the oil's temperature while the engine runs, again and again.
func oilRunning() Spec {
	return Spec{
		Topic: job.OilRunning, When: runsEngine, Check: between(coldestC, hottestC), Ask: "Oil now",
		Why: "Oil temperature: a tester or a probe. A hand on the pan is 5 to 10 K off.",
	}
}

// levelReadSpecs ask for the level as it was read with the engine running.
func levelReadSpecs() []Spec {
	tube, stick := hasPath(job.OverflowTube), hasPath(job.Dipstick)
	return []Spec{
		{
			Topic: job.TubeSaid, Options: tubeOptions, When: tube, Ask: "Check plug out: what comes",
			WhyOf: func(s *Known, _ job.Place) string {
				return "What stood in the tube comes always. A kelvin warmer: " + s.Show(s.MLPerK(), job.DimML) + " more."
			},
		},
		{
			Topic: job.StickFirst, When: stick, Check: between(-100, 200), Ask: "Stick over LOW, both sides",
			Hint: "7, 6 (below LOW: -2)", Why: "Wiped, fully in, 3 s, out. The lower side counts. Froth is no reading.",
			Unknown: "no reading: froth, or not to be told",
		},
		{
			Topic: job.StickSecond, When: stick, Check: between(-100, 200), Ask: "Stick over LOW, its other side",
			Hint: "below LOW: -2", Why: "The lower side counts.", Unknown: "no reading",
		},
		{
			Topic: job.LevelAtC, When: runsEngine, Check: between(coldestC, hottestC), AskOf: askLevelAt,
			WhyOf: func(s *Known, _ job.Place) string {
				low, high, _ := s.LevelWindow()
				return fmt.Sprintf("Right is %s to %s; set warmer it is too little, colder too much.", s.Show(low, job.DimC),
					s.Show(high, job.DimC))
			},
		},
		tiltSpec(),
		{
			Topic: job.EngineOff, Safety: true, When: runsEngine, Ask: "Engine OFF, the key back in your pocket",
			Why: "Before any joint is touched again.",
		},
	}
}

func askLevelAt(s *Known, _ job.Place) string {
	if s.Path() == job.Dipstick {
		return "Oil as the stick was read"
	}
	return "Oil as the plug went in"
}

// tiltSpec asks how far the car is off level, where the level is read.
func tiltSpec() Spec {
	return Spec{
		Topic: job.CarTilt, Optional: true, Unknown: "level by eye",
		When: func(s *Known, p job.Place) bool { return s.Path().ShowsLevel() },
		Ask:  "Car off level by", Hint: "0.3, or 15/2700 (mm over wheelbase)", Check: checkTilt,
		WhyOf: func(s *Known, _ job.Place) string {
			return "A degree changes the level by " + s.Show(s.TiltML(1), job.DimML) + ". Add what it leans to the side."
		},
	}
}

// mostTiltDeg is the most that a car may lean for a level to be read at all.
const mostTiltDeg = 10.0

func checkTilt(s *Known, _ job.Place, v job.Value) error {
	if v.Number > mostTiltDeg {
		return fmt.Errorf("%.1f° is no level: at most %g°, better all four points at one height", v.Number, mostTiltDeg)
	}
	return nil
}

// levelBelowSpec asks how far below the lip the oil stands, where the manual states
// that.
func levelBelowSpec() Spec {
	return Spec{
		Topic: job.LevelBelow, Check: between(0, 200), Ask: "After 10 min, oil below the lip, mm", Hint: "0 where it weeps",
		When: func(s *Known, p job.Place) bool {
			_, _, below := s.LipRule()
			return below && s.Path() == job.LevelPort
		},
		WhyOf: func(s *Known, _ job.Place) string {
			low, high, _ := s.LipRule()
			how := ""
			if s.Choice(job.Place{Topic: job.LipStands}) == job.LipWheels {
				how = ", the car on its wheels"
			}
			return fmt.Sprintf("Right is %g to %g mm%s. Measure with a hooked wire.", low, high, how)
		},
	}
}
