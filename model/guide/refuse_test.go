package guide

// This file types what is out of sense and expects one line that says what is
// allowed, and checks what an entry and a job may hold.

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

func TestRefusals(t *testing.T) {
	rated := script{job.Filler: {"pressurised"}, job.VesselRating: {"150 kPa"}}
	weighed := script{job.ScaleDivision: {"1"}, job.DrainedWith: {"scale"}, job.DrainedAmount: {"480"}, job.VesselWeighedFull: {"2000"},
		job.BottlesOpened: {"1000"}}
	for _, row := range []struct {
		at          job.Topic
		sc          script
		typed, says string
	}{
		{job.Capacity, nil, "0", "20 ml"},
		{job.Capacity, nil, "-900", "below zero"},
		{job.Capacity, nil, "1 - 3 L", "wide"},
		{job.Capacity, nil, "900 L", "200 L"},
		{job.Capacity, nil, "much", "type a volume"},
		{job.CapacityMeans, nil, "7", "1 to 4"},
		{job.CapacityMeans, nil, "dry", "1 to 4"},
		{job.ToleranceTopic, nil, "500", "at most 60 ml"},
		{job.ToleranceTopic, nil, "60%", "at most 60 ml"},
		{job.ToleranceTopic, nil, "0", "above 0"},
		{job.ToleranceTopic, nil, "61", "a tenth of what is stated"},
		{job.ToleranceTopic, script{job.Capacity: {"590-610"}}, "11", "the maker's own range allows 10 ml"},
		{job.ToleranceTopic, script{job.Capacity: {"540-660"}}, "61", "a tenth of what is stated"},
		{job.ResidualExpected, nil, "500", "at most 240 ml"},
		{job.Odometer, nil, "-5", ""},
		{job.OilDensity, nil, "88.5", "600 kg/m³"},
		{job.OilKV100, script{job.OilKV40: {"80"}}, "90", "below the figure at 40 °C"},
		{job.OilKV40, nil, "NaN", "plain number"},
		{job.AdditiveVolume, nil, "400", "half"},
		{job.TorqueFigure, nil, "4000", "325"},
		{job.IntervalMonths, nil, "1000", "240"},
		{job.ContainerName, nil, strings.Repeat("x", 21), "20 letters"},
		{job.ContainerName, nil, "a\tb", "without"},
		{job.ContainerGraduation, nil, "0", "0.1"},
		{job.ContainerError, nil, "50", "20 %"},
		{job.ContainerWaterReading, script{job.ContainerWater: {"1000"}}, "200", "ml"},
		{job.HoseBore, nil, "600", "60 mm"},
		{job.PushPressure, rated, "2 bar", "1.5 bar"},
		{job.PushPressure, rated, "0", "above 0"},
		{job.OilTemperature, nil, "160", "150 °C"},
		{job.OilTemperature, nil, "200", "150 °C"},
		{job.DrainedAmount, script{job.Capacity: {"0.9 L"}}, "10 L", "cannot come out of a unit of 900 ml"},
		{job.DrainedAmount, nil, "-5", "below zero"},
		{job.DrainedAmount, nil, "830@200C", "150 °C"},
		{job.DrainedAmount, weighed, "9000", "cannot come out"},
		{job.DrainedAmount, weighed, "480 ml", "weight"},
		{job.DrainedTemperature, nil, "160", "150 °C"},
		{job.LoadedAmount, nil, "9 L", "out of sense"},
		{job.LoadedTemperature, nil, "95", "80 °C"},
		{job.LoadedAmount, nil, "625@95C", "80 °C"},
		{job.DrainedAmount, nil, "550@151C", "150 °C"},
		{job.BottlesOpened, nil, "100", "less than what was poured in"},
		{job.LeftInVessel, nil, "900", "more than was poured in"},
		{job.VesselWeighedAfter, weighed, "2100", "heavier"},
		{job.EscapedAtCap, nil, "900", "more than was pushed in"},
		{job.EscapedAmount, nil, "900", "more than was pushed in"},
		{job.PadsAfter, script{job.EscapedHow: {"pads"}, job.PadsBefore: {"42"}}, "40", "lighter"},
	} {
		s := newDrive(t, small.with(row.sc)).until(row.at)
		v, err := asked(t, s, row.at).Parse(s, row.typed)
		switch {
		case err == nil:
			t.Errorf("%v: %q is taken as %+v", row.at, row.typed, v)
		case !strings.Contains(err.Error(), row.says) || strings.Contains(err.Error(), "\n"):
			t.Errorf("%v: %q: %q, does not say %q in one line", row.at, row.typed, err, row.says)
		case v.Number != 0 || v.Choice != "" || v.Text != "":
			t.Errorf("%v: refused, but comes with %+v", row.at, v)
		}
	}
}

func TestDripsOnlyGrow(t *testing.T) {
	d := newDrive(t, small.with(script{job.DripReading: {"300", "420"}}))
	d.until(job.DripReading)
	for range 2 {
		d.answer(d.state(), asked(t, d.state(), job.DripReading))
	}
	s := d.state()
	if _, err := asked(t, s, job.DripReading).Parse(s, "200"); err == nil || !strings.Contains(err.Error(), "420 ml") {
		t.Errorf("a level that falls: %v", err)
	}
}

// Answers that did not come from a keyboard are held to the same.
func TestAcceptHoldsEveryKind(t *testing.T) {
	for _, row := range []struct {
		at job.Topic
		v  job.Value
	}{
		{job.CapacityMeans, job.Value{Choice: "?"}}, {job.CapacityMeans, job.Value{Unknown: true}},
		{job.Capacity, job.Value{Number: 900, High: 900, Unit: job.DimG}},
		{job.Capacity, job.Value{Number: 900, High: 800, Unit: job.DimML}},
		{job.ToleranceTopic, job.Value{Number: 5, High: 5, Unit: job.DimC}},
		{job.ToleranceTopic, job.Value{Number: -5, High: 10, Unit: job.DimML}},
		{job.Odometer, job.Value{Number: 5, Unit: job.DimML}}, {job.Vehicle, job.Value{}},
		{job.ContainerGraduation, job.Value{Number: 10, Unit: job.DimG}},
		{job.DrainedAmount, job.Value{Number: 500, Unit: job.DimG}}, {job.DrainedAmount, job.Value{Number: math.NaN(), Unit: job.DimML}},
	} {
		s := newDrive(t, small).until(row.at)
		if err := asked(t, s, row.at).Accept(s, row.v); err == nil {
			t.Errorf("%v takes %+v", row.at, row.v)
		}
	}
}

func TestDensityAsKgPerLitre(t *testing.T) {
	s := newDrive(t, small).until(job.OilDensity)
	for _, typed := range []string{"885", "0.885", "0,885"} {
		if v, err := asked(t, s, job.OilDensity).Parse(s, typed); err != nil || math.Abs(v.Number-885) > 1e-9 || v.Unit != job.DimKgM3 {
			t.Errorf("%q: %+v, %v", typed, v, err)
		}
	}
}

func TestEcho(t *testing.T) {
	for _, row := range []struct {
		at          job.Topic
		sc          script
		typed, want string
	}{
		{job.Capacity, nil, "4.3-4.5 L", "4300 ml to 4500 ml"},
		{job.CapacityMeans, nil, "1", "ordinary oil change"},
		{job.ToleranceTopic, nil, "+20 -50", "-50 ml / +20 ml"},
		{job.ToleranceTopic, nil, "5%", "-5 / +5 %"},
		{job.DrainedAmount, nil, "500+330@60C", "500 + 330 = 830 ml at 60 °C = 806 ml at 20 °C"},
		// 480 g · 1.0012 / (885 · 0.99645) kg/m³ = 545.0 ml
		{job.DrainedAmount, script{job.ScaleDivision: {"1"}, job.OilDensity: {"885"}, job.DrainedWith: {"scale"}}, "810-330",
			"810 - 330 = 480 g = 545 ml at 20 °C"},
		{job.OilTemperature, nil, "45", "45 °C"},
	} {
		s := newDrive(t, small.with(row.sc)).until(row.at)
		p := asked(t, s, row.at)
		v, err := p.Parse(s, row.typed)
		if got := p.Echo(s, v); err != nil || got != row.want {
			t.Errorf("%v: %q is echoed as %q (%v), want %q", row.at, row.typed, got, err, row.want)
		}
	}
}

func TestEntryCheck(t *testing.T) {
	nan, inf := math.NaN(), math.Inf(1)
	good := job.Entry{Seq: 3, At: start, Topic: job.Capacity, Value: job.Value{Number: 900, Unit: job.DimML}}
	if err := good.Check(); err != nil {
		t.Fatal(err)
	}
	for name, spoil := range map[string]func(*job.Entry){
		"seq must":         func(e *job.Entry) { e.Seq = 0 },
		"topic is missing": func(e *job.Entry) { e.Topic = job.NoTopic },
		"at must":          func(e *job.Entry) { e.At = time.Time{} },
		"round must":       func(e *job.Entry) { e.Round = -1 },
		"item must":        func(e *job.Entry) { e.Item = job.MaxIndex + 1 },
		"strikes must":     func(e *job.Entry) { e.Strikes = 3 },
		"undo must":        func(e *job.Entry) { e.Topic = job.Undo },
		"parts must":       func(e *job.Entry) { e.Value.Parts = make([]float64, job.MaxIndex+1) },
		"unit is not":      func(e *job.Entry) { e.Value.Unit = job.NumDims },
		"texts must":       func(e *job.Entry) { e.Typed = "\xff" },
		"numbers must":     func(e *job.Entry) { e.Value.AtC = &nan },
		"numbers must be":  func(e *job.Entry) { e.Value.Parts = []float64{inf} },
	} {
		e := good
		spoil(&e)
		if err := e.Check(); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

func TestJobCheck(t *testing.T) {
	for name, job := range map[string]job.Job{
		"id":       {Started: start},
		"id with":  {ID: "../x", Started: start},
		"start":    {ID: "x"},
		"seq":      {ID: "x", Started: start, Entries: []job.Entry{{Seq: 2, At: start, Topic: job.Capacity}}},
		"entries;": {ID: "x", Started: start, Entries: make([]job.Entry, job.MaxEntries+1)},
	} {
		if err := job.Check(); err == nil || !strings.Contains(err.Error(), strings.Fields(name)[0]) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Every name that is stored can be read again, and no two are one.
func TestNamesInFiles(t *testing.T) {
	seen := map[string]bool{}
	for topic := job.Undo; topic < job.NumTopics; topic++ {
		text, err := topic.MarshalText()
		var back job.Topic
		if err != nil || back.UnmarshalText(text) != nil || back != topic || seen[string(text)] ||
			strings.ContainsAny(string(text), " \"") {
			t.Errorf("topic %d is written %q (%v) and read as %v", topic, text, err, back)
		}
		seen[string(text)] = true
	}
	for d := range job.NumDims {
		text, _ := d.MarshalText()
		var back job.Dim
		if back.UnmarshalText(text) != nil || back != d {
			t.Errorf("unit %d is written %q", d, text)
		}
	}
	text := func(v interface{ MarshalText() ([]byte, error) }) string {
		b, err := v.MarshalText()
		return fmt.Sprint(string(b), err)
	}
	for want, got := range map[string]string{
		"left_unproven<nil>": text(verdict.LeftOff), "to_recheck<nil>": text(ToRecheck), "unknown<nil>": text(estimate.MeansUnknown),
		"verified<nil>": text(estimate.Verified),
		"drained<nil>":  text(estimate.ByDrained), "likely within<nil>": text(verdict.LikelyWithin), "let out<nil>": text(verdict.LetOut),
		"unit state 9 has no name": text(verdict.UnitState(9)), "phase 9 has no name": text(Phase(9)),
		"topic 0 has no name": text(job.NoTopic),
	} {
		if got != want {
			t.Errorf("written as %q, want %q", got, want)
		}
	}
	var topic job.Topic
	var dim job.Dim
	if topic.UnmarshalText([]byte("prepare.nonsense")) == nil || dim.UnmarshalText([]byte("furlong")) == nil {
		t.Error("names that are not known are read")
	}
}

// 300 letters are 300 letters in any script.
func TestLettersAreNotBytes(t *testing.T) {
	s := newDrive(t, small).until(job.Remark)
	p := asked(t, s, job.Remark)
	for text, ok := range map[string]bool{
		strings.Repeat("ж", 300): true, strings.Repeat("ж", 301): false, "caf\xe9": false, "café": true,
	} {
		if _, err := p.Parse(s, text); (err == nil) != ok {
			t.Errorf("%d bytes: %v", len(text), err)
		}
	}
}

// In US units a temperature is told in °F.
func TestEchoOfAMassInUSUnits(t *testing.T) {
	s := newDrive(t,
		inML(small).with(script{job.DisplayUnits: {"us"}, job.ScaleDivision: {"1 g"}, job.DrainedWith: {"scale"}})).until(job.DrainedAmount)
	p := asked(t, s, job.DrainedAmount)
	v, err := p.Parse(s, "480 g")
	if err != nil {
		t.Fatal(err)
	}
	if got := p.Echo(s, v); !strings.HasSuffix(got, " at 68 °F") {
		t.Errorf("%q", got)
	}
}

func TestNumbersOutOfSense(t *testing.T) {
	s := newDrive(t, small).until(job.Odometer)
	for _, x := range []float64{math.NaN(), math.Inf(1), math.Inf(-1)} {
		if asked(t, s, job.Odometer).Accept(s, job.Value{Number: x, Unit: job.DimKm}) == nil {
			t.Errorf("an odometer of %v is taken", x)
		}
	}
}

// More left in the bottles than was in them is no reading.
func TestMoreLeftThanOpened(t *testing.T) {
	s := newDrive(t, small.with(script{job.BottlesOpened: {"500+500"}})).until(job.BottlesLeft)
	p := asked(t, s, job.BottlesLeft)
	if _, err := p.Parse(s, "1200"); err == nil || !strings.Contains(err.Error(), "1000 ml") {
		t.Errorf("%v", err)
	}
	if _, err := p.Parse(s, "1010"); err != nil {
		t.Errorf("bottles are filled to 1.5 %% over: %v", err)
	}
}

// Whatever is written of a job can be read again.
func TestStatesInFiles(t *testing.T) {
	readBack(t, "unit state", verdict.NumUnitStates)
	readBack(t, "phase", phaseCount)
	readBack(t, "meaning", estimate.MeansUnknown+1)
	readBack(t, "trust", estimate.TrustNobodyKnows+1)
	readBack(t, "witness", estimate.ByCapacity+1)
	readBack(t, "word", verdict.High+1)
	readBack(t, "act", verdict.Remeasure+1)
}

// inFiles reads a constant by its name in files.
type inFiles[T any] interface {
	*T
	UnmarshalText([]byte) error
}

func readBack[T interface {
	~uint8
	MarshalText() ([]byte, error)
}, P inFiles[T]](t *testing.T, what string, count T) {
	t.Helper()
	seen := map[string]bool{}
	for v := range count {
		text, err := v.MarshalText()
		var back T
		if err != nil || P(&back).UnmarshalText(text) != nil || back != v || len(text) == 0 || seen[string(text)] {
			t.Errorf("%s %d is written %q (%v) and read as %v", what, v, text, err, back)
		}
		seen[string(text)] = true
	}
	var none T
	if P(&none).UnmarshalText([]byte("nonsense")) == nil {
		t.Errorf("%s: nonsense is read", what)
	}
}

// Case and outer space tie no two units apart, nor two units together.
func TestUnitKey(t *testing.T) {
	if a, b := job.UnitKey(" The  Car", "Rear axle "), job.UnitKey("the car", "rear axle"); a != b || a == "" {
		t.Errorf("%q and %q", a, b)
	}
	if job.UnitKey("car", "") != "" || job.UnitKey(" ", "axle") != "" || job.UnitKey("a b", "c") == job.UnitKey("a", "b c") {
		t.Error("a unit without a name, or two that are one")
	}
}

// What was drained short of the stated quantity stayed in the unit, and can escape
// beside the little that was pushed in: 600 - 550 ml, and 20 ml of 120.
func TestMoreMayEscapeThanWasPushedIn(t *testing.T) {
	s := newDrive(t,
		small.with(script{job.Capacity: {"600"}, job.DrainedAmount: {"550@20"}, job.LoadedAmount: {"120"},
			job.LeftInVessel: {"100"}})).until(job.EscapedAtCap)
	p := asked(t, s, job.EscapedAtCap)
	for text, taken := range map[string]bool{"80": true, "100": false} {
		if _, err := p.Parse(s, text); (err == nil) != taken {
			t.Errorf("%s ml escaped: %v", text, err)
		}
	}
}
