package report

// This file holds the Record, the one value that every format shows, and puts
// it together. Its parts are made in the record_*.go files.

import (
	"fmt"
	"strings"
	"time"

	"garage/tundish/model/ask"
	"garage/tundish/model/dates"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
	"garage/tundish/model/share"
	"garage/tundish/model/verdict"
)

// record is a job as it is shown: words and figures, not yet in a form. Texts
// hold what was typed, unescaped: each format escapes for itself.
type record struct {
	ID string

	Title      string // what was done to what
	UnitState  verdict.UnitState
	StateText  string // UnitState in the words of every list
	Phase      guide.Phase
	MayDrive   bool
	StateWords string // what the state means, in a line
	Verdict    recordVerdict

	Gauge      fillGauge
	Unit       []recordFact // the car and the unit
	Oil        []recordFact // the new oil, and what came out
	Plug       []recordFact
	Measures   []recordFact // what measured, and the rig
	Sums       []recordSum
	At20       string // the temperature that volumes are corrected to: at 20 °C, at 68 °F
	Readings   []recordReading
	Deviations []string
	Balance    []string
	Struck     []struckReading // answers struck out that were no readings
	Safety     []seenTo
	Waste      []recordFact
	Next       []recordFact
	Remarks    []recordFact
	Notes      []string // what is an estimate, how ± and times are meant
}

// recordFact is one thing that is known, with its name.
type recordFact struct{ Name, Text string }

// recordVerdict is the verdict in words, a line each; Known is false where there
// is none yet.
type recordVerdict struct {
	Known bool
	Word  verdict.Conformity
	Lines []string
}

// recordSum is a figure with the lines that lead to it.
type recordSum struct {
	Title string
	Lines []sumLine
	Facts []string // what goes with it: window, basis
}

// sumLine is one line of a sum; an empty sign begins anew.
type sumLine struct {
	Sign   string // "", "+", "−", "="
	Name   string
	Amount string // with its ±
	Note   string // how it was read or where it comes from
	Result bool   // the figure that the sum comes to
}

// recordReading is one figure that was read and entered.
type recordReading struct {
	Seq     int
	At      time.Time
	When    string
	Round   int
	Topic   job.Topic
	Name    string
	With    string // what measured it, "" where nothing is noted
	Typed   string
	Value   job.Value
	Shown   string // the value in the job's units
	At20    measure.Value
	Has20   bool
	Shown20 string // at 20 °C, with ±
	Struck  bool
	Instead string // what stands in its place
}

// struckReading is an answer that was struck out.
type struckReading struct{ When, Name, Was, Instead string }

// seenTo is a caution that was seen to.
type seenTo struct{ When, Text string }

// recordOf makes the record of a job.
func recordOf(s *guide.Guide, o Options) record {
	b := builder{s: s, zone: o.Zone, dates: o.Dates, shared: o.Share || share.IsCopy(s.ID)}.zoned()
	r := record{
		ID: s.ID, Title: b.title(),
		UnitState: s.UnitState(), StateText: s.StateWords(), Phase: s.Phase(), MayDrive: s.MayDrive() && len(s.Offered.OpenUnits) == 0,
		StateWords: b.stateWords(), Verdict: b.verdict(), Gauge: b.gauge(),
		Unit: b.unit(), Oil: b.oil(), Plug: b.plug(), Measures: b.measures(),
		Sums: b.sums(), Readings: b.readings(), Deviations: b.deviations(), Balance: b.balance(),
		Struck: b.struck(), Safety: b.safety(), Next: b.next(), Remarks: b.known(nil, "Remark", job.Remark),
		Waste: b.fact(b.fact(nil, "Waste oil", job.WasteOil), "Handed in", job.WasteHandedIn),
	}
	r.At20 = "at " + s.Units().FormatTemperature(20)
	r.Notes = b.notes()
	return r
}

// builder makes the parts of a record.
type builder struct {
	s      *guide.Guide
	zone   *time.Location
	dates  dates.Language
	shared bool // names and times of day were left out
}

// zoned shows times in UTC where no zone is asked for, or none is meant.
func (b builder) zoned() builder {
	if b.zone == nil || b.shared {
		b.zone = time.UTC
	}
	return b
}

func (b builder) title() string {
	unit, vehicle := b.s.UnitName(), b.s.Vehicle()
	if unit == "" || unit == share.LeftOut {
		unit = "a unit"
		if o, ok := b.s.PickedOption(job.Place{Topic: job.UnitKind}); ok {
			unit = strings.ToLower(o.Label)
		}
	}
	if vehicle == "" || b.shared {
		return "Oil change: " + unit
	}
	return "Oil change: " + unit + " of " + vehicle
}

func (b builder) stateWords() string {
	s := b.s
	drive := "Not to be driven."
	switch open := s.Offered.OpenUnits; {
	case s.MayDrive() && len(open) > 0:
		drive = fmt.Sprintf("The car is NOT to be driven: its %s is %s.", open[0].Name, open[0].State)
	case s.MayDrive():
		drive = "It may be driven."
	}
	switch s.UnitState() {
	case verdict.AsFound:
		return "The drain plug has not been out: the oil is as it was found."
	case verdict.Empty:
		if s.DryStart() {
			return "The unit is dry inside and nothing has been put in. Not to be driven, no wheel or gear turned."
		}
		return "The oil is out and none has been put back. Not to be driven, no wheel or gear turned."
	case verdict.Unproven:
		return "Oil was put in; the amount is not PROVEN. Not to be driven, no wheel or gear turned."
	case verdict.LeftOff:
		return "Left as it is by the owner; the amount is not PROVEN. " + drive
	}
	return "The plug is seated and the amount is accepted. " + drive
}

func (b builder) verdict() recordVerdict {
	s := b.s
	none := recordVerdict{Lines: []string{"Verdict: none yet"}}
	round, ok := s.JudgedRound()
	h, err := s.Headline(round)
	switch {
	case err != nil && s.PushBegun(0):
		none.Lines[0] = "Verdict: none: " + err.Error()
		return none
	case err != nil || !ok:
		return none
	}
	lines := []string{"Verdict: " + h.Text() + "; " + h.Odds, h.Sentence + "."}
	if text := h.StaysText(); text != "" {
		lines = append(lines, "If the assumptions do not hold: "+text+".")
	}
	if len(h.Why) > 0 {
		lines = append(lines, "Why no surer: "+strings.Join(h.Why, "; ")+".")
	}
	return recordVerdict{true, h.Verdict.Conformity, append(lines, "To do: "+h.Next+".")}
}

// when is a time as the record shows it: the time of day, with the day where
// it is not the first. A shared job has no time of day: it counts from the
// start.
func (b builder) when(at time.Time) string {
	start := b.s.Started
	if b.shared {
		since := at.Sub(start)
		return fmt.Sprintf("+%d:%02d", int(since.Hours()), int(since.Minutes())%60)
	}
	at, start = at.In(b.zone), start.In(b.zone)
	if at.Format(time.DateOnly) == start.Format(time.DateOnly) {
		return at.Format("15:04")
	}
	return at.Format("2 Jan 15:04")
}

func (b builder) day(at time.Time) string { return b.dates.Long(at.In(b.zone)) }

// fact adds a standing answer as its prompt puts it in words, and where it is
// not known, that; known adds it only where it is known.
func (b builder) fact(list []recordFact, name string, t job.Topic) []recordFact {
	e, ok := b.s.Answer(job.Place{Topic: t})
	if !ok && b.passed(t) {
		p := guide.Prompt{Spec: ask.SpecOf(t), Place: job.Place{Topic: t}}
		return append(list, recordFact{name, p.UnknownText(b.s)})
	}
	if !ok || e.Value.Text == share.LeftOut {
		return list
	}
	return append(list, recordFact{name, b.echo(e)})
}

// passed reports whether a job is past a question that need not be answered.
func (b builder) passed(t job.Topic) bool {
	sp := ask.SpecOf(t)
	return sp.Optional && (sp.When == nil || sp.When(b.s.Known, job.Place{Topic: t})) && (b.s.Step() > sp.Step || b.s.Phase() != guide.Open)
}

func (b builder) known(list []recordFact, name string, t job.Topic) []recordFact {
	if e, ok := b.s.Answer(job.Place{Topic: t}); !ok || e.Value.Unknown {
		return list
	}
	return b.fact(list, name, t)
}

// standing lists the standing answers of a topic, over rounds and items, in the
// order in which they were given.
func (b builder) standing(t job.Topic) []job.Entry {
	entries, _ := b.s.Ledger()
	var list []job.Entry
	for _, e := range entries {
		if now, ok := b.s.Answer(placeOf(e)); e.Topic == t && ok && now.Seq == e.Seq {
			list = append(list, e)
		}
	}
	return list
}

// echo is an entry's value in words.
func (b builder) echo(e job.Entry) string { return b.s.AnswerText(e) }
