package tui

// This file holds what can lie over the job: menu, sums, help, and the list of
// entries to correct. Each has its own file.

import (
	tea "github.com/charmbracelet/bubbletea"
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
	key(msg tea.KeyMsg, k keymap) (overlay, intent)
	lines(sc scene) []string // at most sc.height
	hints() []hint
}

func (a App) newOverlay(kind overlayKind) overlay {
	switch kind {
	case overlayMenu:
		return newMenu(a.guide)
	case overlaySums:
		return sumsOverlay{}
	case overlayHelp:
		return helpOverlay{}
	case overlayCorrect:
		return newCorrections(a.guide)
	}
	return nil
}

// leaves says whether a key leaves an overlay.
func leaves(msg tea.KeyMsg, k keymap) bool {
	return matches(msg, k.Menu) || typedDigit(msg, "0")
}

// typedDigit says whether a digit was pressed, alone and not pasted.
func typedDigit(msg tea.KeyMsg, digit string) bool {
	return msg.Type == tea.KeyRunes && !msg.Paste && string(msg.Runes) == digit
}

// page is a list of lines that may be longer than the room it has.
type page struct{ top int }

func (p page) key(msg tea.KeyMsg, k keymap) page {
	switch {
	case matches(msg, k.Up):
		p.top = max(p.top-1, 0)
	case matches(msg, k.Down):
		p.top++
	case matches(msg, k.PageUp):
		p.top = max(p.top-pageRows, 0)
	case matches(msg, k.PageDown):
		p.top += pageRows
	}
	return p
}

// pageRows is how far a page up or down goes.
const pageRows = 10

func (p page) cut(lines []string, height int) []string {
	top := p.within(len(lines), height).top
	return lines[top:min(top+height, len(lines))]
}

// within is a page that goes no further down than there are lines.
func (p page) within(lines, height int) page { return page{min(p.top, max(lines-height, 0))} }

// paged is an overlay that may be longer than the screen. A key is answered
// where it is, however often one went on at the end.
type paged interface{ within(sc scene) overlay }
