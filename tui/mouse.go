package tui

// This file is the mouse. It points at an item of a list, turns to a line of the
// sheet, and chooses on the line that keys go to; its wheel does what the arrows do.
// It confirms no caution and accepts no fill, so that a sleeve on a touch pad does no
// harm.

import (
	"regexp"
	"strconv"
	"strings"

	tea "github.com/charmbracelet/bubbletea"
	"github.com/charmbracelet/x/ansi"

	"garage/tundish/model/sheet"
	"garage/tundish/model/text"
)

// numbered is what shows items by number, one of which can be pointed at.
type numbered[T any] interface{ pointAt(number int) T }

func (a App) onMouse(msg tea.MouseMsg) (tea.Model, tea.Cmd) {
	if msg.Action != tea.MouseActionPress || a.fatal != nil {
		return a, nil
	}
	switch msg.Button {
	case tea.MouseButtonWheelUp:
		return a.onWheel(tea.KeyUp)
	case tea.MouseButtonWheelDown:
		return a.onWheel(tea.KeyDown)
	case tea.MouseButtonLeft:
		if a.overlay == nil && a.screen == screenJob && a.job.on {
			return a.clickSheet(msg.X, msg.Y)
		}
		if number, ok := a.numberAt(msg.Y); ok {
			return a.pointAt(number), nil
		}
	}
	return a, nil
}

// onWheel is an arrow, but where any key opens the menu.
func (a App) onWheel(arrow tea.KeyType) (tea.Model, tea.Cmd) {
	if a.overlay == nil && a.screen == screenJob && !a.job.on {
		return a, nil
	}
	return a.onKey(tea.KeyMsg{Type: arrow})
}

// pointAt points at an item of the list that is up; of any other screen it
// changes nothing.
func (a App) pointAt(number int) App {
	switch list, ok := a.overlay.(numbered[overlay]); {
	case ok:
		a.overlay = list.pointAt(number)
	case a.overlay != nil:
	case a.screen == screenPicking:
		a.picker.chosen = a.picker.chosen.To(number-1, len(a.picker.items))
	}
	return a
}

// clickSheet does what the digit of an option does that is clicked on, and turns to
// another line.
func (a App) clickSheet(x, y int) (tea.Model, tea.Cmd) {
	rows := strings.Split(ansi.Strip(a.View()), "\n")
	if a.width < minWidth || a.height < minHeight || a.job.saving || a.job.seen == asWorth || y < 0 || y >= len(rows) {
		return a, nil
	}
	i, ok := a.lineOf(strings.TrimRight(rows[y], " "))
	if !ok {
		return a, nil
	}
	if i != a.job.focus {
		if open := a.job.sheet.FirstOpen(); open < 0 || i <= open || a.job.Visit.Looking() {
			a.job = a.job.turn(i)
		}
		return a, nil
	}
	l := a.job.sheet.Lines[i]
	if l.Kind != sheet.Choice || l.Safety || a.job.sheet.ID >= sheet.Resume || a.job.sheet.ID == sheet.Verdict {
		return a, nil
	}
	for _, o := range l.Options {
		shown := a.theme.Glyphs.Spell(string(o.Key) + " " + text.Visible(o.Label))
		before, _, found := strings.Cut(rows[y], shown)
		if from := text.Width(before); found && x >= from && x < from+text.Width(shown) {
			return a.onKey(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{o.Key}})
		}
	}
	return a, nil
}

// lineOf is the line that a row of the screen is of.
func (a App) lineOf(row string) (line int, ok bool) {
	sc := a.scene(a.width, a.height)
	for _, i := range a.job.shown() {
		for _, f := range fits {
			for _, r := range sc.lineRows(i, f) {
				if row != "" && strings.TrimRight(ansi.Strip(a.theme.Glyphs.Spell(r)), " ") == row {
					return i, true
				}
			}
		}
	}
	return 0, false
}

func (m menu) pointAt(number int) overlay {
	m.chosen = m.chosen.To(number-1, len(m.items))
	return m
}

func (c corrections) pointAt(number int) overlay {
	c.chosen = c.chosen.To(c.index(number), len(c.entries))
	return c
}

// itemForm is a row that begins with a number, behind the mark of the one that
// is pointed at.
var itemForm = regexp.MustCompile(`^ (?:  |\S ) *([1-9]\d*) `)

// numberAt is the number of the item that a row of the screen shows. What is on
// the screen is asked, so that a click means what is seen there.
func (a App) numberAt(row int) (number int, ok bool) {
	rows := strings.Split(ansi.Strip(a.View()), "\n")
	if row < 0 || row >= len(rows) {
		return 0, false
	}
	found := itemForm.FindStringSubmatch(rows[row])
	if found == nil {
		return 0, false
	}
	number, err := strconv.Atoi(found[1])
	return number, err == nil
}
