package guide

// This file finds figures that were typed without a unit and make no sense in
// the unit shown, but do in another that the same hands use: 0.55 where litres
// were meant. Neither is taken before the owner has said which.

import (
	"math"
	"strconv"
	"strings"

	"garage/tundish/model/ask"
	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/quantity"
)

// Reading is one meaning of a figure that was typed without a unit.
type Reading struct {
	Label string // the figure with its unit
	Value job.Value
}

// UnclearUnit is the error of a figure that may be meant in more than one unit;
// the first reading is in the unit shown.
type UnclearUnit struct{ Readings []Reading }

// Error asks which it is.
func (e *UnclearUnit) Error() string {
	labels := make([]string, len(e.Readings))
	for i, r := range e.Readings {
		labels[i] = r.Label
	}
	last := len(labels) - 1
	return strings.Join(labels[:last], ", ") + ", or " + labels[last] + "? With its unit it is clear"
}

// clear returns an UnclearUnit where a value that was typed makes sense in
// another unit alone.
func (p Prompt) clear(s *Guide, typed string, v job.Value) error {
	if p.makesSense(s, v) {
		return nil
	}
	own := s.Units()
	others := p.otherUnits(own)
	if same, err := p.parse(s, typed, others[0]); err != nil || same.Number == v.Number && same.High == v.High && same.Unit == v.Unit {
		return nil // it has a unit
	}
	unclear := &UnclearUnit{[]Reading{{labelOf(v, own), v}}}
	for _, u := range others {
		u.Temperature = own.Temperature
		if meant, err := p.parse(s, typed, u); err == nil && p.makesSense(s, meant) {
			unclear.Readings = append(unclear.Readings, Reading{labelOf(meant, u), meant})
		}
	}
	if len(unclear.Readings) == 1 {
		return nil
	}
	return unclear
}

// otherUnits are those that a bare figure may be meant in just as well.
func (p Prompt) otherUnits(own quantity.Units) (others []quantity.Units) {
	if p.Kind == job.Number && p.Dim == job.DimKPa { // vessels and gauges have all of them
		for _, pressure := range []quantity.Units{{Pressure: quantity.Bar}, {Pressure: quantity.PSI}, {Pressure: quantity.Kilopascal}} {
			if other := own; pressure.Pressure != own.Pressure {
				other.Pressure = pressure.Pressure
				others = append(others, other)
			}
		}
		return others
	}
	others = []quantity.Units{own.Large()}
	if own.Volume != quantity.Metric().Volume {
		others = append(others, quantity.Metric(), quantity.Metric().Large()) // bottles and manuals have both
	}
	return others
}

// makesSense reports whether an amount is one that could be meant: taken, and
// as large as such amounts are. Nothing at all always is.
func (p Prompt) makesSense(s *Guide, v job.Value) bool {
	if p.Kind == job.Number && p.Dim == job.DimKPa {
		return v.Number >= leastKPa && p.Accept(s, v) == nil
	}
	if v.Unit != job.DimML && v.Unit != job.DimG || p.Kind == job.Number {
		return true
	}
	least, most := p.usualML(s)
	low, high := v.Ends()
	if p.Kind == job.Bounds {
		low = high
	}
	if low == 0 && p.Kind == job.Amount {
		return true
	}
	low, high = s.RoughML(job.Value{Number: low, Unit: v.Unit}), s.RoughML(job.Value{Number: high, Unit: v.Unit})
	return low >= least && high <= most && p.Accept(s, v) == nil
}

// leastKPa is a pressure below which none is meant: 0.1 bar (common practice, no
// source).
const leastKPa = 10.0

// usualML is from where to where the amount that a prompt asks for is believed
// without its unit, ml (common practice, no source). What lies outside is
// taken just as well where no other unit makes sense of it.
func (p Prompt) usualML(s *Guide) (least, most float64) {
	c := s.CapacityML()
	switch p.Topic {
	case job.Capacity:
		return 300, 20_000
	case job.ToleranceTopic:
		return 0.005 * c, estimate.MostToleranceShare * c
	case job.ResidualExpected:
		return 0.005 * c, s.MostResidualML()
	case job.AdditiveVolume:
		return 0.01 * c, c / 2
	case job.ContainerGraduation, job.VesselGraduation:
		return 1, 250
	case job.StrokeVolume:
		return 2, 300
	case job.ContainerWaterReading:
		return s.aboutWater(p.Place.Of(job.ContainerWater))
	case job.VesselWaterReading:
		return s.aboutWater(p.Place.Of(job.VesselWater))
	case job.DrainedAmount, job.LoadedAmount, job.BottlesOpened, job.WasteOil:
		if p.Place.Round+p.Place.Item == 0 {
			return 0.05 * c, 2 * c
		}
	}
	return 1, max(2*c, ask.RoomML)
}

// aboutWater is what marks may say of a mass of water, of which 1 g is 1 ml.
func (s *Guide) aboutWater(water job.Place) (least, most float64) {
	massG, _ := s.Num(water)
	return massG / 2, 2 * massG
}

// labelOf is a value with its unit, in the units that it was read in.
func labelOf(v job.Value, u quantity.Units) string {
	low, high := v.Ends()
	factor, unit := u.Volume.Factor(), u.Volume.String()
	switch v.Unit {
	case job.DimG:
		factor, unit = u.Mass.Factor(), u.Mass.String()
	case job.DimKPa:
		factor, unit = u.Pressure.Factor(), u.Pressure.String()
	}
	const digits = 1e6 // as typed, less what the conversion adds
	typed := func(x float64) string {
		return strconv.FormatFloat(math.Round(x/factor*digits)/digits, 'f', -1, 64)
	}
	if high > low {
		return typed(low) + "-" + typed(high) + " " + unit
	}
	return typed(low) + " " + unit
}
