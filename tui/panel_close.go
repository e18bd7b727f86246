package tui

// This file shows the verdict: a word, the chances, the action, and the sum
// that it rests on.

import (
	"fmt"

	"github.com/charmbracelet/lipgloss"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// verdictBlocks say how the fill compares with what is needed; none before it
// can be told.
func verdictBlocks(sc scene) []block {
	s, t := sc.live, sc.app.theme
	switch sc.app.guide.answer.prompt.Place.Topic {
	case job.WasherRenewed, job.LeakedHow, job.LeakedWith, job.LeakedAmount:
		return nil // it weeps: the verdict is out until it is measured what it lost
	}
	b := must()
	for i, line := range verdictLines(s) {
		style := t.Text
		switch i {
		case 0:
			v, _ := s.Verdict(s.Round())
			style = verdictStyle(sc, v)
		case 2:
			style = t.Danger
		}
		b.lines = append(b.lines, wrapped(sc, style, line)...)
	}
	return []block{b}
}

// verdictLines are the verdict, its chances and, where it must not be driven,
// that; none before it can be told.
func verdictLines(s *guide.Guide) []string {
	v, err := s.Verdict(s.Round())
	if err != nil {
		return nil
	}
	lines := []string{verdictWords(s, v), chances(s, v)}
	switch {
	case s.MagnetLook() == job.MagnetChips:
		return append(lines, "NOT TO BE DRIVEN: metal on the magnet, it must be opened.")
	case !v.MayDrive:
		return append(lines, "NOT TO BE DRIVEN as it is.")
	}
	return lines
}

func closePanel(sc scene) []block {
	s := sc.live
	if _, err := s.Verdict(s.Round()); err != nil {
		return nil
	}
	blocks := dueBlocks(sc)
	if note := s.SharedJugNote(); note != "" {
		blocks = append(blocks, also(wrapped(sc, sc.app.theme.Good, note)...))
	}
	return append(blocks, sumBlocks(sc, s.UnfoldNet(s.Round()))...)
}

func verdictStyle(sc scene, v verdict.Verdict) lipgloss.Style {
	switch v.Word {
	case verdict.Within, verdict.LikelyWithin:
		return sc.app.theme.Good
	case verdict.NotProven:
		return sc.app.theme.Caution
	}
	return sc.app.theme.Danger
}

func verdictWords(s *guide.Guide, v verdict.Verdict) string {
	words := "VERDICT: " + v.Text()
	switch v.Act {
	case verdict.Nothing:
		if v.Word == verdict.NotProven {
			return fmt.Sprintf("%s, right %d times in 100; most of the doubt: %s", words, v.Odds(), guide.DoubtName(v.Doubt))
		}
		return words + ", nothing to do"
	case verdict.Remeasure:
		return words + ", measure better: " + verdict.RemeasureName(v.Doubt)
	}
	return fmt.Sprintf("%s, %s %s", words, v.Act, s.Units().FormatVolume(v.ActML))
}

// chances are the three probabilities in whole percent, with the window that
// they are about; nothing is ever certain.
func chances(s *guide.Guide, v verdict.Verdict) string {
	window := ""
	if plan, err := s.Plan(0); err == nil {
		window = ", " + s.FormatWindow(plan)
	}
	low, within, high := v.Chances()
	return fmt.Sprintf("within the window%s: %s; too low %s, too high %s", window, within, low, high)
}

func dueBlocks(sc scene) []block {
	at, km := sc.live.Due()
	var words string
	if !at.IsZero() {
		words = at.Local().Format("2 January 2006")
	}
	if km > 0 {
		if words != "" {
			words += " or at "
		}
		words += sc.live.Units().FormatDistance(km)
	}
	switch {
	case words == "":
		return nil
	case !at.IsZero() && km > 0:
		words += ", whichever is first"
	}
	return []block{also(wrapped(sc, sc.app.theme.Dim, "next change: "+words)...)}
}

func closeFigure(sc scene) (string, string) {
	round := sc.live.Round()
	if _, err := sc.live.Verdict(round); err != nil || sc.live.UnitState() == verdict.AsFound {
		return "", ""
	}
	return sc.live.Units().FormatVolume(sc.live.NetFill(round).Nominal), "in the unit, by the sums"
}
