package car

// This file plays sessions: units of invented cars, of which each job is written entry by
// entry. The figures of the cases are worked examples of the trade (computed), the limits
// of mixing judgement.

import (
	"fmt"
	"math"
	"strings"
	"testing"
	"time"

	"garage/tundish/model/ask"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
	"garage/tundish/model/words"
)

var morning = time.Date(2026, 4, 18, 9, 0, 0, 0, time.UTC)

type answers []job.Entry

func text(t job.Topic, s string) job.Entry { return job.Entry{Topic: t, Value: job.Value{Text: s}} }

func choice(t job.Topic, s string) job.Entry { return job.Entry{Topic: t, Value: job.Value{Choice: s}} }

func ml(t job.Topic, x float64) job.Entry {
	return job.Entry{Topic: t, Value: job.Value{Number: x, Unit: job.DimML}}
}

func did(t job.Topic) job.Entry { return job.Entry{Topic: t} }

// unit is the job of a unit of a session, a minute an entry.
func unit(name string, capacity float64, grade string, more ...job.Entry) *guide.Guide {
	entries := answers{text(job.Vehicle, "van"), text(job.UnitName, name), text(job.Session, "s1"), choice(job.UnitKind, "final_drive"),
		choice(job.DriveKind, "combustion"), choice(job.FillPath, "drain_only"), ml(job.Capacity, capacity),
		choice(job.CapacityMeans, "refill"), choice(job.DryStart, "holds_oil"), choice(job.PriorLevel, "believed"),
		choice(job.OilHistory, "undisturbed")}
	if grade != "" {
		entries = append(entries, text(job.OilGrade, grade))
	}
	return jobOf(name, append(entries, more...)...)
}

func jobOf(id string, entries ...job.Entry) *guide.Guide {
	for i := range entries {
		entries[i].Seq, entries[i].At = i+1, morning.Add(time.Duration(i)*time.Minute)
	}
	return guide.Fold(job.Job{ID: strings.ReplaceAll(id, " ", "-"), Started: morning, Entries: entries}, guide.Offers{})
}

// rig are the tools of the garage and the car made safe.
func rig() answers {
	return answers{choice(job.Filler, "hand_pump"), ml(job.HoseHolds, 75), ml(job.VesselGraduation, 10), ml(job.VesselHeel, 40),
		text(job.ContainerName, "jug"), ml(job.ContainerGraduation, 10), did(job.AtHand), did(job.GroundAndChocks),
		did(job.StandsAndShake)}
}

// drained is the work up to what came out.
func drained(out float64) answers {
	return append(rig(), did(job.RightUnit), did(job.RightPlug), did(job.WayInProved), did(job.BreatherFree), did(job.GlovesAndEyes),
		job.Entry{Topic: job.OilTemperature, Value: job.Value{Number: 35, Unit: job.DimC}}, choice(job.TemperatureHow, "felt"),
		did(job.TagAndKey), did(job.PlugOut), choice(job.MagnetLook, "clean"), choice(job.OilLook, "clean"), did(job.DripsEnded),
		choice(job.DrainedWith, "c0"), ml(job.DrainedAmount, out), choice(job.DrainedMore, "done"))
}

// filled is the work up to the plug: so much poured in, 100 left, 50 spilled.
func filled(out, in float64) answers {
	return append(drained(out), choice(job.HoseBefore, "dry"), did(job.PlanAccepted), choice(job.LoadedWith, "c0"),
		ml(job.LoadedAmount, in),
		choice(job.LoadedMore, "done"), did(job.AdapterIn), did(job.BreatherBeforePush), did(job.FillEnded),
		choice(job.AirInLine, "none"),
		did(job.PressureOff), did(job.Capped), choice(job.HoseAfter, "full"), choice(job.LeftWith, "c0"), ml(job.LeftInVessel, 100),
		did(job.FloorAndExhaust), choice(job.WasherFitted, "new"), did(job.PlugSeated), choice(job.TightenedHow, "feel"),
		did(job.BreatherReopened), choice(job.EscapedHow, "caught"), ml(job.EscapedAmount, 50), choice(job.EscapedMore, "done"))
}

// accepted is a unit whose fill is accepted, with what is said after that.
func accepted(name string, capacity, out, in float64, more ...job.Entry) *guide.Guide {
	g := unit(name, capacity, "75W-90", filled(out, in)...)
	p := guide.Prompt{Spec: ask.SpecOf(job.Decision), Place: job.Place{Topic: job.Decision}}
	g = g.With(p.Entry(g, p.ChoiceValue(g, ask.Option{Token: job.DecideAccept.String()}), "", g.Updated))
	for _, e := range more {
		e.Seq, e.At = g.Count+1, g.Updated.Add(time.Minute)
		g = g.With(e)
	}
	return g
}

func session(t *testing.T, units ...*guide.Guide) Session {
	t.Helper()
	s, err := New("s1", units)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func names(s Session) string {
	var list []string
	for _, u := range s.Units {
		list = append(list, u.UnitName())
	}
	return strings.Join(list, ", ")
}

// The engine last, before it the unit with a slip additive, of the others the thickest oil
// first and the same oil one after the other; each says why.
func TestOrderAndItsReasons(t *testing.T) {
	auto := unit("gearbox, automatic", 4400, "ATF", choice(job.UnitKind, job.AutomaticBox))
	s := session(t, auto, unit("transfer case", 1100, "75W-80"), unit("front axle", 900, "85W-140"),
		unit("locked axle", 1000, "75W-90", ml(job.AdditiveVolume, 100)), unit("rear axle", 1200, "85w140"))
	if got, want := names(s), "front axle, rear axle, transfer case, locked axle, gearbox, automatic"; got != want {
		t.Errorf("order: %s, want %s", got, want)
	}
	for i, want := range []string{"thickest oil first", "the same oil as the front axle", "another oil", "limited slip", "engine running"} {
		if got := s.Units[i].Reason; !strings.Contains(got, want) {
			t.Errorf("%s: %q, want %q in it", s.Units[i].UnitName(), got, want)
		}
	}
	if u, ok := s.Next(); !ok || u.UnitName() != "front axle" {
		t.Errorf("next: %v, %v", u.Guide, ok)
	}
}

// Units of two cars are refused, with what is allowed.
func TestUnitsOfTwoCarsAreRefused(t *testing.T) {
	other := jobOf("other", text(job.Vehicle, "bus"), text(job.UnitName, "rear axle"))
	_, err := New("s1", []*guide.Guide{unit("rear axle", 1200, ""), jobOf("new", text(job.UnitName, "x")), other})
	if err == nil || !strings.Contains(err.Error(), "units of one car") || !strings.Contains(err.Error(), "bus") {
		t.Errorf("error: %v", err)
	}
	if _, err := New("s1", []*guide.Guide{jobOf("a"), jobOf("b")}); err != nil {
		t.Errorf("no car named yet: %v", err)
	}
}

// E1: an empty axle blocks the engine, by name.
func TestCaseE1AnOpenUnitIsNamed(t *testing.T) {
	s := session(t, unit("rear axle", 1200, "75W-90", drained(1150)...),
		unit("gearbox, automatic", 4400, "", choice(job.UnitKind, job.AutomaticBox)))
	auto := guide.Fold(job.Job{ID: "auto", Started: morning}, guide.Offers{Offers: ask.Offers{OpenUnits: s.Open("gearbox,-automatic")}})
	if open := auto.Offered.OpenUnits; len(open) != 1 || open[0] != (ask.OpenUnit{Name: "rear axle", State: verdict.Empty}) {
		t.Fatalf("open: %v", open)
	}
	if got := Line(auto.Offered.OpenUnits); !strings.HasPrefix(got, "rear axle EMPTY") || !strings.Contains(got, "engine OFF") {
		t.Errorf("line: %q", got)
	}
	if u, ok := s.Next(); !ok || u.UnitName() != "rear axle" {
		t.Errorf("next is %v", u)
	}
	if Line(nil) != "" || s.MayDrive() {
		t.Error("nothing open is said, or the car may be driven")
	}
}

// E2: expected 1.2 L dark, got 2.0 L thin and red: this unit is stopped, the others wait, and
// the car stays.
func TestCaseE2AStoppedUnitHoldsTheSession(t *testing.T) {
	lines := drained(2000)
	for i, e := range lines {
		if e.Topic == job.OilLook {
			lines[i] = choice(job.OilLook, "foreign")
		}
	}
	lines = append(lines, choice(job.LookedAgain, job.LookedSame), choice(job.WrongBoxDecision, job.BoxStop))
	stoppedAt := unit("rear axle", 1200, "75W-90", lines...)
	s := session(t, stoppedAt, unit("front axle", 900, "75W-90"))
	if !stoppedAt.StoppedByOwner() {
		t.Fatalf("not stopped: %v", stoppedAt.StateWords())
	}
	if u, ok := s.Next(); ok {
		t.Errorf("next is the %s", u.UnitName())
	}
	if u, ok := s.Stopped(); !ok || u.UnitName() != "rear axle" || s.MayDrive() {
		t.Errorf("stopped: %v, may be driven: %v", ok, s.MayDrive())
	}
}

// E3, E4: what the rig brings of the last oil: computed, hose 8 mm by 1.5 m, film 20 ml.
func TestCasesE3AndE4WhatTheRigBrings(t *testing.T) {
	gear := oils{Grade: "75W-90"}
	for _, c := range []struct {
		name          string
		to            oils
		fill          float64
		share, rinsed float64
	}{
		{"E3, automatic gearbox", oils{Grade: "ATF", Automatic: true}, 4400, 0.022, 0.0003},
		{"E4, transfer case on automatic oil", oils{Grade: "ATF"}, 1100, 0.086, 0.0014},
	} {
		got := carriedTo(gear, c.to, 75, c.fill)
		if math.Abs(got.Share-c.share) > 0.0005 || math.Abs(got.Rinsed-c.rinsed) > 0.0001 || got.Share <= got.Allowed {
			t.Errorf("%s: %+v, want %g, refused, and %g rinsed", c.name, got, c.share, c.rinsed)
		}
	}
	for _, c := range []struct {
		from, to oils
		want     float64
	}{
		{gear, gear, 1}, {gear, oils{Grade: "80W-90"}, 0.05}, {gear, oils{Grade: "75W-80", Synchro: true}, 0.01},
		{oils{Grade: "ATF"}, gear, 0.02}, {gear, oils{}, 0.001},
	} {
		if got := carriedTo(c.from, c.to, 75, 1000).Allowed; got != c.want {
			t.Errorf("%v to %v: %g allowed, want %g", c.from, c.to, got, c.want)
		}
	}
	s := session(t, unit("rear axle", 1200, "75W-90", rig()...), unit("transfer case", 1100, "ATF", choice(job.UnitKind, "transfer_case")))
	if got := s.Units[1].Reason; !strings.Contains(got, "95 ml") || !strings.Contains(got, "8.6 %") {
		t.Errorf("reason: %q", got)
	}
}

// E5: bottles with spills, what the rig keeps, rinses and a repeated push. The need is the
// case's own, computed; the third, of an automatic gearbox, is counted by its need alone.
func TestCaseE5WhatToBuy(t *testing.T) {
	for _, c := range []struct {
		needML float64
		want   int
	}{{1200 + 900 + 100 + 40 + 75 + 100, 3}, {1100 + 50 + 40 + 75 + 100 + 200, 2}, {4400 + 300 + 40 + 75 + 150, 6}, {990, 1}, {991, 2}} {
		o := Oil{NeedML: c.needML}
		if o.count(usualBottleML); o.Bottles != c.want {
			t.Errorf("%g ml: %d bottles, want %d", c.needML, o.Bottles, c.want)
		}
	}
	plug := func(kind, socket string) answers {
		return append(rig(), text(job.WasherKind, kind), text(job.PlugKey, socket), job.Entry{Topic: job.ScaleDivision,
			Value: job.Value{Number: 1, Unit: job.DimG}})
	}
	s := session(t, unit("rear axle", 1200, "75W-90", plug("copper 18", "hex 10")...),
		unit("front axle", 900, "75w90", plug("copper 18", "hex 10")...), unit("transfer case", 1100, "ATF"))
	l := s.Buy(0)
	if l.Oils[0].NeedML != 2415 || l.Oils[1].NeedML != 1565 {
		t.Errorf("needs %g and %g ml, want 2415 and 1565", l.Oils[0].NeedML, l.Oils[1].NeedML)
	}
	if len(l.Oils) != 2 || l.Oils[0].Grade != "75W-90" || l.Oils[0].Bottles != 3 || l.Oils[1].Bottles != 2 {
		t.Errorf("oils: %+v", l.Oils)
	}
	if got := fmt.Sprint(l.Washers); got != "[{copper 18 3} { 2}]" {
		t.Errorf("washers: %s", got)
	}
	all := strings.Join(l.Lines(), "\n")
	for _, want := range []string{"socket hex 10: front axle, rear axle", "two rinses", "pads of each unit",
		"its name on it: front axle, rear axle"} {
		if !strings.Contains(all, want) {
			t.Errorf("the list does not say %q:\n%s", want, all)
		}
	}
	bare := session(t, jobOf("a", text(job.UnitName, "gearbox"))).Buy(0)
	if bare.Oils[0].Bottles != 0 || !strings.Contains(bare.Lines()[0], "for the gearbox: how much is not known yet") {
		t.Errorf("of a unit of which nothing is known: %q", bare.Lines())
	}
	if faults := words.Check(all); len(faults) > 0 {
		t.Error(faults)
	}
}

// E6: both axles into one pan: neither is measured; each is filled by the manual, and
// nothing is learnt of what stays inside.
func TestCaseE6OnePanForTwoUnits(t *testing.T) {
	for _, u := range []*guide.Guide{
		unit("rear axle", 1200, "75W-90", append(drained(1900), choice(job.LookedAgain, job.LookedNeighbour))...),
		unit("front axle", 900, "75W-90", append(drained(1900), choice(job.LookedAgain, job.LookedNeighbour))...),
	} {
		plan, err := u.Plan(0)
		if !u.DrainedVoid() || err != nil || math.Abs(plan.Target.Nominal-u.CapacityML()) > 1 {
			t.Errorf("%s: void %v, aim %v, %v; want what the manual says, %g",
				u.UnitName(), u.DrainedVoid(), plan.Target, err, u.CapacityML())
		}
	}
}

// E7: stopped after two of three: two are done, the third is EMPTY and first when the session
// is gone on with.
func TestCaseE7AnInterruptedSession(t *testing.T) {
	finished := func(name string) *guide.Guide { return accepted(name, 1200, 1150, 1420, did(job.NextUnit)) }
	s := session(t, finished("rear axle"), finished("front axle"), unit("transfer case", 1100, "75W-90", drained(1050)...))
	u, ok := s.Next()
	if !ok || u.UnitName() != "transfer case" || s.MayDrive() || s.Over() {
		t.Errorf("next: %v %v", u.UnitName(), ok)
	}
	open := s.Open("")
	if len(open) != 1 || open[0].State != verdict.Empty {
		t.Errorf("open: %v; rear axle %s", open, s.Units[0].StateWords())
	}
}

// E8: two units both 3 % over against their bottles have one cause.
func TestCaseE8OneCause(t *testing.T) {
	off := func(name string, in, opened, left float64) *guide.Guide {
		return unit(name, 1000, "75W-90", append(filled(950, in), ml(job.BottlesOpened, opened), choice(job.BottlesLeftWith, "c0"),
			ml(job.BottlesLeft, left))...)
	}
	c, ok := session(t, off("rear axle", 1236, 2000, 800), off("front axle", 1133, 2000, 900)).Common()
	if !ok || math.Abs(c.Share-0.03) > 0.001 || len(c.Units) != 2 || !strings.Contains(c.Words(), "1000 g of water") {
		t.Errorf("%+v, %v", c, ok)
	}
	for _, s := range []Session{session(t, off("rear axle", 1236, 2000, 800)),
		session(t, off("a", 1236, 2000, 800), off("b", 1067, 2000, 900)),
		session(t, off("a", 1210, 2000, 800), off("b", 1110, 2000, 900))} {
		if c, ok := s.Common(); ok {
			t.Errorf("one cause of %+v", c)
		}
	}
}

// What holds for the car is told once: it stands in the next unit with where it was said,
// and what is the unit's own does not.
func TestToldOnce(t *testing.T) {
	first := accepted("rear axle", 1200, 1150, 1420, did(job.NextUnit),
		job.Entry{Topic: job.Odometer, Value: job.Value{Number: 91000, Unit: job.DimKm}})
	next := jobOf("next", text(job.Vehicle, "van"), text(job.UnitName, "front axle"), text(job.Session, "s1"))
	s := session(t, first, next)
	told := s.Told(next, first.Updated.Add(time.Minute))
	with := next.With(told...)
	for _, topic := range []job.Topic{job.DriveKind, job.Odometer, job.Filler, job.HoseHolds, job.ContainerGraduation, job.GroundAndChocks,
		job.StandsAndShake} {
		if !with.Has(topic) {
			t.Errorf("%v is not told", topic)
		}
	}
	for _, topic := range []job.Topic{job.RightUnit, job.RightPlug, job.WayInProved, job.BreatherFree, job.GlovesAndEyes, job.TagAndKey,
		job.OilGrade, job.Capacity, job.FillPath, job.PlugOut, job.MakersManual, job.AtHand} {
		if with.Has(topic) {
			t.Errorf("%v is told, and is the unit's own", topic)
		}
	}
	for i, e := range told {
		if err := e.Check(); err != nil || e.Seq != next.Count+i+1 || !strings.HasSuffix(with.AskedText(e), "(said at the rear axle)") {
			t.Errorf("entry %d: %v, %q", e.Seq, err, with.AskedText(e))
		}
	}
	if again := s.Told(with, first.Updated.Add(time.Minute)); len(again) > 0 {
		t.Errorf("told again: %v", again)
	}
	stands := func(told []job.Entry) bool { return next.With(told...).Has(job.StandsAndShake) }
	if late := s.Told(next, first.Updated.Add(2*Pause)); stands(late) || len(late) == 0 {
		t.Error("after a pause the stands are taken over, or nothing is")
	}
	down := first.With(job.Entry{Seq: first.Count + 1, At: first.Updated, Topic: job.WheelsTurned})
	if stands(session(t, down, next).Told(next, down.Updated.Add(time.Minute))) {
		t.Error("after wheels were turned the stands are taken over")
	}
	if told := s.Told(first, first.Updated); len(told) > 0 {
		t.Error("a unit that was begun is told")
	}
}

// What is known of a unit is its last job.
func TestKnown(t *testing.T) {
	first := accepted("rear axle", 1200, 1150, 1420,
		job.Entry{Topic: job.IntervalMonths, Value: job.Value{Number: 48, Unit: job.DimMonths}})
	now := guide.Fold(job.Job{ID: "now", Started: morning.AddDate(2, 0, 0)}, guide.Offers{Before: first})
	s := session(t, now)
	if l, ok := s.Units[0].Last(); !ok || l.OutML == nil || l.InML == nil || *l.OutML < 1100 {
		t.Errorf("last: %+v", l)
	}
	known := s.Units[0].Known()
	for _, want := range []string{"last 18 Apr 2026", "came out", "went in", "ACCEPTED", "due 18 Apr 2030"} {
		if !strings.Contains(known, want) {
			t.Errorf("known: %q, want %q in it", known, want)
		}
	}
	if got := session(t, unit("x", 900, "")).Units[0].Known(); got != "no job before" {
		t.Errorf("known: %q", got)
	}
}
