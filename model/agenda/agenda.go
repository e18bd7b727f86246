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
	"garage/tundish/model/quantity"
	"garage/tundish/model/share"
	"garage/tundish/model/verdict"
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
}

// Agenda finds what is due after a job, among all jobs of a store. A job is handed
// to it folded after its unit's earlier ones.
type Agenda struct {
	now    time.Time // in the zone that days are counted in
	heads  []guide.Head
	read   func(id string) (*guide.Guide, error)
	stands map[string]bool    // jobs that tell how their unit stands, by id
	newest map[string]float64 // odometer, km, by vehicle; 0 where no job has read it
}

// New takes the heads of all jobs, newest first, and what reads a job for
// its own answers. Days are those of the zone of now.
func New(heads []guide.Head, now time.Time, read func(id string) (*guide.Guide, error)) *Agenda {
	return &Agenda{now, heads, read, standing(heads), map[string]float64{}}
}

// standing names the jobs that tell how their unit stands: of each unit the
// newest at which the plug came out. Jobs that others have shared are of no
// unit here.
func standing(heads []guide.Head) map[string]bool {
	ids, told := map[string]bool{}, map[string]bool{}
	for _, h := range heads {
		unit := cmp.Or(h.UnitKey(), h.ID)
		if h.UnitState == verdict.AsFound || told[unit] || share.IsCopy(h.ID) {
			continue
		}
		ids[h.ID], told[unit] = true, true
	}
	return ids
}

// Sort puts first what cannot wait, then what is overdue, then the rest by
// day.
func Sort(items []Item) {
	slices.SortStableFunc(items, func(a, b Item) int {
		return cmp.Or(cmp.Compare(a.rank(), b.rank()), a.Due.Day.Compare(b.Due.Day))
	})
}

func (i Item) rank() int {
	switch {
	case i.When == "now":
		return 0
	case i.Overdue:
		return 1
	case i.Day != nil:
		return 2
	}
	return 3
}

// Items is what a job leaves to do.
func (a *Agenda) Items(s *guide.Guide) ([]Item, error) {
	items, err := a.ofUnit(s)
	var w verdict.Waste
	if w.Add(s.Assessment); w.ML > 0 {
		item := newItem(s.Head(), HandInWaste, s.Units().FormatVolume(w.ML)+" since "+w.Since.In(a.now.Location()).Format(dayForm))
		item.WasteML, item.When, item.Done = &w.ML, "waits", job.Place{Topic: job.WasteHandedIn}
		items = append(items, item)
	}
	return items, err
}

// ofUnit is what a job leaves to do on its unit, where none came after it.
func (a *Agenda) ofUnit(s *guide.Guide) (items []Item, err error) {
	if !a.stands[s.ID] {
		return nil, nil
	}
	h := s.Head()
	if proven := h.UnitState.Settled(); !proven || h.Phase == guide.Open {
		item := newItem(h, ProveFill, StateOf(h))
		if proven {
			item = newItem(h, FinishJob, StateOf(h))
		}
		item.When = "now"
		items = append(items, item)
	}
	next, more := s.Next()
	for _, due := range Dues(s, a.now.Location()) {
		odometerKm := 0.0
		if due.Km > 0 {
			if odometerKm, err = a.odometerKm(h); err != nil {
				return nil, err
			}
		}
		item := newItem(h, due.Kind, due.Detail)
		item.Due = due
		if look := looksAt[due.Kind]; more && look != job.NoTopic && next.Topic == look {
			item.Done = next.Place
		}
		item.reckon(a.now, odometerKm, s.Units())
		items = append(items, item)
	}
	return items, nil
}

// StateOf is a job's state in the words that every list uses.
func StateOf(h guide.Head) string { return h.Phase.String() + " · " + h.StateWords() }

// looksAt are the questions of the looks after a drive.
var looksAt = map[Kind]job.Topic{LeakLook: job.LeakCheck, WasherLook: job.WasherRecheck}

func newItem(h guide.Head, kind Kind, detail string) Item {
	return Item{Job: h.ID, Kind: kind, Vehicle: h.Vehicle, Unit: h.UnitName, What: kind.Words(), Detail: detail, Head: h}
}

// odometerKm is the newest reading of the odometer of a job's vehicle; 0 where
// there is none.
func (a *Agenda) odometerKm(h guide.Head) (float64, error) {
	key := func(h guide.Head) string { return job.UnitKey(h.Vehicle, "any") }
	vehicle := key(h)
	if km, known := a.newest[vehicle]; known || vehicle == "" {
		return km, nil
	}
	for _, other := range a.heads {
		if share.IsCopy(other.ID) || key(other) != vehicle {
			continue
		}
		s, err := a.read(other.ID)
		if err != nil {
			return 0, err
		}
		if e, ok := s.Answer(job.Place{Topic: job.Odometer}); ok && !e.Value.Unknown {
			a.newest[vehicle] = e.Value.Number
			return e.Value.Number, nil
		}
	}
	a.newest[vehicle] = 0
	return 0, nil
}

// reckon works out how far off an item is: by day, and by odometer where that
// is known, km.
func (i *Item) reckon(now time.Time, odometerKm float64, u quantity.Units) {
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
		i.When = "at " + u.FormatDistance(i.Due.Km)
	}
	if odometerKm > 0 {
		inKm := i.Due.Km - odometerKm
		i.InKm = &inKm
		if inKm < 0 && !i.Overdue {
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
func (a *Agenda) Words(s *guide.Guide) (string, error) {
	if !a.stands[s.ID] || !s.UnitState().Settled() && s.Phase() != guide.ToRecheck {
		return "", nil
	}
	items, err := a.ofUnit(s)
	var words []string
	for _, i := range items {
		switch {
		case i.Kind == NextChange:
			words = append(words, "next change "+i.changeWords(s.Units()))
		case i.Kind == MagnetAgain || i.Kind == FlushAgain:
			words = append(words, i.What+" "+i.When)
		case i.Due.UID != "" && len(words) == 0:
			words = append(words, "re-check due")
		}
	}
	return strings.Join(words, ", "), err
}

// changeWords say when the oil is to be changed next.
func (i Item) changeWords(u quantity.Units) string {
	day, km := i.Due.Day.Format(dayForm), u.FormatDistance(i.Due.Km)
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
