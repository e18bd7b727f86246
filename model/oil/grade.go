package oil

// This file holds the SAE grades of axle and manual gearbox lubricants: how they are written, and
// the limits of their viscosity at 100 °C.

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"sync"
)

// Edition names the issue of the standard whose limits are used. Older issues differ (80W
// was 7.0 cSt and up, 75W 4.1), and a later one adds grades thinner than these.
const Edition = "SAE J306, February 2019"

// errGradeNotKnown says that a text names no grade of the standard, so that the viscosity is not
// known: an automatic transmission fluid, an engine oil, a name alone.
var errGradeNotKnown = errors.New("viscosity not known")

// errNoUpperLimit says that a grade has no upper limit, as 75W alone and 250.
var errNoUpperLimit = errors.New("the grade has no upper limit of viscosity")

// Grade is an SAE grade: a winter grade, a number, or both. The zero Grade is none.
type Grade struct {
	Winter int `json:"winter,omitempty"` // 70, 75, 80 or 85; 0 is none
	Number int `json:"number,omitempty"` // 65 to 250; 0 is none
}

func (g Grade) String() string {
	switch {
	case g.Winter == 0 && g.Number == 0:
		return "no grade"
	case g.Winter == 0:
		return "SAE " + strconv.Itoa(g.Number)
	case g.Number == 0:
		return strconv.Itoa(g.Winter) + "W"
	}
	return fmt.Sprintf("%dW-%d", g.Winter, g.Number)
}

// kvLimits are limits of the viscosity at 100 °C in cSt: from LowCSt to below HighCSt, which is 0 where there
// is no upper limit.
type kvLimits struct {
	LowCSt  float64
	HighCSt float64
}

// The table of SAE J306, February 2019. A winter grade has no upper limit, but has to stay
// below 150 000 cP at −55, −40, −26 or −12 °C, from 70W to 85W.
var (
	numberLimits = map[int]kvLimits{
		65: {3.8, 5.0}, 70: {5.0, 6.5}, 75: {6.5, 8.5}, 80: {8.5, 11.0}, 85: {11.0, 13.5},
		90: {13.5, 18.5}, 110: {18.5, 24.0}, 140: {24.0, 32.5}, 190: {32.5, 41.0}, 250: {41.0, 0},
	}
	winterLimits = map[int]kvLimits{70: {LowCSt: 3.8}, 75: {LowCSt: 3.8}, 80: {LowCSt: 8.5}, 85: {LowCSt: 11.0}}
)

// kv100 is the range of viscosity at 100 °C of the grade. The error wraps errGradeNotKnown for a
// grade that is not in the standard, such as 75W-95, and for a pair that no oil can meet, such as
// 85W-80.
func (g Grade) kv100() (kvLimits, error) {
	limits, knownNumber := numberLimits[g.Number]
	winter, knownWinter := winterLimits[g.Winter]
	limits.LowCSt = max(limits.LowCSt, winter.LowCSt)
	switch {
	case g == Grade{}, g.Number != 0 && !knownNumber, g.Winter != 0 && !knownWinter,
		limits.HighCSt != 0 && limits.LowCSt >= limits.HighCSt:
		return kvLimits{}, notInStandard(g.String())
	}
	return limits, nil
}

func notInStandard(grade string) error {
	return fmt.Errorf("grade %q is not in %s: %w; give a grade such as 75W-90 or SAE 90, or kv40 and kv100 from the data sheet",
		grade, Edition, errGradeNotKnown)
}

var (
	winterPattern = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`\b(\d+) ?W(?: ?[-–/]? ?(\d+))?\b`)
	})
	servicePattern = sync.OnceValue(func() *regexp.Regexp {
		return regexp.MustCompile(`\b(?:SAE|API|GL[- ]?\d\+?|MT[- ]?1|LS)(?:\s|$|[,;/])`)
	})
)

// ParseGrade finds the one grade in the text on a bottle: "75W-90", "80w90", "SAE 90", "85W/140",
// "GL-5 75W90 LS". A number alone counts only where nothing else stands beside it but SAE, API and
// a service class. The error wraps errGradeNotKnown.
func ParseGrade(text string) (Grade, error) {
	upper := strings.Join(strings.Fields(strings.ToUpper(text)), " ")
	found := winterPattern().FindAllStringSubmatch(upper, -1)
	if len(found) > 1 {
		return Grade{}, fmt.Errorf("grade %q names more than one grade: %w; give one, such as 75W-90", text, errGradeNotKnown)
	}
	var grade Grade
	if len(found) == 1 {
		grade = Grade{Winter: atoi(found[0][1]), Number: atoi(found[0][2])}
	} else if rest := strings.TrimSpace(servicePattern().ReplaceAllString(upper, " ")); strings.Trim(rest, "0123456789") == "" {
		grade = Grade{Number: atoi(rest)}
	}
	if _, err := grade.kv100(); err != nil {
		return Grade{}, notInStandard(text)
	}
	return grade, nil
}

// atoi reads digits, none as 0; what is too long for a grade becomes −1, which no grade is.
func atoi(digits string) int {
	if digits == "" {
		return 0
	}
	n, err := strconv.Atoi(digits)
	if err != nil || n == 0 {
		return -1
	}
	return n
}
