// Package agenda works out what is due over all jobs: of each unit what its newest
// job leaves to do, and of every job the waste oil that waits. Calendar writes it.
package agenda

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// dayForm is how a day is written in a list.
const dayForm = "2 Jan 2006"

// Item is one thing that is due, as it is printed in JSON.
type Item struct {
	Job     string   `json:"job"`
	Kind    Kind     `json:"item"`
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

	Head guide.Head `json:"-"`
	Due  Due        `json:"-"` // zero of what no job notes a time for
	Done job.Place  `json:"-"` // the question that an answer of its job does it by; the zero Place where none does
	When string     `json:"-"` // in words

	atOnce bool // it cannot wait
}

// Agenda finds what is due after the jobs of units, among all units of a store.
type Agenda struct {
	now    time.Time          // in the zone that days are counted in
	newest map[string]Reading // of the odometer, by vehicle
}

// New takes all units, or those of the cars that are asked for. Days are those of the zone
// of now.
func New(units []Unit, now time.Time) *Agenda {
	a := &Agenda{now, map[string]Reading{}}
	for _, u := range units {
		if r := u.Odometer; r != nil { // that of the job that was begun later counts
			last := a.newest[r.Car]
			if r.Started.After(last.Started) || r.Started.Equal(last.Started) && r.Job > last.Job {
				a.newest[r.Car] = *r
			}
		}
	}
	return a
}

// sorted puts first what cannot wait, then what is overdue, then the rest by day; of
// those that are alike the last begun job first.
func sorted(items []Item) []Item {
	order := make([]*Item, len(items)) // an item is long
	for i := range items {
		order[i] = &items[i]
	}
	slices.SortStableFunc(order, func(a, b *Item) int {
		return cmp.Or(cmp.Compare(a.rank(), b.rank()), a.Due.Day.Compare(b.Due.Day), b.Head.Started.Compare(a.Head.Started),
			cmp.Compare(b.Job, a.Job))
	})
	in := make([]Item, len(items))
	for i, item := range order {
		in[i] = *item
	}
	return in
}

func (i Item) rank() int {
	switch {
	case i.atOnce:
		return 0
	case i.Overdue:
		return 1
	case i.Day != nil:
		return 2
	}
	return 3
}

// All is what all units leave to do, the last begun job first.
func (a *Agenda) All(units []Unit) []Item {
	const each = 2 // of a unit, mostly; where there are more it grows
	items := make([]Item, 0, each*len(units))
	for _, u := range units {
		items = append(items, a.items(u)...)
	}
	return sorted(items)
}

// items is what a unit's jobs leave to do.
func (a *Agenda) items(u Unit) (items []Item) {
	if u.Stands != nil {
		items = a.ofUnit(*u.Stands)
	}
	for _, w := range u.Waste {
		item := newItem(w.Head, HandInWaste, w.Text+" since "+w.Since.In(a.now.Location()).Format(dayForm))
		item.WasteML, item.When, item.Done = &w.ML, "waits", job.Place{Topic: job.WasteHandedIn}
		items = append(items, item)
	}
	return items
}

// ofUnit is what a job leaves to do on its unit, where none came after it.
func (a *Agenda) ofUnit(f Facts) (items []Item) {
	h := f.Head
	if proven := h.UnitState.Settled(); !proven || h.Phase == guide.Open {
		item := newItem(h, ProveFill, StateOf(h))
		if proven {
			item = newItem(h, FinishJob, StateOf(h))
		}
		item.When, item.atOnce = "now", true
		items = append(items, item)
	}
	for _, due := range f.Dues {
		item := newItem(h, due.Kind, due.Detail)
		item.Due = due.on(a.now.Location())
		if look := looksAt[due.Kind]; f.Next != nil && look != job.NoTopic && f.Next.Topic == look {
			item.Done = *f.Next
		}
		item.reckon(a.now, a.newest[job.UnitKey(h.Vehicle, "any")].Km)
		items = append(items, item)
	}
	return items
}

// StateOf is a job's state in the words that every list uses.
func StateOf(h guide.Head) string { return h.Phase.String() + " · " + h.StateWords() }

// looksAt are the questions of the looks after a drive.
var looksAt = map[Kind]job.Topic{LeakLook: job.LeakCheck, WasherLook: job.WasherRecheck}

func newItem(h guide.Head, kind Kind, detail string) Item {
	return Item{Job: h.ID, Kind: kind, Vehicle: h.Vehicle, Unit: h.UnitName, What: kind.Words(), Detail: detail, Head: h}
}

// reckon works out how far off an item is: by day, and by odometer where that
// is known, km.
func (i *Item) reckon(now time.Time, odometerKm float64) {
	if !i.Due.Day.IsZero() {
		year, month, day := now.Date()
		today := time.Date(year, month, day, 0, 0, 0, 0, time.UTC)
		days, text := int(i.Due.Day.Sub(today).Hours()/24), i.Due.Day.Format(time.DateOnly)
		i.Day, i.InDays, i.Overdue, i.When = &text, &days, days < 0, daysWords(days)
	}
	if !(i.Due.Km > 0) {
		return
	}
	i.AtKm = &i.Due.Km
	if i.Day == nil {
		i.When = "at " + i.Due.KmText
	}
	if odometerKm > 0 {
		i.InKm = new(i.Due.Km - odometerKm)
		if *i.InKm < 0 && !i.Overdue {
			i.Overdue, i.When = true, "overdue by distance"
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

// Words say what a job leaves to do on its unit; "" where that is nothing, or
// its state says it already.
func (a *Agenda) Words(u Unit, id string) string {
	f := u.Stands
	if f == nil || f.Head.ID != id || !f.Head.UnitState.Settled() && f.Head.Phase != guide.ToRecheck {
		return ""
	}
	var words []string
	for _, i := range a.ofUnit(*f) {
		switch {
		case i.Kind == NextChange:
			words = append(words, "next change "+i.changeWords())
		case i.Kind == MagnetAgain || i.Kind == FlushAgain:
			words = append(words, i.What+" "+i.When)
		case i.Due.UID != "" && len(words) == 0:
			words = append(words, "re-check due")
		}
	}
	return strings.Join(words, ", ")
}

// changeWords say when the oil is to be changed next.
func (i Item) changeWords() string {
	day, km := i.Due.Day.Format(dayForm), i.Due.KmText
	switch {
	case i.InDays != nil && *i.InDays < 0:
		return "overdue since " + day
	case i.Overdue:
		return "overdue since " + km
	case i.Day == nil:
		return km
	case i.AtKm == nil:
		return day
	}
	return day + " or " + km
}
