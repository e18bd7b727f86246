package tui

// This file holds what can lie over the job: menu, sums, help, and the list of
// entries to correct. Each has its own file.

import (
	"github.com/charmbracelet/bubbles/key"
	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/tui/input"
)

// overlayKind says which overlay.
type overlayKind uint8

const (
	overlayNone overlayKind = iota
	overlayMenu
	overlaySums
	overlayHelp
	overlayCorrect
)

// overlay is something that lies over the job until it is left.
type overlay interface {
	key(msg tea.KeyMsg, k input.Keys) (overlay, intent)
	lines(sc scene) ([]string, []hint) // at most sc.height; and the keys that work
}

func (a App) newOverlay(kind overlayKind) overlay {
	switch kind {
	case overlayMenu:
		return newMenu(a.job)
	case overlaySums:
		return reading{all: sumLines, over: func(k input.Keys) key.Binding { return k.Sums }}
	case overlayHelp:
		return reading{all: helpLines, over: func(k input.Keys) key.Binding { return k.Help }}
	case overlayCorrect:
		return newCorrections(a.job)
	}
	return nil
}

// leaves reports whether a key leaves an overlay.
func leaves(msg tea.KeyMsg, k input.Keys) bool {
	return input.Matches(msg, k.Menu) || input.Matches(msg, k.Back) || input.IsTyped(msg, "0")
}

// page is a list of lines that may be longer than the room it has.
type page struct{ top int }

// pageRows is how far a page up or down goes.
const pageRows = 10

// scrolled is how far down a list begins after a key that moves it, by a line or a page.
func scrolled(msg tea.KeyMsg, k input.Keys, top int) int {
	switch {
	case input.Matches(msg, k.Up):
		top--
	case input.Matches(msg, k.Down):
		top++
	case input.Matches(msg, k.PageUp):
		top -= pageRows
	case input.Matches(msg, k.PageDown):
		top += pageRows
	}
	return max(top, 0)
}

func (p page) cut(lines []string, height int) []string {
	top := min(p.top, max(len(lines)-height, 0))
	return lines[top:min(top+height, len(lines))]
}

// reading is an overlay that is only read: the sums, the help.
type reading struct {
	page page
	all  func(scene) []string // the lines of all pages
	over func(input.Keys) key.Binding
}

func (o reading) key(msg tea.KeyMsg, k input.Keys) (overlay, intent) {
	if leaves(msg, k) || msg.Type == tea.KeyEnter || input.Matches(msg, o.over(k)) {
		return nil, nil
	}
	o.page.top = scrolled(msg, k, o.page.top)
	return o, nil
}

func (o reading) lines(sc scene) ([]string, []hint) {
	return o.page.cut(o.all(sc), sc.height), []hint{{"+ -", "page"}, {"↑↓", "scroll"}, {"Enter", "back to the job"}}
}

// within is the overlay no further down than its lines go, so that a key is
// answered where it is, however often one went on at the end.
func (o reading) within(sc scene) overlay {
	o.page.top = min(o.page.top, max(len(o.all(sc))-sc.height, 0)) // no further down than there are lines
	return o
}
