package guide

// This file holds whole jobs of every kind, for the properties that hold at
// every moment of any job.

import (
	"slices"
	"testing"

	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// example is a drain-port job with the defaults: 830 ml at 20 °C out of 900,
// in a jug with 10 ml between marks and 2 % error. Invented figures.
var example = small.with(script{
	job.Capacity:      {"900"},
	job.DrainedAmount: {"830"},
	job.LoadedAmount:  {"910"},
	job.LeftInVessel:  {"5"},
	job.EscapedAmount: {"52"},
})

// jobs are whole jobs of every kind, for the properties. Invented figures.
var jobs = map[string]script{
	"small":   small,
	"example": example,
	"in US units, on a scale": small.with(script{
		job.DisplayUnits: {"us"}, job.Capacity: {"600 ml"}, job.ScaleDivision: {"1 g"}, job.OilDensity: {"885"},
		job.DrainedWith: {"scale"}, job.DrainedAmount: {"487 g"}, job.LoadedWith: {"c0"}, job.LoadedAmount: {"625 ml"},
		job.LeftWith: {"c0"}, job.LeftInVessel: {"0 ml"},
		job.VesselWeighedFull: {"1553 g"}, job.VesselWeighedAfter: {"1003 g"}, job.EscapedAtCap: {"0 ml"}, job.EscapedHow: {"pads"},
		job.PadsBefore: {"42 g"}, job.PadsAfter: {"86 g"},
	}),
	"a second witness and late drips": small.with(script{
		job.ContainerMore: {"another", "done"}, job.ContainerName: {"jug", "beaker"}, job.DrainedWith: {"c0", "c1", "c1"},
		job.DrainedAmount: {"300+250", "555", "12"}, job.DrainedMore: {"again", "late", "done"},
	}),
	"witnesses that contradict each other": small.with(script{
		job.ContainerMore: {"another", "done"}, job.ContainerName: {"jug", "beaker"}, job.DrainedWith: {"c0", "c1"},
		job.DrainedAmount: {"550", "480"}, job.DrainedMore: {"again", "done"}, job.MeasureTrusted: {"first"},
	}),
	"far below, basis chosen": small.with(script{
		job.DrainedAmount: {"250"}, job.LookedAgain: {"nothing_more"}, job.Basis: {"capacity"}, job.BasisWhy: {"a leak, mended"},
		job.Decision: {"leave"}, job.LeftWhy: {"nobody knows which"},
	}),
	"water": small.with(script{job.OilLook: {"milky"}}),
	"bottles and strokes, a guess": small.with(script{
		job.StrokeVolume: {"25"}, job.StrokesCounted: {"26"}, job.BottlesOpened: {"500+500"}, job.BottlesLeft: {"372"},
		job.EscapedHow: {"guess"}, job.EscapedAmount: {"50"},
	}),
	"refill quantity, hose primed": small.with(script{job.CapacityMeans: {"refill"}, job.HoseBefore: {"primed"}, job.Capacity: {"500-600"},
		job.ToleranceTopic: {"50"}, job.LoadedAmount: {"605"}}),
	"dry or refill, not known": small.with(script{job.CapacityMeans: {"unknown"}, job.HoseAfter: {"cleared"}}),
	"two pushes": small.with(script{
		job.LoadedAmount: {"560", "95"}, job.LeftInVessel: {"0", "5"}, job.EscapedAtCap: {"0", "0"}, job.EscapedAmount: {"60", "10"},
	}),
	"let out": small.with(script{
		job.LoadedAmount: {"760"}, job.LetOutAmount: {"120"}, job.Decision: {"let_out", ""},
	}),
	"measured four times": small.with(script{
		job.DrainedAmount: {"550", "552", "549", "551"}, job.DrainedMore: {"again", "again", "again", "done"},
	}),
	"more on a second look": small.with(script{
		job.DrainedAmount: {"250", "300"}, job.LookedAgain: {"more"},
	}),
	"too much, the neighbour's": small.with(script{job.DrainedAmount: {"740"}, job.LookedAgain: {"neighbour"}}),
	"too much, overfilled":      small.with(script{job.DrainedAmount: {"740"}, job.LookedAgain: {"overfilled"}}),
	"leaked":                    small.with(script{job.OilHistory: {"leaked"}}),
	"a plug that weeps, twice": small.with(script{
		job.LeakCheck: {"weeps", "weeps", "dry"}, job.LeakedHow: {"caught", "damp"}, job.LeakedAmount: {"10"},
	}),
	"let out, then a plug that weeps": small.with(script{
		job.LoadedAmount: {"760"}, job.LetOutAmount: {"120"}, job.Decision: {"let_out", "", "accept"}, job.LeakCheck: {"weeps", "dry"},
		job.LeakedAmount: {"20"},
	}),
	"hose primed and blown clear": small.with(script{job.HoseBefore: {"primed"}, job.HoseAfter: {"cleared"}, job.LoadedAmount: {"580"}}),
	"no marks on the vessel":      small.with(script{job.VesselGraduation: {"-"}, job.HoseBore: {"-"}}),
	"level against the sums, it holds": small.with(script{
		job.FillPath: {"level_port"}, job.LoadedAmount: {"800"}, job.LeftInVessel: {"120"}, job.LevelLookedAgain: {"holds"},
		job.Decision: {"leave"}, job.LeftWhy: {"it weeps"},
	}),
	"level against the sums, gone": small.with(script{
		job.FillPath: {"level_port"}, job.LoadedAmount: {"800", "120"}, job.LeftInVessel: {"120", "0"}, job.LevelLookedAgain: {"gone"},
		job.LetOutAmount: {"130"},
	}),
	"level port": small.with(script{
		job.FillPath: {"level_port"}, job.LoadedAmount: {"700"}, job.LeftInVessel: {"150"}, job.OverflowCaught: {"10"},
	}),
	"dry start": dry,
	"dry start, refill quantity": dry.with(script{
		job.CapacityMeans: {"refill"}, job.Capacity: {"552"}, job.ToleranceTopic: {"55"},
	}),
	"dry start, dry or refill": dry.with(script{job.CapacityMeans: {"unknown"}, job.ToleranceTopic: {"60"}}),
	"dry start, level port": dry.with(script{
		job.FillPath: {"level_port"}, job.CapacityMeans: {"level"}, job.LoadedAmount: {"700"}, job.LeftInVessel: {"90"},
		job.OverflowCaught: {"10"},
	}),
}

// driven drives a job as far as its script leads; one that ends undecided ends
// there.
func driven(t *testing.T, name string) job.Job {
	t.Helper()
	d := newDrive(t, jobs[name])
	s := d.until(job.Decision)
	if v, err := s.Verdict(0); err != nil || (v.Act == verdict.Remeasure && len(jobs[name][job.Decision]) == 0) {
		return d.job
	}
	d.until(job.NoTopic)
	return d.job
}

func jobNames() []string {
	var names []string
	for name := range jobs {
		names = append(names, name)
	}
	slices.Sort(names)
	return names
}
