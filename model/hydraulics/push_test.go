package hydraulics

// Checks of the push as a whole.

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"garage/tundish/model/oil"

	"gonum.org/v1/gonum/floats/scalar"
	"pgregory.net/rapid"
)

func gearOil() oil.Oil { return oil.Oil{Rho15KgM3: 890, KV40CSt: 140, KV100CSt: 14.5} }

func plan() PushPlan {
	return PushPlan{
		Pieces: []Piece{{6, 1.5}}, Oil: gearOil(), TempC: 8,
		VolumeML: 900, LiftM: 0.8, PressureKPa: 100,
	}
}

// Computed, not published: 600 ml of an 80W-90 through 1.5 m at 0.5 bar without a lift, with
// viscosities read off a chart to two digits, hence 8 %.
func TestPushTimesRegression(t *testing.T) {
	for _, row := range []struct{ boreMM, tempC, wantS float64 }{
		{6, 3, 1000}, {6, 10, 540}, {6, 20, 250}, {6, 40, 70},
		{10, 3, 130}, {10, 10, 70}, {10, 20, 32}, {10, 40, 9},
	} {
		got, err := Push(PushPlan{Pieces: []Piece{{row.boreMM, 1.5}}, Oil: gearOil(), TempC: row.tempC, VolumeML: 600, PressureKPa: 50})
		if err != nil || got.Outcome != Finishes || math.Abs(got.Minutes*60/row.wantS-1) > 0.08 {
			t.Errorf("%g mm at %g °C: %.1f s, %v; want %g", row.boreMM, row.tempC, got.Minutes*60, err, row.wantS)
		}
	}
}

// Every field of one result, by hand from the law: 140 cSt at 40 °C.
func TestPushByHand(t *testing.T) {
	p := PushPlan{Pieces: []Piece{{8, 1}, {4, 0.1}}, Oil: gearOil(), TempC: 40, VolumeML: 500, LiftM: 1, PressureKPa: 60}
	got, err := Push(p)
	if err != nil {
		t.Fatal(err)
	}
	rhoKgM3, _ := gearOil().DensityAt(40)
	liftPa := rhoKgM3 * 9.80665
	muPaS := 140e-6 * rhoKgM3
	resistance := 128 * muPaS / math.Pi * (1/math.Pow(8e-3, 4) + 0.1/math.Pow(4e-3, 4))
	flowM3S := (60000 - liftPa) / resistance
	for _, row := range []struct {
		name      string
		got, want float64
	}{
		{"minutes", got.Minutes, 500e-6 / flowM3S / 60},
		{"flow", got.StartMLPerMin, flowM3S * 6e7},
		{"Reynolds number in the 4 mm piece", got.Reynolds, 4 * flowM3S / (math.Pi * 4e-3 * 140e-6)},
		// For one piece the share is Re d/(32 L); here the wider piece takes some of the pressure.
		{"share of the speed", got.speedShare, got.Reynolds * 0.004 / (32 * 0.1) * (0.1 / math.Pow(4e-3, 4)) / (1/math.Pow(8e-3,
			4) + 0.1/math.Pow(4e-3, 4))},
		{"lift", got.LiftKPa, liftPa / 1000},
		{"end pressure", got.EndPressureKPa, 60},
		{"viscosity", got.ViscosityCSt, 140},
		{"density", got.densityKgM3, rhoKgM3},
	} {
		if !scalar.EqualWithinRel(row.got, row.want, 1e-9) {
			t.Errorf("%s %v, want %v", row.name, row.got, row.want)
		}
	}
	if got.Outcome != Finishes || got.StallsAfterML != 0 || got.RestoresToFinish != 0 {
		t.Errorf("%+v: held pressure neither stalls nor is restored", got)
	}
}

func TestStall(t *testing.T) {
	p := plan()
	p.AirML = 400
	got, err := Push(p)
	if err != nil {
		t.Fatal(err)
	}
	if got.Outcome != Stalls || got.Minutes != 0 || !scalar.EqualWithinRel(got.EndPressureKPa, got.LiftKPa, 1e-9) {
		t.Errorf("400 ml of air cannot push 900 ml of oil: %+v", got)
	}
	// It reaches 344 ml; 900 ml in parts of at most 90 % of that are three parts.
	if math.Abs(got.StallsAfterML-344) > 1 || got.RestoresToFinish != 2 {
		t.Errorf("stalls after %.1f ml, %d restorings; want 344 and 2", got.StallsAfterML, got.RestoresToFinish)
	}
	// 1.9 times the reach is three parts too: two would use more than 90 % of it.
	p.VolumeML = 1.9 * got.StallsAfterML
	if longer, err := Push(p); err != nil || longer.RestoresToFinish != 2 {
		t.Errorf("1.9 times the reach: %+v, %v", longer, err)
	}
	p.VolumeML = got.StallsAfterML * 0.999
	if before, err := Push(p); err != nil || before.Outcome != Finishes {
		t.Errorf("just before the stall: %+v, %v", before, err)
	}
	p = plan()
	p.PressureKPa = 6
	if got, err := Push(p); err != nil || got.Outcome != Stalls || got.StallsAfterML != 0 || got.RestoresToFinish != 0 ||
		got.Reynolds != 0 {
		t.Errorf("6 kPa do not lift oil by 0.8 m: %+v, %v", got, err)
	}
	p.LiftM, p.PressureKPa = -0.5, 0
	if got, err := Push(p); err != nil || got.Outcome != Finishes {
		t.Errorf("a raised vessel needs no pressure: %+v, %v", got, err)
	}
}

func genPlan(t *rapid.T) PushPlan {
	kv100CSt := rapid.Float64Range(4, 30).Draw(t, "kv100")
	return PushPlan{
		Pieces:      rapid.SliceOfN(genPiece(), 1, 4).Draw(t, "pieces"),
		Oil:         oil.Oil{Rho15KgM3: rapid.Float64Range(800, 950).Draw(t, "rho15"), KV40CSt: kv100CSt * 8, KV100CSt: kv100CSt},
		TempC:       rapid.Float64Range(0, 60).Draw(t, "temp"),
		VolumeML:    rapid.Float64Range(50, 5000).Draw(t, "volume"),
		LiftM:       rapid.Float64Range(-1, 1.5).Draw(t, "lift"),
		PressureKPa: rapid.Float64Range(20, 200).Draw(t, "pressure"),
		AirML:       rapid.SampledFrom([]float64{0, 300, 1000, 5000}).Draw(t, "air"),
	}
}

func mustPush(t *rapid.T, p PushPlan) PushResult {
	r, err := Push(p)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// The time is proportional to the dynamic viscosity, so at the same pressure and lift it goes
// as the product of viscosity and density.
func TestTimeScalesWithViscosity(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genPlan(t)
		p.AirML, p.LiftM = 0, 0
		a := mustPush(t, p)
		p.TempC += 10
		b := mustPush(t, p)
		if !scalar.EqualWithinRel(a.Minutes/b.Minutes, a.ViscosityCSt*a.densityKgM3/(b.ViscosityCSt*b.densityKgM3), 1e-9) {
			t.Fatalf("%+v and %+v", a, b)
		}
	})
}

func TestTwoHalvesOfAHoseAreTheHose(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genPlan(t)
		whole := mustPush(t, p)
		var halves []Piece
		for _, piece := range p.Pieces {
			half := Piece{piece.BoreMM, piece.LengthM / 2}
			halves = append(halves, half, half)
		}
		p.Pieces = halves
		if got := mustPush(t, p); !scalar.EqualWithinAbsOrRel(got.Minutes, whole.Minutes, 1e-12, 1e-9) || got.Outcome != whole.Outcome {
			t.Fatalf("whole %+v, halves %+v", whole, got)
		}
	})
}

// More air, more pressure, a wider bore or a lower port never slow a push down.
func TestHelpHelps(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genPlan(t)
		before := mustPush(t, p)
		if before.Outcome != Finishes {
			t.Skip("stalls")
		}
		wider := p
		wider.Pieces = append([]Piece{}, p.Pieces...)
		wider.Pieces[0].BoreMM *= 1.1
		air, pressure, lift := p, p, p
		air.AirML *= 1.1
		pressure.PressureKPa *= 1.1
		lift.LiftM -= 0.1
		for name, helped := range map[string]PushPlan{"bore": wider, "air": air, "pressure": pressure, "lift": lift} {
			if after := mustPush(t, helped); after.Outcome != Finishes || after.Minutes > before.Minutes*(1+1e-9) {
				t.Fatalf("%s: %+v became %+v", name, before, after)
			}
		}
	})
}

// The number of restorings that a stall names is enough, and with many restorings the push is
// as quick as with the pressure held.
func TestRestoring(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		p := genPlan(t)
		p.AirML = rapid.Float64Range(100, 1000).Draw(t, "air")
		first := mustPush(t, p)
		if first.Outcome == Stalls && first.RestoresToFinish > 0 {
			p.Restores = first.RestoresToFinish
			if r := mustPush(t, p); r.Outcome != Finishes {
				t.Fatalf("%d restorings were to be enough: %+v", p.Restores, r)
			}
		}
		if p.PressureKPa-first.LiftKPa < 5 {
			t.Skip("too near to the stall to compare")
		}
		p.Restores = maxRestores
		many := mustPush(t, p)
		p.Restores, p.AirML = 0, 0
		if held := mustPush(t, p); many.Outcome == Finishes && (many.Minutes < held.Minutes || many.Minutes > held.Minutes*3) {
			t.Fatalf("restored %d times %v min, held %v min", maxRestores, many.Minutes, held.Minutes)
		}
	})
}

// A push whose pressure is brought back is a row of pushes, each with the air space that
// those before it left; and by the law of Boyle the last ends where the air space at its start
// has grown by its part.
func TestRestoredPushIsARowOfPushes(t *testing.T) {
	p := plan()
	p.AirML, p.Restores = 500, 4
	got, err := Push(p)
	if err != nil || got.Outcome != Finishes {
		t.Fatalf("%+v, %v", got, err)
	}
	var minutes float64
	for part := range 5 {
		one := p
		one.Restores, one.VolumeML, one.AirML = 0, p.VolumeML/5, 500+float64(part)*p.VolumeML/5
		r, err := Push(one)
		if err != nil || r.Outcome != Finishes {
			t.Fatalf("part %d: %+v, %v", part, r, err)
		}
		minutes += r.Minutes
	}
	endKPa := (p.PressureKPa+101.325)*(500+720)/(500+900) - 101.325
	if !scalar.EqualWithinRel(got.Minutes, minutes, 1e-12) || !scalar.EqualWithinRel(got.EndPressureKPa, endKPa, 1e-12) {
		t.Errorf("%v min to %v kPa, want %v min to %v kPa", got.Minutes, got.EndPressureKPa, minutes, endKPa)
	}
}

func TestPushRefusals(t *testing.T) {
	for _, row := range []struct {
		names  string
		change func(*PushPlan)
	}{
		{"no hose", func(p *PushPlan) { p.Pieces = nil }},
		{"bore", func(p *PushPlan) { p.Pieces = []Piece{{0, 1}} }},
		{"volume 0 ml is not allowed: give 1 to 100000 ml", func(p *PushPlan) { p.VolumeML = 0 }},
		{"volume", func(p *PushPlan) { p.VolumeML = math.Inf(1) }},
		{"lift", func(p *PushPlan) { p.LiftM = 11 }},
		{"lift", func(p *PushPlan) { p.LiftM = math.NaN() }},
		{"pressure -1 kPa", func(p *PushPlan) { p.PressureKPa = -1 }},
		{"pressure", func(p *PushPlan) { p.PressureKPa = 100000 }},
		{"air", func(p *PushPlan) { p.AirML = -400 }},
		{"air", func(p *PushPlan) { p.AirML = math.NaN() }},
		{"restoring the pressure -1 times", func(p *PushPlan) { p.Restores = -1 }},
		{"give the air", func(p *PushPlan) { p.Restores = 2 }},
		{"viscosity not known", func(p *PushPlan) { p.Oil = oil.Oil{Rho15KgM3: 870} }},
		{"rho15", func(p *PushPlan) { p.Oil.Rho15KgM3 = 0 }},
		{"temperature", func(p *PushPlan) { p.TempC = 300 }},
	} {
		p := plan()
		row.change(&p)
		if got, err := Push(p); err == nil || !strings.Contains(err.Error(), row.names) {
			t.Errorf("%+v, %v; want mention of %q", got, err, row.names)
		}
	}
}

// A limit itself is allowed, a hair beyond it is not.
func TestPushLimits(t *testing.T) {
	for name, set := range map[string]struct {
		limit, beyond float64
		field         func(*PushPlan, float64)
	}{
		"little":   {1, 0.99, func(p *PushPlan, v float64) { p.VolumeML = v }},
		"much":     {1e5, 1e5 + 1, func(p *PushPlan, v float64) { p.VolumeML = v }},
		"low":      {-5, -5.01, func(p *PushPlan, v float64) { p.LiftM = v }},
		"high":     {10, 10.01, func(p *PushPlan, v float64) { p.LiftM = v }},
		"none":     {0, -0.01, func(p *PushPlan, v float64) { p.PressureKPa = v }},
		"pressed":  {1000, 1000.1, func(p *PushPlan, v float64) { p.PressureKPa = v }},
		"tight":    {10, 9.99, func(p *PushPlan, v float64) { p.AirML = v }},
		"airy":     {1e6, 1e6 + 1, func(p *PushPlan, v float64) { p.AirML = v }},
		"narrow":   {0.1, 0.099, func(p *PushPlan, v float64) { p.Pieces = []Piece{{v, 1}} }},
		"wide":     {100, 100.1, func(p *PushPlan, v float64) { p.Pieces = []Piece{{v, 1}} }},
		"short":    {0.001, 0.0009, func(p *PushPlan, v float64) { p.Pieces = []Piece{{6, v}} }},
		"long":     {50, 50.1, func(p *PushPlan, v float64) { p.Pieces = []Piece{{6, v}} }},
		"pieces":   {50, 51, func(p *PushPlan, v float64) { p.Pieces = slices.Repeat([]Piece{{6, 1}}, int(v)) }},
		"restores": {200, 201, func(p *PushPlan, v float64) { p.AirML, p.Restores = 400, int(v) }},
	} {
		p := plan()
		set.field(&p, set.limit)
		if _, err := Push(p); err != nil {
			t.Errorf("%s: %v", name, err)
		}
		set.field(&p, set.beyond)
		if got, err := Push(p); err == nil {
			t.Errorf("%s: %g accepted: %+v", name, set.beyond, got)
		}
	}
	p := plan()
	p.Restores = 1
	if _, err := Push(p); err == nil {
		t.Error("held pressure cannot be restored even once")
	}
}

// Whatever is planned, the result is finite or an error.
func TestResultsAreFinite(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		number := rapid.OneOf(rapid.Float64(), rapid.Float64Range(-10, 1000))
		p := PushPlan{
			Pieces: []Piece{{number.Draw(t, "bore"), number.Draw(t, "length")}},
			Oil: oil.Oil{Rho15KgM3: rapid.Float64Range(500, 1300).Draw(t, "rho15"), KV40CSt: number.Draw(t, "kv40"),
				KV100CSt: number.Draw(t, "kv100")},
			TempC: number.Draw(t, "temp"), VolumeML: number.Draw(t, "volume"), LiftM: number.Draw(t, "lift"),
			PressureKPa: number.Draw(t, "pressure"), AirML: number.Draw(t, "air"), Restores: rapid.IntRange(-2, 300).Draw(t, "restores"),
		}
		r, err := Push(p)
		for _, got := range []float64{r.Minutes, r.StallsAfterML, r.EndPressureKPa, r.Reynolds, r.StartMLPerMin} {
			if math.IsNaN(got) || math.IsInf(got, 0) || err != nil && got != 0 {
				t.Fatalf("%+v: %+v, %v", p, r, err)
			}
		}
	})
}

func TestWarmer(t *testing.T) {
	advice, err := Warmer(plan(), 5, 8, 25, 35)
	if err != nil || len(advice) != 2 || advice[0].TempC != 25 || advice[1].TempC != 35 {
		t.Fatalf("%v, %v", advice, err)
	}
	for _, a := range advice {
		if !(a.Then.Minutes < a.Now.Minutes) {
			t.Errorf("warmer oil is slower: %v", a)
		}
	}
	if _, err := Warmer(plan(), 50); err != nil {
		t.Error(err)
	}
	if _, err := Warmer(plan(), 51); err == nil || !strings.Contains(err.Error(), "temperature to warm to 51 °C") {
		t.Errorf("51 °C was advised: %v", err)
	}
	p := plan()
	p.Pieces = nil
	if _, err := Warmer(p, 25); err == nil {
		t.Error("advice without a hose")
	}
}

func ExampleWarmer() {
	p := PushPlan{
		Pieces: []Piece{{BoreMM: 6, LengthM: 1.5}}, Oil: oil.Oil{Rho15KgM3: 870, KV40CSt: 100, KV100CSt: 14.5},
		TempC: 8, VolumeML: 900, LiftM: 0.8, PressureKPa: 100,
	}
	advice, _ := Warmer(p, 25)
	fmt.Println(advice[0])
	p.AirML = 400
	stalled, _ := Push(p)
	fmt.Println(stalled)
	// Output:
	// warm the oil to 25 °C: 84 s instead of 4 min
	// stalls after 344 ml: the pressure no longer lifts the oil
}

func TestResultsInWords(t *testing.T) {
	for want, r := range map[string]PushResult{
		"not reckoned":   {},
		"90 s":           {Outcome: Finishes, Minutes: 1.4999},
		"2 min":          {Outcome: Finishes, Minutes: 1.51},
		"1 h 30 min":     {Outcome: Finishes, Minutes: 90},
		"99 h 59 min":    {Outcome: Finishes, Minutes: 5999},
		"100 h":          {Outcome: Finishes, Minutes: 6000},
		"45 s":           {Outcome: Finishes, Minutes: 0.75},
		"11 min":         {Outcome: Finishes, Minutes: 11.2},
		"1 h 40 min":     {Outcome: Finishes, Minutes: 99.6},
		"more than 9 s":  {Outcome: Finishes, Minutes: 0.15, Reynolds: 2000},
		"more than 10 s": {Outcome: Finishes, Minutes: 0.16, Reynolds: 100, speedShare: 0.11},
		"does not start: the pressure does not lift the oil":        {Outcome: Stalls},
		"stalls after 320 ml: the pressure no longer lifts the oil": {Outcome: Stalls, StallsAfterML: 320},
	} {
		if got := r.String(); got != want {
			t.Errorf("%q, want %q", got, want)
		}
	}
	if got := (PushResult{Outcome: Finishes, Minutes: 1.5}).String(); got != "2 min" {
		t.Errorf("a minute and a half is %q", got)
	}
	if text := fmt.Sprint(Finishes, Stalls, Outcome(0)); text != "finishes stalls not reckoned" {
		t.Errorf("outcomes read %q", text)
	}
	stall := PushResult{Outcome: Stalls, StallsAfterML: 320}
	finish := PushResult{Outcome: Finishes, Minutes: 3}
	for _, a := range []WarmerAdvice{{25, stall, stall}, {25, stall, finish}, {25, finish, stall}} {
		if got := a.String(); strings.Contains(got, "instead") || !strings.HasPrefix(got, "oil at 25 °C: ") {
			t.Errorf("warming is compared with a push that stalls: %q", got)
		}
	}
}

// A push without any pressure over the lift has no flow, and no share of a speed.
func TestPushThatDoesNotStartHasNoSpeed(t *testing.T) {
	p := plan()
	p.PressureKPa, p.LiftM = 0, 1
	r, err := Push(p)
	if err != nil || r.Outcome != Stalls || r.StartMLPerMin != 0 || r.speedShare != 0 || r.IsLowerBound() {
		t.Errorf("%+v, %v", r, err)
	}
}

func BenchmarkPush(b *testing.B) {
	p := plan()
	p.AirML, p.Restores = 400, 5
	for b.Loop() {
		_, _ = Push(p)
	}
}

// Nine tenths of a reach of 1 ml a charge: 181 ml are 201.1 charges, one more than 200 restorings give.
func TestRestoresToFinish(t *testing.T) {
	for volumeML, want := range map[float64]int{0.8: 0, 1: 1, 1.7: 1, 180.5: 200, 181: 0} {
		if got := restoresToFinish(volumeML, 1); got != want {
			t.Errorf("%g ml need %d restorings, want %d", volumeML, got, want)
		}
	}
}
