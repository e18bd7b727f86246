package guide

import (
	"fmt"
	"strings"
	"testing"

	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// What is taken up to a limit, and refused just beyond it. The limits are judgement of what can be meant (common practice, no source), but
// for a tenth as the widest tolerance and what was measured or poured before.
func TestLimitsOfAnswers(t *testing.T) {
	t.Parallel()
	rated := script{job.Filler: {"pressurised"}, job.VesselRating: {"150 kPa"}}
	long := func(n int) string { return strings.Repeat("x", n) }
	for _, row := range []struct {
		at             job.Topic
		sc             script
		taken, refused string // one beside the other, with a bar between
	}{
		{job.Capacity, nil, "20 ml|200 L|2 - 3 L", "19.9 ml|200.1 L|2 - 3.01 L"},
		{job.ToleranceTopic, nil, "60|10%|1|+60 -0", "60.1|10.1%|0"},
		{job.ToleranceTopic, script{job.Capacity: {"590-610"}}, "10", "10.1"},
		{job.ResidualExpected, nil, "0|240", "241"},
		{job.AdditiveVolume, nil, "300", "301"},
		{job.OilDensity, nil, "600|1200", "599|1201"},
		{job.OilKV40, nil, "2|5000", "1.9|5001"},
		{job.OilKV100, script{job.OilKV40: {"80"}}, "1|79.9", "0.9|80"},
		{job.Odometer, nil, "0|3000000", "3000001"},
		{job.IntervalKm, nil, "500|500000", "499|500001"},
		{job.IntervalMonths, nil, "1|240", "0|241"},
		{job.Vehicle, nil, long(40), long(41)},
		{job.TorqueSource, script{job.TorqueFigure: {"29"}}, long(60), long(61)},
		{job.ContainerName, nil, long(20), long(21)},
		{job.ContainerGraduation, nil, "0.1 ml|2000", "0.09 ml|2001"},
		{job.ContainerError, nil, "0|20", "20.1"},
		{job.ScaleDivision, nil, "0.01|100", "0.009|101"},
		{job.VesselRating, rated, "10 kPa|1000 kPa", "9 kPa|1001 kPa"},
		{job.PushPressure, rated, "150 kPa|1 kPa", "151 kPa|0"},
		{job.HoseBore, nil, "1|60", "0.9|61"},
		{job.VesselHeel, nil, "0|5000", "5001"},
		{job.StrokeVolume, nil, "0.5|2000", "0.4|2001"},
		{job.EscapeExpected, nil, "2000", "2001"},
		{job.OilTemperature, nil, "-40|150", "-41|151"},
		{job.DropsCounted, nil, "0|600", "601"},
		{job.DrainedAmount, nil, "3000", "3001"},
		{job.DrainedTemperature, nil, "-40|150", "-41|151"},
		{job.LoadedTemperature, nil, "-30|80", "-31|81"},
		{job.LoadedAmount, nil, "5000", "5001"},
		{job.BottlesOpened, nil, "562.5", "562"},
		{job.StrokesCounted, script{job.StrokeVolume: {"10"}}, "0|5000", "5001"},
		{job.PortOpenFor, nil, "0|600", "601"},
		{job.PadsAfter, script{job.EscapedHow: {"pads"}, job.PadsBefore: {"42"}}, "42|20000", "41|20001"},
		{job.Remark, nil, long(300), long(301)},
		{job.LevelWindow, box9(), "0-40|70-110|44-45", "-1-30|71-111|30-71|44.5-45"},
		{job.FirstCharge, box9(), "900|18 L", "899|18.1 L"},
		{job.MakersPage, box9().with(script{job.DriveKind: {"hybrid"}}), "p. 4|" + long(100), "p.4|    |" + long(101)},
		{job.OilRunning, box9(), "-40|150", "-41|151"},
		{job.LevelAtC, box9(), "-40|150", "-41|151"},
		{job.CarTilt, box9(), "0|10", "10.1"},
		{job.StickBand, stick7(), "20|3000", "19|3001"},
		{job.StickBandMM, stick7(), "3|200", "2.9|201"},
		{job.StickFirst, stick7(), "-100|200", "-101|201"},
		{job.LipBelow, level, "0|150", "151"},
		{job.OilSurface, level, "10|5000", "9|5001"},
		{job.LipDistance, level, "1|1000", "0.9|1001"},
	} {
		s := newDrive(t, small.with(row.sc)).until(row.at)
		for i, list := range []string{row.taken, row.refused} {
			for typed := range strings.SplitSeq(list, "|") {
				if v, err := asked(t, s, row.at).Parse(s, typed); (err != nil) != (i == 1) {
					t.Errorf("%v: %.60q: %+v, %v", row.at, typed, v, err)
				}
			}
		}
	}
}

// More can be left in a vessel than was loaded, by what the marks it is read at may be off.
func TestLeftIsHeldToTheMarksItIsReadAt(t *testing.T) {
	t.Parallel()
	rough := script{job.ContainerName: {"jug", "bucket"}, job.ContainerGraduation: {"10", "400"}, job.ContainerMore: {"2", "1"},
		job.DrainedWith: {"c0"}, job.LoadedWith: {"c0"}}
	for with, taken := range map[string]bool{"c0": false, "c1": true} {
		s := newDrive(t, small.with(rough).with(script{job.LeftWith: {with}})).until(job.LeftInVessel)
		if _, err := asked(t, s, job.LeftInVessel).Parse(s, "800"); (err == nil) != taken {
			t.Errorf("625 loaded, 800 left by %s: %v", with, err)
		}
	}
	// What measured the drain is offered for the load, so that its marks cancel.
	for _, with := range []string{"c0", "c1"} {
		s := newDrive(t, small.with(rough).with(script{job.DrainedWith: {with}, job.LoadedWith: {""}})).until(job.LoadedWith)
		if v, ok := asked(t, s, job.LoadedWith).DefaultValue(s); !ok || v.Choice != with {
			t.Errorf("drained into %s, %q is offered for the load", with, v.Choice)
		}
	}
}

// A rig and its hose are wanted where oil is pushed up the drain, and nowhere else.
func TestWhatIsWantedAtHand(t *testing.T) {
	t.Parallel()
	for sc, pushed := range map[*script]bool{&small: true, &level: false} {
		s := newDrive(t, small.with(*sc)).until(job.AtHand)
		list := strings.Join(s.AtHandList(), "; ")
		if strings.Contains(list, "adapter, hose and cap") != pushed || s.Path().PouredIn() == pushed {
			t.Errorf("%v: %s", s.Path(), list)
		}
	}
}

// What leaks at the adapter is mentioned from 50 ml on, and of a large unit from a twentieth of what was pushed.
func TestLeakAtTheAdapterIsMentioned(t *testing.T) {
	t.Parallel()
	large := script{job.Capacity: {"2000"}, job.DrainedAmount: {"1900"}, job.LoadedAmount: {"2000"}}
	for _, row := range []struct {
		sc     script
		leaked string
		found  bool
	}{{nil, "50", false}, {nil, "51", true}, {large, "99", false}, {large, "100", false}, {large, "101", true}} {
		s := newDrive(t, small.with(row.sc).with(script{job.EscapedAtCap: {row.leaked}})).until(job.Decision)
		if row.found {
			found(t, s, verdict.AdapterLeaks)
		} else {
			notFound(t, s, verdict.AdapterLeaks)
		}
	}
}

// Who accepts a fill is told how surely it is right.
func TestAcceptanceSaysItsOdds(t *testing.T) {
	t.Parallel()
	s := newDrive(t, vague).until(job.Decision)
	v := verdictOf(t, s, 0)
	want := fmt.Sprintf("accept: LIKELY %d in 100, not proven", v.Odds())
	for _, o := range asked(t, s, job.Decision).Choices(s) {
		if o.Label == want {
			return
		}
	}
	t.Errorf("none says %q: %+v", want, asked(t, s, job.Decision).Choices(s))
}

// What a line or an offer comes to is held to the question too: "do not know" where that is no answer, and an offer that
// is beyond what is taken now.
func TestAnswersOfALineAreHeldToTheQuestion(t *testing.T) {
	t.Parallel()
	d := newDrive(t, small)
	s := d.until(job.CapacityMeans)
	if e, err := asked(t, s, job.CapacityMeans).Answer(s, UnknownLine, d.at); err == nil {
		t.Errorf("what the quantity means is taken as %+v", e.Value)
	}
	s = d.until(job.ToleranceTopic)
	if e, err := asked(t, s, job.ToleranceTopic).Answer(s, UnknownLine, d.at); err != nil || !e.Value.Unknown {
		t.Errorf("no tolerance: %+v, %v", e.Value, err)
	}
}

// An entry keeps the words of an option where they are not the same in every job.
func TestWordsOfAnOptionAreKept(t *testing.T) {
	t.Parallel()
	for _, row := range []struct {
		mean   float64
		ends   string
		answer int
		want   string
	}{{640, "600-680", 0, ""}, {460, "420-500", 0, "it was overfilled before"}, {460, "420-500", 1, ""}} {
		s := withCard(t, row.mean, 20, script{job.Card: {row.ends}}).until(job.CardLookedAgain)
		p := asked(t, s, job.CardLookedAgain)
		o := p.Choices(s)[row.answer]
		if e := p.Entry(s, job.Value{Choice: o.Token}, "", start); e.Label != row.want {
			t.Errorf("%s: %q is kept of %q, want %q", row.ends, e.Label, o.Label, row.want)
		}
	}
}

// Where no device is noted, a weight is of a kitchen scale, a volume of a jug, and what is loaded stands at marks of 10 ml;
// marks that are noted count.
func TestWhatMeasuresWhereNoneIsNoted(t *testing.T) {
	t.Parallel()
	none := newDrive(t, small).state()
	if d := none.StandIn(job.Entry{Value: job.Value{Unit: job.DimG}}); !d.Scale || d.Name != "scale" {
		t.Errorf("a weight by %+v", d)
	}
	if d := none.StandIn(job.Entry{Value: job.Value{Unit: job.DimML}}); d.Scale || d.Name != "jug" || d.GraduationML != 10 {
		t.Errorf("a volume by %+v", d)
	}
	if d := none.VesselDevice(); d.GraduationML != 10 {
		t.Errorf("a load by %+v", d)
	}
	noted := newDrive(t, small.with(script{job.VesselGraduation: {"25"}, job.ScaleDivision: {"1"}, job.ContainerGraduation: {"50"}})).
		until(job.OilTemperature)
	if d := noted.VesselDevice(); d.GraduationML != 25 {
		t.Errorf("a load by %+v", d)
	}
	if d := noted.StandIn(job.Entry{Value: job.Value{Unit: job.DimG}}); !d.Scale || d.DivisionG != 1 {
		t.Errorf("a weight by %+v", d)
	}
	if d := noted.StandIn(job.Entry{Value: job.Value{Unit: job.DimML}}); d.Scale || d.GraduationML != 50 {
		t.Errorf("a volume by %+v", d)
	}
}
