package main

// This file prints results: as lines of text, or as JSON.

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strings"

	"garage/tundish/model/estimate"
	"garage/tundish/model/measure"
	"garage/tundish/model/quantity"
	"garage/tundish/model/text"
)

// row is one line of a sheet: what it is, the figure, where the figure comes
// from. A row with a note only runs over the whole width.
type row struct{ what, figure, from string }

// sheet is a result as text.
type sheet struct{ rows []row }

func (s *sheet) add(what, figure, from string, a ...any) {
	s.rows = append(s.rows, row{what, figure, fmt.Sprintf(from, a...)})
}

func (s *sheet) note(text string, a ...any) { s.add("", "", text, a...) }

// under adds a line below the last column of the row before it. A figure that
// does not show keeps it there.
func (s *sheet) under(text string, a ...any) { s.add("", " ", text, a...) }

// write prints the rows with their figures in one column.
func (s *sheet) write(w io.Writer) error {
	wide, wider := 0, 0
	for _, r := range s.rows {
		wide, wider = max(wide, text.Width(r.what)), max(wider, text.Width(r.figure))
	}
	var b strings.Builder
	for _, r := range s.rows {
		if r.what == "" && r.figure == "" {
			fmt.Fprintln(&b, r.from)
			continue
		}
		fmt.Fprintln(&b, strings.TrimRight(text.PadRight(r.what, wide)+"  "+text.PadRight(r.figure, wider)+"  "+r.from, " "))
	}
	_, err := io.WriteString(w, b.String())
	return err
}

// jsonFlag chooses between the two.
type jsonFlag struct {
	JSON bool `help:"Print JSON: numbers without units, the unit is in the name."`
}

// show prints a result the way it is asked for.
func (o *outside) show(f jsonFlag, result any, text *sheet) error {
	if f.JSON {
		return o.printJSON(result)
	}
	return text.write(o.out)
}

// printJSON prints JSON in which nothing steers a terminal.
func (o *outside) printJSON(result any) error {
	var b bytes.Buffer
	out := json.NewEncoder(&b)
	out.SetEscapeHTML(false)
	out.SetIndent("", "  ")
	if err := out.Encode(result); err != nil {
		return err
	}
	_, err := o.out.Write(text.VisibleJSON(b.Bytes()))
	return err
}

// known is a number for JSON; null where there is none.
func known(x float64) *float64 {
	if !finite(x) {
		return nil
	}
	return &x
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// ml prints a volume, mlU one with its ±.
func ml(x float64) string { return quantity.Metric().FormatVolume(x) }

func mlU(v measure.Value) string {
	if v.U() == 0 {
		return ml(v.Nominal)
	}
	return quantity.Metric().FormatVolumeU(v.Nominal, estimate.Coverage*v.U())
}

func percent(fraction float64) string { return fmt.Sprintf("%.3g %%", 100*fraction) }

// digits3 prints three digits, or all before the point where there are more.
func digits3(x float64) string {
	if math.Abs(x) >= 1000 {
		return fmt.Sprintf("%.0f", x)
	}
	return fmt.Sprintf("%.3g", x)
}
