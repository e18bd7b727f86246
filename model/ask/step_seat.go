package ask

// This file asks for the swap from cap to plug: washer, plug, breather, what
// escaped and how the plug was tightened. It is asked once a round.

import (
	"slices"
	"strings"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
)

func seatBlocks() []Block {
	spilled := caughtSpecs(estimate.SwapCatch, "Spilled, all of it", "Spilled, all of it", escapeOptions, pushRound)
	spilled[0].Stale = saidDryInHaste
	spilled = append(spilled, Spec{
		Topic: job.NothingEscaped, Stop: true, Options: noneOptions, When: (*Known).AsksNothingEscaped,
		Stale: func(s *Known, p job.Place, e job.Entry) bool { return e.Seq < s.SeqOf(p.Of(job.EscapedHow)) },
		Ask:   "Nothing at all? Look at pan, pads and floor once more",
		Why:   "Oil stands above the port: a swap without a drop is rare.",
	}, choosing(job.EscapedMore, moreOptions, "More spilled, measured another way", "").
		when(func(s *Known, p job.Place) bool {
			return pushRound(s, p) && s.Choice(p.Of(job.EscapedHow)) != job.EscapeNone
		}).notNeeded())
	return []Block{once(swapSpecs()...), again(spilled...), once(swapAgainSpecs()...)}
}

func swapSpecs() []Spec {
	return []Spec{
		caution(job.FloorAndExhaust, "Exhaust COLD, spill pan and pads under",
			"Oil burns on a hot exhaust. Breather shut now, if in reach: less gushes.").when(pushRound),
		{
			Topic: job.WasherFitted, Options: washerOptions,
			AskOf: askWasher,
			Why:   "ONE, faces wiped, a seam to the plug's head. An old one left on leaks.",
		},
		{Topic: job.PlugSeated, Ask: "Plug is IN", Why: "If it binds, back it out: a crossed thread costs the case."},
		{
			Topic: job.TightenedHow, Options: tightenOptions, OptionsOf: tightenChoices,
			Ask: "Tightened",
			Why: "The maker's figure for this plug and washer. Too tight strips the case.",
		},
		caution(job.BreatherReopened, "Breather OPEN again", "Left shut, the first warm drive blows the seals.").when(drainOnly),
	}
}

// saidDryInHaste voids "nothing escaped" once a second look found some.
func saidDryInHaste(s *Known, p job.Place, e job.Entry) bool {
	return e.Value.Choice == job.EscapeNone && s.Choice(p.Of(job.NothingEscaped)) == job.NoneSome &&
		s.SeqOf(p.Of(job.NothingEscaped)) > e.Seq
}

// plugName is the plug that is seated at the end of a round: at the top where
// oil went in at the top.
func plugName(s *Known, p job.Place) string {
	if s.Path() == job.OverflowTube {
		return "check plug"
	}
	if s.Path() != job.Dipstick && s.Path().PouredIn() && addRound(s, p) {
		return "fill plug"
	}
	return "drain plug"
}

func askWasher(s *Known, p job.Place) string {
	if s.Path() == job.Dipstick {
		return "Stick back in; the drain plug is in with"
	}
	name := plugName(s, p)
	return strings.ToUpper(name[:1]) + name[1:] + " is IN, with"
}

// tightenChoices name the torque of the drain plug, where one was noted.
func tightenChoices(s *Known, p job.Place) []Option {
	options := slices.Clone(tightenOptions)
	figure := job.TorqueFigure
	if plugName(s, p) == "fill plug" {
		figure = job.FillTorque
	}
	if nm, ok := s.Num(job.Place{Topic: figure}); ok {
		options[0].Label += ", " + s.Show(nm, job.DimNm)
	}
	return options
}
