// The digits that a number is printed with; zero, and numbers that are not finite.

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

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }

// maxFixed is where numbers turn to powers of ten, so that none breaks a line.
const maxFixed = 1e12

// fixed prints a number with so many decimals, never as -0. Negative decimals
// round to tens, hundreds and so on.
func fixed(x float64, decimals int) string {
	if math.Abs(x) >= maxFixed {
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

// trimmed is fixed without zeros at the end, for figures that were chosen (a
// bore, a torque) and not measured.
func trimmed(x float64, decimals int) string {
	text := fixed(x, decimals)
	if strings.Contains(text, ".") && !strings.Contains(text, "e") {
		text = strings.TrimRight(strings.TrimRight(text, "0"), ".")
	}
	return text
}

// grouped is trimmed with a space in front of every three digits of a number of
// five digits or more.
func grouped(x float64, decimals int) string {
	number := trimmed(x, decimals)
	whole, _, _ := strings.Cut(strings.TrimPrefix(number, "-"), ".")
	if len(whole) < 5 {
		return number
	}
	spaced := whole
	for i := len(whole) - 3; i > 0; i -= 3 {
		spaced = spaced[:i] + " " + spaced[i:]
	}
	return strings.Replace(number, whole, spaced, 1)
}

// format prints a value in the unit with the unit's digits.
func (u unitInfo) format(value float64, print func(float64, int) string) string {
	if !finite(value) {
		return noNumber
	}
	return strings.TrimRight(print(value, u.digits.of(value))+" "+u.symbol, " ")
}

// format prints a number of base units in the unit.
func (u Unit[D]) format(base float64, print func(float64, int) string) string {
	info := u.info()
	return info.format(base/info.factor, print)
}

// bare prints a number of base units in the unit, without its symbol.
func (u Unit[D]) bare(base float64) string {
	info := u.info()
	info.symbol = ""
	return info.format(base/info.factor, trimmed)
}

// uncertaintyDecimals is the number of decimals that shows an uncertainty with two
// significant digits (JCGM 100:2008, 7.2.6), negative for tens and hundreds.
func uncertaintyDecimals(u float64) int {
	scientific := strconv.FormatFloat(u, 'e', 1, 64)
	_, exponent, _ := strings.Cut(scientific, "e")
	power, err := strconv.Atoi(exponent)
	if err != nil {
		return 0
	}
	return 1 - power
}
