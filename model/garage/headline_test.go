package garage

import (
	"testing"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
	"garage/tundish/model/verdict"
)

// At every moment of simulated jobs the one word says neither more nor less than
// the odds and the state of the unit: RIGHT is what counts as PROVEN once it is
// accepted, and nothing else is; LOW and HIGH are that in 80 of 100.
func TestHeadlineHolds(t *testing.T) {
	t.Parallel()
	seen := map[verdict.Headword]int{}
	for seed := range uint64(sized(80, 400)) {
		slips := Of(alone[seed%uint64(len(alone))], beside[seed%uint64(len(beside))])
		if seed%4 == 0 {
			slips = 0
		}
		err := New(Config{Seed: seed, Slips: slips}).Play(func(r Result) bool {
			if round, ok := r.State.JudgedRound(); ok {
				seen[checkHeadline(t, seed, r.State, round)]++
			}
			return true
		})
		if err != nil {
			t.Errorf("job %d with %v: %v", seed, slips, err)
		}
	}
	t.Logf("moments with each word: %v", seen)
	for w := verdict.NotSure; w <= verdict.LevelDisputed; w++ {
		if seen[w] == 0 {
			t.Errorf("never %v: too few jobs to show anything", w)
		}
	}
}

func checkHeadline(t *testing.T, seed uint64, s *guide.Guide, round int) verdict.Headword {
	t.Helper()
	h, err := s.Headline(round)
	plan, err2 := s.Plan(0)
	if err != nil || err2 != nil {
		return verdict.NotSure
	}
	aim, in := plan.Target.Nominal, h.Verdict.Error
	low, within, high := measure.Probability(in, plan.Low-aim, plan.High-aim)
	next, more := s.Next() // a decision that what followed has made void is asked for again
	state, accepted := s.UnitState(), s.Decision(round) == job.DecideAccept && !(more && next.Topic == job.Decision)
	holds := map[verdict.Headword]bool{
		verdict.Right:         within >= 0.95 && (!accepted || state == verdict.Proven),
		verdict.Likely:        within >= 0.80 && state != verdict.Proven,
		verdict.TooLow:        low >= 0.80 && !state.Settled(),
		verdict.TooHigh:       high >= 0.80 && !state.Settled(),
		verdict.NotSure:       state != verdict.Proven && (max(low, within, high) < 0.80 || s.Weeps()),
		verdict.LevelDisputed: !state.Settled() && s.LevelContradicts(job.Place{Round: round}),
	}
	if !holds[h.Word] {
		t.Errorf("job %d: %v, and it is %s: low %.2f, right %.2f, high %.2f", seed, h.Word, s.StateWords(), low, within, high)
	}
	return h.Word
}
