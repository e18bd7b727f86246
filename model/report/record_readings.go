package report

// This file makes the list of readings: every figure that was read and
// entered from the drain on, struck ones too, with its value at 20 °C.

import (
	"strings"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

func (b builder) readings() []recordReading {
	entries, _ := b.s.Ledger()
	struck := b.struckOut()
	var list []recordReading
	for _, e := range entries {
		if r, ok := b.reading(e); ok {
			if r.Struck = struck[e.Seq]; r.Struck {
				r.Instead = b.instead(e)
			}
			list = append(list, r)
		}
	}
	return list
}

func (b builder) reading(e job.Entry) (recordReading, bool) {
	p, ok := guide.PromptOf(e)
	isFigure := ok && (p.Kind == job.Amount || p.Kind == job.Number)
	if !isFigure || (e.Topic.Info().Step == job.Prepare && !readBefore(e.Topic)) || e.Value.Unknown {
		return recordReading{}, false
	}
	r := recordReading{
		Seq: e.Seq, At: e.At.In(b.zone), When: b.when(e.At), Round: e.Round, Topic: e.Topic,
		Name: p.Name + b.inRound(p, e), Typed: e.Typed, Value: e.Value,
	}
	r.Shown = b.asRead(e)
	if d, ok := b.s.DeviceOf(e); ok && e.Topic != job.DripReading {
		r.With = d.Name
	}
	if r.At20, r.Has20 = b.s.EntryAt20(e); r.Has20 {
		r.Shown20 = b.s.FormatU(r.At20)
	}
	return r, true
}

// inRound names the round of what is asked once a round.
func (b builder) inRound(p guide.Prompt, e job.Entry) string {
	if p.Step < job.Preload || p.Step > job.Seat {
		return ""
	}
	return b.roundName(e.Round)
}

// readBefore reports whether a figure of the first step was read, not looked up.
func readBefore(t job.Topic) bool {
	switch t {
	case job.Odometer, job.ContainerWater, job.ContainerWaterReading, job.VesselWater, job.VesselWaterReading:
		return true
	}
	return false
}

// asRead is the value as it was read, without the correction to 20 °C, which
// has a column of its own. The figure of a choice is that which it was made for,
// and does not show.
func (b builder) asRead(e job.Entry) string {
	u := b.s.Units()
	if e.Value.Choice != "" || e.Value.Unknown {
		return b.echo(e)
	}
	switch e.Value.Unit {
	case job.DimML:
		return b.withTemp(u.FormatVolume(e.Value.Number), e)
	case job.DimG:
		return u.FormatMass(e.Value.Number)
	case job.DimC:
		return u.FormatTemperature(e.Value.Number)
	}
	return b.echo(e)
}

func (b builder) withTemp(text string, e job.Entry) string {
	if e.Value.AtC == nil {
		return text
	}
	return text + " at " + b.s.Units().FormatTemperature(*e.Value.AtC)
}

// struckOut says of each entry, by its number, whether it was struck out and
// did not come back: another answer stands in its place, or none.
func (b builder) struckOut() map[int]bool {
	entries, _ := b.s.Ledger()
	struck := map[int]bool{}
	for _, e := range entries {
		if e.Strikes > 0 {
			struck[e.Strikes] = true
		}
	}
	for seq := range struck {
		e := entries[seq-1]
		if standing, ok := b.s.Answer(placeOf(e)); ok && standing.Seq == seq {
			delete(struck, seq)
		}
	}
	return struck
}

func placeOf(e job.Entry) job.Place {
	return job.Place{Topic: e.Topic, Round: e.Round, Item: e.Item}
}

// instead says in words what stands in the place of an entry struck out.
func (b builder) instead(e job.Entry) string {
	now, ok := b.s.Answer(placeOf(e))
	if !ok {
		return "taken back"
	}
	return "now " + b.asRead(now)
}

// struck lists the answers that were struck out and are no readings.
func (b builder) struck() []struckReading {
	entries, _ := b.s.Ledger()
	struck := b.struckOut()
	var list []struckReading
	for _, e := range entries {
		p, known := guide.PromptOf(e)
		if !struck[e.Seq] || !known {
			continue
		}
		_, isReading := b.reading(e)
		_, again := b.s.Answer(placeOf(e))
		confirmed := p.Kind == job.Acknowledge || p.Kind == job.Event
		if isReading || (confirmed && again) {
			continue
		}
		list = append(list, struckReading{When: b.when(e.At), Name: p.NameText(), Was: b.echo(e), Instead: b.instead(e)})
	}
	return list
}

// paperTyped is how long a printed page takes to type in at most; what is confirmed later
// was seen to at the car.
const paperTyped = time.Hour

// safety lists the cautions that were seen to, in the order of the work.
func (b builder) safety() []seenTo {
	entries, _ := b.s.Ledger()
	struck := b.struckOut()
	var list []seenTo
	for _, e := range entries {
		p, ok := guide.PromptOf(e)
		if !ok || struck[e.Seq] || !p.Safety && e.Topic != job.PlugOut {
			continue
		}
		text := strings.TrimSuffix(b.s.AskedText(e), ": press the key")
		switch {
		case e.Topic == job.RightPlug && b.s.Has(job.RightUnit): // one line of a sheet, in the words of the unit
			continue
		case e.Topic == job.RightUnit && !b.s.Has(job.RightPlug):
			text = p.Name
		case e.Topic == job.PlugOut:
			text = "The drain plug came out"
		case p.Kind == job.Choose:
			text += ": " + b.echo(e)
		}
		if paper, ok := b.s.Answer(job.At(job.FromPaper, e.Round, 0)); ok && paper.Seq < e.Seq && e.At.Sub(paper.At) < paperTyped {
			text += ", from paper"
		}
		list = append(list, seenTo{b.when(e.Happened()), text + b.inRound(p, e)})
	}
	return list
}
