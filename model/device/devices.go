// Package device holds what measures an amount: the containers, the marks of the fill
// vessel and the scale, with how far off each may be.
package device

import (
	"fmt"
	"slices"

	"garage/tundish/model/job"
	"garage/tundish/model/measure"
	"garage/tundish/model/quantity"
	"garage/tundish/model/vessel"
)

// Tools are the entries of a job with the devices that they name, which are worked out
// once: for one goroutine at a time.
type Tools struct {
	*job.State
	devices     job.Lazy[[]Device]
	loadDevices job.Lazy[[]Device]
}

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

// Factor is what a reading of a container is multiplied by.
func (d Device) Factor() measure.Value {
	if d.Check != nil {
		return measure.Gaussian(measure.Source{Kind: WaterSource, Name: d.Name}, 1+d.Check.Error, d.Check.U)
	}
	return measure.Rectangular(measure.Source{Kind: MarksSource, Name: d.Name}, 1, d.ErrorShare)
}

// ScaleFactor is what a mass from a scale is multiplied by: the scale's own error.
func ScaleFactor(name string) measure.Value {
	return measure.Rectangular(measure.Source{Kind: ScaleErrorSource, Name: name}, 1, scaleError)
}

// Label is the device as it is shown in a list.
func (d Device) Label(u quantity.Units) string {
	if d.Scale {
		return fmt.Sprintf("%s, reads to %s", d.Name, u.FormatMass(d.DivisionG))
	}
	return fmt.Sprintf("%s, marks every %s", d.Name, u.FormatVolume(d.GraduationML))
}

const (
	VesselToken = "vessel"
	scaleToken  = "scale"
)

// Common practice, no source.
const (
	VesselErrorShare = 0.03 // how far off the marks of a fill vessel may be
	jugErrorShare    = 0.02 // and those of a container, where nothing else is said
	kitchenStepG     = 5.0  // step of a scale that was used but is not noted
)

// Devices are the containers and the scale, in the order they were named.
func (s *Tools) Devices() []Device { return s.devices.Get(s.namedDevices) }

func (s *Tools) namedDevices() []Device {
	var devices []Device
	for i := range s.Items(job.ContainerName, 0) {
		p := job.Place{Item: i}
		share, told := s.Num(p.Of(job.ContainerError))
		if !told {
			share = jugErrorShare
		}
		graduation, _ := s.Num(p.Of(job.ContainerGraduation))
		d := Device{Token: fmt.Sprintf("c%d", i), Name: freeName(s.TextAt(p.Of(job.ContainerName)), devices), GraduationML: graduation,
			ErrorShare: share}
		devices = append(devices, s.checked(d, p.Of(job.ContainerWater), p.Of(job.ContainerWaterReading)))
	}
	if d, ok := s.ScaleDivisionG(); ok {
		devices = append(devices, Device{Token: scaleToken, Name: freeName("scale", devices), Scale: true, DivisionG: d})
	}
	return devices
}

// LoadDevices are those that can measure what goes into the vessel: all, and
// the vessel's own marks.
func (s *Tools) LoadDevices() []Device { return s.loadDevices.Get(s.withVessel) }

func (s *Tools) withVessel() []Device {
	devices := slices.Clone(s.Devices())
	if g, ok := s.Num(job.Place{Topic: job.VesselGraduation}); ok {
		d := Device{Token: VesselToken, Name: freeName("vessel", devices), GraduationML: g, ErrorShare: VesselErrorShare}
		devices = append(devices, s.checked(d, job.Place{Topic: job.VesselWater}, job.Place{Topic: job.VesselWaterReading}))
	}
	return devices
}

// freeName keeps two devices of one name apart: their errors are not one.
func freeName(name string, taken []Device) string {
	for i := range taken {
		if job.Canonical(taken[i].Name) == job.Canonical(name) {
			return freeName(fmt.Sprintf("%s %d", name, len(taken)+1), taken)
		}
	}
	return name
}

// checked completes a container by what a known mass of water said of it.
func (s *Tools) checked(d Device, water, reading job.Place) Device {
	waterG, ok1 := s.Num(water)
	readML, ok2 := s.Num(reading)
	if !ok1 || !ok2 {
		return d
	}
	if found, err := s.CheckWithWater(d, waterG, readML); err == nil {
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

// CheckWithWater is what a known mass of water says of the marks of a container.
func (s *Tools) CheckWithWater(d Device, waterG, readingML float64) (vessel.Result, error) {
	fill := vessel.Check{MassG: waterG, WaterTempC: waterTempC, ReadingML: readingML}
	tools := vessel.Tools{GraduationML: d.GraduationML, ScaleDivisionG: s.ScaleStepG(), ScaleError: scaleError, TempUC: waterTempUC}
	return vessel.Calibrate([]vessel.Check{fill}, tools, max(d.ErrorShare, vessel.MinHalfWidth))
}

// DevicesFor are the devices that a choice is between.
func (s *Tools) DevicesFor(with job.Topic) []Device {
	if with == job.LoadedWith || with == job.LeftWith {
		return s.LoadDevices()
	}
	return s.Devices()
}

// Device is the device chosen at a place, or the only one there is.
func (s *Tools) Device(with job.Topic, p job.Place) (Device, bool) {
	devices := s.DevicesFor(with)
	token := s.Choice(p.Of(with))
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

// StandIn is the device of a reading whose device is not known: the first
// container, or the scale for a mass.
func (s *Tools) StandIn(e job.Entry) Device {
	isMass := e.Value.Unit == job.DimG
	for _, d := range s.Devices() {
		if d.Scale == isMass {
			return d
		}
	}
	if isMass {
		return Device{Name: "scale", Scale: true, DivisionG: kitchenStepG}
	}
	return Device{Name: "jug", GraduationML: 10, ErrorShare: jugErrorShare}
}

// ScaleDivisionG is the smallest step of the scale, g; false where there is
// none.
func (s *Tools) ScaleDivisionG() (float64, bool) { return s.Num(job.Place{Topic: job.ScaleDivision}) }

// ScaleStepG is the same, or that of a kitchen scale where none is noted, g.
func (s *Tools) ScaleStepG() float64 { return s.NumOr(job.ScaleDivision, kitchenStepG) }

// VesselDevice are the marks of the fill vessel, or usual ones.
func (s *Tools) VesselDevice() Device {
	for _, d := range s.LoadDevices() {
		if d.Token == VesselToken {
			return d
		}
	}
	return Device{Name: "vessel", GraduationML: 10, ErrorShare: VesselErrorShare}
}
