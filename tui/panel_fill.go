package tui

// This file shows the push: how much has left the vessel, how much is still to
// leave it, and how long it takes.

import (
	"strings"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
)

func fillPanel(sc scene) []block {
	s := sc.live
	r := s.Round()
	if s.RoundKind(r) == job.RoundLetsOut {
		return nil
	}
	u := s.Units()
	left := "nothing"
	if ml := s.EndReadingML(r); ml >= 0.5 {
		left = u.FormatVolume(ml)
	}
	blocks := []block{also(columns([][2]string{
		{"loaded", s.FormatU(s.Loaded(r))},
		{"should be left in the vessel at the end", left},
	}, 40)...)}
	f := s.Push(r, s.NewOilTempC(r))
	if f.Tell == estimate.CannotTell {
		return blocks
	}
	blocks = append(blocks, also(wrapped(sc, sc.app.theme.Dim, "the push at "+u.FormatTemperature(f.TempC)+": "+f.Text())...))
	if f.Warmer != "" {
		blocks = append(blocks, also(wrapped(sc, sc.app.theme.Dim, f.Warmer)...))
	}
	if len(f.Assumed) > 0 {
		blocks = append(blocks, also(wrapped(sc, sc.app.theme.Dim, "Taken for that: "+strings.Join(f.Assumed, ", ")+".")...))
	}
	return blocks
}

func fillFigure(sc scene) (string, string) {
	s := sc.live
	if s.RoundKind(s.Round()) == job.RoundLetsOut {
		return "", ""
	}
	if _, ended := s.When(job.FillEnded, s.Round()); ended {
		return inUnitFigure(sc)
	}
	return s.Units().FormatVolume(max(s.ToPushML(s.Round()), 0)), "still to leave the vessel"
}

// inUnitFigure is what is in the unit so far.
func inUnitFigure(sc scene) (string, string) {
	v, ok := sc.live.InUnitNow()
	if !ok {
		return "", ""
	}
	return sc.live.Units().FormatVolume(v.Nominal), "in the unit so far, by the sums"
}
