package cli

// This file prints results: as lines of text, or as JSON.

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strings"

	"garage/tundish/model/text"
)

// row is one line of a sheet: what it is, the figure, where the figure comes
// from. A row with a note only runs over the whole width.
type row struct{ what, figure, from string }

// Sheet is a result as text.
type Sheet struct{ rows []row }

// Add adds a line.
func (s *Sheet) Add(what, figure, from string, a ...any) {
	s.rows = append(s.rows, row{what, figure, fmt.Sprintf(from, a...)})
}

// Note adds a line over the whole width.
func (s *Sheet) Note(text string, a ...any) { s.Add("", "", text, a...) }

// Under adds a line below the last column of the row before it. A figure that
// does not show keeps it there.
func (s *Sheet) Under(text string, a ...any) { s.Add("", " ", text, a...) }

// Append adds the lines of another.
func (s *Sheet) Append(other *Sheet) { s.rows = append(s.rows, other.rows...) }

// Write prints the rows with their figures in one column.
func (s *Sheet) Write(w io.Writer) error {
	wide, wider := 0, 0
	for _, r := range s.rows {
		wide, wider = max(wide, text.Width(r.what)), max(wider, text.Width(r.figure))
	}
	b := bufio.NewWriter(w)
	for _, r := range s.rows {
		line := r.from
		if r.what != "" || r.figure != "" {
			line = strings.TrimRight(text.PadRight(r.what, wide)+"  "+text.PadRight(r.figure, wider)+"  "+r.from, " ")
		}
		b.WriteString(line + "\n")
	}
	return b.Flush()
}

// JSONFlag chooses between the two.
type JSONFlag struct {
	JSON bool `help:"Print JSON: numbers without units, the unit is in the name."`
}

// Show prints a result the way it is asked for.
func (o Streams) Show(f JSONFlag, result any, text *Sheet) error {
	if f.JSON {
		return o.PrintJSON(result)
	}
	return text.Write(o.Out)
}

// ShowText prints a text as it is, or what JSON says of it.
func (o Streams) ShowText(f JSONFlag, result any, text string) error {
	if f.JSON {
		return o.PrintJSON(result)
	}
	_, err := io.WriteString(o.Out, text)
	return err
}

// PrintJSON prints JSON in which nothing steers a terminal.
func (o Streams) PrintJSON(result any) error {
	var b bytes.Buffer
	out := json.NewEncoder(&b)
	out.SetEscapeHTML(false)
	out.SetIndent("", "  ")
	if err := out.Encode(result); err != nil {
		return err
	}
	_, err := o.Out.Write(text.VisibleJSON(b.Bytes()))
	return err
}

// Known is a number for JSON; null where there is none.
func Known(x float64) *float64 {
	if math.IsNaN(x) || math.IsInf(x, 0) {
		return nil
	}
	return &x
}
