package guide

// This file holds levels that are read with the engine running, at a lip and below it, to
// worked cases: what came out, what went in, what was seen, and what that comes to.
// Millilitres are computed from density and geometry; what is done about them is common
// practice without a source.

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"garage/tundish/model/ask"
	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// box9 is a gearbox with a converter that holds 9.0 L, its level set between 35 and
// 45 °C, oil of 850 kg/m³; 4600 came out, 4600 went in.
func box9() script {
	return small.with(script{job.UnitKind: {"automatic_gearbox"}, job.FillPath: {"overflow_tube"}, job.Capacity: {"9000"},
		job.CapacityMeans: {"dry"}, job.OilDensity: {"850"}, job.LevelWindow: {"35-45"}, job.SelectorAt: {"park"},
		job.FirstCharge: {"3100"}, job.DrainedAmount: {"4600@20"}, job.PriorLevel: {"believed"}, job.SecondPerson: {"Ada", "Ada"},
		job.LoadedAmount: {"3100", "100"}, job.AddedRunning: {"1500", "0"}, job.OilRunning: {""}, job.TubeSaid: {"drops", "drops"},
		job.LevelAtC: {"40", "40"}, job.OverflowCaught: {"0", "0"}, job.LeftInVessel: {"0", "0"},
		job.LevelLookedAgain: {"holds"}, job.Decision: {"leave"}, job.LeftWhy: {"a case"}})
}

// judged plays a script to what follows the plug of its first round.
func judged(t *testing.T, sc script) (*Guide, verdict.Headline) {
	t.Helper()
	d := newDrive(t, sc)
	s := d.until(job.TightenedHow)
	p, _ := s.Next()
	d.answer(s, p)
	s = d.state()
	h, err := s.Headline(0)
	if err != nil {
		t.Fatal(err)
	}
	return s, h
}

func closeTo(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.Abs(got-want) > within {
		t.Errorf("%s: %.1f, want %.1f ± %g", what, got, want, within)
	}
}

// 0.74 ml per L and K (an oil of 850 kg/m³ by ASTM D1250, table 54D).
func TestMLPerKelvin(t *testing.T) {
	for litres, want := range map[float64]float64{4: 3.0, 6: 4.4, 8: 5.9, 9: 6.6, 10: 7.4, 12: 8.9} {
		s := newDrive(t, box9().with(script{job.Capacity: {fmt.Sprint(1000 * litres)}})).until(job.DrainedAmount)
		closeTo(t, fmt.Sprint(litres, " L, ml/K"), s.MLPerK(), want, 0.1)
	}
}

// running are cases of the box of box9: what is said in place of that, and what follows.
func TestRunningLevels(t *testing.T) {
	for name, c := range map[string]struct {
		says   script
		word   verdict.Headword
		act    verdict.Act
		ml, by float64 // to add or to let out, within so much; 0 not looked at
		finds  []verdict.FindingKind
		text   string // in what is found
		drive  bool   // may be driven, once its plug is tight
	}{
		"A1 ran with the engine off": {says: script{job.TubeSaid: {"engine_off"}, job.AddedRunning: {"0"}}, word: verdict.NotSure,
			act: verdict.Remeasure, finds: []verdict.FindingKind{verdict.LevelEngineOff}, text: "no level"},
		"A2 drops at 52 °C": {says: script{job.LevelAtC: {"52"}}, word: verdict.TooLow, act: verdict.AddOil, ml: 80, by: 2,
			finds: []verdict.FindingKind{verdict.LevelOutOfWindow}, text: "LOW by 47 to 114 ml", drive: true},
		"A3 set at 24 °C": {says: script{job.LevelAtC: {"24"}}, word: verdict.TooHigh, act: verdict.LetOut, ml: 106, by: 3,
			finds: []verdict.FindingKind{verdict.LevelOutOfWindow}, text: "HIGH by 74 to 140 ml", drive: true},
		"A4 650 beyond, and dry": {says: script{job.TubeSaid: {"nothing"}, job.AddedRunning: {"2160"}}, word: verdict.NotSure,
			act: verdict.Nothing, finds: []verdict.FindingKind{verdict.LevelStillDry}, text: "STOP adding"},
		"A5 heavy flow run to a thread": {says: script{job.LevelAtC: {"38"}, job.AddedRunning: {"1850"}, job.OverflowCaught: {"410"}},
			word: verdict.Right, act: verdict.Nothing, drive: true},
		"A6 pan and filter on top": {says: script{job.DrainedAmount: {"4050@48", "350@20"}, job.DrainedMore: {"another", "done"},
			job.LoadedAmount: {"3000"}, job.AddedRunning: {"1550"}, job.OverflowCaught: {"180"}}, word: verdict.Right,
			act: verdict.Nothing, drive: true},
		"A7 drops with 900 less in": {says: script{job.AddedRunning: {"600"}}, word: verdict.LevelDisputed, act: verdict.Remeasure,
			finds: []verdict.FindingKind{verdict.LevelAgainstSums}},
		"A10 a wave now and then": {says: script{job.TubeSaid: {"waves"}}, act: verdict.AddOil, ml: 150, by: 100},
		"A11 the tube came out": {says: script{job.TubeSaid: {"nothing"}, job.OverflowCaught: {"2300"}}, word: verdict.TooLow,
			act: verdict.AddOil, ml: 2400, by: 400},
	} {
		t.Run(name, func(t *testing.T) {
			s, h := judged(t, box9().with(c.says))
			if h.Word != c.word && name != "A10 a wave now and then" || h.Verdict.Act != c.act || h.Verdict.MayDrive != c.drive &&
				c.word != 0 {
				t.Errorf("%v, %v %.0f ml, may be driven %v; %s; %s; %v", h.Word, h.Verdict.Act, h.Verdict.ActML, h.Verdict.MayDrive,
					h.Sentence,
					h.Odds, h.Why)
			}
			if c.ml > 0 {
				closeTo(t, "amount", h.Verdict.ActML, c.ml, c.by)
			}
			for _, k := range c.finds {
				if f := found(t, s, k); !strings.Contains(f.Text, c.text) {
					t.Errorf("%q has no %q", f.Text, c.text)
				}
			}
		})
	}
}

// A car that leans makes a level less sure, and no wrong fill right: drops with 300 ml less
// in than came out, which 3 degrees explain.
func TestALeanAllowsNothing(t *testing.T) {
	s, h := judged(t, box9().with(script{job.CarTilt: {"3"}, job.AddedRunning: {"1200"}}))
	if level, _ := judged(t, box9()); s.Tolerance() != level.Tolerance() {
		t.Errorf("right within %v of a car that leans, %v of one that is level", s.Tolerance(), level.Tolerance())
	}
	if h.Word == verdict.Right || h.Word == verdict.Likely {
		t.Errorf("%v: %s; %s", h.Word, h.Sentence, h.Odds)
	}
}

// Nor does a tolerance of the owner's own, wider than what the maker's level leaves.
func TestAnOwnerCannotWidenALevel(t *testing.T) {
	level, _ := judged(t, box9())
	s, h := judged(t, box9().with(script{job.ToleranceTopic: {"850"}, job.AddedRunning: {"1200"}}))
	if s.Tolerance() != level.Tolerance() || h.Word == verdict.Right || h.Word == verdict.Likely {
		t.Errorf("right within %v: %v", s.Tolerance(), h.Word)
	}
	if s, _ := judged(t, box9().with(script{job.ToleranceTopic: {"60"}})); s.Tolerance().MinusML != 60 {
		t.Errorf("60 ml asked for, %v counts", s.Tolerance())
	}
}

// ± 85 ml of a tube in 9 L, ± 35 in a small box of 4 L; in less out is known to 110 to
// 130 ml.
func TestHowWellATubeTellsALevel(t *testing.T) {
	s, _ := judged(t, box9())
	gap, ok := s.OldLevelGap(0)
	if !ok {
		t.Fatal("no gap")
	}
	closeTo(t, "gap ±", estimate.Coverage*gap.U(), 85, 5) // one jug measured both, so that its error cancels; with two it is 110 to 130
	closeTo(t, "level ± with its window", math.Hypot(estimate.Coverage*s.LevelAtLip().U(), 5*s.MLPerK()), 85, 5)
	closeTo(t, "a degree of tilt", s.TiltML(1), 209, 5)
	s, _ = judged(t, box9().with(script{job.Capacity: {"4000"}, job.FirstCharge: {"1000"}, job.DrainedAmount: {"2000@20"},
		job.LoadedAmount: {"1000"}, job.AddedRunning: {"1000"}}))
	closeTo(t, "small box, level ± with its window", math.Hypot(estimate.Coverage*s.LevelAtLip().U(), 5*s.MLPerK()), 35, 6)
}

// A level that the amounts contradict is never proven, also once it was set again.
func TestALevelSetAgainIsNotProven(t *testing.T) {
	d := newDrive(t, box9().with(script{job.AddedRunning: {"600"}, job.PriorLevel: {"unknown"}}))
	s := d.until(job.Decision)
	h, err := s.Headline(0)
	if err != nil || h.Word == verdict.Right || h.Word == verdict.LevelDisputed {
		t.Errorf("%v %v: %v", h.Word, err, h.Why)
	}
}

// stick7 is a box of 7 L with a stick of 400 ml in 15 mm, read between 70 and 80 °C.
func stick7() script {
	return box9().with(script{job.FillPath: {"dipstick"}, job.Capacity: {"7000"}, job.LevelWindow: {"70-80"}, job.StickBand: {"400"},
		job.StickBandMM: {"15"}, job.FirstCharge: {"3100"}, job.DrainedAmount: {"3600@20"}, job.AddedRunning: {"500"},
		job.StickFirst: {"7"}, job.StickSecond: {"7"}, job.LevelAtC: {"75"}})
}

func TestDipsticks(t *testing.T) {
	for name, c := range map[string]struct {
		says   script
		words  []verdict.Headword
		ml, by float64
		finds  []verdict.FindingKind
	}{
		"B1 at HIGH, but at 50 °C": {says: script{job.StickFirst: {"15"}, job.StickSecond: {"15"}, job.LevelAtC: {"50"},
			job.AddedRunning: {"800"}},
			words: []verdict.Headword{verdict.TooHigh}, ml: 329, by: 60, finds: []verdict.FindingKind{verdict.LevelOutOfWindow}},
		"B2 sides 6 mm apart": {says: script{job.StickFirst: {"4"}, job.StickSecond: {"-2"}}, words: []verdict.Headword{verdict.NotSure},
			finds: []verdict.FindingKind{verdict.StickUnsteady}},
		"B3 all of 4000 poured at once": {says: script{job.AddedRunning: {"900"}, job.StickFirst: {"22.5"}, job.StickSecond: {"22.5"}},
			words: []verdict.Headword{verdict.TooHigh}, ml: 400, by: 40},
		"B5 the cold marks": {says: script{job.LevelAtC: {"22"}}, words: []verdict.Headword{verdict.NotSure},
			finds: []verdict.FindingKind{verdict.LevelOutOfWindow}},
		"B6 the middle": {says: script{job.LevelAtC: {"76"}, job.AddedRunning: {"530"}}, words: []verdict.Headword{verdict.Right}},
		"B6 near the end": {says: script{job.StickFirst: {"14"}, job.StickSecond: {"14"}, job.AddedRunning: {"650"}},
			words: []verdict.Headword{verdict.Likely, verdict.NotSure}},
		// Reckoned to 75 °C it is the very middle: that is no reading in the maker's range.
		"the middle, but at 50 °C": {says: script{job.StickFirst: {"2.6"}, job.StickSecond: {"2.6"}, job.LevelAtC: {"50"}},
			words: []verdict.Headword{verdict.Likely}, finds: []verdict.FindingKind{verdict.LevelOutOfWindow}},
		"B7 froth": {says: script{job.StickFirst: {UnknownLine}, job.StickSecond: {UnknownLine}},
			words: []verdict.Headword{verdict.NotSure}},
	} {
		t.Run(name, func(t *testing.T) {
			s, h := judged(t, stick7().with(c.says))
			if !slices.Contains(c.words, h.Word) {
				t.Errorf("%v, %v %.0f ml; %s; %s; %v", h.Word, h.Verdict.Act, h.Verdict.ActML, h.Sentence, h.Odds, h.Why)
			}
			if c.ml > 0 {
				closeTo(t, "amount", h.Verdict.ActML, c.ml, c.by)
			}
			for _, k := range c.finds {
				found(t, s, k)
			}
		})
	}
}

// B4: with the engine off no stick is read: it is asked for between the engine being on
// and off.
func TestAStickIsReadWithTheEngineOn(t *testing.T) {
	d := newDrive(t, stick7())
	if s := d.until(job.StickFirst); !s.Has(job.EngineOn) || !s.Has(job.SelectorMoved) || s.Has(job.EngineOff) {
		t.Error("the stick is asked for with the engine off")
	}
}

// port300 is a unit of 984 ml with its level at a hole, 300 cm² of oil, 100 mm from the
// hole to its middle.
func port300() script {
	return level.with(script{job.Capacity: {"984"}, job.CapacityMeans: {"refill"}, job.OilSurface: {"300"}, job.LipDistance: {"100"},
		job.DrainedAmount: {"984@20"}, job.LoadedAmount: {"1010"}, job.LeftInVessel: {"0"}, job.OverflowCaught: {"0"},
		job.LevelWeeps: {"weeps"}, job.CarTilt: {"0.3"}, job.ToleranceTopic: {"50"}})
}

func TestLevelHoles(t *testing.T) {
	lip := func(rule, stands, mm string) script {
		return script{job.LipBelow: {rule}, job.LipStands: {stands}, job.LevelBelow: {mm}, job.ToleranceTopic: {"-"},
			job.LoadedAmount: {"984"}}
	}
	for name, c := range map[string]struct {
		says  script
		words []verdict.Headword
	}{
		"C3 weeps with 500 of 984 in": {script{job.LoadedAmount: {"500"}}, []verdict.Headword{verdict.LevelDisputed}},
		// PROVEN by the level alone; here the level and 26 ml more than stated leave 92 in 100 within ± 50.
		"C4 1010 of 984, drops": {nil, []verdict.Headword{verdict.Likely}},
		"C5 8 mm down, 0 to 5 right": {lip("0-5", "lifted", "8").with(script{job.LoadedAmount: {"820"}}),
			[]verdict.Headword{verdict.TooLow}},
		"C6 24 mm down, 19 lifted": {lip("0-19", "lifted", "24"), []verdict.Headword{verdict.LevelDisputed, verdict.TooLow,
			verdict.NotSure}},
		"C6 24 mm down, 30 on wheels": {lip("18-30", "on_wheels", "24"), []verdict.Headword{verdict.Right}},
	} {
		t.Run(name, func(t *testing.T) {
			_, h := judged(t, port300().with(c.says))
			if !slices.Contains(c.words, h.Word) {
				t.Errorf("%v, %v %.0f ml; %s; %s; %v", h.Word, h.Verdict.Act, h.Verdict.ActML, h.Sentence, h.Odds, h.Why)
			}
		})
	}
	s, _ := judged(t, port300())
	closeTo(t, "C4, level ±", estimate.Coverage*s.LevelAtLip().U(), 62, 1)
	s, _ = judged(t, port300().with(lip("0-5", "lifted", "8")))
	closeTo(t, "C5, off the middle of the rule", s.LevelLook(0).Off.Nominal, -165, 1)
	closeTo(t, "C5, and so below its edge", -s.LevelLook(0).Off.Nominal-s.Tolerance().MinusML, 90, 1)
}

// Tilt by surface and distance: dV = A · x · tan(angle) of a case with upright walls.
func TestTilt(t *testing.T) {
	for _, c := range []struct{ cm2, mm, want float64 }{{300, 100, 52}, {400, 150, 105}, {250, 60, 26}} {
		s := newDrive(t, port300().with(script{job.OilSurface: {fmt.Sprint(c.cm2)},
			job.LipDistance: {fmt.Sprint(c.mm)}})).until(job.DrainedAmount)
		closeTo(t, "a degree", s.TiltML(1), c.want, 0.5)
	}
	s, _ := judged(t, port300().with(script{job.CarTilt: {"300/2700"}, job.LoadedAmount: {"984"}})) // C1
	f := found(t, s, verdict.CarLeans)
	closeTo(t, "C1", f.ML, 331, 4)
	tilt, _ := s.Num(job.At(job.CarTilt, 0, 0))
	closeTo(t, "C1, degrees", tilt, 6.3, 0.05)
	p := Prompt{Spec: ask.SpecOf(job.CarTilt)}
	if _, err := p.Parse(s, "500/2700"); err == nil { // 10.5°
		t.Error("more than 10° is taken for level")
	}
}

// C2: before the plug at the top is loose nothing is drained, and a seized one leaves the
// unit as it was found.
func TestTheFillPlugComesFirst(t *testing.T) {
	for _, path := range []string{"level_port", "fill_above", "overflow_tube"} {
		s := newDrive(t, box9().with(script{job.FillPath: {path}, job.UnitKind: {"gearbox"}})).until(job.WayInProved)
		p, _ := s.Next()
		if !strings.Contains(p.AskText(s), "Fill plug cracked loose FIRST") || s.Has(job.PlugOut) || s.UnitState() != verdict.AsFound {
			t.Errorf("%s: %q, %v", path, p.AskText(s), s.UnitState())
		}
	}
}

// C7: a thread that still runs is waited for, 10 minutes as a rule.
func TestAThreadIsWaitedFor(t *testing.T) {
	d := newDrive(t, port300())
	if w, ok := d.until(job.LevelWeeps).Wait(); !ok || w.For.Minutes() != 10 {
		t.Errorf("waits %v", w.For)
	}
}

// D: a plug above the level tells no level: it is never asked for, and never counts.
func TestAQuantityFromAbove(t *testing.T) {
	asked := map[job.Topic]bool{}
	d := newDrive(t, port300().with(script{job.FillPath: {"fill_above"}, job.OilSurface: nil, job.LipDistance: nil, job.CarTilt: nil}))
	d.seen = func(_ *Guide, p Prompt) { asked[p.Topic] = true }
	s := d.until(job.Decision)
	for _, no := range []job.Topic{job.LevelWeeps, job.LevelBelow, job.CarTilt, job.HoseBefore, job.Capped, job.EscapedHow} {
		if asked[no] {
			t.Errorf("%v is asked", no)
		}
	}
	if s.LevelSeen(0) || !asked[job.DrainPlugIn] {
		t.Error("it goes by a level, or pours before the drain plug is in")
	}
	if plan, err := s.Plan(0); err != nil || plan.SurplusML != 0 {
		t.Errorf("%v surplus, %v", plan.SurplusML, err)
	}
}

// What is out of sense is refused, and the refusal says what is allowed.
func TestRefusedLevels(t *testing.T) {
	s := newDrive(t, box9()).until(job.DrainedAmount)
	for _, c := range []struct {
		topic job.Topic
		line  string
		says  string
	}{
		{job.LevelWindow, "45-35", "35-45"}, {job.LevelWindow, "35-200", "150"}, {job.LevelWindow, "35", "two ends"},
		{job.LevelWindow, "20-80", "at most"}, {job.LevelWindow, "100-120", "between"}, {job.FirstCharge, "100", "never start an empty"},
		{job.CarTilt, "12", "10°"}, {job.CarTilt, "50/0", "above 0"}, {job.MakersPage, "p", "manual and page"},
		{job.LipBelow, "5-0", "0-5"}, {job.LevelAtC, "200", "150"},
	} {
		if _, err := (Prompt{Spec: ask.SpecOf(c.topic)}).Parse(s, c.line); err == nil || !strings.Contains(err.Error(), c.says) {
			t.Errorf("%v %q: %v, want %q", c.topic, c.line, err, c.says)
		}
	}
	for _, kind := range []string{"automatic_gearbox", "twin_clutch_gearbox", "belt_gearbox"} {
		s := newDrive(t, box9().with(script{job.UnitKind: {kind}})).until(job.FillPath)
		for _, way := range []job.Path{job.DrainPortOnly, job.LevelPort, job.FillAbove} {
			if (Prompt{Spec: ask.SpecOf(job.FillPath)}).Accept(s, job.Value{Choice: way.String()}) == nil {
				t.Errorf("%s is filled by %v", kind, way)
			}
		}
	}
}

// The engine is not started while another unit of the car is open.
func TestNoEngineBesideAnOpenUnit(t *testing.T) {
	d := newDrive(t, box9())
	d.until(job.EngineOn)
	s := Fold(d.job, Offers{Offers: ask.Offers{OpenUnits: []ask.OpenUnit{{Name: "rear axle", State: verdict.Empty}}}})
	for _, topic := range []job.Topic{job.ExhaustOut, job.EngineOn} {
		_, err := (Prompt{Spec: ask.SpecOf(topic)}).Answer(s, "", d.at)
		if err == nil || !strings.Contains(err.Error(), "rear axle is EMPTY") {
			t.Errorf("%v: %v", topic, err)
		}
	}
	if _, err := (Prompt{Spec: ask.SpecOf(job.EngineOn)}).Answer(d.state(), "", d.at); err != nil {
		t.Error(err)
	}
}

// above1900 is a unit of 1.9 L that is filled through a plug above its level.
func above1900() script {
	return small.with(script{job.FillPath: {"fill_above"}, job.Capacity: {"1900"}, job.CapacityMeans: {"refill"},
		job.ToleranceTopic: {"50"},
		job.PriorLevel:     {"verified"}, job.DrainedAmount: {"1900@20"}, job.LoadedAmount: {"1900"}, job.LeftInVessel: {"0"},
		job.OverflowCaught: {"0"}})
}

func TestQuantitiesFromAbove(t *testing.T) {
	for name, c := range map[string]struct {
		says   script
		words  []verdict.Headword
		ml, by float64
		drive  bool
	}{
		"D1 poured until it ran out": {script{job.LoadedAmount: {"2600"}}, []verdict.Headword{verdict.TooHigh}, 700, 30, false},
		"D2 ran out at 1500":         {script{job.OverflowCaught: {"400"}}, []verdict.Headword{verdict.TooLow}, 400, 30, false},
		// PROVEN by the stated range alone; here that figure is itself known to 3 %, which leaves it LIKELY at most.
		"D3 1880 in": {script{job.LoadedAmount: {"1880"}}, []verdict.Headword{verdict.Likely, verdict.NotSure}, 0, 0, true},
	} {
		t.Run(name, func(t *testing.T) {
			_, h := judged(t, above1900().with(c.says))
			if !slices.Contains(c.words, h.Word) || h.Verdict.MayDrive != c.drive {
				t.Errorf("%v, may be driven %v; %s; %s", h.Word, h.Verdict.MayDrive, h.Sentence, h.Odds)
			}
			if c.ml > 0 {
				closeTo(t, "amount", h.Verdict.ActML, c.ml, c.by)
			}
		})
	}
	// D4: the figure for an oil change is the one that counts, 2.1 and not 2.3 L.
	s, _ := judged(t, above1900().with(script{job.Capacity: {"2100"}, job.DrainedAmount: {"2050@20"}, job.LoadedAmount: {"2100"}}))
	plan, err := s.Plan(0)
	if err != nil {
		t.Fatal(err)
	}
	closeTo(t, "D4, aim", plan.Target.Nominal, 2080, 30)
	closeTo(t, "D4, 2.3 L would be over by, %", 100*(2300/2100.0-1), 9.5, 0.1)
	// D5: what funnel and bottles keep is left over, and not in.
	s, _ = judged(t, above1900().with(script{job.Capacity: {"2100"}, job.DrainedAmount: {"2100@20"}, job.LoadedAmount: {"2100@20"},
		job.LeftInVessel: {"55@20"}}))
	closeTo(t, "D5, in", s.NetFill(0).Nominal, 2045, 1)
	// D6: which of the two a plug at the top is, is asked in so many words.
	options := ask.SpecOf(job.FillPath).Options
	if !strings.Contains(options[2].Label, "above the level: a quantity") || !strings.Contains(options[1].Hint,
		"weeps from the level hole") {
		t.Errorf("%q, %q", options[1].Hint, options[2].Label)
	}
}

// C8: oil that runs as the plug at the top is cracked loose is caught and counts; G8: a plug
// that binds is backed out; H5: nearly all of a dry figure, cold and in minutes, moves the aim.
func TestOilAtTheFillPlugAndAPlugThatBinds(t *testing.T) {
	s := newDrive(t, port300()).until(job.WayInProved)
	p, _ := s.Next()
	if why := p.WhyText(s); !strings.Contains(why, "Oil runs now: catch it, it counts") {
		t.Errorf("C8: %q", why)
	}
	if why := ask.SpecOf(job.PlugSeated).Why; !strings.Contains(why, "binds, back it out") {
		t.Errorf("G8: %q", why)
	}
	d := newDrive(t, small.with(script{job.Capacity: {"900"}, job.CapacityMeans: {"dry"}, job.PriorLevel: {"verified"},
		job.OilTemperature: {"5"}, job.DrainedAmount: {"873@5"}}))
	d.until(job.DrainedMore)
	s = d.state()
	p, _ = s.Next()
	d.answer(s, p)
	s = d.state()
	plan, err := s.Plan(0)
	// It is not stopped at: 3 % left where 8 ± 4 % (± one standard uncertainty) is usual is 1.3 of those. The film of the
	// cold oil takes it further, but what a case's own walls hold is not known; the aim lies between both.
	if err != nil || plan.Z < 1 || plan.Target.Nominal > 873 {
		t.Errorf("H5: %v, z %.1f, aim %.0f", err, plan.Z, plan.Target.Nominal)
	}
}
