package model

// This file reads the facts of the first step out of the entries, with the
// defaults that stand in where nothing is known.

import (
	"fmt"

	"garage/tundish/model/flow"
	"garage/tundish/model/measure"
	"garage/tundish/model/oil"
	"garage/tundish/model/quantity"
)

// Units are the units chosen for this job; metric until then.
func (s *State) Units() quantity.Units {
	n, _ := pick[uint8](s, Place{Topic: DisplayUnits}, unitsOptions)
	return []quantity.Units{quantity.Metric(), quantity.US(), quantity.Imperial()}[n]
}

// Vehicle and UnitName are the names given, "" until then.
func (s *State) Vehicle() string  { return s.text(Vehicle) }
func (s *State) UnitName() string { return s.text(UnitName) }

// Text is the line of text of a topic, "" where unknown or not given.
func (s *State) Text(t Topic) string { return s.text(t) }

// Path is the fill path; drain port only until it is chosen.
func (s *State) Path() Path { p, _ := pick[Path](s, Place{Topic: FillPath}, pathOptions); return p }

// Drivetrain is what drives the car.
func (s *State) Drivetrain() Drivetrain {
	d, _ := pick[Drivetrain](s, Place{Topic: DriveKind}, driveOptions)
	return d
}

// FillerKind is what pushes the oil in.
func (s *State) FillerKind() FillerKind {
	k, _ := pick[FillerKind](s, Place{Topic: Filler}, fillerOptions)
	return k
}

// capacity is the stated quantity, ml; a range is its middle ± half its width.
func (s *State) capacity() (ml20, bool) {
	e, ok := s.at(Place{Topic: Capacity})
	if !ok {
		return measure.Exact(0), false
	}
	low, high := e.Value.Number, e.Value.High
	if high <= low {
		return measure.Exact(low), true
	}
	return measure.Rectangular(CapacityRangeSource, (low+high)/2, (high-low)/2), true
}

// CapacityML is the stated quantity, ml; 0 until it is known.
func (s *State) CapacityML() float64 { c, _ := s.capacity(); return c.Nominal }

// Meaning is what the stated quantity means.
func (s *State) Meaning() Meaning {
	m, ok := pick[Meaning](s, Place{Topic: CapacityMeans}, meansOptions)
	if !ok {
		return MeansDry
	}
	return m
}

// Prior says how far the level before the job is trusted.
func (s *State) Prior() Trust {
	t, ok := pick[Trust](s, Place{Topic: PriorLevel}, trustOptions)
	if !ok {
		return Believed
	}
	return t
}

// tolerance is the tolerance, ml each way. A share of capacity is kept as a
// share and worked out here.
func (s *State) tolerance() Tolerance {
	c := s.CapacityML()
	e, ok := s.at(Place{Topic: ToleranceTopic})
	if !ok || e.Value.Unknown {
		return DefaultTolerance(c)
	}
	t := Tolerance{e.Value.Number, e.Value.High}
	if e.Value.Unit == DimShare {
		t = Tolerance{t.MinusML * c, t.PlusML * c}
	}
	return t
}

// residual is what an ordinary drain leaves behind: as earlier proven jobs of
// the unit taught, else the default.
func (s *State) residual() ml20 {
	if l := s.offers.Residual; l.Jobs > 0 {
		return measure.Gaussian("what stays behind (learned)", l.ML, l.UML)
	}
	return DefaultResidual(s.CapacityML())
}

// Oil is the new oil as its data sheet has it.
func (s *State) Oil() oil.Oil {
	return oil.Oil{Rho15KgM3: s.numOr(OilDensity, oil.DefaultRho15KgM3), KV40CSt: s.numOr(OilKV40, 0), KV100CSt: s.numOr(OilKV100, 0)}
}

// densityU is the standard uncertainty of the density at 15 °C, kg/m³: that of
// the default, or the last digit of a data sheet.
func (s *State) densityU() float64 {
	if _, ok := s.num(Place{Topic: OilDensity}); ok {
		return 1
	}
	return oil.DefaultRho15UKgM3
}

// HoseKnown says whether the hose's size is known.
func (s *State) HoseKnown() bool { return len(s.hosePieces()) > 0 }

func (s *State) hosePieces() []flow.Piece {
	var pieces []flow.Piece
	for i := 0; s.hasItem(HoseBore, 0, i) && s.hasItem(HoseLength, 0, i); i++ {
		bore, _ := s.num(Place{HoseBore, 0, i})
		length, _ := s.num(Place{HoseLength, 0, i})
		pieces = append(pieces, flow.Piece{BoreMM: bore, LengthM: length})
	}
	return pieces
}

// HoldUp is what hose and adapter hold when full, ml. The bore of a hose is
// known to about 2.5 %, its fill so to about 5 %.
func (s *State) HoldUp() ml20 {
	if s.Path() == LevelPort {
		return measure.Exact(0)
	}
	if ml, err := flow.HoldUpML(s.hosePieces()); err == nil && ml > 0 {
		return measure.Gaussian("hose hold-up", ml, 0.05*ml)
	}
	return measure.Gaussian("hose hold-up", defaultHoldUpML, 15)
}

const defaultHoldUpML = 25

// heel is what the vessel cannot push out, ml.
func (s *State) heel() ml20 { return measure.Exact(s.numOr(VesselHeel, 0)) }

// escapeExpected is what is expected to escape at the swap, ml.
func (s *State) escapeExpected() ml20 {
	if s.Path() == LevelPort {
		return measure.Exact(0)
	}
	if ml, ok := s.num(Place{Topic: EscapeExpected}); ok {
		return measure.Gaussian("what will escape", ml, max(0.4*ml, 5))
	}
	if l := s.offers.Escape; l.Jobs > 0 {
		return measure.Gaussian("what will escape (learned)", l.ML, l.UML)
	}
	return measure.Gaussian("what will escape", EscapeML, EscapeUML)
}

// ScaleDivisionG is the smallest step of the scale, g; false where there is
// none.
func (s *State) ScaleDivisionG() (float64, bool) { return s.num(Place{Topic: ScaleDivision}) }

// Device is something that measures an amount.
type Device struct {
	Token        string // name in files
	Name         string
	Scale        bool
	GraduationML float64 // of a container
	ErrorShare   float64 // half-width of a container's scale error
	DivisionG    float64 // of a scale
}

// Label is the device as it is shown in a list.
func (d Device) Label(u quantity.Units) string {
	if d.Scale {
		return fmt.Sprintf("%s, step %s", d.Name, u.FormatMass(d.DivisionG))
	}
	return fmt.Sprintf("%s, marks every %s", d.Name, u.FormatVolume(d.GraduationML))
}

const vesselToken = "vessel"

// Devices are the containers and the scale, in the order they were named.
func (s *State) Devices() []Device {
	var devices []Device
	for i := 0; s.hasItem(ContainerName, 0, i); i++ {
		e, _ := s.at(Place{ContainerName, 0, i})
		g, _ := s.num(Place{ContainerGraduation, 0, i})
		share, _ := s.num(Place{ContainerError, 0, i})
		devices = append(devices, Device{Token: fmt.Sprintf("c%d", i), Name: e.Value.Text, GraduationML: g, ErrorShare: share})
	}
	if d, ok := s.ScaleDivisionG(); ok {
		devices = append(devices, Device{Token: "scale", Name: "scale", Scale: true, DivisionG: d})
	}
	return devices
}

// LoadDevices are those that can measure what goes into the vessel: all, and
// the vessel's own marks.
func (s *State) LoadDevices() []Device {
	devices := s.Devices()
	if g, ok := s.num(Place{Topic: VesselGraduation}); ok {
		devices = append(devices, Device{Token: vesselToken, Name: "the vessel's marks", GraduationML: g, ErrorShare: vesselErrorShare})
	}
	return devices
}

// vesselErrorShare is how far off the marks of a fill vessel may be: common
// practice, no source.
const vesselErrorShare = 0.03

// device is the device chosen at a place, or the only one there is.
func (s *State) device(with Topic, p Place) (Device, bool) {
	devices := s.LoadDevices()
	e, ok := s.at(Place{with, p.Round, p.Item})
	if !ok {
		if with != LoadedWith && with != LeftWith {
			devices = s.Devices()
		}
		if len(devices) == 1 {
			return devices[0], true
		}
		return Device{}, false
	}
	for _, d := range devices {
		if d.Token == e.Value.Choice {
			return d, true
		}
	}
	return Device{}, false
}

// oilTempC is the temperature of the drained oil last taken, °C; 20 where none
// was.
func (s *State) oilTempC() float64 {
	n := s.items(OilTemperature, 0)
	if t, ok := s.num(Place{OilTemperature, 0, n - 1}); ok {
		return t
	}
	return 20
}

// MagnetLook and OilLook are what came out with the oil.
func (s *State) MagnetLook() Magnet {
	m, _ := pick[Magnet](s, Place{Topic: MagnetLook}, magnetOptions)
	return m
}
func (s *State) OilLook() Look { l, _ := pick[Look](s, Place{Topic: OilLook}, lookOptions); return l }

// Past is what happened to the oil since the last fill.
func (s *State) Past() Past { p, _ := pick[Past](s, Place{Topic: OilHistory}, pastOptions); return p }
