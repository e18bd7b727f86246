package share

// This file decides what of a typed text may be shared. Nothing is taken out
// of a text: it is built anew from words that are known to name parts, oils
// and sizes, because what a name looks like cannot be known.

import (
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"garage/tundish/model/job"
)

// shareText is what is left of a text when a job is shared.
func shareText(t job.Topic, text string) string {
	if text == LeftOut {
		return text
	}
	var allowed func(string) bool
	switch t {
	case job.UnitName:
		allowed = isUnitWord
	case job.OilGrade:
		allowed = isOilWord
	case job.PlugThread, job.PlugKey, job.WasherKind:
		allowed, text = isPlugWord, spacedSize().ReplaceAllString(text, "${1}mm")
	case job.ContainerName:
		allowed = isContainerWord
	default:
		return LeftOut
	}
	var kept []string
	for _, word := range strings.Fields(text) {
		if word = strings.Trim(word, ",;:()"); allowed(strings.ToLower(word)) {
			kept = append(kept, word)
		}
	}
	if len(kept) == 0 {
		return LeftOut
	}
	return strings.Join(kept, " ")
}

// lazily is a pattern that is compiled when it is first wanted: most runs of the
// program share nothing.
func lazily(pattern string) func() *regexp.Regexp {
	return sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(pattern) })
}

func isUnitWord(word string) bool {
	return slices.Contains([]string{
		"front", "rear", "left", "right", "centre", "center", "middle", "upper", "lower", "axle", "final", "drive",
		"differential", "diff", "transfer", "case", "box", "gearbox", "transmission", "manual", "power", "take-off",
		"take", "off", "hub", "reduction", "angle", "bevel", "unit",
	}, word)
}

func isContainerWord(word string) bool {
	isNumber := len(word) == 1 && word[0] >= '0' && word[0] <= '9'
	return isNumber || slices.Contains([]string{
		"jug", "measuring", "beaker", "cylinder", "bottle", "can", "pan", "pail", "bucket", "syringe", "plastic", "glass",
		"steel", "small", "big", "large", "old", "new", "kitchen", "graduated", "container", "second", "first",
	}, word)
}

// oilForm is an SAE grade (SAE J306 writes 75W-90, 80W, 90) or an API service
// (GL-4, GL-5, MT-1; API 1560).
var oilForm = lazily(`^(\d{2}w(-?\d{2,3})?|(sae)?(65|70|75|80|85|90|110|140|190|250)|gl-?[1-6]|mt-?1)$`)

func isOilWord(word string) bool {
	return oilForm().MatchString(word) || slices.Contains([]string{
		"sae", "api", "gear", "oil", "synthetic", "mineral", "hypoid", "limited", "slip", "ls", "atf", "full", "semi",
	}, word)
}

// spacedSize is a size with its unit apart, which are one word here.
var spacedSize = lazily(`\b(\d{1,2}([.,]\d)?) +mm\b`)

// plugForm is a thread or a size: M18x1.5, G1/2, 1/2-14, 8mm, 18x24x1.5. A
// thread always has its pitch, so that a plate such as M18 is none.
var plugForm = lazily(`^(m\d{1,2}x\d([.,]\d{1,2})?|[gr]\d/\d|\d{1,2}([.,]\d)?mm|\d/\d"?|\d/\d-\d{2}|` +
	`\d{1,2}([.,]\d)?x\d{1,2}([.,]\d)?(x\d([.,]\d)?)?)$`)

func isPlugWord(word string) bool {
	return plugForm().MatchString(word) || slices.Contains([]string{
		"npt", "bsp", "unf", "unc", "taper", "magnetic", "hex", "hexagon", "square", "socket", "key", "allen", "torx", "spanner",
		"copper", "aluminium", "aluminum", "steel", "fibre", "fiber", "rubber", "bonded", "crush", "washer", "seal", "ring",
		"o-ring", "flat", "mm", "inch", "x", "new", "none",
	}, word)
}

// mostKind is how many letters of the name of a kind are kept.
const mostKind = 40

// clubKind is what is kept of the name of a kind of unit for the club: words of letters
// and digits, without those that stand in what was said before of car, place or person,
// or that are as long as numbers that name one of those.
func clubKind(text string, before []job.Entry) string {
	if text == LeftOut {
		return text
	}
	private, run := map[string]bool{}, ""
	for _, e := range before {
		if !namesSomebody(e.Topic) || strings.HasPrefix(e.Value.Text, sharedVehicle) {
			continue
		}
		for _, said := range []string{e.Value.Text, e.Typed} {
			for _, word := range strings.FieldsFunc(said, func(r rune) bool { return !isPlain(r) }) {
				private[plain(word)] = true
			}
			run += plain(said) + " "
		}
	}
	var kept []string
	for _, word := range strings.Fields(text) {
		p := plain(word)
		word = strings.TrimFunc(word, func(r rune) bool { return !isPlain(r) })
		odd := strings.ContainsFunc(word, func(r rune) bool { return !isPlain(r) && !strings.ContainsRune("-./", r) })
		if odd || p == "" || utf8.RuneCountInString(p) > mostKindWord || digitsIn(p) > mostKindDigits {
			continue
		}
		parts := append(strings.FieldsFunc(strings.ToLower(word), func(r rune) bool { return !isPlain(r) }), p)
		if slices.ContainsFunc(parts, func(p string) bool {
			return !isUnitWord(p) && (private[p] || len(p) > 2 && strings.Contains(run, p))
		}) {
			continue
		}
		kept = append(kept, word)
	}
	name := strings.Join(kept, " ")
	if len(kept) == 0 || utf8.RuneCountInString(name) > mostKind {
		return LeftOut
	}
	return name
}

// Of a word of the name of a kind: a serial number, a telephone and most plates are
// longer.
const (
	mostKindWord   = 14
	mostKindDigits = 4
)

// namesSomebody reports whether what is said of a topic may name car, place or person.
func namesSomebody(t job.Topic) bool {
	switch t {
	case job.ClubKind, job.UnitName, job.OilGrade, job.PlugThread, job.PlugKey, job.WasherKind, job.Card:
		return false
	}
	return t.Info().Kind == job.Free
}

func isPlain(r rune) bool { return unicode.IsLetter(r) || unicode.IsDigit(r) }

// plain is a text in small letters and digits, and nothing else.
func plain(text string) string {
	return strings.ToLower(strings.Map(func(r rune) rune {
		if isPlain(r) {
			return r
		}
		return -1
	}, text))
}

func digitsIn(text string) (n int) {
	for _, r := range text {
		if unicode.IsDigit(r) {
			n++
		}
	}
	return n
}
