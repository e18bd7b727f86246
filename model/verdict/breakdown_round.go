package verdict

// This file breaks down the numbers of a round: what to load, what went in, and
// the verdict.

import (
	"fmt"
	"math"
	"strings"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
)

// inRounds brings a round that the job does not have to the nearest it has.
func (s *Assessment) inRounds(round int) int { return min(max(round, 0), s.Round()) }

// pushName names a round.
func pushName(round int) string {
	if round == 0 {
		return "the first push"
	}
	return fmt.Sprintf("push %d", round+1)
}

// PreloadBreakdown breaks down what to load in a round: what is needed, what hose,
// vessel and swap take, rounded up to the vessel's marks. In a round that lets
// oil out it breaks down what to let out.
func (s *Assessment) PreloadBreakdown(round int) Breakdown {
	round = s.inRounds(round)
	if s.RoundKind(round) == job.RoundLetsOut {
		return s.letOutBreakdown(round)
	}
	b := s.newBreakdown("What to pour into the vessel")
	whole, plan, err := s.PlansOf(round)
	if err != nil {
		return b.open(sentence(err.Error()))
	}
	b.begin("aim", whole.Target, "")
	if round > 0 {
		b.minus("went in so far", plan.In, "")
		b.equals("missing", plan.Target)
	}
	if plan.SurplusML > 0 {
		b.plus("so that it weeps", measure.Exact(plan.SurplusML), "twice the give or take of aim, level hole and vessel")
	}
	b.plus("the hose keeps", plan.HoseTakes, s.hoseBeforeNote(round))
	b.plus("below the vessel's tube", plan.Heel, "")
	b.plus("will be spilled", plan.Escape, escapeNote(round))
	b.equals("together", plan.Charge)
	up := measure.Exact(plan.PreloadML - plan.Charge.Nominal)
	pour := plan.Charge.Add(up)
	b.plus("rounded up", up, s.roundingNote())
	b.equals("pour into the vessel", pour)
	return b.end(s, pour)
}

func (s *Assessment) roundingNote() string {
	if step, ok := s.Num(job.Place{Topic: job.VesselGraduation}); ok && step > 0 {
		return "marks every " + s.Units().FormatVolume(step)
	}
	return ""
}

// hoseBeforeNote says why the hose is planned to keep oil or not.
func (s *Assessment) hoseBeforeNote(round int) string {
	switch {
	case s.Path().PouredIn():
		return ""
	case s.HoseBefore(round) == job.HoseFull:
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
func (s *Assessment) hoseNote(round int) string {
	switch before, after := s.HoseBefore(round), s.HoseAfter(round); {
	case s.Path().PouredIn():
		return ""
	case after == job.HoseRanBack:
		return "run back into the vessel: a film stays"
	case after == job.HoseRanToPan:
		return "run into the pan, counted there: a film stays"
	case before == job.HoseFull && after == job.HoseLeftFull:
		return "full before and after: cancels"
	case before == job.HoseFull:
		return "full before, empty after"
	case after == job.HoseLeftFull:
		return "dry before, full after"
	}
	return "dry before, empty after"
}

func (s *Assessment) letOutBreakdown(round int) Breakdown {
	b := s.newBreakdown("What to drain off")
	whole, plan, err := s.PlansOf(round)
	if err != nil {
		return b.open(sentence(err.Error()))
	}
	over := plan.Target.Scale(-1)
	b.begin("went in so far", plan.In, "")
	b.minus("aim", whole.Target, "")
	b.equals("to drain off", over)
	return b.end(s, over)
}

// NetBreakdown breaks down what is in the unit by the ledger after a round, above
// what the drain left behind.
func (s *Assessment) NetBreakdown(round int) Breakdown {
	round = s.inRounds(round)
	b := s.newBreakdown("What went in")
	if !s.HasIn(job.LoadedAmount, 0) {
		return b.open("Nothing has been poured in yet.")
	}
	if s.RoundKind(round) == job.RoundAdds && !s.HasIn(job.LeftInVessel, round) {
		return b.open("It is known once what is left in the vessel is measured.")
	}
	for r := range round + 1 {
		if s.RoundKind(r) == job.RoundAdds {
			s.addPush(b, r)
		}
	}
	first, last := s.Put(0), s.Put(round)
	if round == 0 && Negligible(first.LetOut) {
		return b.end(s, last.Net)
	}
	b.begin("by "+pushName(0), first.In, "")
	b.minus("drained off", first.LetOut, "")
	for r := 1; r <= round; r++ {
		put := s.Put(r)
		if s.RoundKind(r) == job.RoundAdds {
			b.plus("by "+pushName(r), put.In, "")
		}
		b.minus("drained off", put.LetOut, s.readNote(job.LetOutAmount, job.Place{Round: r}))
		if s.RoundKind(r) == job.RoundLetsOut {
			s.addOut(b, put)
		}
	}
	b.equals("went in", last.Net)
	return b.end(s, last.Net)
}

// addPush adds the sum of one push.
func (s *Assessment) addPush(b *breakdownBuilder, round int) {
	put := s.Put(round)
	b.begin("poured in for "+pushName(round), put.Loaded, s.loadedNote(round))
	leftNote := s.readNote(job.LeftInVessel, job.Place{Round: round})
	if !s.HasIn(job.LeftInVessel, round) {
		leftNote = "not measured yet"
	}
	b.minus("left in the vessel", put.Left, leftNote)
	b.plus("by the second reading", put.Passed.Sub(put.Loaded.Sub(put.Left)), balanceNote(put.RoundBalance))
	b.equals("left the vessel", put.Passed)
	if put.Hose.Nominal < 0 {
		b.plus("given by the hose", put.Hose.Scale(-1), s.hoseNote(round))
	} else if s.HasIn(job.HoseAfter, round) {
		b.minus("kept by the hose", put.Hose, s.hoseNote(round))
	}
	s.addOut(b, put)
	b.equals("went in", put.In)
}

func (s *Assessment) loadedNote(round int) string {
	var notes []string
	for i := range s.Items(job.LoadedAmount, round) {
		notes = append(notes, s.readNote(job.LoadedAmount, job.Place{Round: round, Item: i}))
	}
	return strings.Join(notes, "; ")
}

func balanceNote(b estimate.RoundBalance) string {
	switch {
	case len(b.Streams) < 2:
		return ""
	case len(b.Suspects) == 1:
		return "without " + b.Suspects[0] + ", which is likely wrong"
	case b.Fails():
		return "between " + strings.Join(b.Suspects, " and ") + ", which contradict each other"
	}
	return fmt.Sprintf("%d measures of the same oil, weighed against each other", len(b.Streams))
}

// addOut adds what of a push is not in the unit.
func (s *Assessment) addOut(b *breakdownBuilder, put estimate.Put) {
	for _, a := range put.Out {
		switch a.At.Topic {
		case job.EscapedAtCap:
			b.minus("spilled at the adapter", a.Value, s.readNote(a.At.Topic, a.At))
		case job.OverflowCaught:
			b.minus("ran over at the level hole", a.Value, s.readNote(a.At.Topic, a.At))
		case job.EscapedHow:
			b.minus("spilled at the swap", a.Value, s.caughtNote(estimate.SwapCatch, a.At))
		default:
			b.minus("lost by a plug that wept", a.Value, s.caughtNote(estimate.LeakCatch, a.At))
		}
	}
}

// caughtNote says how it is known what got out; "" where nothing was asked.
func (s *Assessment) caughtNote(c estimate.Catch, p job.Place) string {
	switch s.Choice(p.Of(c.How)) {
	case "":
		return ""
	case job.EscapeCaught:
		return s.readNote(c.Amount, p)
	case job.EscapeGuess:
		return "a guess"
	case job.EscapeDamp:
		return "only damp"
	case job.EscapeNone:
		return s.noneNote(p)
	case job.EscapePads:
		before, _ := s.Num(p.Of(c.PadsBefore))
		after, ok := s.Num(p.Of(c.PadsAfter))
		if !ok {
			return "not measured yet"
		}
		return fmt.Sprintf("pads: %s - %s", s.Show(after, job.DimG), s.Show(before, job.DimG))
	}
	return ""
}

// noneNote says what "nothing spilled" is worth.
func (s *Assessment) noneNote(p job.Place) string {
	switch {
	case !s.AsksNothingEscaped(p):
		return "nothing spilled"
	case s.LooksDry(p):
		return "looked again: dry"
	}
	return "said to be nothing, not looked at again: as usual"
}

// VerdictBreakdown breaks down the verdict after a round: what is in the unit less
// what it needs, and how probably that lies in the window. The error is that of
// Verdict.
func (s *Assessment) VerdictBreakdown(round int) (Breakdown, error) {
	round = s.inRounds(round)
	v, err := s.Verdict(round)
	if err != nil {
		return Breakdown{}, err
	}
	plan, err := s.Plan(0)
	if err != nil {
		return Breakdown{}, err
	}
	b := s.newBreakdown("How far off it is")
	net := s.NetFill(round)
	off := net.Sub(plan.Target)
	b.begin("went in", net, "")
	b.minus("aim", plan.Target, "")
	b.equals("off by", off)
	if moved := v.BySums.Sub(off); !Negligible(moved) {
		b.plus("by all readings together", moved, "")
		b.equals("off by", v.BySums)
	}
	level := s.LevelLook(round).Looked != estimate.NotRead
	if level {
		s.addLevel(b, v, round)
	}
	if more := v.Error.Sub(v.known); !Negligible(more) {
		b.plus("judged, not measured", more, estimate.JudgedNote)
		b.equals("off by", v.Error)
	}
	u := s.Units()
	b.fact("Anything from %s to %s is right.", signed(u.FormatVolume, plan.Low-plan.Target.Nominal),
		signed(u.FormatVolume, plan.High-plan.Target.Nominal))
	b.fact("%s.", v.oddsText())
	s.assumed(b, v, round)
	b.fact("Verdict: %s.", s.headword(v))
	sum := b.end(s, v.Error)
	if jug := cancelling(net, off); jug != "" && !level {
		sum.Advice = strings.TrimSpace(sum.Advice + " " + sentence(jug+" measured out and in: its own error cancels"))
	}
	return sum, nil
}

// addLevel adds what the level hole says, or, where it contradicts the sums,
// the doubt that it leaves them in.
func (s *Assessment) addLevel(b *breakdownBuilder, v Verdict, round int) {
	b.fact("The readings and the level hole are %.1f standard uncertainties apart; above %g they contradict each other.", v.LevelZ,
		estimate.ConflictZ)
	name, note := "by the level seen", ""
	switch {
	case v.levelContradicts():
		name, note = estimate.ContradictionStands, standsNote
	case s.BelowHole(round):
		name = "by a level below the hole"
	case !s.LevelSeen(round):
		name = "by oil that ran on out of the tube"
	}
	b.plus(name, v.known.Sub(v.BySums), note)
	b.equals("off by", v.known)
}

// reckonedLong is for how many jobs a unit that started dry may go by sums alone
// until that is said (simulated units: beyond it the odds are said too high).
const reckonedLong = 3

// assumed says how much of a doubt is no reading, and what another residual would
// make of the fill.
func (s *Assessment) assumed(b *breakdownBuilder, v Verdict, round int) {
	if n := s.SinceDry(); n > reckonedLong {
		b.fact("By readings alone since it was dry, %d jobs ago: a level seen would put that right.", n-1)
	}
	granted := v.granted()
	if granted < mostOfIt {
		return
	}
	u := s.Units()
	whole := estimate.Coverage * v.Error.U()
	b.fact("Of ± %s only ± %s come from your readings; the rest is what the trade takes for granted, and the verdict holds if that does.",
		u.FormatVolume(whole), u.FormatVolume(whole*math.Sqrt(1-granted)))
	var with []string
	for _, c := range s.ifStays(v, round) {
		with = append(with, fmt.Sprintf("with %d %% staying inside it is off by %s, %d in 100 right", c.Percent,
			signed(u.FormatVolume, c.OffML), c.Odds))
	}
	if len(with) > 0 {
		b.fact("%s", sentence(strings.Join(with, "; ")))
	}
}

// signed prints a number with its sign.
func signed(format func(float64) string, x float64) string {
	if x > 0 {
		return "+" + format(x)
	}
	return format(x)
}
