package guide

import (
	"slices"
	"strings"
	"testing"

	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
)

// Each word of a verdict, with what stands below it and the state that it sets.
// Invented figures.
func TestHeadlineSaysOneWord(t *testing.T) {
	t.Parallel()
	short := weeper.with(script{job.LoadedAmount: {"1100", "600"}, job.LeftInVessel: {"600", "100"}, job.LevelWeeps: {"weeps"},
		job.OverflowCaught: {"0"}})
	unsure := small.with(script{job.EscapedHow: {"guess"}, job.EscapedAmount: {"110"}, job.LoadedAmount: {"685"},
		job.EscapeExpected: {"60-160"}, job.ToleranceTopic: {"30"}})
	stuck := vague.with(script{job.CapacityMeans: {"refill"}, job.ToleranceTopic: {"30"}, job.DrainedAmount: {"1000@20"},
		job.LoadedAmount: {"1075"}})
	for name, tt := range map[string]struct {
		lines                      script
		until                      job.Topic
		word                       verdict.Headword
		sentence, next, why, wants string
	}{
		"right, into a unit that kept some": {small, job.Decision, verdict.Right,
			"550 ml went in; 551 belong on top of what stayed (about 49): 1 short ± 47",
			"nothing to add, nothing to drain off", "", "FILLED, PROVEN"},
		"right at an oil change": {jobs["refill quantity, hose primed"], job.Decision, verdict.Right,
			"555 ml went in; 550 belong in at an oil change: 5 over ± 38", "nothing to add, nothing to drain off", "",
			"FILLED, PROVEN"},
		"right at the level hole": {level, job.Decision, verdict.Right,
			"560 ml went in; 558 belong in up to the level hole: 2 over ± 34", "nothing to add, nothing to drain off", "",
			"FILLED, PROVEN"},
		"likely": {example, job.Decision, verdict.Likely,
			"828 ml went in; 829 belong on top of what stayed (about 71): 1 short ± 69",
			"nothing to add, nothing to drain off", "most of the doubt: ", "ACCEPTED, LIKELY 85 in 100"},
		"95 and forbidden": {jobs["witnesses that contradict each other"], job.Decision, verdict.Likely,
			"550 ml went in; 552 belong on top of what stayed (about 48): 2 short ± 56", "nothing to add, nothing to drain off",
			"a contradiction was overruled", "ACCEPTED, LIKELY 93 in 100"},
		"dry start, with nothing beside the manual": {dry, job.Decision, verdict.Likely,
			"600 ml went in; 600 belong in a dry unit: 0 off ± 20", "nothing to add, nothing to drain off",
			"no second reading of what belongs in", "ACCEPTED, LIKELY 99 in 100"},
		"low": {small.with(script{job.LoadedAmount: {"540"}}), job.Decision, verdict.TooLow,
			"465 ml went in; 551 belong on top of what stayed (about 49): 86 short ± 46", "add 86 ml: 6 in 100 becomes 96", "",
			"LEFT LOW"},
		"high": {small.with(script{job.LoadedAmount: {"760"}}), job.Decision, verdict.TooHigh,
			"685 ml went in; 551 belong on top of what stayed (about 49): 134 over ± 47",
			"drain off 134 ml: 1 in 100 becomes 95", "", "LEFT HIGH"},
		"not sure, an amount gains": {vague.with(script{job.LoadedAmount: {"995"}}), job.Decision, verdict.NotSure,
			"920 ml went in; 957 belong on top of what stayed (about 84): 37 short ± 98", "add 37 ml: 46 in 100 becomes 57",
			"most of the doubt: ", "LEFT, NOT PROVEN"},
		"not sure, a reading would tell": {unsure, job.Decision, verdict.NotSure,
			"550 ml went in; 551 belong on top of what stayed (about 49): 1 short ± 70", "weigh the pads",
			"most of the doubt: ", "LEFT, NOT PROVEN"},
		"not sure, and nothing helps": {stuck, job.Decision, verdict.NotSure,
			"1000 ml went in; 1000 belong in at an oil change: 0 off ± 76", "nothing you can measure changes this",
			"most of the doubt: ", "ACCEPTED, NOT SURE: 57 in 100"},
		"a plug that weeps": {jobs["a plug that weeps, twice"], job.LeakedAmount, verdict.NotSure,
			"550 ml went in; 551 belong on top of what stayed (about 49): 1 short ± 47", "measure what the plug has lost",
			"what the plug lost is not measured", "LEFT, NOT PROVEN"},
		"disputed": {short, job.LevelLookedAgain, verdict.LevelDisputed,
			"500 ml went in; 984 belong in up to the level hole: 484 short ± 54; but the level says full",
			"look at the level again", "level and readings are 484 ml apart", "LEFT, NOT PROVEN"},
		"disputed, and it holds": {short.with(script{job.LevelLookedAgain: {job.LevelHolds}}), job.Decision, verdict.LevelDisputed,
			"500 ml went in; 984 belong in up to the level hole: 484 short ± 54; but the level says full",
			"add 484 ml by the readings", "level and readings are 484 ml apart", "LEFT, NOT PROVEN"},
	} {
		s := newDrive(t, tt.lines).until(tt.until)
		h, err := s.Headline(0)
		if err != nil || h.Word != tt.word || h.Sentence != tt.sentence || h.Sets != tt.wants {
			t.Errorf("%s: %v, %q, sets %s (%v); want %v, %q, %s", name, h.Word, h.Sentence, h.Sets, err, tt.word, tt.sentence, tt.wants)
		}
		why := strings.Join(h.Why, "; ")
		if !strings.Contains(h.Next, tt.next) || !strings.Contains(why, tt.why) || why != "" && tt.why == "" {
			t.Errorf("%s: next %q, because of %q; want %q, %q", name, h.Next, why, tt.next, tt.why)
		}
	}
}

// The word is what the state then says, whatever was done in the job.
func TestHeadlineIsTheState(t *testing.T) {
	t.Parallel()
	for _, name := range jobNames() {
		s := Fold(driven(t, name), Offers{})
		h, err := s.Headline(s.Round())
		if err != nil || !s.UnitState().Settled() && s.UnitState() != verdict.LeftOff {
			continue
		}
		if s.StateWords() != h.Sets {
			t.Errorf("%s: %v, to be %s, and it is %s", name, h.Word, h.Sets, s.StateWords())
		}
	}
}

// What was let stand by the owner as it was says on which side it is.
func TestLeftLowOrHigh(t *testing.T) {
	t.Parallel()
	for loaded, want := range map[string]string{"540": "LEFT LOW", "760": "LEFT HIGH", "625": "LEFT, NOT PROVEN"} {
		d := newDrive(t, small.with(script{job.LoadedAmount: {loaded}, job.Decision: {"leave"}, job.LeftWhy: {"no oil"}}))
		s := d.until(job.WasteOil)
		if s.UnitState() != verdict.LeftOff || s.StateWords() != want || s.Head().StateWords() != want {
			t.Errorf("%s loaded: %s, in lists %s; want %s", loaded, s.StateWords(), s.Head().StateWords(), want)
		}
	}
}

// Right only if the assumptions hold, and what other residuals make of it; of a
// unit to which they make nothing, neither. In US units too.
func TestHeadlineNamesItsAssumptions(t *testing.T) {
	t.Parallel()
	h, err := newDrive(t, example).until(job.Decision).Headline(0)
	want := []int{4, 12}
	if err != nil || !h.Assumes || h.Text() != "LIKELY if the assumptions hold" || len(h.Stays) != 2 ||
		!slices.Equal([]int{h.Stays[0].Percent, h.Stays[1].Percent}, want) {
		t.Errorf("%s, assumes %v, %s (%v)", h.Text(), h.Assumes, h.StaysText(), err)
	}
	stays := "80 in 100 with 4 % staying inside, 81 in 100 with 12 % staying inside"
	if h.Odds != "85 in 100 right, 8 too low, 7 too high" || h.StaysText() != stays {
		t.Errorf("%s; %s", h.Odds, h.StaysText())
	}
	h, err = newDrive(t, jobs["refill quantity, hose primed"]).until(job.Decision).Headline(0)
	if err != nil || h.StaysText() != "" {
		t.Errorf("%s (%v): a refill quantity needs to know nothing of what stays", h.StaysText(), err)
	}
	h, err = newDrive(t, jobs["in US units, on a scale"]).until(job.Decision).Headline(0)
	if err != nil || h.Sentence != "18.6 US fl oz went in; 18.7 belong on top of what stayed (about 1.6): 0.1 short ± 1.5" {
		t.Errorf("%q (%v)", h.Sentence, err)
	}
}
