package guide

// This file asks for the swap from cap to plug: washer, plug, breather, what
// escaped and how the plug was tightened. It is asked once a round.

import (
	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
)

func seatBlocks() []block {
	escaped := caughtSpecs(estimate.SwapCatch, "What escaped at the swap: how was it measured?", "Escaped at the swap?", escapeOptions,
		pushRound)
	escaped[0].Stale = saidDryInHaste
	escaped = append(escaped, Spec{
		Topic: job.NothingEscaped, Options: noneOptions, When: (*Guide).AsksNothingEscaped,
		Stale: func(s *Guide, p job.Place, e job.Entry) bool { return e.Seq < s.SeqOf(p.Of(job.EscapedHow)) },
		Ask:   "Nothing at all? Look at pan, pads and floor once more",
		Why:   "Oil stands above the port: a swap without a drop is rare.",
	}, Spec{
		Topic: job.EscapedMore, Options: moreOptions, Default: offering(job.Value{Choice: job.MoreDone}),
		When: func(s *Guide, p job.Place) bool {
			return pushRound(s, p) && s.Choice(p.Of(job.EscapedHow)) != job.EscapeNone
		},
		Ask: "Did more escape, measured another way?",
	})
	return []block{
		once(swapSpecs()...),
		again(escaped...),
		once(Spec{
			Topic: job.TightenedHow, Options: tightenOptions,
			AskOf: askTighten,
			Why:   "The maker's figure for this plug and washer. Too tight strips the case.",
		}),
	}
}

func swapSpecs() []Spec {
	return []Spec{
		caution(job.FloorAndExhaust, "Exhaust cold, pan and pads under, plug and washer on fingertips",
			"Oil burns on a hot exhaust. Breather shut now, if in reach: less gushes.").when(pushRound),
		{
			Topic: job.WasherFitted, Options: washerOptions,
			AskOf: askWasher,
			Why:   "An old washer stuck to the case makes two, and they leak.",
		},
		{
			Topic: job.PlugSeated,
			AskOf: func(s *Guide, p job.Place) string {
				return "The " + plugName(s, p) + " in by hand, then seated: press the key"
			},
			Why: "If it binds, back it out: a crossed thread costs the case.",
		},
		caution(job.BreatherReopened, "Breather OPEN again", "Left shut, the first warm drive blows the seals.").when(drainOnly),
	}
}

// saidDryInHaste voids "nothing escaped" once a second look found some.
func saidDryInHaste(s *Guide, p job.Place, e job.Entry) bool {
	return e.Value.Choice == job.EscapeNone && s.Choice(p.Of(job.NothingEscaped)) == job.NoneSome &&
		s.SeqOf(p.Of(job.NothingEscaped)) > e.Seq
}

// plugName is the plug that is seated at the end of a round: at the top where
// oil went in at the top.
func plugName(s *Guide, p job.Place) string {
	if s.Path() == job.LevelPort && addRound(s, p) {
		return "fill plug"
	}
	return "drain plug"
}

func askWasher(s *Guide, p job.Place) string {
	if name := s.Text(job.WasherKind); name != "" && plugName(s, p) == "drain plug" {
		return "The washer: " + name
	}
	return "The washer of the " + plugName(s, p)
}

func askTighten(s *Guide, p job.Place) string {
	if nm, ok := s.Num(job.Place{Topic: job.TorqueFigure}); ok && plugName(s, p) == "drain plug" {
		return "Tightened to " + s.Units().FormatTorque(nm) + "?"
	}
	return "The " + plugName(s, p) + ": how was it tightened?"
}
