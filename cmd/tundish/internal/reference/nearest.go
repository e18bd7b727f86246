package reference

// This file finds what a mistyped word was meant for.

import (
	"strings"

	"github.com/alecthomas/kong"
)

// mostSlips is how many letters may be wrong, left out, too many or swapped.
const mostSlips = 2

// Mistyped reports which word of a command line is no command where one should
// stand, and the command below at that is nearest, "" where none is near.
func Mistyped(app *kong.Application, words []string) (word, nearest string, at *kong.Node) {
	c := &cursor{node: app.Node}
	for _, w := range words {
		c.pass(w)
		if c.args > 0 && len(shown(c.node)) > 0 {
			return w, nearestTo(w, shown(c.node)), c.node
		}
	}
	return "", "", nil
}

// nearestTo is the name among commands that a word is at most two slips from, and
// fewer than it is long; "" where there is none.
func nearestTo(word string, among []*kong.Node) (name string) {
	fewest := min(mostSlips+1, len(word))
	for _, n := range among {
		if slips := distance([]rune(strings.ToLower(word)), []rune(n.Name)); slips < fewest {
			name, fewest = n.Name, slips
		}
	}
	return name
}

// distance is how many letters to put in, leave out, change, or swap with the next
// make one word of another: the restricted Damerau-Levenshtein distance.
func distance(a, b []rune) int {
	var before, row []int
	next := make([]int, len(b)+1)
	for j := range next {
		next[j] = j
	}
	for i := range a {
		before, row, next = row, next, make([]int, len(b)+1)
		next[0] = i + 1
		for j := range b {
			change := 1
			if a[i] == b[j] {
				change = 0
			}
			next[j+1] = min(row[j+1]+1, next[j]+1, row[j]+change)
			if i > 0 && j > 0 && a[i] == b[j-1] && a[i-1] == b[j] {
				next[j+1] = min(next[j+1], before[j-1]+1)
			}
		}
	}
	return next[len(b)]
}
