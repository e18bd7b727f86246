// This file holds the reader of drip readings: CSV with the header minutes,ml.

package drip

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"

	"garage/tundish/model/jsonwalk"
)

const maxCSVBytes = 1 << 20

// ReadCSV reads readings as CSV: a header line "minutes,ml", then one reading a
// line with a decimal point. A byte order mark, CRLF and blank lines are allowed.
// At most 1 MB and 10 000 readings. Errors name the line, the field and what is
// allowed; on error no readings are returned.
func ReadCSV(r io.Reader) ([]Reading, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxCSVBytes+1))
	if err != nil {
		return nil, fmt.Errorf("read drip readings: %w", err)
	}
	if len(data) > maxCSVBytes {
		return nil, fmt.Errorf("drip readings must be at most %d bytes", maxCSVBytes)
	}
	rows := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff"))))
	rows.FieldsPerRecord = -1
	rows.TrimLeadingSpace = true
	return readRows(rows)
}

func readRows(rows *csv.Reader) ([]Reading, error) {
	var readings []Reading
	headerSeen := false
	for {
		row, err := rows.Read()
		switch {
		case errors.Is(err, io.EOF) && headerSeen:
			return readings, nil
		case errors.Is(err, io.EOF):
			return nil, errors.New("line 1: the header must be minutes,ml")
		case err != nil:
			if bad, ok := errors.AsType[*csv.ParseError](err); ok {
				err = fmt.Errorf("line %d: %w: want two plain numbers, minutes,ml", bad.Line, bad.Err)
			}
			return nil, err
		case len(row) == 1 && strings.TrimSpace(row[0]) == "":
			continue
		}
		line, _ := rows.FieldPos(0)
		if !headerSeen {
			headerSeen = true
			if len(row) != 2 || !strings.EqualFold(strings.TrimSpace(row[0])+","+strings.TrimSpace(row[1]), "minutes,ml") {
				return nil, fmt.Errorf("line %d: the header must be minutes,ml", line)
			}
			continue
		}
		if len(readings) == maxReadings {
			return nil, fmt.Errorf("line %d: at most %d readings are allowed", line, maxReadings)
		}
		reading, err := parseRow(line, row)
		if err != nil {
			return nil, err
		}
		readings = append(readings, reading)
	}
}

func parseRow(line int, row []string) (Reading, error) {
	if len(row) != 2 {
		return Reading{}, fmt.Errorf("line %d: has %d fields, want two numbers with a decimal point, minutes,ml", line, len(row))
	}
	minutes, errMinutes := parseField(line, "minutes", row[0], maxMinutes)
	ml, errML := parseField(line, "ml", row[1], maxML)
	return Reading{Minutes: minutes, ML: ml}, cmp.Or(errMinutes, errML)
}

// parseField reads a decimal number, but not the words and hexadecimal forms that
// strconv also accepts (inf, nan, 0x1p2).
func parseField(line int, name, text string, max float64) (float64, error) {
	text = strings.TrimSpace(text)
	x, err := strconv.ParseFloat(text, 64)
	if err != nil || strings.ContainsAny(text, "xXnN_") || !(x >= 0 && x <= max) {
		return 0, fmt.Errorf("line %d: %s is %q, must be a number from 0 to %.0f", line, name, jsonwalk.Clip(text, 30), max)
	}
	return math.Abs(x), nil // so that −0 reads as 0
}
