package tui

// This file turns keys into what is wanted. What a digit does is readable on the
// line that keys go to; Enter takes what is typed or completes the sheet, and never
// confirms a caution, an observation or the verdict.

import (
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/sheet"
	"garage/tundish/tui/input"
)

// press gives keys to the sheet, one by one: pressed fast, a terminal hands several on
// at once. What is pressed after something that has to be done first is dropped.
func (g jobScreen) press(msg tea.KeyMsg, k input.Keys, now time.Time) (jobScreen, intent) {
	if msg.Type != tea.KeyRunes || msg.Paste || msg.Alt {
		return g.key(msg, k, now)
	}
	var want intent
	for _, r := range msg.Runes {
		g, want = g.key(tea.KeyMsg{Type: tea.KeyRunes, Runes: []rune{r}}, k, now)
		if _, typed := want.(wantDraft); want != nil && !typed {
			return g, want
		}
	}
	return g, want
}

// key gives a key to the sheet.
func (g jobScreen) key(msg tea.KeyMsg, k input.Keys, now time.Time) (jobScreen, intent) {
	switch {
	case g.saving:
		return g, nil // the answer before is still being written
	case !g.on:
		return g.keyWhenDone(msg, k, now)
	case g.seen == asWorth:
		return g.keyWorth(msg, k, now)
	case len(g.asked) > 0:
		return g.keyMeant(msg, now)
	}
	l, ok := g.line()
	g.failure = ""
	if ok && typable(l) {
		return g.keyReading(l, msg, k, now)
	}
	return g.keyLine(l, ok, msg, k, now)
}

func (g jobScreen) keyWhenDone(msg tea.KeyMsg, k input.Keys, now time.Time) (jobScreen, intent) {
	switch {
	case input.Matches(msg, k.Sums), input.Matches(msg, k.More):
		return g, wantOverlay{overlaySums}
	case input.Matches(msg, k.Help):
		return g, wantOverlay{overlayHelp}
	case input.Matches(msg, k.Back), input.Matches(msg, k.Earlier):
		return g.leaf(-1, now), nil
	}
	return g, wantOverlay{overlayMenu}
}

// keyCommon does what keys do on every line; false where it is none of them.
func (g jobScreen) keyCommon(msg tea.KeyMsg, k input.Keys, now time.Time) (jobScreen, intent, bool) {
	switch {
	case msg.Type == tea.KeyEsc:
		return g.back(now), nil, true
	case input.Matches(msg, k.Up):
		return g.step(-1), nil, true
	case input.Matches(msg, k.Down):
		return g.step(1), nil, true
	case input.Matches(msg, k.Earlier):
		return g.leaf(-1, now), nil, true
	case input.Matches(msg, k.Later):
		return g.leaf(1, now), nil, true
	case input.Matches(msg, k.Sums):
		return g, wantOverlay{overlaySums}, true
	case msg.Type == tea.KeyF1:
		return g, wantOverlay{overlayHelp}, true
	}
	return g, nil, false
}

// keyLine is a key on a line that is confirmed or chosen, or where only Enter is
// awaited.
func (g jobScreen) keyLine(l sheet.Line, ok bool, msg tea.KeyMsg, k input.Keys, now time.Time) (jobScreen, intent) {
	if g, want, done := g.keyCommon(msg, k, now); done {
		return g, want
	}
	g.notice, g.refused = "", false
	r := input.Pressed(msg)
	not := g.not
	g.not = false
	switch {
	case msg.Type == tea.KeyEnter:
		return g.enter(l, ok, now)
	case not && input.IsDigit(r):
		return g.untick(r, now)
	case input.IsDigit(r) && ok:
		return g.digit(l, r, now)
	case input.IsDigit(r):
		return g.say("nothing is open: Enter = sheet complete, / back to a line"), nil
	case r == '-':
		g.not = true
		g.notice = "which line is NOT so? its digit takes the tick off"
	case r == '.':
		g.seen = asFar - g.seen
	case r == '+':
		return g.more()
	case r == '*':
		return g, wantOverlay{overlayMenu}
	case r == '/':
		return g.back(now), nil
	case r == '?':
		return g, wantOverlay{overlayHelp}
	}
	return g, nil
}

// digit ticks or chooses, at once.
func (g jobScreen) digit(l sheet.Line, r rune, now time.Time) (jobScreen, intent) {
	if l.Kind == sheet.Confirm && l.Standing == sheet.Said {
		if r == l.Key {
			return g.say("it is ticked already: - and " + string(r) + " takes it off"), nil
		}
		return g.say("this line is " + string(l.Key) + ", and ticked"), nil
	}
	return g.take(sheet.Answer{Key: r}, now)
}

// enter goes on: from a line that stands to the next one, else the sheet is complete.
func (g jobScreen) enter(l sheet.Line, ok bool, now time.Time) (jobScreen, intent) {
	if ok && l.Standing != sheet.Open && !g.Visit.Looking() {
		if next := g.first(); next != noLine && next != g.focus {
			return g.turn(next), nil
		}
	}
	return g.complete(now)
}

// more opens what is worth knowing; with a verdict, how it was worked out.
func (g jobScreen) more() (jobScreen, intent) {
	switch {
	case g.sheet.ID == sheet.Verdict || g.sheet.ID == sheet.Stop:
		return g, wantOverlay{overlaySums}
	case len(g.folded()) == 0:
		return g.say("nothing more is worth knowing here"), nil
	}
	g = g.keep()
	g.seen, g.from, g.notice = asWorth, 0, ""
	return g, nil
}

// keyWorth is a key on the page of what is worth knowing.
func (g jobScreen) keyWorth(msg tea.KeyMsg, k input.Keys, now time.Time) (jobScreen, intent) {
	r, folded := input.Pressed(msg), g.folded()
	switch at := g.from + int(r-'1'); {
	case input.IsDigit(r) && r > '0' && at < len(folded):
		i := folded[at]
		g.Visit = g.Visit.Unfold(g.sheet.Lines[i].Place)
		g.seen = asSheet
		return g.read(now).turn(i), nil
	case input.Matches(msg, k.Menu):
		return g, wantOverlay{overlayMenu}
	case input.Matches(msg, k.More) && g.from+worthPage < len(folded):
		g.from += worthPage
	case input.Matches(msg, k.Back), input.Matches(msg, k.More), msg.Type == tea.KeyEnter, r == '0':
		g.seen = asSheet
	}
	return g, nil
}

// keyMeant is a key where it is asked which unit is meant: the number of a reading,
// or anything else, which goes back to the figure.
func (g jobScreen) keyMeant(msg tea.KeyMsg, now time.Time) (jobScreen, intent) {
	asked, r := g.asked, input.Pressed(msg)
	if i := int(r - '1'); input.IsDigit(r) && i >= 0 && i < len(asked) {
		g.asked = nil
		return g.take(sheet.Answer{Typed: g.field.Text, Meant: &asked[i].Value}, now)
	}
	if msg.Type != tea.KeyEnter {
		g.asked = nil
	}
	return g, nil
}

// keyReading is a key on a line that is typed into. Signs have a meaning of their own
// while nothing is typed; then they are text.
func (g jobScreen) keyReading(l sheet.Line, msg tea.KeyMsg, k input.Keys, now time.Time) (jobScreen, intent) {
	if g, want, done := g.keyCommon(msg, k, now); done {
		return g, want
	}
	if msg.Type == tea.KeyEnter {
		return g.enterReading(l, now)
	}
	r, typing := input.Pressed(msg), g.field.Typing()
	times := l.Place.Topic == job.HoseHolds && g.field.Text != "" && !strings.Contains(g.field.Text, "*") // bore times length
	for _, o := range l.Options {
		if !typing && r != 0 && o.Key == r {
			return g.take(sheet.Answer{Key: r}, now)
		}
	}
	switch {
	case r == '*' && !g.field.Letters() && !times:
		if g.field.Text != "" {
			g.field = input.Field{}
			return g.changed()
		}
		return g, wantOverlay{overlayMenu}
	case r == '/' && !typing:
		return g.back(now), nil
	case r == '+' && !typing:
		return g.more()
	case r == '.' && !typing && isPush(l): // of a push nothing is not known
		g.seen = asFar - g.seen
		return g, nil
	case r == '?' && !g.field.Letters():
		return g, wantOverlay{overlayHelp}
	}
	var is bool
	if g.field, is = g.field.Edit(msg); is {
		return g.changed()
	}
	return g, nil
}

// changed takes note of what is typed now.
func (g jobScreen) changed() (jobScreen, intent) {
	g.notice, g.refused, g.failure = "", false, ""
	return g.redraft(), wantDraft{}
}

// enterReading takes what is typed. A line that is left as it stands is gone on from.
func (g jobScreen) enterReading(l sheet.Line, now time.Time) (jobScreen, intent) {
	switch {
	case g.field.Half():
		g.notice = ""
		return g.take(sheet.Answer{Typed: g.field.Text, Unknown: g.field.Text == guide.UnknownLine}, now)
	case l.Standing == sheet.Open:
		return g.take(sheet.Answer{}, now)
	case isRun(l):
		g.passed = true
	}
	if next := g.first(); next != noLine && next != g.focus && !g.Visit.Looking() {
		return g.turn(next), nil
	}
	return g.complete(now)
}
