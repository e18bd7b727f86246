package verdict

// This file holds the findings of each step. Every limit in it is trade
// judgement without a source.

import (
	"fmt"
	"math"
	"time"

	"garage/tundish/model/device"
	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
)

// FlushKm is how far oil that is to take water out is driven, of the 5 to 10 km that are usual (common practice, no source).
const FlushKm = 8.0

// noticeML is the least amount that is worth mentioning.
const noticeML = 50.0

// UsualMostKPa is the pressure above which a push gains little.
const UsualMostKPa = 100.0

func (s *found) rigFindings() {
	s.step = job.Prepare
	for i, d := range s.LoadDevices() {
		if d.Check == nil || !d.Check.Contradicts {
			continue
		}
		p := job.At(job.ContainerWaterReading, 0, i)
		if d.Token == device.VesselToken {
			p = job.Place{Topic: job.VesselWaterReading}
		}
		s.add(MarksOff, 0, p,
			fmt.Sprintf("The %s: its marks are %.1f %% off, more than was claimed.", d.Name, 100*math.Abs(d.Check.Error)),
			"Its readings are corrected for that. Check it once more with water.")
	}
	s.toleranceCut()
	kPa, _ := s.Num(job.Place{Topic: job.PushPressure})
	switch {
	case s.FillerKind() != job.PressurisedVessel || !s.Has(job.VesselRating):
	case !s.VesselRated():
		s.add(VesselUnrated, 0, job.Place{Topic: job.VesselRating}, "The vessel's pressure rating is not known.",
			"No pressure on it: use a hand pump, or find the rating.")
	case kPa > UsualMostKPa:
		s.add(PressureHigh, 0, job.Place{Topic: job.PushPressure},
			s.Show(kPa, job.DimKPa)+" is more than a push needs; seals give way far below it.",
			"Warm the oil to "+s.Show(35, job.DimC)+" or take a wider hose instead.")
	}
}

func (s *found) drainFindings() {
	s.step = job.Drain
	s.debrisFindings()
	s.oilFindings()
	if s.WaterIn() {
		s.add(WaterIn, 0, job.Place{Topic: job.OilLook}, "Water in it: what came out says nothing of what belongs in.",
			"Way in? Breather first. Flush with cheap oil, "+s.Show(FlushKm, job.DimKm)+" gently, till clear.")
	}
	if s.OilLook() == job.LookForeign && !s.WrongBox() {
		s.add(ForeignOil, 0, job.Place{Topic: job.OilLook}, "It looks like another unit's oil.",
			"Find out whose it is before the car moves: level of the unit beside it?")
	}
}

func (s *found) measureFindings() {
	s.step = job.Measure
	s.stoodOpen()
	d := s.Drained()
	if d.Contradict {
		s.add(MeasuresApart, d.SpreadML(), s.weakestMeasure(),
			fmt.Sprintf("Measures of the same oil are %s apart: more than they can err.", s.Show(d.SpreadML(), job.DimML)),
			"Let the froth fall for 30 minutes, read the jug again. A scale is surer.")
	}
	if s.WrongBox() {
		s.add(WrongBoxDrained, d.Total.Nominal, job.Place{Topic: job.DrainedAmount},
			fmt.Sprintf("%s came out of a unit of %s: the wrong unit?", s.Show(d.Total.Nominal, job.DimML),
				s.Show(s.CapacityML(), job.DimML)),
			"Do not move the car. Put THAT unit right first, by its own method.")
	}
	s.farFindings()
}

// farFindings are what a surplus or a shortage means.
func (s *found) farFindings() {
	far, _ := s.FarOff()
	gap := math.Abs(s.GapML())
	at := job.Place{Topic: job.LookedAgain, Item: s.Items(job.DrainedAmount, 0) - 1}
	amount := s.Show(gap, job.DimML)
	switch cause := s.LookedCause(); {
	case far == estimate.FarAbove && cause == job.LookedNeighbour:
		s.add(NeighbourOil, gap, at, "Oil came in from the unit beside it: "+amount+".",
			"That unit is short by about as much: check it, and the seal between.")
	case far == estimate.FarAbove && cause == job.LookedOverfilled:
		s.add(OverfilledBefore, gap, at, "It was overfilled by "+amount+".",
			"Fill to the manual's quantity. Did breather or seals throw oil out?")
	case far == estimate.FarAbove && s.Follows():
		s.add(FarAboveStated, gap, at, "It does not fit the last fill: "+amount+" more came out.",
			"Water, oil of the unit beside it, or a mark misread, now or last time. Do not copy it.")
	case far == estimate.FarAbove:
		s.add(FarAboveStated, gap, at, amount+" more came out than belongs in.",
			"Let it stand, look for water, measure the unit beside it. Do not copy it.")
	case far == estimate.FarBelow && cause == job.LookedSame:
		s.add(LeakSuspected, gap, at, amount+" are missing since the last fill.",
			"Fill to the manual's quantity. Hunt the leak; look again after "+s.Show(500, job.DimKm)+".")
	case far == estimate.FarBelow && s.Follows():
		s.add(FarBelowStated, gap, at, "It does not fit the last fill: "+amount+" less came out.",
			"Oil lost, or a mark misread, now or last time. Read it again; seals? Do not copy it.")
	case far == estimate.FarBelow:
		s.add(FarBelowStated, gap, at, amount+" less came out than belongs in.",
			"Wait 10 min, car level. Right unit? Seals? Unit beside it? Do not copy it.")
	case s.Past() == job.PastLeaked && s.Measured():
		s.add(LeakSuspected, gap, job.Place{Topic: job.OilHistory}, "It has been leaking: what came out is not copied.",
			"Find and stop the leak first. Look again after "+s.Show(500, job.DimKm)+".")
	}
}

// weakestMeasure is where the measure of what came out stands that is known
// least well.
func (s *Assessment) weakestMeasure() job.Place {
	worst, worstU := job.Place{Topic: job.DrainedAmount}, -1.0
	for i := range s.Items(job.DrainedAmount, 0) {
		p := job.At(job.DrainedAmount, 0, i)
		if u := s.Amount(job.DrainedAmount, p).U(); u > worstU {
			worst, worstU = p, u
		}
	}
	return worst
}

// openTooLong is how long an open port may stand before more has dripped out
// than at an ordinary drain.
const openTooLong = 2 * time.Hour

// stoodOpen finds a break of hours between plug out and the first push, with
// nothing measured after it.
func (s *found) stoodOpen() {
	out, ok := s.Answer(job.Place{Topic: job.PlugOut})
	if !ok || s.Has(job.DrainPlugIn) || s.RoundBegun(0) {
		return
	}
	var longest time.Duration
	entries, _ := s.Ledger()
	for i := out.Seq; i < len(entries); i++ { // entries[i-1] is the one before
		if gap := entries[i].At.Sub(entries[i-1].At); gap > openTooLong && !s.measuredSince(i) && !s.foundShut(i) {
			longest = max(longest, gap)
		}
	}
	if longest == 0 {
		return
	}
	s.add(StoodOpen, 0, job.At(job.DrainedMore, 0, s.Items(job.DrainedAmount, 0)-1),
		fmt.Sprintf("The port stood open for %.0f h: more may have dripped out.", longest.Hours()),
		"Measure it as dripped out much later. Look into the port for dirt.")
}

// foundShut reports whether the port was found with plug or adapter in it when the
// job was taken up again, right after a break that ends at an index of entries: stands and tag may come first.
func (s *Assessment) foundShut(index int) bool {
	entries, stands := s.Ledger()
	for i := index; i < len(entries) && i < index+3; i++ {
		if e := entries[i]; e.Topic == job.ResumedPlug && stands[i] {
			return e.Value.Choice != job.PortOpen
		}
	}
	return false
}

// measuredSince reports whether an amount that came out stands that was entered
// at or after an index of entries.
func (s *Assessment) measuredSince(index int) bool {
	entries, stands := s.Ledger()
	for i := index; i < len(entries); i++ {
		if entries[i].Topic == job.DrainedAmount && stands[i] {
			return true
		}
	}
	return false
}

func (s *found) loadFindings(round int) {
	if s.round = round; round == 0 {
		s.beyondProof()
	}
	s.step = job.Preload
	plan, ok := s.Answer(job.At(job.PlanAccepted, round, 0))
	last := job.At(job.LoadedAmount, round, s.Items(job.LoadedAmount, round)-1)
	if ok && last.Item >= 0 && !s.Repeats(job.LoadedAmount, last) {
		loaded := s.Loaded(round).Nominal
		if off := loaded - plan.Value.Number; math.Abs(off) > math.Max(noticeML, 0.05*plan.Value.Number) {
			s.add(LoadOffPlan, off, job.At(job.LoadedAmount, round, 0),
				fmt.Sprintf("%s are in the vessel; the plan was %s.", s.Show(loaded, job.DimML),
					s.Show(plan.Value.Number, job.DimML)),
				"Read it again and correct it, or put it right before the push.")
		}
	}
}

func (s *found) pushFindings(round int) {
	if !s.HasIn(job.LeftInVessel, round) || s.RoundKind(round) != job.RoundAdds {
		return
	}
	s.step, s.round = job.Fill, round
	left := s.Left(round).Nominal
	short, ok := s.ToLeaveML(round)
	if short = max(short-s.Passed(round).Nominal, 0); !ok {
		short = 0
	}
	p := job.At(job.LeftInVessel, round, 0)
	switch {
	case s.AirSpat(round):
		s.add(AirEarly, short, p, fmt.Sprintf("Air early: %s left in the vessel, %s below its tube.", s.Show(left, job.DimML),
			s.Show(s.Heel().Nominal, job.DimML)),
			"Shut, vent, stand the tube upright on the floor. Strokes do not count.")
	case short > noticeML && !s.LevelSeen(round):
		s.add(PushedShort, short, p, fmt.Sprintf("%s less has left the vessel than planned.", s.Show(short, job.DimML)),
			"Push on, or go on: the verdict says what to add.")
	}
	escaped := s.Amount(job.EscapedAtCap, job.Place{Round: round}).Nominal
	if escaped > math.Max(noticeML, 0.05*s.Passed(round).Nominal) {
		s.step = job.Cap
		s.add(AdapterLeaks, escaped, job.At(job.EscapedAtCap, round, 0),
			fmt.Sprintf("%s leaked at the adapter: wrong thread? Never force it.", s.Show(escaped, job.DimML)),
			"Vent, plug back in with a NEW washer, tag stays on. Add the rest later.")
	}
}

// toleranceCut finds a tolerance that is more than counts: of an older job, the
// default of a small unit, or a wide range.
func (s *found) toleranceCut() {
	low, high := s.Stated()
	if !s.Has(job.CapacityMeans) || low <= 0 {
		return
	}
	given := s.ToleranceWanted()
	wide, most := math.Max(given.MinusML, given.PlusML), estimate.MostTolerance(low, high)
	if t, level := s.LevelTolerance(); level {
		most = t.MinusML
	}
	if wide <= most*(1+1e-9) {
		return
	}
	at := job.Place{Topic: job.ToleranceTopic}
	if !s.Has(job.ToleranceTopic) {
		at.Topic = job.Capacity
	}
	s.add(ToleranceWide, wide, at,
		fmt.Sprintf("± %s is %.0f %% of what is stated: only ± %s counts.", s.Show(wide, job.DimML), 100*wide/s.CapacityML(),
			s.Show(most, job.DimML)),
		"Beyond that it is put right before it is driven on. Weigh what goes in.")
}
