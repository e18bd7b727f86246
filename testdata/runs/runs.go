// Package runs has tests do less in an ordinary run than in a long one, which
// TUNDISH_LONG asks for and .ci/run does.
package runs

import (
	"os"
	"testing"

	"pgregory.net/rapid"
)

// Long reports whether this is a long run.
func Long() bool { return os.Getenv("TUNDISH_LONG") != "" }

// Of is what is for a long run where this is one.
func Of[T any](ordinary, long T) T {
	if Long() {
		return long
	}
	return ordinary
}

// Check is [rapid.Check] that draws no more than so many cases in an ordinary run. After
// one that fails it goes on, as rapid looks for a smaller one.
func Check(t *testing.T, cases int, property func(*rapid.T)) {
	t.Helper()
	failed := false
	rapid.Check(t, func(rt *rapid.T) {
		if cases == 0 && !failed && !Long() {
			return
		}
		held := false
		defer func() { failed = failed || !held || rt.Failed() }()
		property(rt)
		cases, held = max(cases-1, 0), true
	})
}
