package card

// This file holds cards to their schema and to sense, whoever wrote them.

import (
	"bytes"
	"fmt"
	"math"
	"path/filepath"
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"pgregory.net/rapid"
)

func good() Card {
	return Card{Name: "K2 rear axle", Unit: "final_drive", Path: "drain_only", Jobs: 14, Thread: "M18x1.5",
		Key: "10mm hex", Washer: "copper",
		Out: Figure{14, 548, 9.2}, In: &Figure{12, 551.5, 10}, Stays: &Figure{5, 47, 8}, Drain: &Figure{14, 24, 6},
		Spill: []ByRig{{"hand_pump", 40, Figure{6, 46, 12}}}}
}

func written(t testing.TB, c Card) string {
	t.Helper()
	var b bytes.Buffer
	if err := Write(&b, c); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func schema(t testing.TB) *jsonschema.Schema {
	t.Helper()
	path, err := filepath.Abs("../../testdata/schema/card-1.schema.json")
	if err != nil {
		t.Fatal(err)
	}
	s, err := jsonschema.NewCompiler().Compile(path)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func fits(s *jsonschema.Schema, text string) error {
	value, err := jsonschema.UnmarshalJSON(strings.NewReader(text))
	if err != nil {
		return err
	}
	return s.Validate(value)
}

// Any card that passes its check fits the schema and comes back as it was.
func TestAnyCardComesBack(t *testing.T) {
	s := schema(t)
	figure := rapid.Custom(func(t *rapid.T) Figure {
		mean := rapid.Float64Range(20, 2000).Draw(t, "mean")
		return Figure{rapid.IntRange(3, 20).Draw(t, "jobs"), mean, rapid.Float64Range(0, mean/2).Draw(t, "sd")}
	})
	rapid.Check(t, func(t *rapid.T) {
		c := Card{Name: rapid.StringN(1, 40, -1).Draw(t, "name"), Unit: "other", Path: "level_port",
			Jobs: 20, Out: figure.Draw(t, "out"), Washer: rapid.StringN(0, 40, -1).Draw(t, "washer")}
		if rapid.Bool().Draw(t, "stays") {
			f := figure.Draw(t, "stays inside")
			c.Stays = &f
		}
		if c.Check() != nil {
			return
		}
		var b bytes.Buffer
		if err := Write(&b, c); err != nil {
			t.Fatal(err)
		}
		if err := fits(s, b.String()); err != nil {
			t.Fatalf("%v\n%s", err, b.String())
		}
		back, err := Read(bytes.NewReader(b.Bytes()))
		if err != nil || !reflect.DeepEqual(back, c) || !Is(b.Bytes()) {
			t.Fatalf("%v\n%+v\n%+v", err, back, c)
		}
	})
	if err := fits(s, written(t, good())); err != nil {
		t.Error(err)
	}
}

func TestSenselessCardsAreRefused(t *testing.T) {
	text := written(t, good())
	for _, x := range []struct{ from, to, says string }{
		{`"jobs": 14,`, `"jobs": 1,`, "1 jobs; 3 or more"},
		{`"mean": 548`, `"mean": -548`, "came_out_ml: mean"},
		{`"mean": 548`, `"mean": 5e9`, "came_out_ml: mean"},
		{`"mean": 548`, `"mean": 1e999`, "must be finite"},
		{`"mean": 548`, `"mean": "548"`, "must be a number"},
		{`"mean": 548`, `"mean": 548, "mean": 549`, "stands twice"},
		{`"sd": 9.2`, `"sd": -1`, "came_out_ml: sd"},
		{`"sd": 9.2`, `"sd": 400`, "more than half of the mean"},
		{`"mean": 47`, `"mean": 900`, "stays_inside_ml: mean"},
		{`"jobs": 5`, `"jobs": 2`, "stays_inside_ml: jobs"},
		{`"jobs": 5`, `"jobs": 50`, "stays_inside_ml: jobs"},
		{`"came_out_ml"`, `"came_out"`, "came_out_ml is missing"},
		{`"K2 rear axle"`, `""`, "name of the kind"},
		{`"K2 rear axle"`, `"\u001b[2J"`, "do not show"},
		{`"K2 rear axle"`, `"a\u202eb"`, "do not show"},
		{`"K2 rear axle"`, `"` + strings.Repeat("m", 41) + `"`, "40 letters"},
		{`"final_drive"`, `"../../etc"`, "names as they are in jobs"},
		{`"schema_version": 1`, `"schema_version": 2`, "newer version"},
		{`"schema_version": 1`, `"schema_version": 0`, "missing"},
		{`"tundish-card"`, `"tundish-job"`, "not a card"},
	} {
		if strings.Count(text, x.from) == 0 {
			t.Fatalf("%s does not stand in the card", x.from)
		}
		bad := strings.Replace(text, x.from, x.to, 1)
		if _, err := Read(strings.NewReader(bad)); err == nil || !strings.Contains(err.Error(), x.says) {
			t.Errorf("%s: %v, want %q", x.to, err, x.says)
		}
	}
	if _, err := Read(strings.NewReader(text + "{}")); err == nil {
		t.Error("something behind the card is let through")
	}
	if _, err := Read(strings.NewReader(text + strings.Repeat(" ", maxBytes))); err == nil {
		t.Error("a huge file is let through")
	}
}

// What is taken up to a limit, and refused just beyond it (common practice, no source).
func TestLimitsOfCards(t *testing.T) {
	for name, x := range map[string]struct {
		set         func(c *Card, v float64)
		least, most float64
		step        float64
	}{
		"jobs":       {func(c *Card, v float64) { c.Jobs = int(v) }, 14, 100_000, 1}, // 14 of them are of what came out
		"came out":   {func(c *Card, v float64) { c.Out.Mean = v; c.Stays, c.Spill = nil, nil }, 20, 200_000, 0.1},
		"its jobs":   {func(c *Card, v float64) { c.Out.Jobs = int(v) }, 3, 14, 1},
		"its sd":     {func(c *Card, v float64) { c.Out.SD = v }, 0, 274, 0.1},
		"went in":    {func(c *Card, v float64) { c.In.Mean = v }, 20, 200_000, 0.1},
		"its sd, in": {func(c *Card, v float64) { c.In.SD = v }, 0, 200_000, 0.1},
		"stays":      {func(c *Card, v float64) { c.Stays.Mean = v }, 0, 548, 0.1},
		"drain":      {func(c *Card, v float64) { c.Drain.Mean = v }, 0, 3000, 0.1},
		"hose":       {func(c *Card, v float64) { c.Spill[0].HoseML = int(v) }, 0, 10_000, 1},
		"spilled":    {func(c *Card, v float64) { c.Spill[0].Mean = v }, 0, 548, 0.1},
		"rigs":       {func(c *Card, v float64) { c.Spill = slices.Repeat(c.Spill, int(v)) }, 0, 50, 1},
	} {
		for v, taken := range map[float64]bool{x.least: true, x.most: true, x.least - x.step: false, x.most + x.step: false} {
			c := good()
			if name == "rigs" && v < 0 {
				continue
			}
			if name == "came out" && taken {
				c.Out.SD = 0
			}
			x.set(&c, v)
			if err := c.Check(); (err == nil) != taken {
				t.Errorf("%s %g: %v", name, v, err)
			}
		}
	}
	few := Card{Name: "K2", Unit: "final_drive", Path: "drain_only", Jobs: MinJobs, Out: Figure{MinJobs, 548, 9.2}}
	if err := few.Check(); err != nil || Is([]byte(`{"schema": "tundish-job"}`)) {
		t.Errorf("%d jobs: %v; or a job is a card", MinJobs, err)
	}
	text := written(t, good())
	for size, taken := range map[int]bool{maxBytes: true, maxBytes + 1: false} {
		file := text + strings.Repeat(" ", size-len(text))
		if _, err := Read(strings.NewReader(file)); (err == nil) != taken || Is([]byte(file)) != taken {
			t.Errorf("%d bytes: %v, a card: %v", size, err, Is([]byte(file)))
		}
	}
}

// A field of a later version does no harm.
func TestUnknownFieldsAreLeftOut(t *testing.T) {
	text := strings.Replace(written(t, good()), `"jobs": 14,`, `"jobs": 14, "colour": {"a": [1, 2]},`, 1)
	if c, err := Read(strings.NewReader(text)); err != nil || !reflect.DeepEqual(c, good()) {
		t.Errorf("%+v, %v", c, err)
	}
}

// Student's t for 95.45 %: 13.97, 4.53, 2.28, 2.13, 2.09 at 1, 2, 10, 20 and 29 degrees of freedom
// (JCGM 100:2008, table G.2, the last between 2.11 at 25 and 2.08 at 35).
func TestUncertaintyByNumberOfJobs(t *testing.T) {
	for jobs, want := range map[int]float64{2: 13.97, 3: 4.53, 11: 2.28, 21: 2.13, 30: 2.09} {
		if got := 2 * (Figure{Jobs: jobs, Mean: 100, SD: 1}).U(); math.Abs(got-want) > 0.011 {
			t.Errorf("%d jobs: t is %.3f, want %.2f", jobs, got, want)
		}
	}
}

func TestKey(t *testing.T) {
	for _, name := range []string{"K2 Rear-axle", " k2  rear axle", "K2/rear_axle."} {
		if got := Key(name); got != "k2 rear axle" {
			t.Errorf("%q: %q", name, got)
		}
	}
}

// Whatever is read passes its check, and comes back as it was read.
func FuzzRead(f *testing.F) {
	f.Add([]byte(written(f, good())))
	f.Add([]byte(`{"schema":"tundish-card","schema_version":1,"card":{"name":"a","unit_kind":"other","fill_path":"drain_only","jobs":3,` +
		`"came_out_ml":{"jobs":3,"mean":500,"sd":0}}}`))
	f.Add([]byte(`{"card":null}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		c, err := Read(bytes.NewReader(data))
		if err != nil {
			if strings.ContainsAny(err.Error(), "\x1b\n") {
				t.Errorf("the error has what does not show: %q", err)
			}
			return
		}
		if err := c.Check(); err != nil {
			t.Fatal(err)
		}
		if u := c.Out.U(); math.IsNaN(u) || math.IsInf(u, 0) {
			t.Fatal(u)
		}
		again, err := Read(strings.NewReader(written(t, c)))
		if err != nil || fmt.Sprint(again.Out, again.Name) != fmt.Sprint(c.Out, c.Name) {
			t.Fatalf("%v\n%+v\n%+v", err, again, c)
		}
	})
}
