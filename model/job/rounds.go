package job

// This file says which rounds of filling there are, and which way each goes.

// RoundKind says which way a round goes.
type RoundKind uint8

const (
	RoundAdds RoundKind = iota
	RoundLetsOut
)

// RoundKind is that of a round: the first adds, the others do what was done, or
// else decided.
func (s *State) RoundKind(round int) RoundKind {
	switch {
	case round == 0 || s.HasIn(AdapterIn, round) || s.FillBegun(round):
		return RoundAdds
	case s.HasIn(LetOutAmount, round) || s.Decision(round-1) == DecideLetOut:
		return RoundLetsOut
	}
	return RoundAdds
}

// Rounds is how many rounds of filling there are: the first, and one more for
// each decision to correct. A round in which the unit was opened stays, even
// where the decision before it is taken back: the oil is in, or out.
func (s *State) Rounds() int {
	return s.memo.rounds.Get(func() int {
		n := 1
		for n <= MaxIndex && (s.decidedToCorrect(n-1) || s.RoundBegun(n)) {
			n++
		}
		return n
	})
}

func (s *State) decidedToCorrect(round int) bool {
	d := s.Decision(round)
	return d == DecideAdd || d == DecideLetOut
}

// RoundBegun reports whether the unit was opened for a round: what is done is
// done, whatever is corrected before it.
func (s *State) RoundBegun(round int) bool {
	return s.HasIn(AdapterIn, round) || s.PushBegun(round)
}

// PushBegun reports whether oil has gone in or out in a round; FillBegun, in.
func (s *State) PushBegun(round int) bool {
	return s.FillBegun(round) || s.HasIn(LetOutAmount, round) || s.HasIn(EngineOn, round)
}

func (s *State) FillBegun(round int) bool {
	return s.HasIn(FillReading, round) || s.HasIn(FillEnded, round)
}

// Round is the round that the job is in: 0 the first fill.
func (s *State) Round() int { return s.Rounds() - 1 }

// Pushes reports whether oil is pushed in through a hose in a round.
func (s *State) Pushes(round int) bool {
	return s.RoundKind(round) == RoundAdds && !s.Path().PouredIn()
}

// WeepsAt reports whether a look after a drive found a plug or seal weeping.
func (s *State) WeepsAt(p Place) bool {
	return s.Choice(p.Of(LeakCheck)) == CheckWeeps || s.Choice(p.Of(WasherRecheck)) == CheckWeeps
}
