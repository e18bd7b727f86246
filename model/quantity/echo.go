// The line that shows a person how what was typed has been understood.

package quantity

import (
	"math"
	"strconv"
	"strings"
)

// Echo prints an amount in the units chosen, in a form that can be typed again:
// 830 ml, 500 + 330 = 830 ml, 830 ml at 60 °C. Readings that are short numbers
// in the unit keep all their digits, others have enough for the sum to be seen
// to add up.
func Echo(a Amount, u Units) string {
	info, _ := infoOf(volumeTable, u.Volume)
	if a.Kind == Mass {
		info, _ = infoOf(massTable, u.Mass)
	}
	var numbers []float64
	if len(a.Parts) > 1 {
		for _, part := range a.Parts {
			numbers = append(numbers, part/info.factor)
		}
	}
	numbers = append(numbers, a.Total/info.factor)
	for _, number := range numbers {
		if !finite(number) {
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
	var b strings.Builder
	for i, text := range texts[:last] {
		switch {
		case i == 0:
			b.WriteString(text)
		case strings.HasPrefix(text, "-"):
			b.WriteString(" - " + text[1:])
		default:
			b.WriteString(" + " + text)
		}
	}
	return b.String() + " = " + texts[last]
}

// maxEcho is the most decimals an echo shows.
const maxEcho = 3

// printedAlike prints short numbers in full, else all numbers with the fewest
// decimals with which they still add up.
func printedAlike(numbers []float64, d digits) []string {
	total := numbers[len(numbers)-1]
	texts := make([]string, len(numbers))
	isShort := true
	for i, number := range numbers {
		texts[i] = trimmed(number, maxEcho)
		isShort = isShort && math.Abs(round(number, maxEcho)-number) < 1e-9*math.Max(1, math.Abs(number))
	}
	if isShort {
		return texts
	}
	decimals := d.of(total)
	for most := decimals + maxEcho; decimals < most && !addsUp(numbers, decimals); {
		decimals++
	}
	for i, number := range numbers {
		texts[i] = fixed(number, decimals)
	}
	return texts
}

// round is a number to so many decimals, as it is printed: a tie such as 0.015
// falls the way its binary value lies.
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
	if last == 0 {
		return true
	}
	sum := 0.0
	for _, number := range numbers[:last] {
		sum += round(number, decimals)
	}
	return math.Abs(sum-round(numbers[last], decimals)) < math.Pow10(-decimals)/2
}
