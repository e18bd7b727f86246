// Package car is the units of one car that are done in one go: in which order and why,
// what is said once for all of them, how the car stands meanwhile, and what is to be
// bought. A session is the jobs that carry its id and nothing more; it is worked out anew
// from them.
//
// This file holds the session: its units in order, and which of them is next.
package car

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"garage/tundish/model/ask"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/oil"
	"garage/tundish/model/verdict"
)

// Session is the units of one car that are done in one go, in the order proposed. The
// zero Session has none.
type Session struct {
	ID    string
	Units []Unit
}

// Unit is one of them: its job, and why it has its place.
type Unit struct {
	*guide.Guide
	Reason string
}

// New puts the jobs of a session in the order proposed. It is an error where they are of
// two cars; jobs without the name of a car yet are of the car of the others.
func New(id string, jobs []*guide.Guide) (Session, error) {
	var a *guide.Guide
	for _, g := range jobs {
		switch {
		case g.Vehicle() == "":
		case a == nil:
			a = g
		case job.Canonical(g.Vehicle()) != job.Canonical(a.Vehicle()):
			return Session{}, fmt.Errorf("units of two cars: job %s is of %s, job %s of %s; done in one go are units of one car, "+
				"so take one of them out, or put its car's name right", a.ID, a.Vehicle(), g.ID, g.Vehicle())
		}
	}
	sorted := slices.SortedStableFunc(slices.Values(jobs), inOrder)
	s := Session{ID: id}
	for i, g := range sorted {
		s.Units = append(s.Units, Unit{g, reason(sorted[:i], g, sorted[i+1:])})
	}
	return s, nil
}

// Vehicle is the name of the car, "" where no unit has one yet.
func (s Session) Vehicle() string {
	for _, u := range s.Units {
		if u.Vehicle() != "" {
			return u.Vehicle()
		}
	}
	return ""
}

// inOrder is the order of work (common practice, no source): with the engine off first,
// of these the thickest oil while it is warm, the same oil one after the other, those with
// an additive for a limited slip last; with the engine running only when all others are
// closed and filled.
func inOrder(a, b *guide.Guide) int {
	return cmp.Or(
		compareBool(runsEngine(a), runsEngine(b)),
		compareBool(hasAdditive(a), hasAdditive(b)),
		cmp.Compare(thickness(b), thickness(a)),
		cmp.Compare(gradeOf(a), gradeOf(b)),
		a.Started.Compare(b.Started),
		cmp.Compare(a.UnitName(), b.UnitName()))
}

func compareBool(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// reason says why a unit comes after some and before others.
func reason(before []*guide.Guide, g *guide.Guide, after []*guide.Guide) string {
	var last *guide.Guide
	if len(before) > 0 {
		last = before[len(before)-1]
	}
	thinner := func(o *guide.Guide) bool { return thickness(o) < thickness(g) }
	switch {
	case runsEngine(g):
		return "its level needs the engine running: only with all others closed and filled"
	case hasAdditive(g) && last != nil:
		return "with an additive for a limited slip: last of those with the engine off"
	case last != nil && gradeOf(g) != "" && gradeOf(g) == gradeOf(last):
		return "the same oil as the " + last.UnitName() + ": nothing to rinse"
	case last != nil && gradeOf(g) != "":
		if c, ok := carried(last, g); ok && c.Share > c.Allowed {
			return "another oil: " + c.words(g)
		}
		return "another oil than the " + last.UnitName()
	case last != nil:
		return "its oil is not noted: rinse vessel and hose with it, or take others"
	case thickness(g) > 0 && slices.ContainsFunc(after, thinner):
		return "the thickest oil first, while it is warm"
	}
	return ""
}

// said is what a job says on a topic, or, of what holds beyond a job, one of the unit's
// before it; false where that is not known.
func said(g *guide.Guide, t job.Topic) (job.Value, bool) {
	for ; g != nil; g = g.Before() {
		if e, ok := g.Answer(job.Place{Topic: t}); ok {
			return e.Value, !e.Value.Unknown
		}
		if !t.IsFact() {
			break
		}
	}
	return job.Value{}, false
}

// runsEngine reports whether the engine has to run before the unit is known to be full.
func runsEngine(g *guide.Guide) bool {
	kind, _ := said(g, job.UnitKind)
	path, _ := said(g, job.FillPath)
	switch {
	case kind.Choice == job.AutomaticBox, kind.Choice == job.TwinClutchBox, kind.Choice == job.BeltBox:
		return true
	}
	return path.Choice == job.OverflowTube.String() || path.Choice == job.Dipstick.String()
}

func hasAdditive(g *guide.Guide) bool {
	v, ok := said(g, job.AdditiveVolume)
	return ok && v.Number > 0
}

// gradeOf is the oil as it stands on its bottle, "" not noted; in one way of writing.
func gradeOf(g *guide.Guide) string {
	v, _ := said(g, job.OilGrade)
	bare := strings.NewReplacer("-", "", "/", "", " ", "").Replace
	if grade, err := oil.ParseGrade(v.Text); err == nil && strings.EqualFold(bare(v.Text), bare(grade.String())) {
		return grade.String()
	}
	return v.Text
}

// thickness is the viscosity of the oil at 40 °C, cSt; 0 where it is not known.
func thickness(g *guide.Guide) float64 {
	if v, ok := said(g, job.OilKV40); ok {
		return v.Number
	}
	grade, err := oil.ParseGrade(gradeOf(g))
	if err != nil {
		return 0
	}
	low, high, err := grade.ViscosityRangeAt(40)
	if err != nil {
		return 0
	}
	return math.Sqrt(low * high)
}

// urgency is how urgent a unit is, the most urgent first.
type urgency uint8

const (
	holdsNoOil urgency = iota
	notProven
	begun   // something is left to do, and the oil is as it should be
	toCome  // nothing has been done to it
	stopped // by the owner: it is not gone on with here
	done
)

func (u Unit) urgency() urgency {
	state := u.UnitState()
	switch {
	case u.StoppedByOwner():
		return stopped
	case u.Phase() != guide.Open:
		return done
	case state == verdict.Empty:
		return holdsNoOil
	case state == verdict.Unproven:
		return notProven
	case state == verdict.AsFound:
		return toCome
	}
	return begun
}

// Next is the unit that is next: one that is EMPTY first, then one that is not proven, then
// one that is not closed out, then in the order proposed. False where none is left, or one
// that was stopped has to be put right before any other.
func (s Session) Next() (Unit, bool) {
	if _, ok := s.Stopped(); ok || len(s.Units) == 0 {
		return Unit{}, false
	}
	next := slices.MinFunc(s.Units, func(a, b Unit) int { return cmp.Compare(a.urgency(), b.urgency()) })
	return next, next.urgency() <= toCome
}

// Stopped is a unit that the owner has stopped at and that may not be driven with; false
// where there is none.
func (s Session) Stopped() (Unit, bool) {
	i := slices.IndexFunc(s.Units, func(u Unit) bool { return u.StoppedByOwner() && !u.MayDrive() })
	if i < 0 {
		return Unit{}, false
	}
	return s.Units[i], true
}

// MayDrive reports whether the car may be driven, by all units of the session.
func (s Session) MayDrive() bool {
	return !slices.ContainsFunc(s.Units, func(u Unit) bool { return !u.MayDrive() })
}

// Over reports whether nothing is left to do but looks after a drive.
func (s Session) Over() bool {
	return !slices.ContainsFunc(s.Units, func(u Unit) bool { return u.urgency() <= toCome })
}

// ToCome are the units to which nothing has been done yet, but for one, in order.
func (s Session) ToCome(but string) (names []string) {
	for _, u := range s.Units {
		if u.ID != but && u.urgency() == toCome {
			names = append(names, u.UnitName())
		}
	}
	return names
}

// Open are the units that must not be turned, but for one: EMPTY, not proven, stopped at, or
// left further off than a car may be driven with.
func (s Session) Open(but string) (open []ask.OpenUnit) {
	for _, u := range s.Units {
		if u.ID != but && !u.MayDrive() {
			open = append(open, ask.OpenUnit{Name: u.UnitName(), State: u.UnitState()})
		}
	}
	return open
}

// Beside is the one line that every screen of a job has of its car: which other units are
// open, else, in a session, which are to come; "" where it is about one unit alone.
func Beside(g *guide.Guide) string {
	if open := Line(g.Offered.OpenUnits); open != "" {
		return open
	}
	if names := g.Offered.ToCome; len(names) > 0 {
		return "no other unit is open; to come: " + strings.Join(names, ", ")
	}
	return ""
}

// Line says in one line which units of the car are open; "" where none is.
func Line(open []ask.OpenUnit) string {
	if len(open) == 0 {
		return ""
	}
	words := make([]string, len(open))
	for i, u := range open {
		words[i] = u.Name + " " + u.State.String()
	}
	return strings.Join(words, ", ") + ": engine OFF, wheels still, car stays"
}
