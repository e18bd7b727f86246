package report

// This file makes the facts of a record: car and unit, oil, plug, rig, waste,
// what is next. A figure that nobody gave is said to be an estimate.

import (
	"fmt"
	"strings"

	"garage/tundish/model/agenda"
	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/share"
)

// estimated marks a figure that stands in for one that is not known. It is
// never a maker's figure.
const estimated = " (estimate)"

func (b builder) unit() []recordFact {
	s := b.s
	facts := []recordFact{{"Date", b.day(s.Started)}}
	if !b.shared {
		facts = b.fact(facts, "Car", job.Vehicle)
	}
	facts = b.fact(facts, "Unit", job.UnitName)
	facts = b.fact(facts, "Kind", job.UnitKind)
	facts = b.fact(facts, "Filled through", job.FillPath)
	facts = b.fact(facts, "Fill quantity (manual)", job.Capacity)
	facts = b.fact(facts, "It is for", job.CapacityMeans)
	facts = b.fact(facts, "Tolerance", job.ToleranceTopic)
	if s.DryStart() {
		facts = b.fact(facts, "In it before", job.DryStart)
	}
	facts = b.fact(facts, "Level before", job.PriorLevel)
	facts = b.known(facts, "Stays inside", job.ResidualExpected)
	facts = append(facts, b.card()...)
	return b.fact(facts, "Odometer", job.Odometer)
}

// card is what others measured of such a unit, where the owner took it.
func (b builder) card() []recordFact {
	e, _ := b.s.Answer(job.Place{Topic: job.Card})
	c, ok := b.s.CardTaken()
	if !ok {
		return nil
	}
	text := b.s.FormatU(c.Out) + " came out"
	if e.Value.Text != "" && e.Value.Text != share.LeftOut {
		text = e.Value.Text + ": " + text
	}
	if stays, told := b.s.Answer(job.Place{Topic: job.CardResidual}); told && !stays.Value.Unknown {
		text += ", " + b.s.FormatU(c.Stays) + " stayed inside"
	}
	return []recordFact{{"Others measured", text}}
}

func (b builder) oil() []recordFact {
	s := b.s
	facts := b.fact(nil, "New oil", job.OilGrade)
	facts = b.fact(facts, "Density at 15 °C", job.OilDensity)
	facts = b.known(facts, "Viscosity at 40 °C", job.OilKV40)
	facts = b.known(facts, "Viscosity at 100 °C", job.OilKV100)
	facts = b.known(facts, "Additive", job.AdditiveVolume)
	if text := s.DrainTimeText(); text != "" {
		facts = append(facts, recordFact{"Drained for", text})
	}
	facts = b.fact(facts, "Oil that came out", job.OilLook)
	facts = b.fact(facts, "Since the last fill", job.OilHistory)
	facts = b.fact(facts, "Magnet", job.MagnetLook)
	if text := s.RenewedText(); text != "" {
		facts = append(facts, recordFact{"Renewed", text})
	}
	if s.Rig().Different {
		facts = append(facts, recordFact{"Last oil of the rig", s.RigText()})
	}
	if share, ok := s.NewShare(s.Round()); ok {
		facts = append(facts,
			recordFact{"Renewed",
				fmt.Sprintf("%.0f ± %.0f %% of what is inside is new oil", 100*share.Nominal, 100*estimate.Coverage*share.U())})
	}
	return facts
}

func (b builder) plug() []recordFact {
	facts := b.known(nil, "Plug thread", job.PlugThread)
	facts = b.known(facts, "Socket", job.PlugKey)
	facts = b.known(facts, "Washer", job.WasherKind)
	facts = b.lastChoice(facts, "Fitted", job.WasherFitted)
	facts = b.fact(facts, "Torque", job.TorqueFigure)
	facts = b.fact(facts, "Torque from", job.TorqueSource)
	return b.lastChoice(facts, "Tightened", job.TightenedHow)
}

// lastChoice adds what was chosen the last time that a topic was asked.
func (b builder) lastChoice(list []recordFact, name string, t job.Topic) []recordFact {
	all := b.standing(t)
	if len(all) == 0 {
		return list
	}
	return append(list, recordFact{name, b.echo(all[len(all)-1])})
}

func (b builder) measures() []recordFact {
	s, u := b.s, b.s.Units()
	var facts []recordFact
	for _, d := range s.Devices() {
		text := "marks every " + u.FormatVolume(d.GraduationML) + fmt.Sprintf(", scale within %.3g %%", 100*d.ErrorShare)
		if d.Scale {
			text = "reads to " + u.FormatMass(d.DivisionG)
		}
		facts = append(facts, recordFact{d.Name, text})
	}
	facts = b.fact(facts, "Filled with", job.Filler)
	if s.CapacityML() == 0 || s.Path().PouredIn() {
		return facts
	}
	return append(facts, recordFact{"Hose", b.hose()})
}

func (b builder) hose() string {
	s := b.s
	var pieces []string
	for i := 0; ; i++ {
		bore, ok1 := s.Answer(job.Place{Topic: job.HoseBore, Item: i})
		length, ok2 := s.Answer(job.Place{Topic: job.HoseLength, Item: i})
		if !ok1 || !ok2 {
			break
		}
		pieces = append(pieces, b.echo(bore)+" × "+b.echo(length))
	}
	text := "holds " + s.FormatU(s.HoldUp())
	switch _, told := s.Num(job.Place{Topic: job.HoseHolds}); {
	case len(pieces) == 0 && told:
		return text
	case len(pieces) == 0:
		return text + estimated
	}
	return strings.Join(pieces, ", ") + ", " + text
}

func (b builder) next() []recordFact {
	var facts []recordFact
	for _, look := range []struct {
		name  string
		topic job.Topic
	}{{"After a drive", job.LeakCheck}, {"Next day, cold", job.WasherRecheck}} {
		for _, e := range b.standing(look.topic) {
			facts = append(facts, recordFact{look.name, b.echo(e) + " (" + b.day(e.At) + ")"})
		}
	}
	for _, d := range agenda.Dues(b.s, b.zone) {
		facts = append(facts, recordFact{"Due: " + d.Kind.Words(), b.dueText(d)})
	}
	return facts
}

// dueText says when something is due.
func (b builder) dueText(d agenda.Due) string {
	km := b.s.Units().FormatDistance(d.Km)
	switch {
	case d.Day.IsZero():
		return "at " + km
	case d.Km > 0:
		return b.dates.Long(d.Day) + " or at " + km + ", whichever is first"
	}
	return b.dates.Long(d.Day)
}

// notes say how the figures are meant.
func (b builder) notes() []string {
	notes := []string{
		"Volumes are at " + b.s.Units().FormatTemperature(20) +
			" where it says so. ± is twice the standard uncertainty: 19 times in 20 the true value is within it. " +
			"In JSON and CSV, u_ml is the standard uncertainty itself.",
	}
	if list := b.estimates(); len(list) > 0 {
		notes = append(notes, "Estimates, not the maker's figures: "+strings.Join(list, "; ")+".")
	}
	if b.shared {
		return append(notes,
			"Shared copy: names, places, remarks and what was typed are left out, times count from the start of the job, "+
				"the odometer is to the nearest 1,000.")
	}
	zone, _ := b.s.Started.In(b.zone).Zone()
	return append(notes, "Times are "+zone+".")
}

// estimates lists what stands in for a figure that nobody gave.
func (b builder) estimates() []string {
	s := b.s
	if s.CapacityML() == 0 {
		return nil
	}
	var list []string
	unknown := func(t job.Topic, name string) {
		if e, ok := s.Answer(job.Place{Topic: t}); !ok || e.Value.Unknown {
			list = append(list, name)
		}
	}
	unknown(job.ToleranceTopic, "the tolerance")
	unknown(job.OilDensity, fmt.Sprintf("density of the oil, %.0f kg/m³ at 15 °C", s.Oil().Rho15KgM3))
	if s.ResidualMatters() {
		unknown(job.ResidualExpected, "what stays inside at a drain")
	}
	if !s.Path().PouredIn() {
		unknown(job.EscapeExpected, "the spill expected at the swap")
		if _, told := s.Num(job.Place{Topic: job.HoseHolds}); !told && !s.HoseKnown() {
			list = append(list, "what the hose holds")
		}
	}
	return list
}
