package report

// This file lays a record out as headed blocks of rows: what Markdown, text
// and HTML all print, each in its own way.

import "unicode/utf8"

// inShort heads the figures of the gauge, where no picture shows them.
const inShort = "In short"

// block is a headed part of the page.
type block struct {
	title string
	head  []string // names of the columns; nil for facts and lists
	rows  []row
	list  bool // rows of one cell, one under the other
	after []string
	tight []int // columns whose texts are short and never broken
}

// row is a line of a block.
type row struct {
	cells  []string
	struck []int // the cells that are shown as struck out
	strong bool
}

// blocks are the parts of the page in order; those with nothing to say are
// left out.
func (r record) blocks() []block {
	all := []block{
		facts(inShort, r.Gauge.facts()), facts("Car and unit", r.Unit), facts("Oil", r.Oil),
		facts("Plug", r.Plug), facts("Measured and filled with", r.Measures),
	}
	all = append(all, sumBlocks(r.Sums, r.At20)...)
	all = append(all,
		readingBlock(r.Readings, r.At20), list("Do the readings agree?", r.Balance),
		list("Where the job left the plain path", r.Deviations), struckBlock(r.Struck), safetyBlock(r.Safety),
		facts("Waste oil", r.Waste), facts("Next", r.Next), facts("Remark", r.Remarks), list("How to read this", r.Notes),
	)
	var some []block
	for _, b := range all {
		if len(b.rows) > 0 {
			some = append(some, b)
		}
	}
	return some
}

func facts(title string, list []recordFact) block {
	b := block{title: title}
	for _, f := range list {
		b.rows = append(b.rows, row{cells: []string{f.Name, f.Text}})
	}
	return b
}

func list(title string, lines []string) block {
	b := block{title: title, list: true}
	for _, l := range lines {
		b.rows = append(b.rows, row{cells: []string{l}})
	}
	return b
}

func (g fillGauge) facts() []recordFact {
	var list []recordFact
	add := func(name, text string) {
		if text != "" {
			list = append(list, recordFact{name, text})
		}
	}
	add("Fill quantity (manual)", g.CapacityText)
	name := "Came out"
	if g.DrainedIsEstimate {
		name = "Came out so far"
	}
	add(name, g.Drained.Text)
	add("Aim", g.TargetText)
	add("Right", g.WindowText)
	add("Went in", g.InUnit.Text)
	return list
}

func sumBlocks(sums []recordSum, at20 string) []block {
	var blocks []block
	for _, sum := range sums {
		b := block{title: sum.Title, head: []string{"", "what", at20, "how"}, tight: []int{2}}
		for _, l := range sum.Lines {
			b.rows = append(b.rows, row{cells: []string{l.Sign, l.Name, l.Amount, l.Note}, strong: l.Result})
		}
		b.after = sum.Facts
		blocks = append(blocks, b)
	}
	return blocks
}

func readingBlock(readings []recordReading, at20 string) block {
	b := block{title: "Readings", head: []string{"time", "what", "with", "read", at20}, tight: []int{0, 2, 3, 4}}
	for _, r := range readings {
		line := row{cells: []string{r.When, r.Name, r.With, r.read(), r.Shown20}}
		if r.Struck {
			line.cells[1] += ": STRUCK OUT, " + r.Instead
			line.struck = []int{3, 4}
		}
		b.rows = append(b.rows, line)
	}
	return b
}

// read is the value, with the sum that was typed where there was one.
func (r recordReading) read() string {
	const most = 30 // letters of a sum; longer ones are told by their total
	if len(r.Value.Parts) > 1 && r.Typed != "" && utf8.RuneCountInString(r.Typed) <= most {
		return r.Typed + " = " + r.Shown
	}
	return r.Shown
}

func struckBlock(list []struckReading) block {
	b := block{title: "Answers struck out", head: []string{"time", "what", "struck out", ""}, tight: []int{0}}
	for _, s := range list {
		b.rows = append(b.rows, row{cells: []string{s.When, s.Name, s.Was, s.Instead}, struck: []int{2}})
	}
	return b
}

func safetyBlock(list []seenTo) block {
	b := block{title: "Seen to for safety", head: []string{"time", "what"}, tight: []int{0}}
	for _, s := range list {
		b.rows = append(b.rows, row{cells: []string{s.When, s.Text}})
	}
	return b
}

// leadLines are the lines before the first block: the state of unit and job in the words
// of every list, then the verdict.
func (r record) leadLines() (state string, lines []string) {
	lines = append(lines, r.StateWords)
	lines = append(lines, r.Verdict.Lines...)
	return r.StateText + " · " + r.Phase.String(), lines
}

// foot names the job, and what its record was made with.
func (r record) foot() string { return "Job " + r.ID + ", recorded with tundish" }
