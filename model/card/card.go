// Package card holds what several owners measured of one kind of unit: a unit card.
// It names a kind of unit, and no car and no person.
//
// This file holds the card and how sure it is; file.go its form in files.
package card

import (
	"errors"
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"garage/tundish/model/text"

	"gonum.org/v1/gonum/stat/distuv"
)

// Card is what owners measured of a kind of unit that they named alike. Volumes are
// ml at 20 °C.
type Card struct {
	Name   string  `json:"name"`      // of the kind of unit, as its owners have it
	Unit   string  `json:"unit_kind"` // as in jobs
	Path   string  `json:"fill_path"` // as in jobs
	Jobs   int     `json:"jobs"`
	Thread string  `json:"plug_thread,omitempty"` // as most have it, "" nobody says
	Key    string  `json:"plug_key,omitempty"`
	Washer string  `json:"washer,omitempty"`
	Out    Figure  `json:"came_out_ml"`               // at an ordinary drain
	In     *Figure `json:"went_in_ml,omitempty"`      // net of what was spilled
	Stays  *Figure `json:"stays_inside_ml,omitempty"` // at an ordinary drain
	Drain  *Figure `json:"drain_min,omitempty"`       // plug out until the drips were ended, min
	Spill  []ByRig `json:"spilled_ml,omitempty"`      // at the swap
}

// Figure is a mean of several jobs and the scatter between them.
type Figure struct {
	Jobs int     `json:"jobs"`
	Mean float64 `json:"mean"`
	SD   float64 `json:"sd"` // of one job, never divided by the root of their number
}

// ByRig is a figure of one kind of rig.
type ByRig struct {
	Filler string `json:"filler"`  // as in jobs
	HoseML int    `json:"hose_ml"` // what the hose holds, to 10 ml
	Figure
}

// MinJobs is how many jobs a figure needs: fewer would be about one car.
const MinJobs = 3

// U is the standard uncertainty of a figure for one unit more. The scatter of n jobs
// has n - 1 degrees of freedom, and ± for 95.45 % is t of it, not 2 (JCGM 100:2008,
// G.3.2 and table G.2): half of that is what a ± of 2 u is made from.
func (f Figure) U() float64 {
	const upper = 0.97725 // leaves 95.45 % between both ends
	return f.SD * distuv.StudentsT{Sigma: 1, Nu: float64(max(f.Jobs-1, 1))}.Quantile(upper) / 2
}

// Limits of a card.
const (
	mostName  = 40      // letters of a text
	mostJobs  = 100_000 // jobs
	leastOut  = 20.0    // ml, as the guide takes a capacity
	mostOut   = 200_000.0
	mostShare = 0.5    // of the mean that a scatter is believed to be
	mostMin   = 3000.0 // min of draining: two days
	mostRigs  = 50
)

// Check reports why a card cannot be one.
func (c Card) Check() error {
	for _, t := range []struct{ what, text string }{
		{"name", c.Name}, {"plug_thread", c.Thread}, {"plug_key", c.Key}, {"washer", c.Washer}} {
		if err := checkText(t.what, t.text); err != nil {
			return err
		}
	}
	if Key(c.Name) == "" {
		return errors.New("name of the kind of unit is missing")
	}
	if !isToken(c.Unit) || !isToken(c.Path) {
		return errors.New("unit_kind and fill_path must be names as they are in jobs, such as final_drive and drain_only")
	}
	if c.Jobs < MinJobs || c.Jobs > mostJobs {
		return fmt.Errorf("it is of %d jobs; %d or more are needed: fewer say what one car is like", c.Jobs, MinJobs)
	}
	if err := c.Out.check("came_out_ml", c.Jobs, leastOut, mostOut, mostShare); err != nil {
		return err
	}
	for _, f := range []struct {
		what        string
		f           *Figure
		least, most float64
	}{{"went_in_ml", c.In, leastOut, mostOut}, {"stays_inside_ml", c.Stays, 0, c.Out.Mean}, {"drain_min", c.Drain, 0, mostMin}} {
		if f.f == nil {
			continue
		}
		if err := f.f.check(f.what, c.Jobs, f.least, f.most, math.Inf(1)); err != nil {
			return err
		}
	}
	return c.checkSpill()
}

func (c Card) checkSpill() error {
	if len(c.Spill) > mostRigs {
		return fmt.Errorf("spilled_ml: %d rigs at most", mostRigs)
	}
	for _, r := range c.Spill {
		if !isToken(r.Filler) || r.HoseML < 0 || r.HoseML > 10_000 {
			return errors.New("spilled_ml: filler must be a name as it is in jobs, hose_ml 0 to 10000")
		}
		if err := r.check("spilled_ml", c.Jobs, 0, c.Out.Mean, math.Inf(1)); err != nil {
			return err
		}
	}
	return nil
}

// check reports why a figure is out of sense; share is the largest scatter as a share
// of the mean.
func (f Figure) check(what string, jobs int, least, most, share float64) error {
	switch {
	case f.Jobs < MinJobs || f.Jobs > jobs:
		return fmt.Errorf("%s: jobs must be %d to %d, not %d", what, MinJobs, jobs, f.Jobs)
	case !(f.Mean >= least && f.Mean <= most):
		return fmt.Errorf("%s: mean must be %g to %g, not %g", what, least, most, f.Mean)
	case !(f.SD >= 0 && f.SD <= most):
		return fmt.Errorf("%s: sd must be 0 to %g, not %g", what, most, f.SD)
	case f.SD > share*f.Mean:
		return fmt.Errorf("%s: sd of %g is more than half of the mean, %g: these are not units of one kind", what, f.SD, f.Mean)
	}
	return nil
}

func checkText(what, s string) error {
	switch {
	case !utf8.ValidString(s) || utf8.RuneCountInString(s) > mostName:
		return fmt.Errorf("%s: %d letters at most", what, mostName)
	case strings.ContainsFunc(s, text.Hidden) || strings.ContainsAny(s, "\n\t\r"):
		return fmt.Errorf("%s: has characters that do not show", what)
	}
	return nil
}

// isToken reports whether a text is formed as names in files are.
func isToken(s string) bool {
	return s != "" && len(s) <= mostName && strings.Trim(s, "abcdefghijklmnopqrstuvwxyz_") == ""
}

// Key is what a name is known by: two that differ in case, spaces or signs alone are
// one kind.
func Key(name string) string {
	return strings.ToLower(strings.Join(strings.FieldsFunc(name, func(r rune) bool {
		return strings.ContainsRune(" \t\n-_.,;:/()'\"", r)
	}), " "))
}
