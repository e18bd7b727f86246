package model

// This file holds what measures an amount: the containers, the marks of the
// fill vessel and the scale, with how far off each may be.

import (
	"fmt"
	"slices"

	"garage/tundish/model/measure"
	"garage/tundish/model/quantity"
	"garage/tundish/model/vessel"
)

// Device is something that measures an amount.
type Device struct {
	Token        string // name in files
	Name         string // no two devices of a job share it
	Scale        bool
	GraduationML float64 // of a container
	ErrorShare   float64 // of a container: half-width of the error of its marks, as claimed
	Check        *Check  // of a container: what water on a scale said of its marks, nil not checked
	DivisionG    float64 // of a scale
}

// Check is the error of a container's marks as water showed it, a share of the
// reading: true = reading · (1 + Error).
type Check struct {
	Error, U    float64
	Contradicts bool // the marks are further off than was claimed
}

// factor is what a reading of a container is multiplied by.
func (d Device) factor() measure.Value {
	if d.Check != nil {
		return measure.Gaussian(measure.Source{Kind: waterSource, Name: d.Name}, 1+d.Check.Error, d.Check.U)
	}
	return measure.Rectangular(measure.Source{Kind: marksSource, Name: d.Name}, 1, d.ErrorShare)
}

// Label is the device as it is shown in a list.
func (d Device) Label(u quantity.Units) string {
	if d.Scale {
		return fmt.Sprintf("%s, step %s", d.Name, u.FormatMass(d.DivisionG))
	}
	return fmt.Sprintf("%s, marks every %s", d.Name, u.FormatVolume(d.GraduationML))
}

const (
	vesselToken = "vessel"
	scaleToken  = "scale"
)

// Common practice, no source.
const (
	vesselErrorShare = 0.03 // how far off the marks of a fill vessel may be
	kitchenStepG     = 5.0  // step of a scale that was used but is not noted
)

// Devices are the containers and the scale, in the order they were named.
func (s *State) Devices() []Device { return s.memo.devices.get(s.namedDevices) }

func (s *State) namedDevices() []Device {
	var devices []Device
	for i := range s.items(ContainerName, 0) {
		p := Place{Item: i}
		share, _ := s.num(p.of(ContainerError))
		graduation, _ := s.num(p.of(ContainerGraduation))
		d := Device{Token: fmt.Sprintf("c%d", i), Name: freeName(s.textAt(p.of(ContainerName)), devices), GraduationML: graduation, ErrorShare: share}
		devices = append(devices, s.checked(d, p.of(ContainerWater), p.of(ContainerWaterReading)))
	}
	if d, ok := s.ScaleDivisionG(); ok {
		devices = append(devices, Device{Token: scaleToken, Name: freeName("scale", devices), Scale: true, DivisionG: d})
	}
	return devices
}

// LoadDevices are those that can measure what goes into the vessel: all, and
// the vessel's own marks.
func (s *State) LoadDevices() []Device { return s.memo.loadDevices.get(s.withVessel) }

func (s *State) withVessel() []Device {
	devices := slices.Clone(s.Devices())
	if g, ok := s.num(Place{Topic: VesselGraduation}); ok {
		d := Device{Token: vesselToken, Name: freeName("vessel", devices), GraduationML: g, ErrorShare: vesselErrorShare}
		devices = append(devices, s.checked(d, Place{Topic: VesselWater}, Place{Topic: VesselWaterReading}))
	}
	return devices
}

// freeName keeps two devices of one name apart: their errors are not one.
func freeName(name string, taken []Device) string {
	for i := range taken {
		if fold(taken[i].Name) == fold(name) {
			return freeName(fmt.Sprintf("%s %d", name, len(taken)+1), taken)
		}
	}
	return name
}

// checked completes a container by what a known mass of water said of it.
func (s *State) checked(d Device, water, reading Place) Device {
	waterG, ok1 := s.num(water)
	readML, ok2 := s.num(reading)
	if !ok1 || !ok2 {
		return d
	}
	if found, err := s.checkWithWater(d, waterG, readML); err == nil {
		d.Check = &Check{Error: found.Error, U: found.U, Contradicts: found.Finding != vessel.Agrees}
	}
	return d
}

// Tap water in a garage is 20 ± 5 °C, and a kitchen scale is right to about
// 0.2 % (common practice, no source).
const (
	waterTempC  = 20.0
	waterTempUC = 5.0
	scaleError  = 0.002
)

func (s *State) checkWithWater(d Device, waterG, readingML float64) (vessel.Result, error) {
	step, ok := s.ScaleDivisionG()
	if !ok {
		step = kitchenStepG
	}
	fill := vessel.Check{MassG: waterG, WaterTempC: waterTempC, ReadingML: readingML}
	tools := vessel.Tools{GraduationML: d.GraduationML, ScaleDivisionG: step, ScaleError: scaleError, TempUC: waterTempUC}
	return vessel.Calibrate([]vessel.Check{fill}, tools, max(d.ErrorShare, vessel.MinHalfWidth))
}

// devicesFor are the devices that a choice is between.
func (s *State) devicesFor(with Topic) []Device {
	if with == LoadedWith || with == LeftWith {
		return s.LoadDevices()
	}
	return s.Devices()
}

// device is the device chosen at a place, or the only one there is.
func (s *State) device(with Topic, p Place) (Device, bool) {
	devices := s.devicesFor(with)
	token := s.choice(p.of(with))
	if token == "" && len(devices) == 1 {
		return devices[0], true
	}
	for _, d := range devices {
		if d.Token == token {
			return d, true
		}
	}
	return Device{}, false
}

// stand is the device of a reading whose device is not known: the first
// container, or the scale for a mass.
func (s *State) stand(e Entry) Device {
	isMass := e.Value.Unit == DimG
	for _, d := range s.Devices() {
		if d.Scale == isMass {
			return d
		}
	}
	if isMass {
		return Device{Name: "scale", Scale: true, DivisionG: kitchenStepG}
	}
	return Device{Name: "jug", GraduationML: 10, ErrorShare: 0.02}
}

// ScaleDivisionG is the smallest step of the scale, g; false where there is
// none.
func (s *State) ScaleDivisionG() (float64, bool) { return s.num(Place{Topic: ScaleDivision}) }

func (s *State) vesselDevice() Device {
	for _, d := range s.LoadDevices() {
		if d.Token == vesselToken {
			return d
		}
	}
	return Device{Name: "vessel", GraduationML: 10, ErrorShare: vesselErrorShare}
}
