package model

// This file prints volumes with how sure they are, in the owner's units. The
// ± on every screen and in every summary is twice the standard uncertainty:
// 19 times in 20 the true value is within it (JCGM 100:2008, 6.2, k = 2).

import (
	"fmt"

	"garage/tundish/model/measure"
)

// Coverage is the factor between a standard uncertainty and the ± shown.
const Coverage = 2.0

// FormatU prints a volume with its ±.
func (s *State) FormatU(v measure.Value) string {
	if v.U() == 0 {
		return s.Units().FormatVolume(v.Nominal)
	}
	return s.Units().FormatVolumeU(v.Nominal, Coverage*v.U())
}

// FormatWindow prints the window of a plan.
func (s *State) FormatWindow(p Plan) string {
	u := s.Units()
	return fmt.Sprintf("%s to %s", u.FormatVolume(p.Low), u.FormatVolume(p.High))
}
