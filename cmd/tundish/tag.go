package main

// This file prints the tag for the steering wheel: what the next person at the
// car must know before they touch the key.

import (
	"fmt"
	"strings"
	"time"
	"unicode/utf8"

	"garage/tundish/model"
)

type tagCommand struct{ jobFlag }

// Run prints the tag, for any printer. A proven fill needs none.
func (c *tagCommand) Run(o *outside) error {
	s, id, err := c.find(o)
	if err != nil {
		return err
	}
	defer s.Close()
	job, err := s.Load(id)
	if err != nil {
		return err
	}
	state := model.Fold(job, model.Offers{})
	if state.UnitState() == model.Proven && state.MayDrive() {
		_, err = fmt.Fprintf(o.out, "job %s: the fill is proven, no tag is needed\n", id)
		return err
	}
	_, err = fmt.Fprint(o.out, tag(state, time.Local))
	return err
}

// tagWidth is the inside of the frame, characters: it fits a page and 80
// columns.
const tagWidth = 60

// tag is the tag as text.
func tag(s *model.State, zone *time.Location) string {
	lines := append([]string{""}, tagHeading(s)...)
	lines = append(lines, "", names(s.Head()), "", "do not start, do not roll, turn no wheel",
		"key: in the pocket of whoever works on it", "", "since "+s.Started.In(zone).Format("2006-01-02 15:04")+", job "+visible(s.ID), "")
	var b strings.Builder
	edge := "+" + strings.Repeat("-", tagWidth) + "+\n"
	b.WriteString(edge)
	for _, line := range lines {
		for _, piece := range folded(line) {
			left := (tagWidth - utf8.RuneCountInString(piece)) / 2
			fmt.Fprintf(&b, "|%-*s|\n", tagWidth, strings.Repeat(" ", left)+piece)
		}
	}
	b.WriteString(edge)
	return b.String()
}

// tagHeading says what is the matter, the most important first.
func tagHeading(s *model.State) []string {
	switch {
	case s.UnitState() == model.AsFound:
		return []string{"D O   N O T   D R I V E", "", "AN OIL CHANGE IS UNDER WAY"}
	case s.MayDrive():
		return []string{"P U T   R I G H T   S O O N", "", s.UnitState().String()}
	case s.UnitState() == model.Proven:
		return []string{"D O   N O T   D R I V E", "", "DAMAGE INSIDE"}
	}
	return []string{"D O   N O T   D R I V E", "", s.UnitState().String()}
}

// folded cuts a line into pieces that fit into the frame.
func folded(line string) []string {
	runes := []rune(line)
	var pieces []string
	for len(runes) > tagWidth-2 {
		pieces, runes = append(pieces, string(runes[:tagWidth-2])), runes[tagWidth-2:]
	}
	return append(pieces, string(runes))
}
