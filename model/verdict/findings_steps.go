package verdict

// This file holds the findings of each step. Every limit in it is trade
// judgement without a source.

import (
	"fmt"
	"math"
	"time"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
)

// noticeML is an amount that is worth a word.
const noticeML = 50.0

// UsualMostKPa is the pressure above which a push gains little.
const UsualMostKPa = 100.0

func (s *Assessment) rigFindings() []Finding {
	var list []Finding
	for i, d := range s.LoadDevices() {
		if d.Check == nil || !d.Check.Contradicts {
			continue
		}
		p := job.At(job.ContainerWaterReading, 0, i)
		if d.Token == estimate.VesselToken {
			p = job.Place{Topic: job.VesselWaterReading}
		}
		list = append(list, Finding{
			Kind: MarksOff, Step: job.Prepare, Seq: s.SeqOf(p),
			Text: fmt.Sprintf("The %s: its marks are %.1f %% off, more than was claimed.", d.Name, 100*math.Abs(d.Check.Error)),
			Do:   "Its readings are corrected for that. Check it once more with water.",
		})
	}
	if f, ok := s.toleranceCut(); ok {
		list = append(list, f)
	}
	return append(list, s.pressureFindings()...)
}

func (s *Assessment) pressureFindings() []Finding {
	var list []Finding
	kPa, _ := s.Num(job.Place{Topic: job.PushPressure})
	switch {
	case s.FillerKind() != job.PressurisedVessel || !s.Has(job.VesselRating):
	case !s.VesselRated():
		list = append(list, Finding{
			Kind: VesselUnrated, Step: job.Prepare, Seq: s.SeqOf(job.Place{Topic: job.VesselRating}),
			Text: "The vessel's pressure rating is not known.",
			Do:   "No pressure on it: use a hand pump, or find the rating.",
		})
	case kPa > UsualMostKPa:
		list = append(list, Finding{
			Kind: PressureHigh, Step: job.Prepare, Seq: s.SeqOf(job.Place{Topic: job.PushPressure}),
			Text: s.Show(kPa, job.DimKPa) + " is more than a push needs; seals give way far below it.",
			Do:   "Warm the oil to " + s.Show(35, job.DimC) + " or take a wider hose instead.",
		})
	}
	return list
}

func (s *Assessment) drainFindings() []Finding {
	var list []Finding
	if s.MagnetLook() == job.MagnetChips {
		list = append(list, Finding{
			Kind: ChipsFound, Step: job.Drain, Seq: s.SeqOf(job.Place{Topic: job.MagnetLook}),
			Text: "Flakes or slivers of metal: damage inside.",
			Do:   "No refill for use: the unit must be opened. The tag stays on.",
		})
	}
	if s.OilLook() == job.LookMilky || s.LookedCause() == job.LookedWater {
		list = append(list, Finding{
			Kind: WaterIn, Step: job.Drain, Seq: s.SeqOf(job.Place{Topic: job.OilLook}),
			Text: "Water in it: what came out says nothing of what belongs in.",
			Do:   "Fill, drive a short way, drain again. Find where the water came in.",
		})
	}
	if s.OilLook() == job.LookForeign && !s.WrongBox() {
		list = append(list, Finding{
			Kind: ForeignOil, Step: job.Drain, Seq: s.SeqOf(job.Place{Topic: job.OilLook}),
			Text: "It looks like another unit's oil.",
			Do:   "Find out whose it is before the car moves; measure the neighbour's level.",
		})
	}
	return list
}

func (s *Assessment) measureFindings() []Finding {
	var list []Finding
	if f, ok := s.stoodOpen(); ok {
		list = append(list, f)
	}
	d := s.Drained()
	if d.Contradict {
		list = append(list, Finding{
			Kind: WitnessesApart, Step: job.Measure, ML: d.SpreadML(), Seq: s.SeqOf(s.weakestWitness()),
			Text: fmt.Sprintf("Measures of the same oil are %s apart: more than they can err.", s.Show(d.SpreadML(), job.DimML)),
			Do:   "Let the froth fall for 30 minutes, read the jug again. A scale is surer.",
		})
	}
	if s.WrongBox() {
		list = append(list, Finding{
			Kind: WrongBoxDrained, Step: job.Measure, ML: d.Total.Nominal, Seq: s.SeqOf(job.Place{Topic: job.DrainedAmount}),
			Text: fmt.Sprintf("%s came out of a unit of %s: the wrong box?", s.Show(d.Total.Nominal, job.DimML),
				s.Show(s.CapacityML(), job.DimML)),
			Do: "Do not move the car. Put THAT unit right first, by its own method.",
		})
	}
	return append(list, s.farFindings()...)
}

// farFindings are what a surplus or a shortage means.
func (s *Assessment) farFindings() []Finding {
	far, _ := s.FarOff()
	gap := math.Abs(s.GapML())
	f := Finding{Step: job.Measure, ML: gap, Seq: s.SeqOf(job.Place{Topic: job.LookedAgain, Item: s.Items(job.DrainedAmount, 0) - 1})}
	amount := s.Show(gap, job.DimML)
	switch cause := s.LookedCause(); {
	case far == estimate.FarAbove && cause == job.LookedNeighbour:
		f.Kind, f.Text = NeighbourOil, "The neighbour's oil came in: "+amount+"."
		f.Do = "That unit is short by about as much: check it, and the seal between."
	case far == estimate.FarAbove && cause == job.LookedOverfilled:
		f.Kind, f.Text = OverfilledBefore, "It was overfilled by "+amount+"."
		f.Do = "Fill to the stated quantity. Did breather or seals throw oil out?"
	case far == estimate.FarAbove && s.Follows():
		f.Kind, f.Text = FarAboveStated, "It does not fit the last fill: "+amount+" more came out."
		f.Do = "Water, the neighbour's oil, or a mark misread, now or last time. Do not copy it."
	case far == estimate.FarAbove:
		f.Kind, f.Text = FarAboveStated, amount+" more came out than belongs in."
		f.Do = "Let it stand, look for water, measure the neighbour. Do not copy it."
	case far == estimate.FarBelow && cause == job.LookedSame:
		f.Kind, f.Text = LeakSuspected, amount+" are missing since the last fill."
		f.Do = "Fill to the stated quantity. Hunt the leak; look again after " + s.Show(500, job.DimKm) + "."
	case far == estimate.FarBelow && s.Follows():
		f.Kind, f.Text = FarBelowStated, "It does not fit the last fill: "+amount+" less came out."
		f.Do = "Oil lost, or a mark misread, now or last time. Read it again; seals? Do not copy it."
	case far == estimate.FarBelow:
		f.Kind, f.Text = FarBelowStated, amount+" less came out than belongs in."
		f.Do = "Wait 10 minutes, car level. Right unit? Seals? Neighbour? Do not copy it."
	case s.Past() == job.PastLeaked && s.Measured():
		f.Kind, f.Text, f.Seq = LeakSuspected, "It has been leaking: what came out is not copied.",
			s.SeqOf(job.Place{Topic: job.OilHistory})
		f.Do = "Find and stop the leak first. Look again after " + s.Show(500, job.DimKm) + "."
	default:
		return nil
	}
	return []Finding{f}
}

// weakestWitness is where the measure of what came out stands that is known
// least well.
func (s *Assessment) weakestWitness() job.Place {
	worst, worstU := job.Place{Topic: job.DrainedAmount}, -1.0
	for i := range s.Items(job.DrainedAmount, 0) {
		p := job.At(job.DrainedAmount, 0, i)
		if u := s.DrainedOf(p).U(); u > worstU {
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
func (s *Assessment) stoodOpen() (Finding, bool) {
	out, ok := s.Answer(job.Place{Topic: job.PlugOut})
	if !ok || s.Has(job.DrainPlugIn) || s.RoundBegun(0) {
		return Finding{}, false
	}
	var longest time.Duration
	entries, _ := s.Ledger()
	for i := out.Seq; i < len(entries); i++ { // entries[i-1] is the one before
		if gap := entries[i].At.Sub(entries[i-1].At); gap > openTooLong && !s.measuredSince(i) && !s.foundShut(i) {
			longest = max(longest, gap)
		}
	}
	if longest == 0 {
		return Finding{}, false
	}
	f := Finding{
		Kind: StoodOpen, Step: job.Measure, Seq: s.SeqOf(job.At(job.DrainedMore, 0, s.Items(job.DrainedAmount, 0)-1)),
		Text: fmt.Sprintf("The port stood open for %.0f h: more may have dripped out.", longest.Hours()),
		Do:   "Measure it as dripped out much later. Look into the port for dirt.",
	}
	return f, true
}

// foundShut reports whether the port was found with plug or adapter in it when the
// job was taken up again, right after a break that ends at an index of entries.
func (s *Assessment) foundShut(index int) bool {
	entries, stands := s.Ledger()
	for i := index; i < len(entries) && i < index+2; i++ {
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

func (s *Assessment) loadFindings(round int) []Finding {
	var list []Finding
	if f, ok := s.beyondProof(); ok && round == 0 {
		list = append(list, f)
	}
	plan, ok := s.Answer(job.At(job.PlanAccepted, round, 0))
	if ok && s.HasItem(job.LoadedMore, round, s.Items(job.LoadedAmount, round)-1) {
		loaded := s.Loaded(round).Nominal
		if off := loaded - plan.Value.Number; math.Abs(off) > math.Max(noticeML, 0.05*plan.Value.Number) {
			list = append(list, Finding{
				Kind: LoadOffPlan, Step: job.Preload, Round: round, ML: off, Seq: s.SeqOf(job.At(job.LoadedAmount, round, 0)),
				Text: fmt.Sprintf("%s are in the vessel; the plan was %s.", s.Show(loaded, job.DimML),
					s.Show(plan.Value.Number, job.DimML)),
				Do: "Read it again and correct it, or put it right before the push.",
			})
		}
	}
	return list
}

func (s *Assessment) pushFindings(round int) []Finding {
	if !s.HasIn(job.LeftInVessel, round) || s.RoundKind(round) != job.RoundAdds {
		return nil
	}
	var list []Finding
	left := s.Left(round).Nominal
	short := s.shortOfPlanML(round)
	p := job.At(job.LeftInVessel, round, 0)
	switch {
	case s.AirSpat(round):
		list = append(list, Finding{
			Kind: AirEarly, Step: job.Fill, Round: round, ML: short, Seq: s.SeqOf(p),
			Text: fmt.Sprintf("Air early: %s left in the vessel, its heel is %s.", s.Show(left, job.DimML),
				s.Show(s.Heel().Nominal, job.DimML)),
			Do: "Shut, let off, stand the tube upright on the floor. Strokes do not count.",
		})
	case short > noticeML && !s.LevelSeen(round):
		list = append(list, Finding{
			Kind: PushedShort, Step: job.Fill, Round: round, ML: short, Seq: s.SeqOf(p),
			Text: fmt.Sprintf("%s less has left the vessel than planned.", s.Show(short, job.DimML)),
			Do:   "Push on, or go on: the verdict says what to add.",
		})
	}
	escaped := s.Amount(job.EscapedAtCapWith, job.EscapedAtCap, job.NoTopic, job.Place{Round: round}).Nominal
	if escaped > math.Max(noticeML, 0.05*s.Passed(round).Nominal) {
		list = append(list, Finding{
			Kind: AdapterLeaks, Step: job.Cap, Round: round, ML: escaped, Seq: s.SeqOf(job.At(job.EscapedAtCap, round, 0)),
			Text: fmt.Sprintf("%s leaked round the adapter: wrong thread? Never force it.", s.Show(escaped, job.DimML)),
			Do:   "Let off, plug back in with a NEW washer, tag stays on. Add the rest later.",
		})
	}
	return list
}

// shortOfPlanML is how much less has left the vessel in a round than its plan
// wanted out of it, ml; not below 0.
func (s *Assessment) shortOfPlanML(round int) float64 {
	plan, err := s.Plan(round)
	if err != nil || plan.Undecided {
		return 0
	}
	return math.Max(0, plan.Charge.Nominal-s.Heel().Nominal-s.Passed(round).Nominal)
}

// toleranceCut finds a tolerance that is more than counts: of an older job, the
// default of a small unit, or a wide range.
func (s *Assessment) toleranceCut() (Finding, bool) {
	e, ok := s.Answer(job.Place{Topic: job.ToleranceTopic})
	low, high := s.Stated()
	if !ok || low <= 0 {
		return Finding{}, false
	}
	given := estimate.Tolerance{MinusML: (high - low) / 2, PlusML: (high - low) / 2}
	switch {
	case !e.Value.Unknown:
		given = s.BoundsML(e.Value)
	case high <= low:
		given = estimate.DefaultTolerance(low)
	}
	wide, most := math.Max(given.MinusML, given.PlusML), estimate.MostTolerance(low, high)
	if wide <= most*(1+1e-9) {
		return Finding{}, false
	}
	return Finding{
		Kind: ToleranceWide, Step: job.Prepare, ML: wide, Seq: e.Seq,
		Text: fmt.Sprintf("± %s is %.0f %% of what is stated: only ± %s counts.", s.Show(wide, job.DimML), 100*wide/s.CapacityML(),
			s.Show(most, job.DimML)),
		Do: "Beyond that it is put right before it is driven on. Weigh what goes in.",
	}, true
}
