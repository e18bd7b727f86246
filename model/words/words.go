// Package words knows the words that no printed text of the program uses, and
// what it says instead: one word for one thing, the one of the trade. It is for
// tests: of screens, line mode, questions, records, help and README. Keys and
// tokens in files are no printed text.
package words

import (
	"fmt"
	"regexp"
	"strings"
)

// rule is a word that is not used, where it may stand all the same, and what is
// said instead.
type rule struct {
	word    *regexp.Regexp
	but     *regexp.Regexp // nil nowhere
	instead string
}

// said makes a rule: word and but are regular expressions of whole words, in any
// case of letters; but is "" where the word is never used.
func said(word, but, instead string) rule {
	whole := func(pattern string) *regexp.Regexp { return regexp.MustCompile(`(?i)\b(?:` + pattern + `)\b`) }
	r := rule{word: whole(word), instead: instead}
	if but != "" {
		r.but = whole(but)
	}
	return r
}

var rules = []rule{
	said(`stated quantit(?:y|ies)`, "", "fill quantity (manual)"),
	said(`(?:dry or refill|a refill|refill quantity|dry quantity)`, "", "ordinary oil change, dry fill after overhaul"),
	said(`needed in the unit|what the unit needs`, "", "aim"),
	said(`window`, `(?:another|terminal) window|make the window larger|the window is too \w+`, "right: a to b"), // a terminal has one
	said(`pre-load(?:s|ed|ing)|(?:the|a|to|of) pre-load`, "", "pour into the vessel, poured in"),
	said(`charges?|charged`, "", "pour into the vessel"),
	said(`loads?|loaded|loading`, `\w*pre-load`, "pour into the vessel, poured in"),
	said(`heels?`, "", "oil below the vessel's tube"),
	said(`hold-?ups?`, "", "hose holds"),
	said(`escap(?:e|es|ed|ing)`, "", "spilled"),
	said(`let(?:s|ting)? out|let-out`, "", "drain off"),
	said(`let(?:s|ting)? off`, "", "vent"),
	said(`(?:stay|stays|stayed|left|leave|leaves|remain|remains) behind`, "", "stays inside at a drain"),
	said(`residuals?`, "", "stays inside at a drain"),
	said(`witness(?:es)?`, "", "second reading"),
	said(`graduations?|graduated`, "", "marks every"),
	said(`steps? of the (?:scale|jug|vessel)|smaller steps|step \d\S* (?:ml|g)`, "", "marks every"),
	said(`net fills?`, "", "went in"),
	said(`(?:by )?the sums|by sums(?: alone)?|by the ledger`, "", "in the unit, by the readings"),
	said(`wrong box`, "", "wrong unit"),
	said(`take-?offs?`, "", "angle drive"),
	said(`doubts?|doubtful|in doubt`, `most of the doubt`, "give or take"),
	said(`likely within|not proven yet`, "", "LIKELY, NOT PROVEN"),
	said(`kPa`, "", "bar, psi"),
	said(`(?:plug|drain) key|key for the plug|key fits|key bites`, "", "socket"),
	said(`neighbours?|neighbour's`, "", "unit beside it"),
	said(`unproven|unit empty|unit as found|fill proven`, "", "NOT PROVEN, EMPTY, AS FOUND, FILLED"),
}

// flags are options of a command as they are typed: names that stay.
var flags = regexp.MustCompile(`--[a-z0-9-]+(?:[= ](?:MM|M|KPA|ML|C)\b)?`)

// Check lists what a printed text says that it should not, each with what to say
// instead and where it stands.
func Check(text string) (faults []string) {
	text = flags.ReplaceAllString(text, "")
	for _, r := range rules {
		for _, at := range r.word.FindAllStringIndex(text, -1) {
			if r.but != nil && inside(r.but.FindAllStringIndex(text, -1), at) {
				continue
			}
			faults = append(faults, fmt.Sprintf("%q: say %s: %q", text[at[0]:at[1]], r.instead, around(text, at)))
		}
	}
	return faults
}

func inside(wider [][]int, at []int) bool {
	for _, w := range wider {
		if w[0] <= at[0] && at[1] <= w[1] {
			return true
		}
	}
	return false
}

// around is the line that a place is in.
func around(text string, at []int) string {
	from := strings.LastIndexByte(text[:at[0]], '\n') + 1
	to := len(text)
	if n := strings.IndexByte(text[at[1]:], '\n'); n >= 0 {
		to = at[1] + n
	}
	return strings.TrimSpace(text[from:to])
}
