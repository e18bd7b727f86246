package main

// This file shows the units of a car that are done in one go, and begins them.

import (
	"errors"
	"fmt"
	"math/rand/v2"
	"slices"
	"strings"
	"time"

	"github.com/alecthomas/kong"

	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/model/car"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/text"
	"garage/tundish/store"
	"garage/tundish/tui/session"
)

type carCommand struct {
	Car    string   `arg:"" optional:"" complete:"job" help:"${help_car} Without it the units last begun here."`
	Unit   []string `placeholder:"NAME" sep:"none" help:"Begin a job of this unit of the car, to be done in one go with the others; once a unit."`
	With   []string `placeholder:"JOB" complete:"job" help:"Do a job that is open in one go with the others; once a job."`
	Leave  string   `placeholder:"JOB" complete:"job" help:"Do this job alone again."`
	Buy    bool     `help:"List what to buy and to have at hand."`
	Bottle float64  `type:"ml" default:"1L" help:"Size of a bottle of oil."`
	jsonFlag
}

// carResult is a session in JSON; carUnit one of its units.
type carResult struct {
	Session  string    `json:"session"` // "" where none of them is begun
	Vehicle  string    `json:"vehicle"`
	MayDrive bool      `json:"may_drive"`
	Open     string    `json:"open"`  // which units are open, in words; "" none
	Next     *string   `json:"next"`  // job that is next; null none
	Cause    *string   `json:"cause"` // of readings that are off at two units or more, in words; null none
	Units    []carUnit `json:"units"`
	Buy      car.List  `json:"buy"`
}

type carUnit struct {
	guide.Head
	State  string    `json:"state"`
	Reason string    `json:"reason"` // why it has its place
	Last   *car.Last `json:"last"`   // the unit's job before; null none
}

// Run shows the units of a car, after beginning those that are named.
func (c *carCommand) Run(o *outside, k *kong.Context) error {
	changes := len(c.Unit)+len(c.With) > 0 || c.Leave != ""
	open := o.readStore
	if changes {
		open = o.writeStore
	}
	s, err := open()
	if err != nil {
		return err
	}
	defer s.Close()
	if !(c.Bottle >= 50 && c.Bottle <= 50000) {
		return cli.Wrong(k, "--bottle", errors.New("must be 50 ml to 50 L"))
	}
	j := storeJournal{s}
	units, err := j.carOf(c.Car)
	if changes {
		if units, err = c.change(o, j, units, err); err != nil {
			return err
		}
	}
	switch {
	case err != nil:
		return err
	case c.Buy && !c.JSON:
		return buySheet(units.Buy(c.Bottle)).Write(o.out)
	}
	return o.show(c.jsonFlag, c.result(units), carSheet(units))
}

// change begins units, joins jobs and leaves one, all of one car; none is how the car was
// not found.
func (c *carCommand) change(o *outside, j storeJournal, units car.Session, none error) (car.Session, error) {
	vehicle, id, now := units.Vehicle(), units.ID, o.now()
	switch {
	case none != nil && !errors.Is(none, errNoUnits) && !errors.Is(none, errNoCar):
		return units, none
	case vehicle == "":
		vehicle = c.Car
	}
	if id == "" || units.Over() {
		id = job.NewID(now, rand.Uint32())
	}
	var err error
	for i, given := range c.With {
		if c.With[i], err = j.joinable(given, &vehicle); err != nil {
			return units, err
		}
	}
	if vehicle == "" {
		return units, errors.New("which car? name it: tundish car NAME --unit UNIT")
	}
	for i, unit := range c.Unit {
		if err := session.Begin(j, job.NewID(now, rand.Uint32()), id, vehicle, unit, now.Add(time.Duration(i))); err != nil {
			return units, err
		}
	}
	for _, with := range c.With {
		if err := session.Join(j, with, id, now); err != nil {
			return units, err
		}
	}
	if c.Leave != "" {
		leave, err := j.Find(c.Leave)
		if err != nil {
			return units, err
		}
		if err := session.Leave(j, leave, now); err != nil {
			return units, err
		}
	}
	if len(c.Unit)+len(c.With) == 0 {
		return j.carOf(c.Car)
	}
	return j.carOf(id)
}

// joinable is the id of an open job of a car; the car is that of the job where none is
// known yet.
func (j storeJournal) joinable(given string, vehicle *string) (string, error) {
	id, err := j.Find(given)
	if err != nil {
		return "", err
	}
	g, err := j.state(id)
	switch {
	case err != nil:
		return "", err
	case g.Phase() != guide.Open:
		return "", fmt.Errorf("job %s is not open: only open jobs are done in one go", id)
	case *vehicle == "":
		*vehicle = g.Vehicle()
	case !sameCar(*vehicle, g.Vehicle()):
		return "", fmt.Errorf("units of two cars: job %s is of %s, the others of %s; done in one go are units of one car, "+
			"so begin the other car's by themselves", id, text.Visible(g.Vehicle()), text.Visible(*vehicle))
	}
	return id, nil
}

func (c *carCommand) result(s car.Session) carResult {
	r := carResult{Session: s.ID, Vehicle: s.Vehicle(), MayDrive: s.MayDrive(), Open: car.Line(s.Open("")), Buy: s.Buy(c.Bottle),
		Units: []carUnit{}}
	if u, ok := s.Next(); ok && s.ID != "" {
		r.Next = &u.ID
	}
	if common, ok := s.Common(); ok {
		r.Cause = new(common.Words())
	}
	for _, u := range s.Units {
		line := carUnit{Head: u.Head(), State: u.StateWords(), Reason: u.Reason}
		if last, ok := u.Last(); ok {
			line.Last = &last
		}
		r.Units = append(r.Units, line)
	}
	return r
}

// carSheet is a session in words.
func carSheet(s car.Session) *sheet {
	out := new(sheet)
	if open := car.Line(s.Open("")); open != "" {
		out.Note("%s", text.Visible(open))
	}
	for i, u := range s.Units {
		id, state := u.ID, u.StateWords()
		if s.ID == "" {
			id, state = "", "not begun"
		}
		out.Add(fmt.Sprintf("%d  %s", i+1, text.Visible(u.UnitName())), state, "%s", strings.TrimSpace(id+"  "+text.Visible(u.Known())))
		if u.Reason != "" {
			out.Under("%s", text.Visible(u.Reason))
		}
	}
	if common, ok := s.Common(); ok {
		out.Note("%s", text.Visible(common.Words()))
	}
	out.Note("one open at a time; the engine stays off until all are closed and filled")
	if u, ok := s.Stopped(); ok {
		out.Note("put right first: %s, which was stopped", text.Visible(u.UnitName()))
	} else if u, ok := s.Next(); ok && s.ID != "" {
		out.Note("next: %s; run: tundish guide --job %s", text.Visible(u.UnitName()), u.ID)
	} else if s.ID == "" {
		out.Note("to begin: tundish car %q --unit NAME, once a unit", text.Visible(s.Vehicle()))
	}
	return out
}

func buySheet(l car.List) *sheet {
	out := new(sheet)
	for _, line := range l.Lines() {
		out.Note("%s", text.Visible(line))
	}
	return out
}

// Why a car is not shown.
var (
	errNoCar   = errors.New("no job is of a car of that name, and none has that id; see: tundish jobs")
	errNoUnits = errors.New("no units of a car are done in one go here; begin them: tundish car NAME --unit UNIT --unit UNIT")
)

// carOf is the session that is meant: by its id, by a job of it, or by the name of its car,
// of which the last is taken, else the car's units as they would be done; "" is the last
// of all.
func (j storeJournal) carOf(given string) (car.Session, error) {
	all, _, err := j.List(store.ListOptions{})
	if err != nil {
		return car.Session{}, err
	}
	all = own(all)
	id, jobErr := j.Find(given)
	at := slices.IndexFunc(all, func(h guide.Head) bool {
		return h.Session != "" && (given == "" || h.Session == given || sameCar(h.Vehicle, given) || jobErr == nil && h.ID == id)
	})
	if at >= 0 {
		return j.sessionOf(all[at].Session, all)
	}
	if given == "" {
		return car.Session{}, errNoUnits
	}
	return j.proposed(given)
}

// sessionOf is a session among the heads of all jobs.
func (j storeJournal) sessionOf(id string, all []guide.Head) (car.Session, error) {
	heads := slices.DeleteFunc(slices.Clone(all), func(h guide.Head) bool { return h.Session != id })
	jobs, err := j.states(heads, nil)
	if err != nil {
		return car.Session{}, err
	}
	return car.New(id, jobs)
}

// proposed is the units of a car as they would be done in one go.
func (j storeJournal) proposed(vehicle string) (car.Session, error) {
	units, err := j.Units()
	if err != nil {
		return car.Session{}, err
	}
	var jobs []*guide.Guide
	for _, h := range units {
		if !sameCar(h.Vehicle, vehicle) {
			continue
		}
		g, err := j.fold(session.Begun("", "", h.Vehicle, h.UnitName, h.Updated.Add(time.Second)))
		if err != nil {
			return car.Session{}, err
		}
		jobs = append(jobs, g)
	}
	if len(jobs) == 0 {
		return car.Session{}, errNoCar
	}
	return car.New("", jobs)
}
