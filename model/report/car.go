package report

// This file makes one tag and one record of the units of a car that are done in one go,
// each unit's own inside.

import (
	"bytes"
	_ "embed"
	"encoding/json"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"

	"garage/tundish/model/car"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

//go:embed car.html.tmpl
var carTemplate string

// CarTagOf is what the tag of a car says: what is the matter with the worst of its units, and
// how each stands. ErrNoTag where all are closed and it may be driven.
func CarTagOf(s car.Session, o Options) (TagWords, error) {
	begun := slices.ContainsFunc(s.Units, func(u car.Unit) bool { return u.UnitState() != verdict.AsFound })
	if begun && s.Over() && s.MayDrive() {
		return TagWords{}, fmt.Errorf("%s: %w", s.Vehicle(), errNoTag)
	}
	t := TagWords{
		Big: []string{"DO NOT", "DRIVE"}, What: "WORK ON THIS CAR IS NOT FINISHED",
		Job:    fmt.Sprintf("%d units in one go, %s", len(s.Units), s.ID),
		Orders: []string{"DO NOT MOVE IT", "DO NOT TURN WHEELS OR GEARS", "DO NOT START THE ENGINE"},
		Since:  "since ______________________ (write the time in as the first plug comes out)",
	}
	worst := verdict.AsFound
	for _, u := range s.Units {
		t.Units = append(t.Units, u.UnitName()+": "+u.StateWords())
		worse := worst == verdict.AsFound || u.UnitState() == verdict.Empty && worst != verdict.Empty
		if words, err := TagOf(u.Guide, o); err == nil && !u.MayDrive() && worse {
			worst, t.What, t.Since = u.UnitState(), words.What, words.Since
		}
	}
	return t, nil
}

// WriteCar writes the units of a car in a format, each with its own record; jobs are those
// of the units, in their order. CSV is of one unit alone.
func WriteCar(w io.Writer, f Format, s car.Session, jobs []job.Job, o Options) error {
	switch f {
	case JSON:
		return writeCarJSON(w, s, jobs, o)
	case HTML:
		return writeCarHTML(w, s, o)
	case Markdown, Text:
	default:
		return fmt.Errorf("%v is of one unit: name its job", f)
	}
	var b bytes.Buffer
	if f == Markdown {
		carMarkdown(&b, s)
	} else {
		carText(&b, s)
	}
	for i, u := range s.Units {
		b.WriteString("\n")
		if err := Write(&b, f, u.Guide, jobs[i], o); err != nil {
			return err
		}
	}
	_, err := w.Write(b.Bytes())
	return err
}

// carTitle, carState and carLines are what stands before the records.
func carTitle(s car.Session) string {
	return fmt.Sprintf("Oil changes: %d units of %s", len(s.Units), s.Vehicle())
}

func carState(s car.Session) string {
	switch open := car.Line(s.Open("")); {
	case open != "":
		return open
	case !s.Over():
		return "not all units are closed"
	}
	return "all units closed; the car may be driven"
}

func carLines(s car.Session) []string {
	lines := []string{"One car, done in one go: " + s.ID + "."}
	if c, ok := s.Common(); ok {
		lines = append(lines, c.Words()+".")
	}
	return lines
}

func carTable(s car.Session) block {
	table := block{head: []string{"unit", "state", "job", "came out", "went in", "why in this order"}}
	for _, u := range s.Units {
		p := verdict.History([]*verdict.Assessment{u.Assessment})[0]
		out, in := "", ""
		if p.Drained {
			out = u.Units().FormatVolume(p.DrainedML.Nominal)
		}
		if u.UnitState() != verdict.AsFound && u.PushBegun(0) {
			in = u.Units().FormatVolume(p.NetML.Nominal)
		}
		table.rows = append(table.rows, row{cells: []string{u.UnitName(), u.StateWords(), u.ID, out, in, u.Reason}})
	}
	return table
}

func carMarkdown(b *bytes.Buffer, s car.Session) {
	b.WriteString("# " + mdText(carTitle(s)) + "\n\n**" + mdText(carState(s)) + "**\n\n")
	for _, l := range carLines(s) {
		b.WriteString("- " + mdLine(l) + "\n")
	}
	b.WriteString("\n")
	mdTable(b, carTable(s))
}

func carText(b *bytes.Buffer, s car.Session) {
	rule := strings.Repeat("=", textColumns) + "\n"
	b.WriteString(carTitle(s) + "\n" + rule + carState(s) + "\n")
	for _, l := range carLines(s) {
		b.WriteString(l + "\n")
	}
	b.WriteString("\n")
	textTable(b, carTable(s))
}

func writeCarHTML(w io.Writer, s car.Session, o Options) error {
	page := struct {
		CSS                template.CSS
		Title, State, Tone string
		Lines              []string
		Table              htmlBlock
		Pages              []htmlPage
	}{template.CSS(pageCSS), carTitle(s), carState(s), "stop", carLines(s), htmlOf(carTable(s)), nil}
	if s.MayDrive() && s.Over() {
		page.Tone = "good"
	}
	for _, u := range s.Units {
		page.Pages = append(page.Pages, pageOf(recordOf(u.Guide, o), Facts(u.Guide, o)))
	}
	return writePage(w, carTemplate, page)
}

// writeCarJSON writes each unit as it is exported by itself.
func writeCarJSON(w io.Writer, s car.Session, jobs []job.Job, o Options) error {
	doc := struct {
		Schema   string            `json:"schema"`
		Version  int               `json:"schema_version"`
		Session  string            `json:"session"`
		Vehicle  string            `json:"vehicle"`
		MayDrive bool              `json:"may_drive"`
		Over     bool              `json:"over"` // nothing is left but looks after a drive
		Units    []json.RawMessage `json:"units"`
	}{"tundish-session", 1, s.ID, s.Vehicle(), s.MayDrive(), s.Over(), []json.RawMessage{}}
	for i, u := range s.Units {
		var b bytes.Buffer
		if err := Write(&b, JSON, u.Guide, jobs[i], o); err != nil {
			return err
		}
		doc.Units = append(doc.Units, b.Bytes())
	}
	text, err := json.MarshalIndent(doc, "", "  ")
	if err == nil {
		_, err = w.Write(append(text, '\n'))
	}
	return err
}
