package main

// This file lists what is due over all jobs of the store: of each unit what its
// newest job leaves to do, and of every job the waste oil that waits.

import (
	"bytes"
	"cmp"
	"errors"
	"fmt"
	"slices"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/quantity"
	"garage/tundish/model/report"
	"garage/tundish/model/text"
	"garage/tundish/model/verdict"
	"garage/tundish/store"
)

type dueCommand struct {
	ICS string `name:"ics" placeholder:"FILE" help:"Also write what is due on a day as a calendar file (RFC 5545). One that is there is kept, unless --force. - prints it in place of the list."`
	forceFlag
	jsonFlag
}

// dueItem is one thing that is due, as it is printed in JSON.
type dueItem struct {
	Job     string   `json:"job"`
	Vehicle string   `json:"vehicle"`
	Unit    string   `json:"unit"`
	What    string   `json:"what"`
	Detail  string   `json:"detail"`
	Overdue bool     `json:"overdue"`
	Day     *string  `json:"day"`     // on which it is due; null where it is on none
	InDays  *int     `json:"in_days"` // below 0: overdue
	AtKm    *float64 `json:"at_km"`
	InKm    *float64 `json:"in_km"` // from the newest odometer reading of the vehicle
	WasteML *float64 `json:"waste_ml"`

	head guide.Head
	due  report.Due // zero of what no job notes a time for
	when string     // in words
}

// Run writes the calendar, then prints the list: what cannot wait, what is
// overdue, then the rest by day.
func (c *dueCommand) Run(o *outside) error {
	items, err := dueItems(o)
	if err != nil {
		return err
	}
	if c.ICS != "" {
		if err := c.writeCalendar(o, items); err != nil || c.ICS == standardInput {
			return err
		}
	}
	return o.show(c.jsonFlag, items, dueSheet(items))
}

// writeCalendar writes what is due on a day.
func (c *dueCommand) writeCalendar(o *outside, items []dueItem) error {
	var dues []report.Due
	for _, i := range items {
		dues = append(dues, i.due)
	}
	var text bytes.Buffer
	err := report.Calendar(&text, dues, o.now())
	if errors.Is(err, report.ErrNothingDue) {
		return fmt.Errorf("%w, so there is no calendar to write; see: tundish due", err)
	}
	if err != nil {
		return err
	}
	return outputFlag{Output: c.ICS, forceFlag: c.forceFlag}.put(o, text.Bytes())
}

// dueItems goes through all jobs one at a time and keeps what is due, in the
// order of the list. A store that is not there yet leaves nothing to do.
func dueItems(o *outside) ([]dueItem, error) {
	s, err := o.readStore()
	if errors.Is(err, store.ErrAbsent) {
		return []dueItem{}, nil
	}
	if err != nil {
		return nil, err
	}
	defer s.Close()
	d, err := newDueFinder(storeJournal{s}, o.now())
	if err != nil {
		return nil, err
	}
	items := []dueItem{}
	heads := own(slices.Clone(d.heads)) // not of somebody else's car
	for i, f := range d.journal.fold(heads, nil) {
		if f.err != nil {
			return nil, f.err
		}
		ofUnit, err := d.ofUnit(heads[i], f.state)
		if err != nil {
			return nil, err
		}
		items = append(append(items, ofUnit...), d.waste(heads[i], f.state)...)
	}
	slices.SortStableFunc(items, func(a, b dueItem) int {
		return cmp.Or(cmp.Compare(a.rank(), b.rank()), a.due.Day.Compare(b.due.Day))
	})
	return items, nil
}

// dueFinder finds what is due after a job.
type dueFinder struct {
	journal storeJournal
	heads   []guide.Head // of all jobs, newest first
	now     time.Time
	zone    *time.Location
	stands  map[string]bool    // jobs that tell how their unit stands, by id
	newest  map[string]float64 // odometer, km, by vehicle; 0 where no job has read it
}

func newDueFinder(j storeJournal, now time.Time) (*dueFinder, error) {
	heads, _, err := j.List(store.ListOptions{})
	if err != nil {
		return nil, err
	}
	return &dueFinder{journal: j, heads: heads, now: now, zone: time.Local, stands: standing(heads), newest: map[string]float64{}}, nil
}

// ofUnit is what a job leaves to do on its unit, where none came after it.
func (d *dueFinder) ofUnit(h guide.Head, s *guide.Guide) ([]dueItem, error) {
	if !d.stands[h.ID] {
		return nil, nil
	}
	var items []dueItem
	now := func(what string) {
		item := d.item(h, what, stateOf(h))
		item.when = "now"
		items = append(items, item)
	}
	switch {
	case !h.UnitState.Settled():
		now("prove the fill")
	case h.Phase == guide.Open:
		now("finish the job")
	}
	for _, due := range report.Dues(s, d.zone) {
		odometerKm := 0.0
		if due.Km > 0 {
			var err error
			if odometerKm, err = d.odometerKm(h); err != nil {
				return nil, err
			}
		}
		item := d.item(h, due.Name, due.Detail)
		item.due = due
		item.reckon(d, odometerKm, s.Units())
		items = append(items, item)
	}
	return items, nil
}

// waste is the waste oil of a job that is not handed in.
func (d *dueFinder) waste(h guide.Head, s *guide.Guide) []dueItem {
	var w verdict.Waste
	if w.Add(s.Assessment); w.ML == 0 {
		return nil
	}
	item := d.item(h, "hand in waste oil", s.Units().FormatVolume(w.ML)+" since "+w.Since.In(d.zone).Format(dayForm))
	item.WasteML, item.when = &w.ML, "waits"
	return []dueItem{item}
}

func (d *dueFinder) item(h guide.Head, what, detail string) dueItem {
	return dueItem{Job: h.ID, Vehicle: h.Vehicle, Unit: h.UnitName, What: what, Detail: detail, head: h}
}

// odometerKm is the newest reading of the odometer of a job's vehicle; 0 where
// there is none.
func (d *dueFinder) odometerKm(h guide.Head) (float64, error) {
	vehicle := vehicleKey(h)
	if km, known := d.newest[vehicle]; known || vehicle == "" {
		return km, nil
	}
	for _, other := range d.heads {
		if report.IsShared(other.ID) || vehicleKey(other) != vehicle {
			continue
		}
		s, err := d.journal.state(other.ID)
		if err != nil {
			return 0, err
		}
		if e, ok := s.Answer(job.Place{Topic: job.Odometer}); ok && !e.Value.Unknown {
			d.newest[vehicle] = e.Value.Number
			return e.Value.Number, nil
		}
	}
	d.newest[vehicle] = 0
	return 0, nil
}

// vehicleKey is a vehicle's name, written as it may be.
func vehicleKey(h guide.Head) string { return job.UnitKey(h.Vehicle, "any") }

// rank is the part of the list that it belongs to.
func (i dueItem) rank() int {
	switch {
	case i.when == "now":
		return 0
	case i.Overdue:
		return 1
	case i.Day != nil:
		return 2
	}
	return 3
}

// reckon works out how far off it is: by day, and by odometer where that is
// known, km.
func (i *dueItem) reckon(d *dueFinder, odometerKm float64, u quantity.Units) {
	if !i.due.Day.IsZero() {
		year, month, day := d.now.In(d.zone).Date()
		today := time.Date(year, month, day, 0, 0, 0, 0, time.UTC)
		days, text := int(i.due.Day.Sub(today).Hours()/24), i.due.Day.Format(time.DateOnly)
		i.Day, i.InDays, i.Overdue, i.when = &text, &days, days < 0, daysWords(days)
	}
	if !(i.due.Km > 0) {
		return
	}
	i.AtKm = &i.due.Km
	if i.Day == nil {
		i.when = "at " + u.FormatDistance(i.due.Km)
	}
	if odometerKm > 0 {
		inKm := i.due.Km - odometerKm
		i.InKm = &inKm
		if inKm < 0 && !i.Overdue {
			i.Overdue, i.when = true, "overdue by distance"
		}
	}
}

// daysWords say how far off a day is.
func daysWords(days int) string {
	switch {
	case days == 0:
		return "today"
	case days == 1:
		return "tomorrow"
	case days < 0:
		return "overdue by " + spanWords(-days)
	}
	return "in " + spanWords(days)
}

// spanWords is a number of days in the words for which a person would go.
func spanWords(days int) string {
	const month, year = 365.25 / 12, 365.25
	switch {
	case days == 1:
		return "1 day"
	case days < 60:
		return fmt.Sprintf("%d days", days)
	case float64(days) < 2*year:
		return fmt.Sprintf("%.0f months", float64(days)/month)
	}
	return fmt.Sprintf("%.0f years", float64(days)/year)
}

func dueSheet(items []dueItem) *sheet {
	s := new(sheet)
	if len(items) == 0 {
		s.note("nothing is due")
	}
	for _, i := range items {
		day := ""
		if !i.due.Day.IsZero() {
			day = i.due.Day.Format(dayForm)
		}
		s.add(i.when, day, "%s: %s", i.What, names(i.head))
		s.under("  job %s  %s", i.Job, text.Visible(i.Detail))
	}
	if slices.ContainsFunc(items, func(i dueItem) bool { return i.WasteML != nil }) {
		s.note("waste oil handed in? tundish --job JOB, then the menu: correct an earlier answer")
	}
	return s
}
