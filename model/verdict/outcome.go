package verdict

// This file works out, from the folded entries, the plan and the verdict of
// each round, and in what state the unit and the job are.

import (
	"fmt"
	"math"
	"slices"
	"strings"
	"time"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
)

// Verdict compares the net fill after a round with the plan. Where oil weeps
// from a level hole, or stands below it, that counts as another measure; where it and
// the sums contradict each other, nothing is proven, not even once it was looked at again.
func (s *Assessment) Verdict(round int) (Verdict, error) {
	j := job.Recall(&s.memo.verdicts, round, func() judged { return s.judge(round) })
	return j.verdict, j.err
}

// JudgedRound is the round whose verdict stands: the last whose plug was seated,
// as long as the unit was not opened again since. Where none does it is false,
// and the round that the job is in.
func (s *Assessment) JudgedRound() (round int, ok bool) {
	for r := s.Round(); r >= 0 && s.PushBegun(0) && !s.RoundBegun(r+1); r-- {
		if s.HasIn(job.PlugSeated, r) {
			return r, true
		}
	}
	return s.Round(), false
}

// Judged is the verdict that stands; false where none does or can be given.
func (s *Assessment) Judged() (Verdict, bool) {
	r, ok := s.JudgedRound()
	if !ok {
		return Verdict{}, false
	}
	v, err := s.Verdict(r)
	return v, err == nil
}

func (s *Assessment) judge(round int) judged {
	plan, err := s.Plan(0)
	if err != nil {
		return judged{Verdict{}, err}
	}
	if plan.Undecided {
		return judged{Verdict{}, estimate.ErrNoBasis}
	}
	off, sums, z := s.Off(round)
	target := plan.Target.Nominal
	v := judgeOff(estimate.AsSaid(off), target, plan.Low-target, plan.High-target)
	v.BySums, v.known, v.LevelZ = sums, off, max(z, s.oldLevelZ(round))
	s.judgeLevel(&v, round)
	return judged{v, nil}
}

// judgeLevel says what to do where the level was looked at. Where it and the sums are
// further apart than both explain, neither confirms the other: once the level was looked
// at again, what is missing or too much by the sums is added or drained. Of a
// level below the hole or the tube, oil is added until it comes; one that was set out of
// the maker's window is off by what the oil shrinks or grows to it.
func (s *Assessment) judgeLevel(v *Verdict, round int) {
	look := s.LevelLook(round)
	near, far, out := s.OutOfWindow(round)
	switch running := s.Path().RunsEngine(); {
	case running && look.Looked == estimate.NotRead:
		v.Conformity, v.Act, v.ActML, v.MayDrive = NotProven, Remeasure, 0, false
	case running && s.stillDry(round):
		v.Conformity, v.Act, v.ActML, v.MayDrive = NotProven, Nothing, 0, false
	case look.Looked == estimate.ReadAt && out && s.Path() == job.OverflowTube:
		v.Conformity, v.Act, v.ActML = Low, AddOil, math.Round(-(near+far)/2)
		if near > 0 {
			v.Conformity, v.Act, v.ActML = High, LetOut, math.Round((near+far)/2)
		}
	case v.levelContradicts():
		v.Conformity, v.Act, v.ActML = Disputed, Remeasure, 0
		if s.Choice(job.At(job.LevelLookedAgain, round, 0)) == job.LevelHolds {
			v.Act, v.ActML = correction(v.Error.Nominal)
		} else {
			v.MayDrive = false
		}
	case look.Looked == estimate.ReadUnder && v.Conformity != High:
		v.Act, v.ActML = AddOil, math.Round(math.Max(-v.Error.Nominal, 0)+estimate.SurplusML(v.Error, s.LevelAtLip(), s.Heel()))
		if ml, ok := s.ToAddML(round); ok {
			v.ActML = ml
		}
	case look.Looked == estimate.ReadOver && v.Conformity != Low:
		v.Conformity, v.Act, v.ActML = High, LetOut, math.Round(math.Max(v.Error.Nominal-look.Off.Nominal, estimate.Coverage*v.Error.U()))
	}
}

// oldLevelZ is how far what went in less what came out is from the level that was read,
// until the level is set once more with the same result: then the old one was wrong.
func (s *Assessment) oldLevelZ(round int) float64 {
	if s.Choice(job.At(job.LevelLookedAgain, round, 0)) == job.LevelHolds {
		return 0
	}
	return s.everOldLevelZ(round)
}

// everOldLevelZ is the same however often the level was set.
func (s *Assessment) everOldLevelZ(round int) float64 {
	gap, ok := s.OldLevelGap(round)
	if !ok {
		return 0
	}
	return math.Abs(gap.Nominal) / gap.U()
}

// mostBeyondOut is how much more than came out goes into a unit that keeps all else
// before something is wrong, ml (one maker's step; trade judgement).
const mostBeyondOut = 650.0

// stillDry reports whether nothing came out of the overflow tube though far more went
// in than came out: the fault is in tube, lean or way in, or it leaks, and more oil is
// no remedy.
func (s *Assessment) stillDry(round int) bool {
	look, _ := s.TubeLook(round)
	return (look == job.TubeNothing || look == job.TubeWaves) && s.LevelLook(round).Looked == estimate.ReadUnder && !s.DrainedVoid() &&
		s.NetFill(round).Nominal-s.Drained().Total.Nominal >= mostBeyondOut
}

// UnitState is what is known of the oil in the unit.
func (s *Assessment) UnitState() UnitState {
	last := s.Round()
	switch {
	case !s.Emptied() && !s.PushBegun(0):
		return AsFound
	case s.Decision(last) == job.DecideAccept && s.plugsIn(last) && !s.Weeps() && s.decisionHolds(last):
		return s.AcceptedAs(last)
	case s.Decision(last) == job.DecideLeave && s.decisionHolds(last):
		return LeftOff
	case s.anythingIn():
		return Unproven
	}
	return Empty
}

// AcceptedAs is what an accepted fill counts as: proven only from 95 in 100 on,
// with nothing against it.
func (s *Assessment) AcceptedAs(round int) UnitState {
	if v, err := s.Verdict(round); err == nil && v.Conformity == Within && len(s.ForbidsProven()) == 0 {
		return Proven
	}
	return Accepted
}

// StateWords is the state of the unit in words, with the odds where it is
// accepted, and the side where it was left too low or too high.
func (s *Assessment) StateWords() string { return s.UnitState().Words(s.Odds(), s.LeftAs()) }

// LeftAs is Low or High where the owner left the fill so, else NotProven.
func (s *Assessment) LeftAs() Conformity {
	if s.UnitState() != LeftOff {
		return NotProven
	}
	if v, err := s.Verdict(s.Round()); err == nil && (v.Conformity == Low || v.Conformity == High) {
		return v.Conformity
	}
	return NotProven
}

// Odds is how probably an accepted fill is right, in 100; 0 where none is
// accepted.
func (s *Assessment) Odds() int {
	if !s.UnitState().Settled() {
		return 0
	}
	v, err := s.Verdict(s.Round())
	if err != nil {
		return 0
	}
	return v.Odds()
}

// anythingIn reports whether oil went in in any round, or may have.
func (s *Assessment) anythingIn() bool {
	for r := range s.Rounds() {
		nothing := s.HasIn(job.LeftInVessel, r) && s.Passed(r).Nominal < 1
		if s.PushBegun(r) && !nothing {
			return true
		}
	}
	return false
}

func (s *Assessment) decisionHolds(round int) bool {
	p := job.At(job.Decision, round, 0)
	e, ok := s.Answer(p)
	return ok && !s.DecisionStale(p, e)
}

func (s *Assessment) plugsIn(round int) bool {
	return s.HasIn(job.PlugSeated, round) && (!s.Path().PouredIn() || s.Has(job.DrainPlugIn))
}

// BreatherOpen reports whether the breather was opened again after the last swap.
func (s *Assessment) BreatherOpen() bool {
	return s.Path().PouredIn() || !s.Emptied() || s.HasIn(job.BreatherReopened, s.Round())
}

// Weeps reports whether a look after a drive found a plug or seal weeping, and
// what was lost is not measured yet.
func (s *Assessment) Weeps() bool { _, weeps := s.weeping(); return weeps }

// weeping is the look that found it, where what was lost is not measured yet.
func (s *Assessment) weeping() (job.Place, bool) {
	for r := range s.Rounds() {
		for p := (job.Place{Round: r}); s.WeepsAt(p); p.Item++ {
			switch {
			case s.MeasuredCatch(estimate.LeakCatch, p):
			case s.Choice(p.Of(job.LeakCheck)) == job.CheckWeeps:
				return p.Of(job.LeakCheck), true
			default:
				return p.Of(job.WasherRecheck), true
			}
		}
	}
	return job.Place{}, false
}

// StoppedByOwner reports whether the owner stopped the job: chips, or the wrong
// box.
func (s *Assessment) StoppedByOwner() bool {
	chips, ok1 := s.Answer(job.Place{Topic: job.ChipsDecision})
	box, ok2 := s.Answer(job.Place{Topic: job.WrongBoxDecision})
	return (ok1 && s.Debris() == Chunks && chips.Value.Choice == job.ChipsStop) ||
		(ok2 && s.WrongBox() && box.Value.Choice == job.BoxStop)
}

// MayDrive reports whether the car may be driven as things stand.
func (s *Assessment) MayDrive() bool {
	if s.Debris() == Chunks || !s.BreatherOpen() || s.Weeps() {
		return false
	}
	switch s.UnitState() {
	case Proven, Accepted, AsFound:
		return true
	case LeftOff:
		v, err := s.Verdict(s.Round())
		return err == nil && v.MayDrive && s.plugsIn(s.Round())
	}
	return false
}

// Due is when the next change is due, by date and by odometer; zero where not
// known. It counts from the job's start.
func (s *Assessment) Due() (at time.Time, km float64) {
	if months, ok := s.Num(job.Place{Topic: job.IntervalMonths}); ok && months > 0 && months <= MaxIntervalMonths {
		at = s.Started.AddDate(0, int(months), 0)
	}
	odo, ok1 := s.Num(job.Place{Topic: job.Odometer})
	every, ok2 := s.Num(job.Place{Topic: job.IntervalKm})
	if ok1 && ok2 {
		km = odo + every
	}
	return at, km
}

// UnitState says what is known of the oil in the unit.
type UnitState uint8

// The states of a unit, as a job leaves it.
const (
	AsFound  UnitState = iota // the drain plug has not been out
	Empty                     // plug out, or in again, with nothing put back
	Unproven                  // oil put in, amount not accepted yet
	Proven                    // plug seated and net fill accepted: within, and nothing against it
	LeftOff                   // left unproven, with the owner's reason
	Accepted                  // plug seated and net fill accepted, likely right but not proven
	NumUnitStates
)

var unitStateTokens = [NumUnitStates]string{"as_found", "empty", "unproven", "proven", "left_unproven", "accepted"}

var unitStateWords = [NumUnitStates]string{"AS FOUND", "EMPTY", "NOT PROVEN", "FILLED, PROVEN", "LEFT, NOT PROVEN", "ACCEPTED"}

// String is the state in the words that every screen and list uses; of a fill
// that was accepted or left, Words says more.
func (s UnitState) String() string {
	if s < NumUnitStates {
		return unitStateWords[s]
	}
	return fmt.Sprintf("unit state %d", uint8(s))
}

// Words is the state with the odds, in 100, that a fill which is accepted but
// not proven is right, 0 where they are not known; and of one that was left,
// whether Low or High. One that nothing could make likely is accepted as not
// sure.
func (s UnitState) Words(odds int, left Conformity) string {
	switch {
	case s == Accepted && odds != 0 && odds < 100*probablyLikely:
		return fmt.Sprintf("%s, %s: %d in 100", s, NotSure, odds)
	case s == Accepted && odds != 0:
		return fmt.Sprintf("%s, %s %d in 100", s, Likely, odds)
	case s == LeftOff && (left == Low || left == High):
		return "LEFT " + strings.ToUpper(left.String())
	}
	return s.String()
}

// Settled reports whether the fill was accepted, proven or not.
func (s UnitState) Settled() bool { return s == Proven || s == Accepted }

// MarshalText writes the state's name in files.
func (s UnitState) MarshalText() ([]byte, error) {
	if s >= NumUnitStates {
		return nil, fmt.Errorf("unit state %d has no name", uint8(s))
	}
	return []byte(unitStateTokens[s]), nil
}

// UnmarshalText reads a state's name.
func (s *UnitState) UnmarshalText(text []byte) error {
	return job.UnmarshalToken(s, unitStateTokens[:], text, "unit state")
}

// Acceptable reports whether a fill can be accepted: where it is likely
// right, or as likely as anything can make it and good enough to be driven.
func Acceptable(v Verdict) bool {
	return v.Conformity == Within || v.Conformity == LikelyWithin || v.Conformity == NotProven && v.Act == Nothing && v.MayDrive
}

// DecisionStale asks again for a decision whose verdict has changed, unless
// the unit was opened again for it: work that was done is not undone.
func (s *Assessment) DecisionStale(p job.Place, e job.Entry) bool {
	if s.RoundBegun(p.Round + 1) {
		return false
	}
	v, err := s.Verdict(p.Round)
	if s.Decision(p.Round) == job.DecideAccept && (err != nil || !Acceptable(v)) {
		return true
	}
	return estimate.MovedOn(e.Value.Number, s.ErrorML(p)) && estimate.MovedOn(s.decidedOf(e).ErrorML(p), s.ErrorML(p))
}

// decidedOf is the job as it stood before a decision, with the distance driven as it is
// known now: that is noted when the work is done, and nothing is decided anew for it.
func (s *Assessment) decidedOf(e job.Entry) *Assessment {
	then := s.AsOf(e)
	odometer, ok := s.Answer(job.Place{Topic: job.Odometer})
	if !ok || odometer.Seq < e.Seq {
		return then
	}
	entries, _ := then.Ledger()
	odometer.Seq, odometer.Strikes = len(entries)+1, 0
	return New(job.Job{ID: s.ID, Started: s.Started, Entries: append(slices.Clip(entries), odometer)}, s.before)
}

// AsOf is the job as it stood before an entry of it. So it can be told whether
// the figures that an answer was given for have changed since, whatever an
// earlier form of this program made of the same readings.
func (s *Assessment) AsOf(e job.Entry) *Assessment {
	return job.Recall(&s.memo.asOf, e.Seq, func() *Assessment {
		entries, _ := s.Ledger()
		return New(job.Job{ID: s.ID, Started: s.Started, Entries: entries[:e.Seq-1]}, s.before)
	})
}

// ErrorML is how far the fill is off, ml, as the verdict has it: the number
// that a decision is made for.
func (s *Assessment) ErrorML(p job.Place) float64 {
	v, _ := s.Verdict(p.Round)
	return v.Error.Nominal
}

// SumsErrorML is the same by all but the level hole.
func (s *Assessment) SumsErrorML(p job.Place) float64 {
	v, _ := s.Verdict(p.Round)
	return v.BySums.Nominal
}

func (s *Assessment) LevelContradicts(p job.Place) bool {
	v, _ := s.Verdict(p.Round)
	return v.levelContradicts()
}

const MaxIntervalMonths = 240
