package report

// This file makes the tag that hangs on the steering wheel while a unit is
// empty or unproven: as text of 80 columns, and as a page to print.

import (
	"bytes"
	_ "embed"
	"errors"
	"fmt"
	"io"
	"strings"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/share"
	"garage/tundish/model/text"
	"garage/tundish/model/verdict"
)

// errNoTag says that a job needs no tag: the car may be driven.
var errNoTag = errors.New("no tag is needed: the car may be driven")

//go:embed tag.html.tmpl
var tagTemplate string

// TagWords is what the tag says, whatever it is written on.
type TagWords struct {
	Big    []string `json:"big"`             // in the largest letters
	What   string   `json:"what"`            // what is the matter with which unit
	Units  []string `json:"units,omitempty"` // of a car, how each stands
	Orders []string `json:"orders"`
	Since  string   `json:"since"`
	Job    string   `json:"job"`
}

// Write writes the words as a tag, as HTML or as text.
func (t TagWords) Write(w io.Writer, html bool) error {
	if html {
		return writePage(w, tagTemplate, struct {
			TagWords
			Code *codePicture
		}{t, pictureOf(t.Code())})
	}
	return tagText(w, t)
}

// TagOf is what the tag of a job says. Before the plug is out it can be printed ahead,
// with room for the time. An error where the fill is proven and the car may be driven.
func TagOf(s *guide.Guide, o Options) (TagWords, error) {
	if s.UnitState() != verdict.AsFound && s.MayDrive() {
		return TagWords{}, fmt.Errorf("job %s: %w", s.ID, errNoTag)
	}
	b := builder{s: s, zone: o.Zone, dates: o.Dates}.zoned()
	unit := s.UnitName()
	if unit == "" || unit == share.LeftOut {
		unit = "the unit"
	}
	t := TagWords{Big: []string{"DO NOT", "DRIVE"}, Job: "job " + s.ID}
	t.What = whatIsWrong(s, strings.ToUpper(unit))
	t.Orders = []string{"DO NOT MOVE IT", "DO NOT TURN WHEELS OR GEARS", "DO NOT START THE ENGINE"}
	if s.UnitState().Settled() {
		t.Orders = t.Orders[:1]
	}
	t.Since = "since ______________________ (write the time in as the plug comes out)"
	if s.DryStart() {
		t.Since = "dry since before this job: new, rebuilt or overhauled"
	}
	if out, ok := s.When(job.PlugOut, 0); ok {
		t.Since = "since " + b.day(out) + ", " + out.In(b.zone).Format("15:04 MST")
	}
	return t, nil
}

// whatIsWrong says why the car must not be driven.
func whatIsWrong(s *guide.Guide, unit string) string {
	switch {
	case s.Debris() == verdict.Chunks && s.UnitState() != verdict.Empty:
		return "CHIPS OF METAL IN " + unit + ": IT MUST BE OPENED"
	case s.UnitState() == verdict.Unproven:
		return "OIL IN " + unit + " NOT PROVEN: TOO LITTLE OR TOO MUCH"
	case s.LeftAs() != verdict.NotProven:
		h, _ := s.Headline(s.Round())
		return "OIL IN " + unit + " " + h.Text()
	case s.UnitState() == verdict.LeftOff || s.UnitState().Settled():
		return "OIL IN " + unit + " NOT RIGHT YET"
	}
	return "NO OIL IN " + unit
}

func tagText(w io.Writer, t TagWords) error {
	var b bytes.Buffer
	rule := strings.Repeat("=", textColumns) + "\n"
	b.WriteString(rule + "\n")
	for _, word := range t.Big {
		for _, row := range bigWord(word) {
			b.WriteString("    " + row + "\n")
		}
		b.WriteString("\n")
	}
	b.WriteString(rule)
	for _, l := range text.Wrap(text.Visible(t.What), textColumns-8) {
		b.WriteString("\n    " + l + "\n")
	}
	for _, u := range t.Units {
		b.WriteString("\n    " + text.Cut(text.Visible(u), textColumns-8, "...") + "\n")
	}
	b.WriteString("\n" + rule + "\n")
	for _, l := range t.Orders {
		b.WriteString("    " + l + "\n\n")
	}
	for _, l := range []string{t.Since, t.Job} {
		b.WriteString("    " + l + "\n")
	}
	b.WriteString("\n" + rule)
	_, err := w.Write(b.Bytes())
	return err
}
