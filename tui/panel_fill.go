package tui

// This file shows the push: how much has left the vessel, how much is still to
// leave it, and how long it takes.

import "garage/tundish/model"

func fillPanel(sc scene) []string {
	t, s := sc.app.theme, sc.live
	r := s.Round()
	u := s.Units()
	lines := findingLines(sc)
	if s.RoundKind(r) == model.RoundLetsOut {
		return lines
	}
	lines = append(lines, columns([][2]string{
		{"loaded", s.FormatU(s.Loaded(r))},
		{"should be left in the vessel at the end", u.FormatVolume(s.EndReadingML(r))},
	}, 40)...)
	f := s.Push(r, s.NewOilTempC(r))
	lines = append(lines, " "+t.Dim.Render("the push at "+s.Units().FormatTemperature(f.TempC)+": "+f.Text()))
	if f.Warmer != "" {
		lines = append(lines, " "+t.Dim.Render(f.Warmer))
	}
	for _, l := range f.Assumed {
		lines = append(lines, " "+t.Dim.Render(l))
	}
	return lines
}

func fillFigure(sc scene) (string, string) {
	s := sc.live
	if s.RoundKind(s.Round()) == model.RoundLetsOut {
		return "", ""
	}
	if _, ended := s.When(model.FillEnded, s.Round()); ended {
		v, ok := s.InUnitNow()
		if !ok {
			return "", ""
		}
		return s.Units().FormatVolume(v.Nominal), "in the unit so far, by the sums"
	}
	return s.Units().FormatVolume(max(s.ToPushML(s.Round()), 0)), "still to leave the vessel"
}
