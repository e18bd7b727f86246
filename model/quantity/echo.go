// The line that shows a person how a typed amount was read.

package quantity

import (
	"math"
	"slices"
	"strconv"
	"strings"
)

// Echo prints an amount in the units chosen, in a form that can be typed again:
// 830 ml, 500 + 330 = 830 ml, 830 ml at 60 °C. Readings that are short numbers
// in the unit are printed in full, others with as many digits as the sum needs to
// add up.
func Echo(a Amount, u Units) string {
	info := u.Volume.info()
	if a.Kind == Mass {
		info = u.Mass.info()
	}
	var numbers []float64
	if len(a.Parts) > 1 {
		numbers = slices.Clone(a.Parts)
	}
	numbers = append(numbers, a.Total)
	for i := range numbers {
		if numbers[i] /= info.factor; !finite(numbers[i]) {
			return noNumber
		}
	}
	text := sumText(numbers, info.digits) + " " + info.symbol
	if a.HasTemp {
		text += " at " + u.FormatTemperature(a.AtC)
	}
	return text
}

// sumText prints the readings and, last in numbers, their total; the total
// alone where there is nothing else.
func sumText(numbers []float64, d digits) string {
	texts := printedAlike(numbers, d)
	last := len(texts) - 1
	if last == 0 {
		return texts[0]
	}
	sum := texts[0]
	for _, text := range texts[1:last] {
		if positive, isMinus := strings.CutPrefix(text, "-"); isMinus {
			sum += " - " + positive
		} else {
			sum += " + " + text
		}
	}
	return sum + " = " + texts[last]
}

// maxEcho is the most decimals an echo shows.
const maxEcho = 3

// printedAlike prints short numbers in full, else all numbers with the fewest
// decimals with which they still add up.
func printedAlike(numbers []float64, d digits) []string {
	total := numbers[len(numbers)-1]
	decimals, print := d.of(total), fixed
	if slices.ContainsFunc(numbers, func(x float64) bool { return !(math.Abs(round(x, maxEcho)-x) < 1e-9*max(1, math.Abs(x))) }) {
		for most := decimals + maxEcho; decimals < most && !addsUp(numbers, decimals); {
			decimals++
		}
	} else {
		decimals, print = maxEcho, trimmed
	}
	texts := make([]string, len(numbers))
	for i, number := range numbers {
		texts[i] = print(number, decimals)
	}
	return texts
}

// round is a number to so many decimals as it is printed: a tie such as 0.015 is
// rounded by its binary value.
func round(x float64, decimals int) float64 {
	rounded, err := strconv.ParseFloat(fixed(x, decimals), 64)
	if err != nil {
		return x
	}
	return rounded
}

// addsUp reports whether the numbers as printed add up to the last of them.
func addsUp(numbers []float64, decimals int) bool {
	last := len(numbers) - 1
	sum := 0.0
	for _, number := range numbers[:last] {
		sum += round(number, decimals)
	}
	return last == 0 || math.Abs(sum-round(numbers[last], decimals)) < math.Pow10(-decimals)/2
}
