// Package boot settles, before Bubble Tea wakes up, whether the terminal's
// background is dark, so that Bubble Tea asks no terminal for it.
//
// Bubble Tea v1 asks when its package is initialised, in every command, even
// --version, and on a terminal that never answers it waits for seconds. Go
// initialises packages in the order of their import paths as far as imports
// allow (The Go Programming Language Specification, "Program initialization").
// This package needs lipgloss only and its path sorts before Bubble Tea's, so
// it has told lipgloss the answer by the time Bubble Tea wants it.
package boot

import (
	"os"
	"strconv"
	"strings"

	"github.com/charmbracelet/lipgloss"
)

// backgroundVariable names the environment variable that says what the
// background is: light or dark.
const backgroundVariable = "TUNDISH_BACKGROUND"

// Dark is whether the background is taken for dark, Told whether the environment said
// so; else Dark is a guess.
var Dark, Told = settle(os.Getenv)

func settle(getenv func(string) string) (dark, told bool) {
	dark, told = darkBy(getenv)
	lipgloss.SetHasDarkBackground(dark)
	return dark, told
}

// darkBy reads the environment: TUNDISH_BACKGROUND, else the last field of
// COLORFGBG, which some terminals set to the number of their background colour
// (7 and 9 to 15 are light), else dark.
func darkBy(getenv func(string) string) (dark, told bool) {
	switch strings.ToLower(getenv(backgroundVariable)) {
	case "light":
		return false, true
	case "dark":
		return true, true
	}
	fields := strings.Split(getenv("COLORFGBG"), ";")
	colour, err := strconv.Atoi(fields[len(fields)-1])
	if err != nil {
		return true, false
	}
	return colour != 7 && (colour < 9 || colour > 15), true
}
