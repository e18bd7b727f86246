// Odometer readings. Unlike amounts they are grouped in thousands on the dial
// and on paper, so 76,000 is seventy-six thousand here.

package quantity

import "strings"

// maxDistanceKm is beyond what any odometer shows.
const maxDistanceKm = 1e7

// ParseDistance reads an odometer such as 123456, 123 456 km or 76,000 mi in
// km. A space, comma, point or apostrophe in front of every group of three
// digits groups thousands; any other comma or point is the decimal one.
func ParseDistance(typed string, bare DistanceUnit) (distanceKm float64, err error) {
	s, err := scan(typed, grammar{like: "a distance such as 123456 km or 76,000 mi"})
	if err != nil {
		return 0, err
	}
	s.rest = ungroup(s.rest)
	return measure[DistanceUnit]{distanceNamed, DistanceUnit.Km, maxDistanceKm, Kilometre}.read(s, bare)
}

// ungroup removes the separators of thousands from the number at the front.
func ungroup(text string) string {
	end := strings.IndexFunc(text, func(r rune) bool { return !isDigit(r) && !strings.ContainsRune(" .,'", r) })
	if end < 0 {
		end = len(text)
	}
	number, rest := text[:end], text[end:]
	for _, separator := range []string{" ", ",", ".", "'"} {
		whole, decimals := cutDecimals(number, separator)
		groups := strings.Split(strings.TrimRight(whole, " "), separator)
		if isGrouped(groups) {
			return strings.Join(groups, "") + decimals + rest
		}
	}
	return text
}

// cutDecimals parts a number before the last point or comma that is not the
// separator of thousands.
func cutDecimals(number, separator string) (whole, decimals string) {
	i := strings.LastIndexAny(number, ".,")
	if i < 0 || number[i:i+1] == separator {
		return number, ""
	}
	return number[:i], number[i:]
}

// isGrouped reports whether the groups are 1 to 3 digits and then threes.
func isGrouped(groups []string) bool {
	if len(groups) < 2 || !looksGrouped(groups[0]) {
		return false
	}
	for _, group := range groups[1:] {
		if len(group) != 3 {
			return false
		}
	}
	return !strings.ContainsFunc(strings.Join(groups, ""), func(r rune) bool { return !isDigit(r) })
}
