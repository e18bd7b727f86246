package tui

// This file shows the units of a car that are done in one go: which is open, which is next
// and why, and what may be added to them.

import (
	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/car"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/tui/input"
	"garage/tundish/tui/session"
)

// wantCar shows the units of a job's car, or of a car alone; wantTick ticks a unit to be
// added, wantTogether begins those that are ticked.
type (
	wantCar      struct{ of job.Job }
	wantTick     struct{ other int }
	wantTogether struct{}
)

// carMsg: the units of a car were read; handled by App.
type carMsg struct {
	garage session.Garage
	done   string // the unit that was just finished, "" none
	err    error
}

// togetherMsg: units were begun; handled by App.
type togetherMsg struct {
	id  string // a job of them
	err error
}

func (a App) readCar(of job.Job, done string) tea.Cmd {
	return func() tea.Msg {
		garage, err := session.Look(a.cfg.Journal, of)
		return carMsg{garage, done, err}
	}
}

func (a App) onCar(msg carMsg) (tea.Model, tea.Cmd) {
	switch {
	case msg.err != nil:
		a.job.notice = "no units of the car: " + msg.err.Error()
	case msg.garage.Vehicle == "":
		a.job.notice = "name the car first"
	default:
		a.overlay = newCarOverlay(msg)
	}
	return a, nil
}

// carOverlay is the list of them.
type carOverlay struct {
	carMsg
	list
	ticked map[int]bool
}

func newCarOverlay(msg carMsg) carOverlay {
	o := carOverlay{carMsg: msg, ticked: map[int]bool{}}
	next, _ := msg.garage.Car.Next()
	for i, u := range msg.garage.Car.Units {
		if next.Guide != nil && u.ID == next.ID {
			o.chosen.At = i
		}
	}
	return o.listed()
}

// listed makes the list anew.
func (o carOverlay) listed() carOverlay {
	o.items = nil
	for _, u := range o.garage.Car.Units {
		hint := u.Reason
		if hint == "" {
			hint = u.Known()
		}
		o.items = append(o.items, item{u.UnitName() + ": " + u.StateWords(), hint, wantJob{u.ID}})
	}
	for i, other := range o.garage.Others {
		hint := ""
		if !other.Last.IsZero() {
			hint = "last " + other.Last.Local().Format("2 Jan 2006")
		}
		tick := "[ ] "
		if o.ticked[i] {
			tick = "[x] "
		}
		o.items = append(o.items, item{tick + other.Unit, hint, wantTick{i}})
	}
	if len(o.ticked) > 0 {
		o.items = append(o.items, item{"Begin what is ticked", "done in one go with the others", wantTogether{}})
	}
	return o
}

func (o carOverlay) key(msg tea.KeyMsg, k input.Keys) (overlay, intent) {
	now, want, left := o.list.key(msg, k)
	if left {
		return nil, nil
	}
	o.list = now
	if tick, ok := want.(wantTick); ok {
		if o.ticked[tick.other] = !o.ticked[tick.other]; !o.ticked[tick.other] {
			delete(o.ticked, tick.other)
		}
		o.chosen = input.Pointer{At: o.chosen.At}
		return o.listed(), nil
	}
	return o, want
}

func (o carOverlay) lines(sc scene) ([]string, []hint) {
	t, s := sc.theme, o.garage.Car
	rows := []string{" " + t.Strong.Render("The units of "+o.garage.Vehicle)}
	if o.done != "" {
		rows = append(rows, sc.paragraph(t.Strong, 1, "The "+o.done+" is done.")...)
	}
	if open := car.Line(s.Open("")); open != "" {
		rows = append(rows, sc.paragraph(t.Danger, 1, open)...)
	}
	if c, ok := s.Common(); ok {
		rows = append(rows, sc.paragraph(t.Danger, 1, c.Words())...)
	}
	words := "One open at a time. The engine stays off until all are closed and filled."
	if u, ok := s.Next(); ok {
		words = "Next: " + u.UnitName() + ". " + words
	} else if u, ok := s.Stopped(); ok {
		words = "Put right first: " + u.UnitName() + ", which was stopped."
	}
	rows = append(append(rows, sc.paragraph(t.Text, 1, words)...), "")
	return o.under(rows, sc), []hint{{"its number", "choose"}, {"Enter", "open, or tick"}, {"0", "back"}}
}

// together begins the units that are ticked.
func (a App) together() tea.Cmd {
	o := a.overlay.(carOverlay)
	var others []session.Other
	for i, other := range o.garage.Others {
		if o.ticked[i] {
			others = append(others, other)
		}
	}
	return func() tea.Msg {
		id, err := o.garage.Together(a.cfg.Journal, others, a.cfg.Clock(), func() string { return job.NewID(a.now, a.cfg.Chance()) })
		return togetherMsg{id, err}
	}
}

// onTogether opens the job that the units were added to, or the first of them.
func (a App) onTogether(msg togetherMsg) (tea.Model, tea.Cmd) {
	if msg.err != nil {
		a.fatal = msg.err
		return a, nil
	}
	if a.screen == screenJob {
		msg.id = a.job.Job.ID
	}
	a.screen = screenLoading
	return a, a.loadJob(msg.id)
}

// leadsOn is what follows the save that finished a unit of a session: its car.
func (a App) leadsOn(was guide.Phase) tea.Cmd {
	s := a.job.state()
	if was != guide.Open || s.Phase() == guide.Open || len(s.Offered.ToCome)+len(s.Offered.OpenUnits) == 0 {
		return nil
	}
	return a.readCar(a.job.Job, s.UnitName())
}

// carItems are those of the list of jobs that are about a whole car: of each car with units
// that are done in one go, or with more than one unit.
func carItems(unfinished, units []guide.Head) (items []item) {
	named := map[string]bool{}
	add := func(h guide.Head, label string) {
		if key := job.Canonical(h.Vehicle); !named[key] && key != "" {
			named[key] = true
			items = append(items, item{label + h.Vehicle, "order, state, what may be added", wantCar{carOf(h)}})
		}
	}
	for _, h := range unfinished {
		if h.Session != "" && h.Phase == guide.Open {
			add(h, "All units of ")
		}
	}
	count := map[string]int{}
	for _, h := range units {
		if count[job.Canonical(h.Vehicle)]++; count[job.Canonical(h.Vehicle)] == 2 {
			add(h, "Several units in one go: ")
		}
	}
	return items
}

// carOf is a job that is not stored, of the car and the session of another.
func carOf(h guide.Head) job.Job {
	j := job.Job{Started: h.Started, Entries: []job.Entry{{Seq: 1, At: h.Started, Topic: job.Vehicle, Value: job.Value{Text: h.Vehicle}}}}
	if h.Session != "" && h.Phase == guide.Open {
		j.Entries = append(j.Entries, job.Entry{Seq: 2, At: h.Started, Topic: job.Session, Value: job.Value{Text: h.Session}})
	}
	return j
}
