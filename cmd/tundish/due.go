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

	"garage/tundish/model"
	"garage/tundish/model/summary"
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

	head model.Head
	due  summary.Due // Day is zero where it is due on none
	when string      // in words
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
	var dues []summary.Due
	for _, d := range items {
		if !d.due.Day.IsZero() {
			dues = append(dues, d.due)
		}
	}
	var text bytes.Buffer
	err := summary.Calendar(&text, dues, o.now())
	if errors.Is(err, summary.ErrNothingDue) {
		return fmt.Errorf("%w on a day, so there is no calendar to write; see: tundish due", err)
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
	heads, _, err := s.List(store.ListOptions{})
	if err != nil {
		return nil, err
	}
	d := dueFinder{now: o.now(), zone: time.Local, stands: standing(heads), odometerKm: map[string]float64{}, items: []dueItem{}}
	for _, h := range heads {
		if summary.IsShared(h.ID) {
			continue // somebody else's car
		}
		job, err := s.Load(h.ID)
		if err != nil {
			return nil, err
		}
		d.look(h, model.Fold(job, model.Offers{}))
	}
	return d.sorted(), nil
}

// dueFinder gathers what is due, job by job.
type dueFinder struct {
	now        time.Time
	zone       *time.Location
	stands     map[string]bool
	odometerKm map[string]float64 // newest reading by vehicle
	items      []dueItem
}

func (d *dueFinder) look(h model.Head, s *model.State) {
	if e, ok := s.Answer(model.Place{Topic: model.Odometer}); ok && !e.Value.Unknown {
		d.odometerKm[vehicleKey(h)] = max(d.odometerKm[vehicleKey(h)], e.Value.Number)
	}
	if d.stands[h.ID] {
		d.lookAtUnit(h, s)
	}
	if ml, since := model.WasteWaiting([]*model.State{s}); ml > 0 {
		item := dueItem{What: "hand in waste oil", WasteML: &ml, head: h}
		item.Detail = s.Units().FormatVolume(ml) + " since " + since.In(d.zone).Format(dayForm)
		item.when = "waits"
		d.items = append(d.items, item)
	}
}

// lookAtUnit adds what the newest job of a unit leaves to do.
func (d *dueFinder) lookAtUnit(h model.Head, s *model.State) {
	if h.UnitState != model.Proven {
		d.items = append(d.items, dueItem{What: "prove the fill", Detail: stateOf(h), head: h, when: "now"})
		return
	}
	dues := summary.Dues(s, d.zone)
	for _, due := range dues {
		item := dueItem{What: due.Name, Detail: due.Detail, head: h, due: due}
		if due.Km > 0 {
			item.AtKm = &due.Km
		}
		d.items = append(d.items, item)
	}
	if at, km := s.Due(); at.IsZero() && km > 0 {
		item := dueItem{What: "next oil change", Detail: "By distance; no interval in months is noted.", head: h, AtKm: &km}
		item.when = "at " + s.Units().FormatDistance(km)
		d.items = append(d.items, item)
	}
}

// vehicleKey is a vehicle's name, written as it may be.
func vehicleKey(h model.Head) string { return model.UnitKey(h.Vehicle, "any") }

// sorted works out how far off each thing is, and orders them.
func (d *dueFinder) sorted() []dueItem {
	for i := range d.items {
		d.items[i].reckon(d)
	}
	slices.SortStableFunc(d.items, func(a, b dueItem) int {
		return cmp.Or(cmp.Compare(a.rank(), b.rank()), a.due.Day.Compare(b.due.Day))
	})
	return d.items
}

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

// reckon works out how far off it is, by day and by odometer.
func (i *dueItem) reckon(d *dueFinder) {
	i.Job, i.Vehicle, i.Unit = i.head.ID, i.head.Vehicle, i.head.UnitName
	if !i.due.Day.IsZero() {
		year, month, day := d.now.In(d.zone).Date()
		today := time.Date(year, month, day, 0, 0, 0, 0, time.UTC)
		days, text := int(i.due.Day.Sub(today).Hours()/24), i.due.Day.Format(time.DateOnly)
		i.Day, i.InDays, i.Overdue, i.when = &text, &days, days < 0, daysWords(days)
	}
	if odometerKm := d.odometerKm[vehicleKey(i.head)]; i.AtKm != nil && odometerKm > 0 && i.head.Vehicle != "" {
		inKm := *i.AtKm - odometerKm
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
		s.under("  job %s  %s", i.Job, visible(i.Detail))
	}
	return s
}
