package tui

// This file shows the verdict: a word, the chances, the action, and the sum
// that it rests on.

import (
	"fmt"
	"math"

	"github.com/charmbracelet/lipgloss"

	"garage/tundish/model"
)

func closePanel(sc scene) []string {
	s, t := sc.live, sc.app.theme
	v, err := s.Verdict(s.Round())
	if err != nil {
		return findingLines(sc)
	}
	lines := []string{" " + verdictStyle(sc, v).Render(verdictWords(v)), " " + chances(v)}
	if !v.MayDrive || s.MagnetLook() == model.MagnetChips {
		lines = append(lines, " "+t.Danger.Render("NOT TO BE DRIVEN as it is."))
	}
	lines = append(lines, findingLines(sc)...)
	if note := s.SharedJugNote(); note != "" {
		for _, l := range wrap(note, sc.width-2) {
			lines = append(lines, " "+t.Dim.Render(l))
		}
	}
	lines = append(lines, sumLines(sc, s.UnfoldNet(s.Round()))...)
	return append(lines, dueLines(sc)...)
}

func verdictStyle(sc scene, v model.Verdict) lipgloss.Style {
	switch v.Word {
	case model.Within, model.LikelyWithin:
		return sc.app.theme.Good
	case model.NotProven:
		return sc.app.theme.Caution
	}
	return sc.app.theme.Danger
}

func verdictWords(v model.Verdict) string {
	words := "VERDICT: " + v.Word.String()
	switch v.Act {
	case model.Nothing:
		return words + ", nothing to do"
	case model.Remeasure:
		return words + ", measure better: " + model.DoubtName(v.Doubt)
	}
	return fmt.Sprintf("%s, %s %.0f ml", words, v.Act, v.ActML)
}

// chances are the three probabilities in whole percent; nothing is ever
// certain.
func chances(v model.Verdict) string {
	return fmt.Sprintf("within the window %s, too low %s, too high %s", percent(v.PWithin), percent(v.PLow), percent(v.PHigh))
}

func percent(p float64) string {
	switch {
	case p > 0.995:
		return "> 99 %"
	case p < 0.005:
		return "< 1 %"
	}
	return fmt.Sprintf("%.0f %%", 100*math.Min(math.Max(p, 0), 1))
}

func dueLines(sc scene) []string {
	at, km := sc.live.Due()
	var words string
	if !at.IsZero() {
		words = at.Format("2 January 2006")
	}
	if km > 0 {
		if words != "" {
			words += " or at "
		}
		words += sc.live.Units().FormatDistance(km)
	}
	if words == "" {
		return nil
	}
	return []string{" " + sc.app.theme.Dim.Render("next change: "+words+", whichever is first")}
}

func closeFigure(sc scene) (string, string) {
	v, err := sc.live.Verdict(sc.live.Round())
	if err != nil || sc.live.UnitState() == model.AsFound {
		return "", ""
	}
	return sc.live.Units().FormatVolume(v.InUnit.Nominal), "in the unit by the sums"
}
