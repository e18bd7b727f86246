package report

// This file prints a record as one HTML file that needs nothing else: no
// script, no request, light and dark, one page of paper. html/template escapes
// whatever comes from the job.

import (
	"bytes"
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"garage/tundish/model/job"
	"garage/tundish/model/text"
	"garage/tundish/model/verdict"
)

//go:embed page.html.tmpl
var pageTemplate string

//go:embed page.css
var pageCSS string

// How many lines of print a page of A4 or Letter takes in each size of letter.
// With more than linesFull, readings on the way are left to the other formats;
// with more than linesDense, which nothing that is typed here comes to, every
// text is cut to one line on paper, and whole on the screen.
const (
	linesPlain   = 122
	linesFull    = 162
	linesCrowded = 205
	linesDense   = 280
)

type htmlPage struct {
	Record      record
	CSS         template.CSS
	State, Tone string
	Density     string
	Lines       []string
	Gauge       *svgGauge
	Blocks      []htmlBlock
	Foot        string
	Code        *codePicture
}

type htmlBlock struct {
	Title string
	Head  []string
	Rows  []htmlRow
	List  bool
	Short bool // kept in one column
	After string

	Pictured bool // the gauge says it, where there is room for the gauge
}

type htmlRow struct {
	Cells  []htmlCell
	Strong bool
}

type htmlCell struct {
	Text   string
	Struck bool
	Tight  bool // never broken
}

// writePage writes a page in a form, which may hold pages of records.
func writePage(w io.Writer, form string, page any) error {
	t, err := template.New("one").Funcs(template.FuncMap{"show": text.Visible}).Parse(pageTemplate)
	if err == nil {
		t, err = t.New("page").Parse(form)
	}
	if err != nil {
		return fmt.Errorf("page to print: %w", err)
	}
	var b bytes.Buffer
	if err := t.Execute(&b, page); err != nil {
		return fmt.Errorf("page to print: %w", err)
	}
	_, err = w.Write(b.Bytes())
	return err
}

// pageOf lays a record out, with a QR code of its facts.
func pageOf(r record, facts string) htmlPage {
	lines := printLines(r.blocks())
	if lines > linesFull {
		r.Readings = withoutTheWay(r.Readings)
		lines = printLines(r.blocks())
	}
	state, lead := r.leadLines()
	page := htmlPage{
		Record: r, CSS: template.CSS(pageCSS), State: state, Tone: tone(r), Density: density(lines),
		Lines: lead, Gauge: drawGauge(r.Gauge), Foot: r.foot(), Code: pictureOf(facts),
	}
	for _, b := range r.blocks() {
		block := htmlOf(b)
		block.Pictured = b.title == inShort && page.Gauge != nil
		page.Blocks = append(page.Blocks, block)
	}
	return page
}

// tone is how loud the state is said: a unit that is not proven is loud.
func tone(r record) string {
	switch {
	case r.UnitState == verdict.Proven && r.MayDrive, r.UnitState == verdict.AsFound:
		return "good"
	case r.MayDrive:
		return "care"
	}
	return "stop"
}

func density(lines int) string {
	switch {
	case lines > linesDense:
		return "packed"
	case lines > linesCrowded:
		return "dense"
	case lines > linesFull:
		return "crowded"
	case lines > linesPlain:
		return "full"
	}
	return "plain"
}

// printLines guesses how many lines the blocks take in a column of print.
func printLines(blocks []block) int {
	const columnsWide = 62
	n := 0
	for _, b := range blocks {
		n += 2 + len(strings.Join(b.after, " "))/columnsWide
		for _, row := range b.rows {
			n += 1 + len(strings.Join(row.cells, "  "))/columnsWide
		}
	}
	return n
}

// withoutTheWay leaves of each run of readings taken on the way, drips and
// levels of the vessel, the first and the last.
func withoutTheWay(readings []recordReading) []recordReading {
	var kept []recordReading
	onTheWay := func(i int) bool {
		if i < 0 || i >= len(readings) {
			return false
		}
		t := readings[i].Topic
		return (t == job.DripReading || t == job.FillReading) && !readings[i].Struck
	}
	left := 0
	for i, r := range readings {
		if onTheWay(i-1) && onTheWay(i) && onTheWay(i+1) {
			left++
			continue
		}
		if left > 0 {
			kept = append(kept, recordReading{Name: fmt.Sprintf("%d more on the way: see the text or CSV", left)})
			left = 0
		}
		kept = append(kept, r)
	}
	return kept
}

func htmlOf(b block) htmlBlock {
	const (
		short     = 14 // rows
		mostTight = 26 // letters
	)
	out := htmlBlock{Title: b.title, Head: b.head, List: b.list, Short: len(b.rows) <= short, After: strings.Join(b.after, " ")}
	for _, r := range b.rows {
		row := htmlRow{Strong: r.strong}
		for i, c := range r.cells {
			row.Cells = append(row.Cells,
				htmlCell{c, slices.Contains(r.struck, i), slices.Contains(b.tight, i) && utf8.RuneCountInString(c) <= mostTight})
		}
		out.Rows = append(out.Rows, row)
	}
	return out
}
