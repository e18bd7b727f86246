package model

// This file asks for the swap from cap to plug: washer, plug, breather, what
// escaped and how the plug was tightened. It is asked once a round.

func seatBlocks() []block {
	escaped := caughtSpecs(swapCatch, "What escaped at the swap: how was it measured?", "Escaped at the swap?", escapeOptions, pushRound)
	escaped[0].Stale = saidDryInHaste
	escaped = append(escaped, Spec{
		Topic: NothingEscaped, Options: noneOptions, When: (*State).asksNothingEscaped,
		Stale: func(s *State, p Place, e Entry) bool { return e.Seq < s.seqOf(p.of(EscapedHow)) },
		Ask:   "Nothing at all? Look at pan, pads and floor once more",
		Why:   "Oil stands above the port: a swap without a drop is rare.",
	}, Spec{
		Topic: EscapedMore, Options: moreOptions, Default: offerChoice(moreDone),
		When: func(s *State, p Place) bool { return pushRound(s, p) && s.choice(p.of(EscapedHow)) != escapeNone },
		Ask:  "Did more escape, measured another way?",
	})
	return []block{
		once(swapSpecs()...),
		again(escaped...),
		once(Spec{
			Topic: TightenedHow, Options: tightenOptions,
			AskOf: askTighten,
			Why:   "The maker's figure for this plug and washer. Too tight strips the case.",
		}),
	}
}

func swapSpecs() []Spec {
	return []Spec{
		{
			Topic: FloorAndExhaust, Safety: true, When: pushRound,
			Ask: "Exhaust cold, pan and pads under, plug and washer on fingertips",
			Why: "Oil burns on a hot exhaust. Breather shut now, if in reach: less gushes.",
		},
		{
			Topic: WasherFitted, Options: washerOptions,
			AskOf: askWasher,
			Why:   "An old washer stuck to the case makes two, and they leak.",
		},
		{
			Topic: PlugSeated,
			AskOf: askSeated,
			Why:   "If it binds, back it out: a crossed thread costs the case.",
		},
		{
			Topic: BreatherReopened, Safety: true, When: drainOnly,
			Ask: "Breather OPEN again",
			Why: "Left shut, the first warm drive blows the seals.",
		},
	}
}

// saidDryInHaste voids "nothing escaped" once a second look found some.
func saidDryInHaste(s *State, p Place, e Entry) bool {
	return e.Value.Choice == escapeNone && s.choice(p.of(NothingEscaped)) == noneSome && s.seqOf(p.of(NothingEscaped)) > e.Seq
}

// plugName is the plug that is seated at the end of a round: at the top where
// oil went in at the top.
func plugName(s *State, p Place) string {
	if s.Path() == LevelPort && addRound(s, p) {
		return "fill plug"
	}
	return "drain plug"
}

func askWasher(s *State, p Place) string {
	if name := s.Text(WasherKind); name != "" && plugName(s, p) == "drain plug" {
		return "The washer: " + name
	}
	return "The washer of the " + plugName(s, p)
}

func askSeated(s *State, p Place) string {
	return "The " + plugName(s, p) + " in by hand, then seated: press the key"
}

func askTighten(s *State, p Place) string {
	if nm, ok := s.num(Place{Topic: TorqueFigure}); ok && plugName(s, p) == "drain plug" {
		return "Tightened to " + s.Units().FormatTorque(nm) + "?"
	}
	return "The " + plugName(s, p) + ": how was it tightened?"
}
