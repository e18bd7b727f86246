package model

// This file unfolds the numbers of a round: what to load, what went in, and
// the verdict.

import (
	"errors"
	"fmt"
	"strings"

	"garage/tundish/model/measure"
)

var errUndecided = errors.New("what came out and the stated quantity contradict each other: choose which one counts")

// inRounds brings a round that the job does not have to the nearest it has.
func (s *State) inRounds(round int) int { return min(max(round, 0), s.lastRound()) }

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
	took := s.hoseWillTake(round)
	if note := s.hoseNote(round); took.Nominal < 0 {
		b.minus("the hose gives", took.Scale(-1), note)
	} else {
		b.plus("the hose keeps", took, note)
	}
	b.plus("the vessel cannot push out", s.heel(), "")
	b.plus("will escape at the swap", s.escapeExpected(), "")
	b.equals("charge", "")
	up := measure.Exact(plan.PreloadML - plan.Charge.Nominal)
	b.plus("rounded up", up, s.roundingNote())
	b.equals("load", "")
	return b.end(s, plan.Charge.Add(up))
}

// plansOf are the plan of the whole fill and that of a round.
func (s *State) plansOf(round int) (whole, plan Plan, err error) {
	if whole, err = s.Plan(0); err != nil {
		return whole, plan, err
	}
	if whole.Undecided {
		return whole, plan, errUndecided
	}
	plan, err = s.Plan(round)
	return whole, plan, err
}

func (s *State) roundingNote() string {
	if step, ok := s.num(Place{Topic: VesselGraduation}); ok && step > 0 {
		return "marks every " + s.Units().FormatVolume(step)
	}
	return ""
}

// hoseNote says why the hose keeps, gives or does neither.
func (s *State) hoseNote(round int) string {
	if s.Path() == LevelPort {
		return ""
	}
	known := s.hasIn(HoseBefore, round)
	switch before, after := s.hoseBefore(round), s.hoseAfter(round); {
	case !s.hasIn(HoseAfter, round) && known && before == HoseFull:
		return "full before: what goes in comes out"
	case !s.hasIn(HoseAfter, round):
		return "starts dry, is left full"
	case before == after && before == HoseFull:
		return "full before and after: cancels"
	case before == after:
		return "dry before, blown clear after"
	case after == HoseFull:
		return "dry before, full after"
	}
	return "full before, blown clear after"
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
	var stays []ml20
	for r := range round + 1 {
		var v ml20
		if s.RoundKind(r) == RoundAdds || s.hasIn(LoadedAmount, r) {
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
	}
	b.equals("in the unit", "")
	return b.end(s, s.NetFill(round))
}

// unfoldPush adds the sum of one push.
func (s *State) unfoldPush(b *summing, round int) ml20 {
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
	case b.Fails():
		return "without " + b.Suspect + ", which is in doubt"
	}
	return fmt.Sprintf("%d measures of the same oil, weighed against each other", b.Streams)
}

func (s *State) unfoldEscaped(b *summing, round int) {
	p := Place{Round: round}
	b.minus("escaped round the adapter", s.amount(EscapedAtCapWith, EscapedAtCap, NoTopic, p), s.readNote(EscapedAtCapWith, EscapedAtCap, NoTopic, p))
	b.minus("ran over at the level hole", s.amount(OverflowCaughtWith, OverflowCaught, NoTopic, p), s.readNote(OverflowCaughtWith, OverflowCaught, NoTopic, p))
	for i := range s.items(EscapedHow, round) {
		p := Place{Round: round, Item: i}
		b.minus("escaped at the swap", s.escapedItem(p), s.escapedNote(p))
	}
}

func (s *State) escapedNote(p Place) string {
	how, _ := s.at(Place{EscapedHow, p.Round, p.Item})
	switch how.Value.Choice {
	case escapeCaught:
		return s.readNote(EscapedWith, EscapedAmount, NoTopic, p)
	case escapeGuess:
		return "a guess"
	case escapePads:
		before, _ := s.num(Place{PadsBefore, p.Round, p.Item})
		after, ok := s.num(Place{PadsAfter, p.Round, p.Item})
		if !ok {
			return "not measured yet"
		}
		return fmt.Sprintf("pads: %s - %s", s.show(after, DimG), s.show(before, DimG))
	}
	return "nothing escaped"
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
	if s.LevelSeen(round) {
		s.unfoldLevel(b, off, v)
	}
	u := s.Units()
	b.fact("Anything from %s to %s is right.", signed(u.FormatVolume, plan.Low-plan.Target.Nominal), signed(u.FormatVolume, plan.High-plan.Target.Nominal))
	b.fact("Too low: %s. Right: %s. Too high: %s.", percent(v.PLow), percent(v.PWithin), percent(v.PHigh))
	b.fact("Verdict: %s.", v.Word)
	sum := b.end(s, v.Error)
	if jug := cancelling(net, v.Error); jug != "" {
		sum.Advice = strings.TrimSpace(sum.Advice + " " + sentence(jug+" measured out and in: its own error cancels"))
	}
	return sum, nil
}

// unfoldLevel adds what a level seen at the hole says.
func (s *State) unfoldLevel(b *summing, off ml20, v Verdict) {
	u := max(levelUML, levelShareU*s.CapacityML())
	level := measure.Gaussian("level at the lip", 0, u)
	if _, _, err := measure.WeightedMean(off, level); err != nil {
		return
	}
	b.meanOf(off, level, "that", "the level seen at the hole", "off by", "")
	b.fact("The sums and the level seen are %.1f standard uncertainties apart.", v.LevelZ)
}

// signed prints a number with its sign.
func signed(format func(float64) string, x float64) string {
	if x > 0 {
		return "+" + format(x)
	}
	return format(x)
}
