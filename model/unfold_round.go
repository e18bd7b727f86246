package model

// This file unfolds the numbers of a round: what to load, what went in, and
// the verdict.

import (
	"fmt"
	"strings"

	"garage/tundish/model/measure"
)

// inRounds brings a round that the job does not have to the nearest it has.
func (s *State) inRounds(round int) int { return min(max(round, 0), s.Round()) }

// pushName names a round.
func pushName(round int) string {
	if round == 0 {
		return "the first push"
	}
	return fmt.Sprintf("push %d", round+1)
}

// UnfoldPreload unfolds what to load in a round: what is needed, what hose,
// vessel and swap take, rounded up to the vessel's marks. In a round that lets
// oil out it unfolds what to let out.
func (s *State) UnfoldPreload(round int) Sum {
	round = s.inRounds(round)
	if s.RoundKind(round) == RoundLetsOut {
		return s.unfoldLetOut(round)
	}
	b := s.sumUp("What to load")
	whole, plan, err := s.plansOf(round)
	if err != nil {
		return b.open(sentence(err.Error()))
	}
	b.begin("needed in the unit", whole.Target, "")
	if round > 0 {
		b.minus("in the unit by the ledger", s.NetFill(round-1), "")
		b.equals("missing", "")
	}
	if plan.SurplusML > 0 {
		b.plus("so that it weeps", measure.Exact(plan.SurplusML), "twice the doubt of what is needed")
	}
	b.plus("the hose keeps", s.hoseWillTake(round), s.hoseBeforeNote(round))
	b.plus("the vessel cannot push out", s.heel(), "")
	b.plus("will escape", s.escapeIn(round), escapeNote(round))
	b.equals("charge", "")
	up := measure.Exact(plan.PreloadML - plan.Charge.Nominal)
	b.plus("rounded up", up, s.roundingNote())
	b.equals("load", "")
	return b.end(s, plan.Charge.Add(up))
}

func (s *State) roundingNote() string {
	if step, ok := s.num(Place{Topic: VesselGraduation}); ok && step > 0 {
		return "marks every " + s.Units().FormatVolume(step)
	}
	return ""
}

// hoseBeforeNote says why the hose is planned to keep oil or not.
func (s *State) hoseBeforeNote(round int) string {
	switch {
	case s.Path() == LevelPort:
		return ""
	case s.hoseBefore(round) == HoseFull:
		return "full before: what goes in comes out"
	}
	return "starts dry, is left full"
}

func escapeNote(round int) string {
	if round > 0 {
		return "two swaps: adapter in, plug in"
	}
	return ""
}

// hoseNote says why the hose kept oil, gave it or did neither.
func (s *State) hoseNote(round int) string {
	switch before, after := s.hoseBefore(round), s.hoseAfter(round); {
	case s.Path() == LevelPort:
		return ""
	case after == HoseRanBack:
		return "run back into the vessel: a film stays"
	case after == HoseRanToPan:
		return "run into the pan, counted there: a film stays"
	case before == HoseFull && after == HoseLeftFull:
		return "full before and after: cancels"
	case before == HoseFull:
		return "full before, empty after"
	case after == HoseLeftFull:
		return "dry before, full after"
	}
	return "dry before, empty after"
}

func (s *State) unfoldLetOut(round int) Sum {
	b := s.sumUp("What to let out")
	plan, _, err := s.plansOf(0)
	if err != nil {
		return b.open(sentence(err.Error()))
	}
	net := s.NetFill(round - 1)
	b.begin("in the unit by the ledger", net, "")
	b.minus("needed in the unit", plan.Target, "")
	b.equals("to let out", "")
	return b.end(s, net.Sub(plan.Target))
}

// UnfoldNet unfolds what is in the unit by the ledger after a round, above
// what the drain left behind.
func (s *State) UnfoldNet(round int) Sum {
	round = s.inRounds(round)
	b := s.sumUp("What is in the unit by the ledger")
	if !s.hasIn(LoadedAmount, 0) {
		return b.open("Nothing has been loaded yet.")
	}
	if s.RoundKind(round) == RoundAdds && !s.hasIn(LeftInVessel, round) {
		return b.open("It is known once what is left in the vessel is measured.")
	}
	var stays []measure.Value
	for r := range round + 1 {
		var v measure.Value
		if s.RoundKind(r) == RoundAdds {
			v = s.unfoldPush(b, r)
		}
		stays = append(stays, v)
	}
	if round == 0 && nothing(s.LetOutML(0)) {
		b.Terms[len(b.Terms)-1].Label = "in the unit"
		return b.end(s, s.NetFill(round))
	}
	b.begin("by "+pushName(0), stays[0], "")
	b.minus("let out", s.LetOutML(0), "")
	for r := 1; r <= round; r++ {
		b.plus("by "+pushName(r), stays[r], "")
		p := Place{Round: r}
		b.minus("let out", s.LetOutML(r), s.readNote(LetOutWith, LetOutAmount, NoTopic, p))
		if s.RoundKind(r) == RoundLetsOut {
			s.unfoldEscaped(b, r)
		}
	}
	b.equals("in the unit", "")
	return b.end(s, s.NetFill(round))
}

// unfoldPush adds the sum of one push.
func (s *State) unfoldPush(b *summing, round int) measure.Value {
	loaded, left := s.Loaded(round), s.left(round)
	p := Place{Round: round}
	b.begin("loaded for "+pushName(round), loaded, s.loadedNote(round))
	leftNote := s.readNote(LeftWith, LeftInVessel, LoadedTemperature, p)
	if !s.hasIn(LeftInVessel, round) {
		leftNote = "not measured yet"
	}
	b.minus("left in the vessel", left, leftNote)
	balance := s.Balance(round)
	b.plus("moved by the balance", balance.Passed.Sub(loaded.Sub(left)), balanceNote(balance))
	b.equals("left the vessel", "")
	if took := s.hoseTook(round); took.Nominal < 0 {
		b.plus("given by the hose", took.Scale(-1), s.hoseNote(round))
	} else if s.hasIn(HoseAfter, round) {
		b.minus("kept by the hose", took, s.hoseNote(round))
	}
	s.unfoldEscaped(b, round)
	return b.equals("stays in the unit", "")
}

func (s *State) loadedNote(round int) string {
	var notes []string
	for i := range s.items(LoadedAmount, round) {
		notes = append(notes, s.readNote(LoadedWith, LoadedAmount, LoadedTemperature, Place{Round: round, Item: i}))
	}
	return strings.Join(notes, "; ")
}

func balanceNote(b RoundBalance) string {
	switch {
	case b.Streams < 2:
		return ""
	case len(b.Suspects) == 1:
		return "without " + b.Suspects[0] + ", which is in doubt"
	case b.Fails():
		return "between " + strings.Join(b.Suspects, " and ") + ", which contradict each other"
	}
	return fmt.Sprintf("%d measures of the same oil, weighed against each other", b.Streams)
}

func (s *State) unfoldEscaped(b *summing, round int) {
	p := Place{Round: round}
	b.minus("escaped round the adapter", s.amount(EscapedAtCapWith, EscapedAtCap, NoTopic, p), s.readNote(EscapedAtCapWith, EscapedAtCap, NoTopic, p))
	b.minus("ran over at the level hole", s.amount(OverflowCaughtWith, OverflowCaught, NoTopic, p), s.readNote(OverflowCaughtWith, OverflowCaught, NoTopic, p))
	for i := range s.items(EscapedHow, round) {
		p := Place{Round: round, Item: i}
		b.minus("escaped at the swap", s.caught(swapCatch, p), s.caughtNote(swapCatch, p))
	}
	for i := range s.items(LeakCheck, round) {
		p := Place{Round: round, Item: i}
		b.minus("lost by a plug that wept", s.caught(leakCatch, p), s.caughtNote(leakCatch, p))
	}
}

// caughtNote says how it is known what got out; "" where nothing was asked.
func (s *State) caughtNote(c catch, p Place) string {
	switch s.choice(p.of(c.how)) {
	case "":
		return ""
	case escapeCaught:
		return s.readNote(c.with, c.amount, NoTopic, p)
	case escapeGuess:
		return "a guess"
	case escapeDamp:
		return "only damp"
	case escapeNone:
		return s.noneNote(p)
	case escapePads:
		before, _ := s.num(p.of(c.padsBefore))
		after, ok := s.num(p.of(c.padsAfter))
		if !ok {
			return "not measured yet"
		}
		return fmt.Sprintf("pads: %s - %s", s.show(after, DimG), s.show(before, DimG))
	}
	return ""
}

// noneNote says what "nothing escaped" is worth.
func (s *State) noneNote(p Place) string {
	switch {
	case !s.asksNothingEscaped(p):
		return "nothing escaped"
	case s.looksDry(p):
		return "looked again: dry"
	}
	return "said to be nothing, not looked at again: as usual"
}

// UnfoldVerdict unfolds the verdict after a round: what is in the unit less
// what it needs, and how probably that lies in the window. The error is that of
// Verdict.
func (s *State) UnfoldVerdict(round int) (Sum, error) {
	round = s.inRounds(round)
	v, err := s.Verdict(round)
	if err != nil {
		return Sum{}, err
	}
	plan, err := s.Plan(0)
	if err != nil {
		return Sum{}, err
	}
	b := s.sumUp("How far off it is")
	net := s.NetFill(round)
	b.begin("in the unit by the ledger", net, "")
	b.minus("needed", plan.Target, "")
	off := b.equals("off by", "")
	level := s.LevelSeen(round) || s.belowHole(round)
	if level {
		s.unfoldLevel(b, off, v, round)
	}
	u := s.Units()
	b.fact("Anything from %s to %s is right.", signed(u.FormatVolume, plan.Low-plan.Target.Nominal), signed(u.FormatVolume, plan.High-plan.Target.Nominal))
	low, within, high := v.Chances()
	b.fact("Too low: %s. Right: %s. Too high: %s.", low, within, high)
	b.fact("Verdict: %s.", v.Word)
	sum := b.end(s, v.Error)
	if jug := cancelling(net, off); jug != "" && !level {
		sum.Advice = strings.TrimSpace(sum.Advice + " " + sentence(jug+" measured out and in: its own error cancels"))
	}
	return sum, nil
}

// unfoldLevel adds what the level hole says: it is weighed in, or, where it
// contradicts the sums, leaves them in doubt.
func (s *State) unfoldLevel(b *summing, off measure.Value, v Verdict, round int) {
	b.fact("The sums and the level hole are %.1f standard uncertainties apart; above %g they contradict each other.", v.LevelZ, ConflictZ)
	level, name := s.levelAtLip(), "the level seen"
	if s.belowHole(round) {
		level, name = s.levelBelow(off), "a level below"
	}
	switch {
	case v.LevelZ > ConflictZ:
		b.plus(contradictionStands, v.Error.Sub(off), standsNote)
		b.equals("off by", "")
	case level.Finite():
		b.meanOf(off, level, "that", name, "off by", "")
	}
}

// signed prints a number with its sign.
func signed(format func(float64) string, x float64) string {
	if x > 0 {
		return "+" + format(x)
	}
	return format(x)
}
