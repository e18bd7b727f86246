// How many digits a number is printed with, and the care of zero and of numbers
// that are none.

package quantity

import (
	"math"
	"strconv"
	"strings"
)

// noNumber stands for a value that is not known.
const noNumber = "—"

// digits are the decimals a unit is printed with: more for values below split.
type digits struct {
	split        float64
	below, above int
}

// of is the number of decimals for a value in the unit.
func (d digits) of(value float64) int {
	if math.Abs(value) < d.split {
		return d.below
	}
	return d.above
}

// finite reports whether a number can be printed.
func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// longest is where numbers turn to powers of ten, so that none breaks a line.
const longest = 1e12

// fixed prints a number with so many decimals, never as -0. Negative decimals
// round to tens, hundreds and so on.
func fixed(x float64, decimals int) string {
	if math.Abs(x) >= longest {
		return strconv.FormatFloat(x, 'e', 2, 64)
	}
	if decimals < 0 {
		tens := math.Pow10(-decimals)
		x, decimals = math.Round(x/tens)*tens, 0
	}
	text := strconv.FormatFloat(x, 'f', decimals, 64)
	if strings.Trim(text, "-0.") == "" {
		return strings.TrimPrefix(text, "-")
	}
	return text
}

// trimmed prints a number with at most so many decimals, without zeros at the
// end.
func trimmed(x float64, decimals int) string {
	text := fixed(x, decimals)
	if strings.Contains(text, ".") && !strings.Contains(text, "e") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

// sensible prints a value in its unit with the unit's digits.
func sensible(value float64, symbol string, d digits) string {
	if !finite(value) {
		return noNumber
	}
	return fixed(value, d.of(value)) + " " + symbol
}

// short is sensible without zeros at the end, for figures that were chosen
// (a bore, a torque) and not measured.
func short(value float64, symbol string, d digits) string {
	if !finite(value) {
		return noNumber
	}
	return trimmed(value, d.of(value)) + " " + symbol
}

// bare prints a value without its unit and without zeros at the end.
func bare(value float64, d digits) string {
	if !finite(value) {
		return noNumber
	}
	return trimmed(value, d.of(value))
}

// uncertainDecimals is the number of decimals that shows an uncertainty with two
// significant digits (JCGM 100:2008, 7.2.6), negative for tens and hundreds.
func uncertainDecimals(u float64) int {
	scientific := strconv.FormatFloat(u, 'e', 1, 64)
	_, exponent, _ := strings.Cut(scientific, "e")
	power, err := strconv.Atoi(exponent)
	if err != nil {
		return 0
	}
	return 1 - power
}

// withUncertainty prints value ± u in one unit; the digits of the value follow
// those of u.
func withUncertainty(value, u float64, symbol string, d digits) string {
	if !finite(value) {
		return noNumber
	}
	if !finite(u) || u < 0 {
		return sensible(value, symbol, d) + " ± " + noNumber
	}
	decimals := uncertainDecimals(u)
	if u == 0 || decimals > 6 { // as good as exact
		return sensible(value, symbol, d)
	}
	return fixed(value, decimals) + " ± " + fixed(u, decimals) + " " + symbol
}
