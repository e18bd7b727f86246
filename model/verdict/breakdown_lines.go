package verdict

// This file words what stands beside the figures of a sum: the causes of its uncertainty,
// and how a reading in it was taken.

import (
	"math"
	"strings"

	"garage/tundish/model/job"
)

// smallShare is the share below which a cause is not named in print.
const smallShare = 0.01

// DoubtText names the causes of the uncertainty of a sum, with the share of each.
func (sum Breakdown) DoubtText() string {
	var names []string
	var shares []float64
	rest := 1.0
	for _, d := range sum.Doubt {
		if d.Share >= smallShare {
			names, shares = append(names, d.Name), append(shares, d.Share)
			rest -= d.Share
		}
	}
	if len(names) < len(sum.Doubt) && len(names) > 0 {
		names, shares = append(names, "the rest"), append(shares, max(rest, 0))
	}
	for i, text := range percents(shares...) {
		names[i] += " " + text
	}
	return strings.Join(names, ", ")
}

// readNote says how an amount was read: "jug: 500 ml + 330 ml, 60 °C".
func (s *Assessment) readNote(amount job.Topic, p job.Place) string {
	e, ok := s.Answer(p.Of(amount))
	if !ok || e.Value.Unknown {
		return ""
	}
	d, _ := s.DeviceOf(e)
	if e.Value.Number == 0 && len(e.Value.Parts) == 0 {
		return "none"
	}
	note := d.Name + ": " + s.readParts(e.Value)
	if t, _ := s.TemperatureOf(e); !d.Scale {
		note += ", " + s.Units().FormatTemperature(t)
	}
	return note
}

// readParts prints the terms of a reading as they were typed.
func (s *Assessment) readParts(v job.Value) string {
	if len(v.Parts) == 0 {
		return s.Show(v.Number, v.Unit)
	}
	text := s.Show(v.Parts[0], v.Unit)
	for _, x := range v.Parts[1:] {
		sign := " + "
		if x < 0 {
			sign = " - "
		}
		text += sign + s.Show(math.Abs(x), v.Unit)
	}
	return text
}
