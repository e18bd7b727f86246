package garage

// This file turns what is there into what is typed: to the nearest mark, in the
// units of the person, with the slips that are made.

import (
	"fmt"
	"math"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// Of a lubricating oil, per °C, and from 15 to 20 °C.
const (
	grows    = 0.00073
	to20     = 1 - 5*grows
	mlPerOz  = 29.5735
	mlPerImp = 28.4131
)

// deviceAt is what measures an amount: as chosen, or the only jug.
func deviceAt(s *guide.Guide, p guide.Prompt) string {
	if e, ok := s.Answer(job.Place{Topic: p.With, Round: p.Place.Round, Item: p.Place.Item}); ok && p.With != job.NoTopic {
		return e.Value.Choice
	}
	return "c0"
}

// massG is what oil weighs.
func (w *World) massG(ml float64) float64 { return ml * w.Tools.DensityKgM3 * to20 / 1000 }

// markML is the mark of a device.
func (w *World) markML(device string) float64 {
	switch device {
	case "scale":
		return w.Tools.ScaleStepG
	case "vessel":
		return w.Tools.Vessel.mark
	}
	return w.Tools.Jug.mark
}

// reads is what a device shows of an amount at a temperature, to the mark.
func (w *World) reads(device string, ml, tempC float64) float64 {
	mark := w.markML(device)
	if device == "scale" {
		return math.Round(w.massG(ml)*(1+w.Tools.ScaleOff)/mark) * mark
	}
	off := w.Tools.Jug.off
	if device == "vessel" {
		off = w.Tools.Vessel.off
	}
	return math.Round(ml*(1+grows*(tempC-20))/(1+off)/mark) * mark
}

// typed are the lines of an amount: with its slip, if any, then as it is.
func (w *World) typed(s *guide.Guide, p guide.Prompt, ml, tempC float64) []string {
	device := deviceAt(s, p)
	shown := w.reads(device, max(ml, 0), tempC)
	right := w.line(shown, device)
	lines := []string{right}
	if wrong := w.misread(p.Place, shown, device); wrong != shown && p.Place.Item == 0 {
		lines = []string{w.line(max(wrong, 0), device), right}
	}
	if w.Slips.Has(UnitSlip) && !w.slipped && w.witnessed(p.Place) && w.dice.chance(0.4) {
		w.slipped = true
		lines = append([]string{w.inWrongUnit(shown)}, lines...)
	}
	if len(lines) > 1 {
		w.honest[p.Place] = right
	}
	return lines
}

// line is an amount as it is typed. Some in the United States and in Britain
// type ounces without their name.
func (w *World) line(shown float64, device string) string {
	switch {
	case device == "scale":
		return fmt.Sprintf("%.0f g", shown)
	case w.Tools.BareOunces:
		return fmt.Sprintf("%.1f", shown/mlPerOz)
	case shown > 100 && int(shown)%3 == 0:
		return fmt.Sprintf("%.0f ml+100 ml", shown-100)
	}
	return fmt.Sprintf("%.0f ml", shown)
}

func (w *World) inWrongUnit(shown float64) string {
	return pickOf(w.dice,
		fmt.Sprintf("%.3f", shown/1000), fmt.Sprintf("%.0f L", shown), fmt.Sprintf("%.1f", shown/mlPerOz),
		fmt.Sprintf("%.0f fl oz", shown), fmt.Sprintf("%.0f", shown), fmt.Sprintf("%.1f", shown/mlPerImp),
		fmt.Sprintf("%.0f cl", shown), fmt.Sprintf("%.0f ml", shown/10), fmt.Sprintf("%.0f g", shown))
}

// misread is a reading with the slip that is made of it.
func (w *World) misread(p job.Place, shown float64, device string) float64 {
	one, gross := SlipCount, SlipCount
	switch p.Topic {
	case job.DrainedAmount:
		one, gross = MisreadOut, GrossOut
	case job.LoadedAmount:
		one, gross = MisreadLoaded, GrossLoaded
	case job.LeftInVessel:
		one, gross = MisreadLeft, GrossLeft
	default:
		return shown
	}
	if w.Slips.Has(gross) && w.witnessed(p) {
		if p.Topic == job.LeftInVessel { // of little, much is wrong
			return shown + w.dice.sign()*w.dice.between(0.2, 0.5)*w.Unit.RightML
		}
		return shown * (1 + w.dice.sign()*w.dice.between(0.2, 0.5))
	}
	if w.Slips.Has(one) || w.Slips.Has(gross) {
		return shown + w.dice.sign()*w.markML(device)
	}
	return shown
}

// witnessed reports whether something else is read that would show a slip: what
// came out and the stated quantity check each other, the bottles the first
// load, a weighed vessel every load, the weighed vessel what is left in it.
func (w *World) witnessed(p job.Place) bool {
	t := p.Topic
	switch {
	case w.blind:
		return true
	case t == job.LoadedAmount:
		return w.Tools.BottlesNoted && p.Round == 0 || w.weighsVessel()
	case t == job.LeftInVessel:
		return w.weighsVessel()
	case t == job.DrainedAmount, t == job.Capacity:
		return !w.Unit.StartsDry
	}
	return false
}

func (w *World) weighsVessel() bool { return w.Tools.VesselWeighed && w.Tools.ScaleStepG > 0 }
