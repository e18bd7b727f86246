package garage

// This file turns what is there into what is typed: to the nearest mark, in the
// units of the person, with the slips that are made.

import (
	"fmt"
	"math"

	"garage/tundish/model/job"
	"garage/tundish/model/quantity"
)

// Of a lubricating oil, per °C, and from 15 to 20 °C.
const (
	grows    = 0.00073
	to20     = 1 - 5*grows
	mlPerOz  = 29.5735
	mlPerImp = 28.4131

	unknownKgM3 = 870.0 // taken of an oil without a data sheet
)

// deviceAt is what measures an amount: as chosen, or the only jug.
func (v *Visit) deviceAt(p job.Place) string {
	with := p.Topic.Info().With
	if chosen := v.choice(p.Of(with)); with != job.NoTopic && chosen != "" {
		return chosen
	}
	return "c0"
}

func (v *Visit) units() quantity.Units {
	switch v.Tools.Units {
	case job.UnitsUS:
		return quantity.US()
	case job.UnitsImperial:
		return quantity.Imperial()
	}
	return quantity.Metric()
}

// massG is what oil of a density at 15 °C weighs.
func massG(ml, kgM3 float64) float64 { return ml * kgM3 * to20 / 1000 }

// knownKgM3 is the density that the person knows of.
func (v *Visit) knownKgM3() float64 {
	if v.Tools.SheetKgM3 > 0 {
		return v.Tools.SheetKgM3
	}
	return unknownKgM3
}

// markML is the mark of a device.
func (v *Visit) markML(device string) float64 {
	switch device {
	case "scale":
		return v.Tools.ScaleStepG
	case "vessel":
		return v.Tools.Vessel.mark
	}
	return v.Tools.Jug.mark
}

// offOf is the error of the marks of a container.
func (v *Visit) offOf(device string) float64 {
	if device == "vessel" {
		return v.Tools.Vessel.off
	}
	return v.Tools.Jug.off
}

// reads is what a device shows of an amount of the new oil at a temperature, to
// the mark.
func (v *Visit) reads(device string, ml, tempC float64) float64 {
	mark := v.markML(device)
	if device == "scale" {
		return math.Round(massG(ml, v.Tools.DensityKgM3)*(1+v.Tools.ScaleOff)/mark) * mark
	}
	seen := ml * (1 + grows*(tempC-20)) / (1 + v.offOf(device))
	if seen > 0 { // an empty jug is seen to be empty
		seen += v.Tools.EyeML
	}
	return max(math.Round(seen/mark)*mark, 0)
}

// pours is how much of the new oil is there when a device shows an amount.
func (v *Visit) pours(device string, ml float64) float64 {
	if device == "scale" {
		return ml * v.knownKgM3() / v.Tools.DensityKgM3 / (1 + v.Tools.ScaleOff)
	}
	return max((ml*(1+grows*(v.NewC-20))-v.Tools.EyeML)*(1+v.offOf(device))/(1+grows*(v.NewC-20)), 0)
}

// asKnown is a value that was typed, as ml at 20 °C.
func (v *Visit) asKnown(x job.Value, tempC float64) float64 {
	if x.Unit == job.DimG {
		return x.Number / massG(1, v.knownKgM3())
	}
	return x.Number / (1 + grows*(tempC-20))
}

// typed are the lines of an amount: with its slip, if any, then as it is.
func (v *Visit) typed(p job.Place, ml, tempC float64) []string {
	device := v.deviceAt(p)
	shown := v.reads(device, max(ml, 0), tempC)
	right := v.line(shown, device)
	lines := []string{right}
	if v.corrected[p] {
		return lines
	}
	if wrong := v.misread(p, shown, device); wrong != shown && p.Item == 0 {
		lines = []string{v.line(max(wrong, 0), device), right}
	}
	if v.Slips.Has(UnitSlip) && !v.slipped && v.crossChecked(p) && v.dice.chance(0.4) {
		v.slipped = true
		lines = append([]string{v.inWrongUnit(shown)}, lines...)
	}
	if len(lines) > 1 {
		v.honest[p] = right
	}
	return lines
}

// line is an amount as it is typed. Some in the United States and in Britain
// type ounces without their name.
func (v *Visit) line(shown float64, device string) string {
	switch {
	case device == "scale":
		return fmt.Sprintf("%.0f g", shown)
	case v.Tools.BareOunces:
		return fmt.Sprintf("%.1f", shown/mlPerOz)
	case shown > 100 && int(shown)%3 == 0:
		return fmt.Sprintf("%.0f ml+100 ml", shown-100)
	}
	return fmt.Sprintf("%.0f ml", shown)
}

func (v *Visit) inWrongUnit(shown float64) string {
	return pickOf(v.dice,
		fmt.Sprintf("%.3f", shown/1000), fmt.Sprintf("%.0f L", shown), fmt.Sprintf("%.1f", shown/mlPerOz),
		fmt.Sprintf("%.0f fl oz", shown), fmt.Sprintf("%.0f", shown), fmt.Sprintf("%.1f", shown/mlPerImp),
		fmt.Sprintf("%.0f cl", shown), fmt.Sprintf("%.0f ml", shown/10), fmt.Sprintf("%.0f g", shown))
}

// misread is a reading with the slip that is made of it.
func (v *Visit) misread(p job.Place, shown float64, device string) float64 {
	one, gross, hundred := SlipCount, SlipCount, SlipCount
	switch p.Topic {
	case job.DrainedAmount:
		one, gross, hundred = MisreadOut, GrossOut, HundredOut
	case job.LoadedAmount:
		one, gross, hundred = MisreadLoaded, GrossLoaded, HundredLoaded
	case job.LeftInVessel:
		one, gross = MisreadLeft, GrossLeft
	default:
		return shown
	}
	d := v.diceOf(p, 0) // who reads it again reads the same
	switch {
	case v.Slips.Has(gross) && v.crossChecked(p):
		if p.Topic == job.LeftInVessel { // of little, much is wrong
			return shown + d.sign()*d.between(0.2, 0.5)*v.Unit.RightML
		}
		return shown * (1 + d.sign()*d.between(0.2, 0.5))
	case v.Slips.Has(one) || v.Slips.Has(gross):
		return shown + d.sign()*v.markML(device)
	case p.Round == 0:
		return shown + v.hundred(hundred)
	}
	return shown
}

// hundred is how far a reading is off by a numbered mark that was taken for the
// next, in ml or g.
func (v *Visit) hundred(s Slip) float64 {
	if !v.Slips.Has(s) {
		return 0
	}
	return 100 * v.Config.dice("numbered mark", v.n).sign()
}

// crossChecked reports whether something else is read that would show a slip: what
// came out and the stated quantity check each other, the bottles the first
// load, a weighed vessel every load, the weighed vessel what is left in it.
func (v *Visit) crossChecked(p job.Place) bool {
	t := p.Topic
	switch {
	case v.Blind:
		return true
	case t == job.LoadedAmount:
		return v.Tools.BottlesNoted && p.Round == 0 || v.weighsVessel()
	case t == job.LeftInVessel:
		return v.weighsVessel()
	case t == job.DrainedAmount, t == job.Capacity:
		return !v.Unit.StartsDry
	}
	return false
}

func (v *Visit) weighsVessel() bool { return v.Tools.VesselWeighed && v.Tools.ScaleStepG > 0 }
