package estimate

// This file carries what is known of a unit from job to job: the level as the
// last job left it, the errors of jug and scale, what usually stays behind,
// escapes and is lost. Nothing of it is stored; it is worked out from the
// entries of all jobs.

import (
	"math"

	"garage/tundish/model/adjust"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
)

// earlier is the unit's last job that tells anything of it; nil where there is
// none.
func (s *Figures) earlier() *Figures { return s.memo.earlier.Get(s.findEarlier) }

func (s *Figures) findEarlier() *Figures {
	for b := s.before; b != nil; b = b.before {
		if _, ok := b.Capacity(); ok && (b.Emptied() || b.PushBegun(0)) && b.made().err == nil && b.fits(s) {
			return b
		}
	}
	return nil
}

// fits reports whether what another job states can be of the same unit. Names are
// typed, and two cars may have the same: a quantity that contradicts what is known
// is another unit's, or one corrected, and nothing goes on from it.
func (s *Figures) fits(other *Figures) bool {
	c, ok := other.Capacity()
	if !ok || s.statesTheSame(other) {
		return true
	}
	u := s.made().unit
	in := Stated{Capacity: c, Means: other.Meaning(), DryStart: other.DryStart(), Job: other.ID}
	return u.known.Z(in.right(u.Usual).Sub(u.Right)) <= ConflictZ
}

// Follows reports whether an earlier job tells of the unit.
func (s *Figures) Follows() bool { return s.earlier() != nil }

// root is the unit's first job that is known.
func (s *Figures) root() *Figures {
	for last := s.earlier(); last != nil; last = s.earlier() {
		s = last
	}
	return s
}

// SinceDry counts the jobs since the unit started dry, this one too, without a
// level seen; 0 where one was, or the unit never did.
func (s *Figures) SinceDry() (jobs int) {
	for b := s; b != nil; b = b.earlier() {
		switch jobs++; {
		case b.LevelSeen(b.Round()):
			return 0
		case b.DryStart():
			return jobs
		}
	}
	return 0
}

// made is the plan of the whole fill, with what is known of the unit then.
func (s *Figures) made() planned {
	return s.memo.plan.Get(func() planned {
		in, err := s.planInput()
		if err != nil {
			return planned{err: err}
		}
		return in.make()
	})
}

// stated is what the job states of the unit.
func (s *Figures) stated(late measure.Value) Stated {
	c, _ := s.Capacity()
	return Stated{Capacity: c, Means: s.Meaning(), DryStart: s.DryStart(), Prior: s.Prior(), Residual: s.residual(),
		LateDrips: late, ColdFilm: s.ColdFilm(), Job: s.ID,
		Changed: s.changed(), WholeML: s.wholeML()}
}

// unitAfter is what is thought of the unit after the job before; nil for the
// first.
func (s *Figures) unitAfter(in Stated) *Unit {
	last := s.earlier()
	if last == nil {
		return nil
	}
	then := last.left()
	u := &Unit{Right: then.Right, Usual: then.Usual, known: then.known}
	u.Stays = u.thisTime(in)
	u.Level = then.Level.Sub(s.lostSince(last)).Add(in.Changed)
	if !last.fillTold() {
		u.Level = measure.Gaussian(measure.Source{Name: LevelBefore, Job: s.ID}, 0, nobodyKnowsU*in.whole())
	}
	if !last.statesTheSame(s) {
		u.known, _ = u.known.and(in.right(u.Usual).Sub(u.Right))
	}
	return u
}

// statesTheSame reports whether another job gives the same figure in the same
// meaning: it is no second source then. In a job before, an earlier one may.
func (s *Figures) statesTheSame(other *Figures) bool {
	for b := s; b != nil; b = b.before {
		low, high := b.Stated()
		otherLow, otherHigh := other.Stated()
		if low == otherLow && high == otherHigh && b.Meaning() == other.Meaning() {
			return true
		}
	}
	return false
}

// lostSince is the oil that was lost, or added, since a job: a rate that is the
// unit's, over the distance driven, and a little beside it; or, where it is
// known to have leaked, nobody knows how much.
func (s *Figures) lostSince(last *Figures) measure.Value {
	c := s.wholeML()
	rate := lossRate(c).Scale(s.intervals(last))
	own := ownLossShareU
	if s.pastUntold() {
		own = 1
	}
	return rate.Add(measure.Gaussian(measure.Source{Name: LossSince, Job: s.ID}, 0, own*c))
}

// changed is the oil that is known to have been added since the last fill, or lost: a
// guess, as a spill that was not caught is.
func (s *Figures) changed() measure.Value {
	ml, ok := s.Num(job.Place{Topic: job.LostOrAdded})
	if !ok {
		return measure.Exact(0)
	}
	if s.Past() == job.PastLeaked {
		ml = -ml
	}
	return measure.Rectangular(measure.Source{Name: changedSince, Job: s.ID}, ml, guessHalfWidth*math.Abs(ml))
}

// pastUntold reports whether oil was lost or added, or may have been, and nobody knows
// how much.
func (s *Figures) pastUntold() bool {
	_, told := s.Num(job.Place{Topic: job.LostOrAdded})
	return s.Past() != job.PastUndisturbed && !told
}

// lossRate is what a unit loses in an interval, ml: half of a normal distribution,
// by its two moments.
func lossRate(wholeML float64) measure.Value {
	const mean, u = 0.7979, 0.6028 // √(2/π), √(1 - 2/π)
	return measure.Gaussian(LossRate, mean*lossShareU*wholeML, u*lossShareU*wholeML)
}

// intervals is the distance driven since a job in usual intervals; 1 where it is
// not known.
func (s *Figures) intervals(last *Figures) float64 {
	km, usual := s.DrivenKm(last), last.NumOr(job.IntervalKm, usualInterval)
	if km > 0 && usual > 0 {
		return km / usual
	}
	return 1
}

// DrivenKm is the distance driven since a job; 0 where it is not known.
func (s *Figures) DrivenKm(last *Figures) float64 {
	from, to := last.NumOr(job.Odometer, 0), s.NumOr(job.Odometer, 0)
	if from > 0 && to > from {
		return to - from
	}
	return 0
}

// fillTold reports whether it is known what went into the unit in a job.
func (s *Figures) fillTold() bool {
	if s.made().plan.Undecided {
		return false
	}
	for r := range s.Rounds() {
		if s.RoundKind(r) == job.RoundAdds && s.FillBegun(r) && !s.HasIn(job.LeftInVessel, r) {
			return false
		}
	}
	return s.PushBegun(0)
}

// left is the unit as the job left it: Level is how far off it is.
func (s *Figures) left() Unit {
	r := s.adjusted(s.Round())
	u := s.made().unit
	u.Level, u.known = r.off, r.known
	if s.link()%mostLinked == 0 {
		told := adjust.Recast([]measure.Value{u.known.Of(u.Right), u.known.Of(u.Usual), u.known.Of(u.Level)},
			measure.Source{Name: JobsBefore, Job: s.ID})
		u.Right, u.Usual, u.Level, u.known = told[0], told[1], told[2], known{}
	}
	return u
}

// mostLinked is how many jobs are adjusted together. Of what is older only what
// it says of the unit counts, and no longer which jug it was read with.
const mostLinked = 30

// link counts the unit's jobs up to this one.
func (s *Figures) link() int {
	return s.memo.link.Get(func() int {
		if last := s.earlier(); last != nil {
			return last.link() + 1
		}
		return 1
	})
}

// round is what is known once the readings of a round count.
type round struct {
	off    measure.Value // how far off the fill is, before anything is adjusted
	known  known
	Sums   measure.Value // off, by all but the level hole of this round
	Off    measure.Value // off
	LevelZ float64       // how far Sums and the level hole are apart, in standard uncertainties; 0 where no level was seen
}

// adjusted is what is known after a round.
func (s *Figures) adjusted(r int) round {
	return job.Recall(&s.memo.rounds, r, func() round { return s.adjust(r) })
}

func (s *Figures) adjust(r int) round {
	u := s.made().unit
	a := round{off: u.Stays.Add(s.NetFill(r)).Sub(u.Right)}
	a.known, _ = u.known.and(s.conditionsUpTo(r)...)
	a.Sums = a.known.Of(a.off)
	a.Off = a.Sums
	s.addLevel(&a, r)
	return a
}

// conditionsUpTo are what the readings of the rounds must agree in, up to one:
// other measures of what left the vessel, and what usually escapes and stays in
// the vessel.
func (s *Figures) conditionsUpTo(last int) (conditions []measure.Value) {
	for r := range last + 1 {
		conditions = append(conditions, s.Balance(r).conditions...)
		// What was caught at the swaps has the oil of the hose in it where that ran to
		// the pan and was not measured before.
		hoseInCatch := s.HoseAfter(r) == job.HoseRanToPan && !(s.Amount(job.EscapedAtCap, job.Place{Round: r}).Nominal > 0)
		if s.SwapTold(r) && !hoseInCatch {
			conditions = append(conditions, usually(total(s.caughtIn(SwapCatch, r)).Sub(s.escapeOf(r)))...)
		}
		if s.RoundKind(r) == job.RoundAdds && s.AirSpat(r) && s.HasIn(job.LeftInVessel, r) {
			conditions = append(conditions, usually(s.Left(r).Sub(s.heelOf(r)))...)
		}
	}
	return conditions
}

// usually is the condition that what was read is as usual; none where it is so far
// from that that this was no usual time: then what was read counts alone.
func usually(gap measure.Value) []measure.Value {
	if math.Abs(gap.Nominal) > ConflictZ*gap.U() {
		return nil
	}
	return []measure.Value{gap}
}

// SwapTold reports whether what escaped at the swaps of a round is known, by
// measure or guess.
func (s *Figures) SwapTold(r int) bool {
	if !s.Pushes(r) || !s.HasIn(job.EscapedHow, r) {
		return false
	}
	for i := range s.Items(job.EscapedHow, r) {
		if !s.MeasuredCatch(SwapCatch, job.Place{Round: r, Item: i}) {
			return false
		}
	}
	return true
}

// addLevel adds what the level tells. One that was read is as good as it can be
// read; oil below a hole or tube says that there is less than that, and oil that runs
// out of it, more. Where level and sums contradict each other, neither counts for the
// other, and the doubt of it stands.
func (s *Figures) addLevel(a *round, r int) {
	look := s.LevelLook(r)
	if look.Looked == NotRead {
		return
	}
	side := map[Looked]float64{ReadUnder: -1, ReadOver: 1}[look.Looked] // 0 where it is read
	a.LevelZ = a.known.Z(a.off.Sub(look.Off))
	if side*(a.Sums.Nominal-look.Off.Nominal) > 0 {
		a.LevelZ = 0
	}
	condition, ok := a.off.Sub(look.Off), true
	switch {
	case a.LevelZ > ConflictZ:
		tau := adjust.StandingU(a.Sums.Sub(look.Off), ConflictZ)
		doubt := measure.Gaussian(measure.Source{Name: ContradictionStands, Job: s.ID, Part: 4}, 0, tau)
		a.off, a.Off = a.off.Add(doubt), a.Off.Add(doubt)
		return
	case side != 0:
		beyond := measure.Exact(look.Off.Nominal)
		condition, ok = adjust.Positive(a.off.Sub(beyond).Scale(side), a.Sums.Sub(beyond).Scale(side), s.levelU(),
			measure.Source{Name: BelowSource, Job: s.ID})
	}
	if ok {
		a.known, _ = a.known.and(condition)
		a.Off = a.known.Of(a.off)
	}
}

// Off is how far off the fill is after a round, ml, by all that is known; sums,
// without the level hole; levelZ, how many standard uncertainties that is from it.
// What is said of it is AsSaid.
func (s *Figures) Off(round int) (off, sums measure.Value, levelZ float64) {
	a := s.adjusted(round)
	return a.Off, a.Sums, a.LevelZ
}

// Usual is what is the same in all jobs of a unit and its rig, ml.
type Usual struct{ Stays, Escape measure.Value }

// Usual is what stays behind in the unit, and what escapes at one swap: as the
// trade has it, and as all jobs up to this one leave it.
func (s *Figures) Usual() (trade, now Usual) {
	if s.made().err != nil {
		return trade, now
	}
	trade = Usual{s.made().unit.Usual, measure.Gaussian(WillEscape, EscapeML, escapeRigUML)}
	known := s.adjusted(s.Round()).known
	return trade, Usual{known.Of(trade.Stays), known.Of(trade.Escape)}
}

// LostRate is what the unit loses in an interval, ml, by all jobs up to this one.
func (s *Figures) LostRate() measure.Value {
	return s.adjusted(s.Round()).known.Of(lossRate(s.wholeML()))
}

// Missing is the oil that is missing since the unit's job before: what was in
// the unit then, less what this drain leaves behind and what came out; negative
// where more did. What usually stays behind cancels, but for a unit that started
// dry, and what jobs before show of it is left out: so it adds up over several
// jobs. It is false where it cannot be told.
func (s *Figures) Missing() (missing measure.Value, last *Figures, ok bool) {
	last = s.earlier()
	if last == nil || !last.fillTold() || !s.Measured() || s.made().err != nil {
		return measure.Value{}, last, false
	}
	was, is := last.made().stays, s.made().stays
	return was.Add(last.NetFill(last.Round())).Sub(is).Sub(s.Drained().Total), last, true
}

// OffIfStays is how far off the fill would be after a round if such a share of
// all that belongs in were what usually stays behind.
func (s *Figures) OffIfStays(round int, share float64) measure.Value {
	a, c := s.adjusted(round), s.wholeML()
	usual := s.made().unit.Usual.Sub(measure.Gaussian("if it were", share*c, 1e-3*c))
	then, _ := a.known.and(usual)
	return AsSaid(then.Of(a.off))
}

// TakenForGranted reports whether a source is what the trade, or the owner,
// takes for granted, and not a reading.
func TakenForGranted(s measure.Source) bool {
	switch s.Name {
	case StatedQuantity, LevelBefore, StaysBehind, DryOrRefill, WillEscape, HeelKept, LossRate, LossSince, changedSince,
		ContradictionStands, JobsBefore, CardSays:
		return s.Kind == 0
	}
	return false
}
