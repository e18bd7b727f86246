package model

// This file holds whole jobs of every kind, for the properties that hold at
// every moment of any job.

import (
	"slices"
	"testing"
)

// example is a drain-port job with the defaults: 830 ml at 20 °C out of 900,
// in a jug with 10 ml between marks and 2 % error. Invented figures.
var example = small.with(script{
	Capacity:      {"900"},
	DrainedAmount: {"830"},
	LoadedAmount:  {"910"},
	LeftInVessel:  {"5"},
	EscapedAmount: {"52"},
})

// jobs are whole jobs of every kind, for the properties. Invented figures.
var jobs = map[string]script{
	"small":   small,
	"example": example,
	"in US units, on a scale": small.with(script{
		DisplayUnits: {"us"}, Capacity: {"600 ml"}, ScaleDivision: {"1 g"}, OilDensity: {"885"},
		DrainedWith: {"scale"}, DrainedAmount: {"487 g"}, LoadedWith: {"c0"}, LoadedAmount: {"625 ml"}, LeftWith: {"c0"}, LeftInVessel: {"0 ml"},
		VesselWeighedFull: {"1553 g"}, VesselWeighedAfter: {"1003 g"}, EscapedAtCap: {"0 ml"}, EscapedHow: {"pads"}, PadsBefore: {"42 g"}, PadsAfter: {"86 g"},
	}),
	"a second witness and late drips": small.with(script{
		ContainerMore: {"another", "done"}, ContainerName: {"jug", "beaker"}, DrainedWith: {"c0", "c1", "c1"},
		DrainedAmount: {"300+250", "555", "12"}, DrainedMore: {"again", "late", "done"},
	}),
	"witnesses that contradict each other": small.with(script{
		ContainerMore: {"another", "done"}, ContainerName: {"jug", "beaker"}, DrainedWith: {"c0", "c1"},
		DrainedAmount: {"550", "480"}, DrainedMore: {"again", "done"}, WitnessTrusted: {"first"},
	}),
	"far below, basis chosen": small.with(script{
		DrainedAmount: {"250"}, LookedAgain: {"nothing_more"}, Basis: {"capacity"}, BasisWhy: {"a leak, mended"},
		Decision: {"leave"}, LeftWhy: {"nobody knows which"},
	}),
	"water": small.with(script{OilLook: {"milky"}}),
	"bottles and strokes, a guess": small.with(script{
		StrokeVolume: {"25"}, StrokesCounted: {"26"}, BottlesOpened: {"500+500"}, BottlesLeft: {"372"},
		EscapedHow: {"guess"}, EscapedAmount: {"50"},
	}),
	"refill quantity, hose primed": small.with(script{CapacityMeans: {"refill"}, HoseBefore: {"primed"}, Capacity: {"500-600"}, ToleranceTopic: {"50"}, LoadedAmount: {"605"}}),
	"dry or refill, not known":     small.with(script{CapacityMeans: {"unknown"}, HoseAfter: {"cleared"}}),
	"two pushes": small.with(script{
		LoadedAmount: {"560", "95"}, LeftInVessel: {"0", "5"}, EscapedAtCap: {"0", "0"}, EscapedAmount: {"60", "10"},
	}),
	"let out": small.with(script{
		LoadedAmount: {"760"}, LetOutAmount: {"120"}, Decision: {"let_out", ""},
	}),
	"measured four times": small.with(script{
		DrainedAmount: {"550", "552", "549", "551"}, DrainedMore: {"again", "again", "again", "done"},
	}),
	"more on a second look": small.with(script{
		DrainedAmount: {"250", "300"}, LookedAgain: {"more"},
	}),
	"too much, the neighbour's": small.with(script{DrainedAmount: {"740"}, LookedAgain: {"neighbour"}}),
	"too much, overfilled":      small.with(script{DrainedAmount: {"740"}, LookedAgain: {"overfilled"}}),
	"leaked":                    small.with(script{OilHistory: {"leaked"}}),
	"a plug that weeps, twice": small.with(script{
		LeakCheck: {"weeps", "weeps", "dry"}, LeakedHow: {"caught", "damp"}, LeakedAmount: {"10"},
	}),
	"let out, then a plug that weeps": small.with(script{
		LoadedAmount: {"760"}, LetOutAmount: {"120"}, Decision: {"let_out", "", "accept"}, LeakCheck: {"weeps", "dry"}, LeakedAmount: {"20"},
	}),
	"hose primed and blown clear": small.with(script{HoseBefore: {"primed"}, HoseAfter: {"cleared"}, LoadedAmount: {"580"}}),
	"no marks on the vessel":      small.with(script{VesselGraduation: {"-"}, HoseBore: {"-"}}),
	"level against the sums, it holds": small.with(script{
		FillPath: {"level_port"}, LoadedAmount: {"800"}, LeftInVessel: {"120"}, LevelLookedAgain: {"holds"}, Decision: {"leave"}, LeftWhy: {"it weeps"},
	}),
	"level against the sums, gone": small.with(script{
		FillPath: {"level_port"}, LoadedAmount: {"800", "120"}, LeftInVessel: {"120", "0"}, LevelLookedAgain: {"gone"}, LetOutAmount: {"130"},
	}),
	"level port": small.with(script{
		FillPath: {"level_port"}, LoadedAmount: {"700"}, LeftInVessel: {"150"}, OverflowCaught: {"10"},
	}),
	"dry start": dry,
	"dry start, refill quantity": dry.with(script{
		CapacityMeans: {"refill"}, Capacity: {"552"}, ToleranceTopic: {"55"},
	}),
	"dry start, dry or refill": dry.with(script{CapacityMeans: {"unknown"}, ToleranceTopic: {"60"}}),
	"dry start, level port": dry.with(script{
		FillPath: {"level_port"}, CapacityMeans: {"level"}, LoadedAmount: {"700"}, LeftInVessel: {"90"}, OverflowCaught: {"10"},
	}),
}

// driven drives a job as far as its script leads; one that ends undecided ends
// there.
func driven(t *testing.T, name string) Job {
	t.Helper()
	d := newDrive(t, jobs[name])
	s := d.until(Decision)
	if v, err := s.Verdict(0); err != nil || (v.Act == Remeasure && len(jobs[name][Decision]) == 0) {
		return d.job
	}
	d.until(NoTopic)
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
