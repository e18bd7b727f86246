package estimate

// This file prints volumes with how sure they are, in the owner's units. The
// ± on every screen and in every summary is twice the standard uncertainty:
// 19 times in 20 the true value is within it (JCGM 100:2008, 6.2, k = 2).

import (
	"fmt"
	"math"

	"garage/tundish/model/device"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
)

// Coverage is the factor between a standard uncertainty and the ± shown.
const Coverage = 2.0

// notWorthML is a ± that no reading of oil comes near, ml: it is not printed.
const notWorthML = 0.05

// FormatU prints a volume with its ±.
func (s *Figures) FormatU(v measure.Value) string {
	if Coverage*v.U() < notWorthML {
		return s.Units().FormatVolume(v.Nominal)
	}
	return s.Units().FormatVolumeU(v.Nominal, Coverage*v.U())
}

// OffText says how far off a fill is, without a unit and in the steps in which the aim is
// printed, both ml: "12 over", "8 short", "0 off".
func (s *Figures) OffText(offML, aimML float64) string {
	u := s.Units()
	side, step := "off", u.VolumeStep(aimML)
	steps := math.Round(offML / step)
	switch {
	case steps > 0:
		side = "over"
	case steps < 0:
		side = "short"
	}
	return u.BareVolumes(math.Abs(steps*step), aimML)[0] + " " + side
}

// SharedJugNote says how much surer the fill is known because one container
// measures out and in: the error of its marks is in both, and cancels. Before
// anything is loaded it says so of the container that measured what came out.
// It is empty where none does, or where it makes no difference that can be seen.
func (s *Figures) SharedJugNote() string {
	plan, err := s.Plan(0)
	if err != nil || plan.Undecided || s.LevelSeen(s.Round()) {
		return ""
	}
	net, conditions := s.NetFill(s.Round()), s.conditionsUpTo(s.Round())
	if !s.Has(job.LoadedAmount) {
		d, ok := s.Device(job.DrainedWith, job.Place{})
		if !ok || d.Scale || !s.Measured() {
			return ""
		}
		net, conditions = measure.Exact(plan.Target.Nominal).Mul(d.Factor()).Sub(s.HoldUp()), nil
	}
	unit := s.made().unit
	offU := func(net measure.Value, conditions []measure.Value) float64 {
		known, _ := unit.known.and(conditions...)
		return AsSaid(known.Of(unit.Stays.Add(net).Sub(unit.Right))).U()
	}
	others := make([]measure.Value, len(conditions))
	for i, c := range conditions {
		others[i] = byAnother(c)
	}
	u := s.Units()
	with, without := u.FormatVolume(Coverage*offU(net, conditions)), u.FormatVolume(Coverage*offU(byAnother(net), others))
	jug := sharedMarks(s.Drained().Total, net)
	if jug == "" || with == without {
		return ""
	}
	return fmt.Sprintf("Same %s out and in: its error cancels, ± %s instead of ± %s.", jug, with, without)
}

// byAnother is a value as if other containers of the same kind had measured it.
func byAnother(v measure.Value) measure.Value {
	return v.Map(func(source measure.Source, c float64) (measure.Source, float64) {
		if device.IsMarks(source) {
			source.Part = 1
		}
		return source, c
	})
}

// sharedMarks names the container whose marks are most of what two values have
// in common; "" where none is.
func sharedMarks(v, w measure.Value) (name string) {
	marks, most := map[measure.Source]float64{}, 0.0
	for source, c := range v.Terms() {
		if device.IsMarks(source) {
			marks[source] = c
		}
	}
	for source, c := range w.Terms() {
		if both := marks[source] * c; both > most {
			most, name = both, source.Name
		}
	}
	return name
}
