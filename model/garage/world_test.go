package garage

// This file holds the worlds to what they are for: a figure must not come to pass
// because the world that it is held to was made milder.

import "testing"

// spreads are those of a world, in the order of its fields.
func spreads(w *World) []float64 {
	return []float64{
		w.ResidualU, w.DrainU, w.LevelU[0], w.LevelU[1], w.LevelU[2], w.LossU, w.LossOwnU, w.DryU, w.RefillU, w.EscapeLn, w.EscapeRigU,
		w.HeelU, w.HeelOwnU, w.HoseU, w.HoseByEyeU, w.MarksOff, w.EyeU, w.ScaleHalf, w.SheetU, w.DensityU, w.OldOilU, w.BottleHalf,
		w.FilmHalfML, w.LipML, w.LipShare, w.TempU,
	}
}

// Everything is spread further in the rough world than the model assumes, by a
// quarter at least and by 1.3 to 1.5 times in the mean, and not less in the third.
func TestRoughWorldsAreRougher(t *testing.T) {
	matched, rough, third := spreads(&Matched), spreads(&Rough), spreads(&Third)
	mean := 0.0
	for i := range matched {
		ratio := rough[i] / matched[i]
		mean += ratio / float64(len(matched))
		if ratio < 1.249 {
			t.Errorf("spread %d: rough is %.2f of matched", i, ratio)
		}
		if third[i] < rough[i] {
			t.Errorf("spread %d: third is %.3g, rough %.3g", i, third[i], rough[i])
		}
	}
	if mean < 1.3 || mean > 1.5 {
		t.Errorf("rough is %.2f of matched in the mean, must be 1.3 to 1.5", mean)
	}
	if Rough.Tails == 0 || Third.Tails == 0 || Third.Tails > Rough.Tails {
		t.Errorf("tails of %d and %d degrees of freedom", Rough.Tails, Third.Tails)
	}
}
