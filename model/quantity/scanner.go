// The scanner of all parsers: it takes numbers, fractions, words of units and signs
// off the front of cleaned text.

package quantity

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

// grammar is the part of an error that depends on the parser.
type grammar struct {
	like  string // examples of what may be typed
	small string // unit to offer for 1,500 read as 1500
	big   string // unit to offer for it read as 1.5
}

// errorf is the usual refusal: what is wrong, then what may be typed.
func (g grammar) errorf(format string, args ...any) error {
	return advise(g.like, format, args...)
}

// advise is the one form of a refusal: what is wrong, then what to type.
func advise(advice, format string, args ...any) error {
	return fmt.Errorf("%s: type %s", fmt.Sprintf(format, args...), advice)
}

// scanner holds the text not yet taken.
type scanner struct {
	grammar
	rest string
}

// parse cleans typed text and reads all of it; on an error the value is zero.
func parse[T any](typed string, g grammar, read func(*scanner) (T, error)) (T, error) {
	var none T
	text, err := clean(typed)
	if err != nil {
		return none, g.errorf("%v", err)
	}
	if text == "" {
		return none, g.errorf("nothing typed")
	}
	s := &scanner{grammar: g, rest: text}
	value, err := read(s)
	if err != nil {
		return none, err
	}
	if s.skip(); s.rest != "" {
		return none, s.errorf("%s is not understood", quoted(s.rest))
	}
	return value, nil
}

// skip drops spaces.
func (s *scanner) skip() { s.rest = strings.TrimLeft(s.rest, " ") }

// take removes one of the given signs from the front and returns it, or "".
func (s *scanner) take(signs ...string) string {
	s.skip()
	for _, sign := range signs {
		if rest, found := strings.CutPrefix(s.rest, sign); found {
			s.rest = rest
			return sign
		}
	}
	return ""
}

// takeWord removes a whole word, such as "to", from the front.
func (s *scanner) takeWord(word string) bool {
	s.skip()
	if !strings.EqualFold(s.peekLetters(), word) {
		return false
	}
	s.rest = s.rest[len(word):]
	return true
}

// isUnitRune reports whether a rune can be part of a unit.
func isUnitRune(r rune) bool { return unicode.IsLetter(r) || strings.ContainsRune(`°"'`, r) }

// peekLetters is the run of unit runes at the front. A digit belongs to it only
// in cm3.
func (s *scanner) peekLetters() string {
	if len(s.rest) >= 3 && strings.EqualFold(s.rest[:3], "cm3") {
		return s.rest[:3]
	}
	return strings.TrimSuffix(s.rest, strings.TrimLeftFunc(s.rest, isUnitRune))
}

// word takes a unit of one or more words and returns it in lower case without
// spaces, points and dots, "" if there is none; shown is the unit as typed.
func (s *scanner) word() (unit, shown string) {
	s.skip()
	start := s.rest
	for {
		letters := s.peekLetters()
		lower := strings.ToLower(letters)
		if lower == "" || lower == "at" || lower == "to" {
			return unit, shown
		}
		unit += lower
		s.rest = s.rest[len(letters):]
		shown = start[:len(start)-len(s.rest)]
		s.rest = strings.TrimLeft(s.rest, " .·")
	}
}

// literal is a number as typed.
type literal struct {
	value    float64
	step     float64 // one unit of the last digit; 0 for a fraction
	text     string
	whole    bool // digits only
	fraction bool // a fraction below one without a whole part
}

var (
	fractionPattern = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^(?:([0-9]+) +)?([0-9]+) */ *([0-9]+)`) })
	decimalPattern  = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^[.,]?[0-9][0-9.,]*`) })
)

const decimalDigits = "0123456789"

// number takes 830, 0.83, 0,83, .5, 1/2 or 1 1/2 off the front.
func (s *scanner) number() (literal, error) {
	s.skip()
	if match := fractionPattern().FindStringSubmatch(s.rest); match != nil {
		s.rest = s.rest[len(match[0]):]
		return s.fraction(match[1], match[2], match[3])
	}
	text := decimalPattern().FindString(s.rest)
	if text == "" {
		return literal{}, s.missing()
	}
	s.rest = s.rest[len(text):]
	number, err := s.decimal(text)
	if after := strings.TrimLeft(s.rest, " "); number.whole && strings.IndexAny(after, decimalDigits) == 0 {
		return literal{}, s.errorf("%s has a space inside a number", quoted(text+" "+after))
	}
	return number, err
}

// missing is the error for a number that is not there.
func (s *scanner) missing() error {
	if s.rest == "" {
		return s.errorf("a number is missing at the end")
	}
	first, _ := utf8.DecodeRuneInString(s.rest)
	if first == '-' {
		return s.errorf("a number below zero is not allowed here")
	}
	return s.errorf("a number is missing before %q", first)
}

// fraction is a whole number, or none, and a fraction. Only fractions that a rule
// or a measure carries are accepted: 20/50 is a slip, not two fifths.
func (s *scanner) fraction(whole, numerator, denominator string) (literal, error) {
	w, _ := strconv.ParseFloat("0"+whole, 64)
	n, errN := strconv.Atoi(numerator)
	d, errD := strconv.Atoi(denominator)
	text := numerator + "/" + denominator
	marks := []int{2, 3, 4, 5, 6, 8, 10, 12, 16, 32, 64}
	if errN != nil || errD != nil || n < 1 || n >= d || !slices.Contains(marks, d) {
		return literal{}, s.errorf("%s is not a fraction such as 1/2, 3/4 or 5/16", quoted(text))
	}
	if w > 0 {
		text = strconv.FormatFloat(w, 'f', -1, 64) + " " + text
	}
	return literal{value: w + float64(n)/float64(d), text: text, fraction: w == 0}, nil
}

// decimal reads digits with at most one point or decimal comma.
func (s *scanner) decimal(text string) (literal, error) {
	left, right, separated := strings.Cut(strings.Replace(text, ",", ".", 1), ".")
	switch {
	case strings.ContainsAny(right, ".,"):
		return literal{}, s.errorf("%s has more than one point or comma", quoted(text))
	case separated && right == "":
		return literal{}, s.errorf("%s ends in a point or comma", quoted(text))
	case strings.Contains(text, ",") && len(right) == 3 && looksGrouped(left):
		return literal{}, s.ambiguousComma(left, right)
	}
	value, err := strconv.ParseFloat("0"+left+"."+right+"0", 64)
	if err != nil {
		return literal{}, s.errorf("%s is not a number", quoted(text))
	}
	return literal{value: value, step: math.Pow10(-len(right)), text: text, whole: !separated}, nil
}

// looksGrouped reports whether digits in front of a comma could be thousands.
func looksGrouped(left string) bool {
	return len(left) >= 1 && len(left) <= 3 && left[0] != '0'
}

// ambiguousComma says how to type 1,500 so that it has one meaning.
func (s *scanner) ambiguousComma(left, right string) error {
	short := left
	if decimals := strings.TrimRight(right, "0"); decimals != "" {
		short += "." + decimals
	}
	small, big := s.commaUnits()
	return advise(withUnit(left+right, small)+" or "+withUnit(short, big),
		"the comma in %s is ambiguous", quoted(left+","+right))
}

// longestUnit is the longest unit repeated in an advice, in bytes.
const longestUnit = 16

// commaUnits are the units that 1500 and 1.5 would be typed with: those of the
// unit that follows, else the grammar's.
func (s *scanner) commaUnits() (small, big string) {
	switch word, shown := s.word(); {
	case word == "ml" || word == "l":
		return "ml", "L"
	case word == "g" || word == "kg":
		return "g", "kg"
	case word == "mm" || word == "m":
		return "mm", "m"
	case word != "" && len(shown) <= longestUnit:
		return shown, shown
	}
	return s.small, s.big
}

// withUnit joins a number and a unit that may be empty.
func withUnit(number, unit string) string {
	if unit == "" {
		return number
	}
	return number + " " + unit
}
