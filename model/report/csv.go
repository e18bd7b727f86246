package report

// This file prints the readings of a record as CSV (RFC 4180), one a line,
// each with the state that the job was in when this was written. A text that a
// spreadsheet would take for a formula gets an apostrophe in front; numbers
// stay numbers.

import (
	"encoding/csv"
	"io"
	"strconv"
	"strings"
	"time"

	"garage/tundish/model/text"
)

var csvHead = []string{
	"job", "unit_state", "phase", "verdict", "line", "at", "round", "topic", "what", "with", "typed",
	"value", "unit", "at_c", "volume_20c_ml", "volume_20c_u_ml", "stands", "note",
	"volume_20c_2u_ml", // what the screens show as ±: twice the standard uncertainty
}

func writeCSV(w io.Writer, r record) error {
	out := csv.NewWriter(w)
	if err := out.Write(csvHead); err != nil {
		return err
	}
	verdict := "none"
	if r.Verdict.Known {
		verdict = r.Verdict.Word.String()
	}
	for _, g := range r.Readings {
		stands, at, ml, uML, twiceUML := "yes", "", "", "", ""
		if g.Struck {
			stands = "struck out"
		}
		if g.Value.AtC != nil {
			at = csvNumber(*g.Value.AtC)
		}
		if g.Has20 {
			ml, uML, twiceUML = csvNumber(g.At20.Nominal), csvNumber(g.At20.U()), csvNumber(2*g.At20.U())
		}
		err := out.Write([]string{
			csvText(r.ID), r.StateText, r.Phase.String(), verdict, strconv.Itoa(g.Seq), g.At.Format(time.RFC3339),
			strconv.Itoa(g.Round), g.Topic.String(), g.Name, csvText(g.With), csvText(g.Typed),
			csvNumber(g.Value.Number), g.Value.Unit.String(), at, ml, uML, stands, csvText(g.Instead), twiceUML,
		})
		if err != nil {
			return err
		}
	}
	out.Flush()
	return out.Error()
}

// csvNumber is a number to ten digits, as a spreadsheet reads it.
func csvNumber(x float64) string { return strconv.FormatFloat(x, 'g', 10, 64) }

// csvText is a text that no spreadsheet takes for a formula: one that begins
// with = + - @, their full-width forms, a tab or a line end gets an apostrophe
// in front (OWASP, CSV injection).
func csvText(s string) string {
	trimmed := strings.TrimLeft(s, " ")
	s = text.Visible(s)
	if trimmed != "" && strings.ContainsRune("=+-@\t\r\n＝＋－＠", []rune(trimmed)[0]) {
		return "'" + s
	}
	return s
}
