//go:build unix

package main

// This file does two units of a car in one go with the real program in a real
// pseudo-terminal: a rear axle through its drain port, a transfer case to its level plug.
// The program is killed in the middle of each, and gone on with.

import (
	"encoding/json"
	"os/exec"
	"strings"
	"testing"

	"garage/tundish/cmd/tundish/internal/screen"
)

// vanSession is somebody with a van, two of whose units are to be done.
type vanSession struct {
	*owner
	bin string
}

// run runs a command on the store and is what it prints.
func (v *vanSession) run(args ...string) string {
	v.t.Helper()
	cmd := exec.Command(v.bin, args...)
	cmd.Env = v.env
	out, err := cmd.Output()
	if err != nil {
		v.t.Fatalf("tundish %s: %v\n%s", strings.Join(args, " "), err, out)
	}
	return string(out)
}

// open starts the guide, at the list of the car's units.
func (v *vanSession) open(wants ...string) {
	v.t.Helper()
	v.s = screen.Start(v.t, v.bin, screen.Options{Cols: 80, Rows: 24, Env: v.env})
	v.s.WaitFor("All units of van")
	v.sees(wants...)
	v.s.Press(screen.Enter)
	v.s.WaitFor("One open at a time")
}

// enter opens the unit that is next.
func (v *vanSession) enter() {
	v.t.Helper()
	v.s.Press(screen.Enter)
	v.s.WaitFrame("a sheet", func(rows []string) bool {
		ask, _ := question(rows)
		return ask != "" && !strings.Contains(strings.Join(rows, "\n"), "One open at a time")
	})
}

func (v *vanSession) sees(wants ...string) {
	v.t.Helper()
	for _, want := range wants {
		v.s.WaitFor(want)
	}
}

// car is what the program says of the car.
func (v *vanSession) car() (c struct {
	MayDrive bool   `json:"may_drive"`
	Open     string `json:"open"`
	Next     *string
	Units    []stands
}) {
	v.t.Helper()
	if err := json.Unmarshal([]byte(v.run("car", "--json")), &c); err != nil {
		v.t.Fatal(err)
	}
	return c
}

func TestTwoUnitsOfACarInOneGo(t *testing.T) {
	axle, level := smallJob(), levelJob()
	level["Left in the vessel"] = []string{"60"}
	v := &vanSession{&owner{t: t, answers: axle, env: screen.CleanEnv(t.TempDir())}, screen.Build(t, "garage/tundish/cmd/tundish")}
	v.run("car", "van", "--unit", "rear axle", "--unit", "transfer case")

	v.open()
	v.enter()
	v.sees("CAR: no other unit is open; to come: transfer case")
	v.upTo("How much came out?")
	v.s.Kill()
	v.open("Go on, EMPTY: van, rear axle")
	v.sees("rear axle EMPTY: engine OFF")
	v.s.Type("2")
	v.enter() // the other unit meanwhile
	v.sees("CAR: rear axle EMPTY: engine OFF, wheels still, car stays")
	v.s.Kill()
	v.open()
	v.enter()
	v.upTo("Car stays up, tag on, wheels still: the transfer case is next")
	v.upTo("its number choose")
	v.sees("The rear axle is done.", "Next: transfer case")

	v.answers = level
	v.s.Type("2")
	v.enter()
	v.sees("van, transfer case", "►PREPARE")
	v.upTo("How much did you pour in?")
	for _, again := range []string{"Hard level ground", "Oil pushed in by", "Jug: marks every", "Driven by", "Hose holds"} {
		for _, ask := range v.said[len(v.said)-20:] {
			if strings.HasPrefix(ask, again) {
				t.Errorf("asked again at the second unit: %s", ask)
			}
		}
	}
	if c := v.car(); c.MayDrive || !strings.HasPrefix(c.Open, "transfer case EMPTY") || c.Next == nil {
		t.Errorf("half-way: %+v", c)
	}
	if tag := v.run("tag", "--car", "van"); !strings.Contains(tag, "NO OIL IN TRANSFER CASE") ||
		!strings.Contains(tag, "rear axle: ACCEPTED") {
		t.Errorf("the tag:\n%s", tag)
	}
	v.s.Kill()
	v.open("Go on, EMPTY: van, transfer case")
	v.enter()
	v.upTo("Tag off, tools and jack away")
	v.upTo("")
	v.s.Kill()
	c := v.car()
	if !c.MayDrive || c.Open != "" || c.Next != nil || len(c.Units) != 2 {
		t.Errorf("in the end: %+v", c)
	}
	record := v.run("summary", "--car", "van", "--format", "txt")
	for _, want := range []string{"all units closed", "Oil change: rear axle of van", "Oil change: transfer case of van",
		"(said at the rear axle)"} {
		if !strings.Contains(strings.Join(strings.Fields(record), " "), want) {
			t.Errorf("the record does not say %q", want)
		}
	}
}

// runningJob is a gearbox of 9 L whose level is set at an overflow tube.
func runningJob() map[string][]string {
	return map[string][]string{
		"Way in for the oil": {"1"}, "Fill quantity, manual": {"9000"}, "That figure means": {"2"}, "Level until today": {"2"},
		"Level is read at": {"35-45"}, "Selector at": {"1"}, "First part in": {"3100"}, "The case feels": {"2"}, "On the magnet": {"2"},
		"How much came out?": {"4600"}, "How much did you pour in?": {"3100"}, "At the wheel": {"Ada"}, "Added at once": {"1500"},
		"Check plug out": {"1"}, "Oil as the plug": {"40"}, "Ran out": {"60"}, "Left in the vessel": {"0"}, "What now?": {"6"},
	}
}

// The engine of an automatic is not started while another unit of the car is EMPTY, and
// is once that is closed; killed at the block, and with the engine running.
func TestNoEngineWhileAnotherUnitIsOpen(t *testing.T) {
	axle, box := smallJob(), runningJob()
	v := &vanSession{&owner{t: t, answers: axle, env: screen.CleanEnv(t.TempDir())}, screen.Build(t, "garage/tundish/cmd/tundish")}
	v.run("car", "van", "--unit", "rear axle", "--unit", "transfer case", "--unit", "gearbox, automatic")
	v.open()
	v.enter()
	v.upTo("How much did you pour in?")
	v.s.Kill()
	v.open("Go on, EMPTY: van, rear axle")
	v.s.Type("3")
	v.answers = box
	v.enter()
	v.upTo("Exhaust led outdoors")
	v.sees("NOT WHILE ANOTHER UNIT IS OPEN", "rear axle EMPTY. Close and fill it first.")
	v.s.Type(confirmKey.FindStringSubmatch(v.s.Text())[1]) // its own digit
	v.sees("NO ENGINE: the rear axle is EMPTY. Close it first")
	v.s.Kill()

	v.open("Go on, EMPTY: van")
	v.s.Type("1")
	v.answers = axle
	v.enter()
	v.sees("van, rear axle", "Chocks and rated stands")
	v.upTo("its number choose")
	v.sees("The rear axle is done.")
	v.answers = levelJob()
	v.answers["Left in the vessel"] = []string{"60"}
	v.s.Type("2")
	v.enter()
	v.sees("van, transfer case")
	v.upTo("its number choose")
	v.answers = box
	v.s.Type("3")
	v.enter()
	v.sees("van, gearbox, automatic")
	v.upTo("Oil as the plug")
	v.s.Kill()
	v.open("Go on")
	v.enter()
	v.upTo("")
	v.s.Kill()
	if c := v.car(); !c.MayDrive || c.Open != "" || len(c.Units) != 3 {
		t.Errorf("in the end: %+v", c)
	}
}
