package verdict

// This file puts a verdict into one word, the largest thing that is shown of a
// job, with what stands below it.

import (
	"fmt"
	"math"
	"strings"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
)

// Headword is the verdict in the one word that is shown.
type Headword uint8

// The words, and what they set.
const (
	NotSure       Headword = iota // else; left it is NOT PROVEN
	Right                         // 95 in 100 or more, and nothing forbids it; accepted it is PROVEN
	Likely                        // 80 in 100 or more; accepted it is LIKELY
	TooLow                        // 80 in 100 or more that it is too little; left it is LOW
	TooHigh                       // 80 in 100 or more that it is too much; left it is HIGH
	LevelDisputed                 // level hole and readings contradict each other: never PROVEN
)

var headwords = []string{"NOT SURE", "RIGHT", "LIKELY", "LOW", "HIGH", "DISPUTED"}

// String is the word.
func (w Headword) String() string { return job.TokenOf(headwords, w) }

// Headline is a verdict as it is shown. All texts are without a capital letter
// or full stop of their own, figures in the owner's units.
type Headline struct {
	Word     Headword
	Verdict  Verdict
	Amount   string        // "add 60 ml", "drain off 40 ml"; "" where none is to be moved
	In, Aim  measure.Value // what went in by its sum, and the plan's aim, ml
	Sentence string        // what went in, what belongs in, and how far that is off by all readings together
	Odds     string        // "84 in 100 right, 15 too low, 1 too high"
	Why      []string      // why it is no surer; of RIGHT, LOW and HIGH none
	Next     string        // the best next thing: an amount, a reading, or that nothing changes it
	Assumes  bool          // it is right if the assumptions hold: most of the doubt is no reading
	Stays    []IfStays     // what other residuals make of the odds; none where they make nothing
	Sets     string        // the state of the unit once it is accepted or, where it cannot be, left
}

// IfStays is what the fill would be if another part of the fill quantity stayed
// inside at a drain.
type IfStays struct {
	Percent int     // of the fill quantity
	OffML   float64 // how far off it would be
	Odds    int     // times in 100 that it would be right
}

// Headline is the verdict on a round as it is shown. The error says why there is
// none yet.
func (s *Assessment) Headline(round int) (Headline, error) {
	v, err := s.Verdict(round)
	if err != nil {
		return Headline{}, err
	}
	h := Headline{Verdict: v, Word: s.headword(v), Odds: v.oddsText(), Stays: s.ifStays(v, round)}
	h.Assumes = (h.Word == Right || h.Word == Likely) && v.granted() >= mostOfIt
	s.sentence(&h, round)
	h.Why = s.whyNoSurer(h, round)
	h.Next = s.next(h, round)
	switch {
	case h.Word == Right:
		h.Sets = Proven.String()
	case Acceptable(v) && !s.Weeps():
		h.Sets = Accepted.Words(v.Odds(), NotProven)
	default:
		h.Sets = LeftOff.Words(0, v.Conformity)
	}
	return h, nil
}

func (s *Assessment) headword(v Verdict) Headword {
	switch likely := v.Conformity == Within || v.Conformity == LikelyWithin; {
	case v.Conformity == Disputed:
		return LevelDisputed
	case v.Conformity == Low:
		return TooLow
	case v.Conformity == High:
		return TooHigh
	case !likely || s.Weeps():
		return NotSure
	case v.Conformity == Within && len(s.ForbidsProven()) == 0:
		return Right
	}
	return Likely
}

// Text is the word with what goes with it: "LOW: add 60 ml", "LIKELY if the
// assumptions hold".
func (h Headline) Text() string {
	switch {
	case h.Amount != "":
		return h.Word.String() + ": " + h.Amount
	case h.Assumes:
		return h.Word.String() + " if the assumptions hold"
	}
	return h.Word.String()
}

// StaysText says what other residuals make of the odds; "" where they make
// nothing.
func (h Headline) StaysText() string {
	var with []string
	for _, c := range h.Stays {
		with = append(with, fmt.Sprintf("%d in 100 with %d %% staying inside", c.Odds, c.Percent))
	}
	return strings.Join(with, ", ")
}

// oddsText says how many of 100 such fills are right, and what the others are.
func (v Verdict) oddsText() string {
	whole := v.wholeChances()
	text := fmt.Sprintf("%d in 100 right", v.Odds())
	if whole[0] > 0 {
		text += fmt.Sprintf(", %d too low", min(whole[0], 99))
	}
	if whole[2] > 0 {
		text += fmt.Sprintf(", %d too high", min(whole[2], 99))
	}
	return text
}

// granted is the part of the doubt that is no reading but what is taken for
// granted.
func (v Verdict) granted() (share float64) {
	for _, c := range v.Doubt {
		if estimate.TakenForGranted(c.Source) {
			share += c.Share
		}
	}
	return share
}

// sentence says what went in, what belongs in, and how far that is off; and, in
// the same figures, what is to be done about it. In and aim are the results of their
// sums. How far off it is rests on more, and where it is not their difference that is said.
func (s *Assessment) sentence(h *Headline, round int) {
	plan, _ := s.Plan(0)
	h.In, h.Aim = s.NetFill(round), plan.Target
	u, off := s.Units(), h.Verdict.Error
	if h.Word == LevelDisputed {
		off = h.Verdict.BySums
	}
	stayed, _ := s.StaysBehind(round)
	aim := h.Aim.Nominal
	figures := u.BareVolumes(aim, h.In.Nominal, estimate.Coverage*off.U(), stayed.Nominal)
	where := "on top of what stayed (about " + figures[3] + ")"
	switch means := s.Meaning(); {
	case s.DryStart():
		where = "in a dry unit"
	case means == estimate.MeansRefill:
		where = "in at an oil change"
	case means == estimate.MeansLevel:
		where = "in up to the level hole"
	}
	over, step, by := s.OffText(off.Nominal, aim), u.VolumeStep(aim), ""
	switch {
	case over == s.OffText(step*(math.Round(h.In.Nominal/step)-math.Round(aim/step)), aim):
	case s.LevelLook(round).Looked != estimate.NotRead && h.Word != LevelDisputed:
		by = "by level and readings "
	default:
		by = "by all readings "
	}
	h.Sentence = fmt.Sprintf("%s %s went in; %s belong %s: %s%s ± %s", figures[1], u.Volume, figures[0], where, by, over, figures[2])
	if h.Word == LevelDisputed && s.BelowHole(round) {
		h.Sentence += "; but the level is below the hole"
	} else if h.Word == LevelDisputed {
		h.Sentence += "; but the level says full"
	}
	amount := fmt.Sprintf("%s %s", u.BareVolumes(math.Abs(off.Nominal), aim)[0], u.Volume)
	if s.BelowHole(round) && h.Word != LevelDisputed {
		amount = u.FormatVolume(h.Verdict.ActML)
	}
	switch h.Verdict.Act {
	case AddOil:
		h.Amount = "add " + amount
	case LetOut:
		h.Amount = "drain off " + amount
	}
}

// ifStays is what half and one and a half times the usual residual make of the
// odds, where that is a part of the doubt and changes them.
func (s *Assessment) ifStays(v Verdict, round int) (list []IfStays) {
	stays, tol := 0.0, s.Tolerance()
	for _, c := range v.Doubt {
		if c.Source.Kind == 0 && c.Source.Name == estimate.StaysBehind {
			stays += c.Share
		}
	}
	changes := false
	usual, _ := s.UsualShare()
	for _, share := range []float64{usual / 2, usual * 3 / 2} {
		off := s.OffIfStays(round, share)
		_, p, _ := measure.Probability(off, -tol.MinusML, tol.PlusML)
		list = append(list, IfStays{int(math.Round(100 * share)), off.Nominal, oddsOf(p)})
		changes = changes || math.Abs(float64(oddsOf(p)-v.Odds())) > 1
	}
	if stays < leastStays || !changes {
		return nil
	}
	return list
}

// leastStays is the share of the variance from which what stays inside at a drain is
// mentioned.
const leastStays = 0.05

// whyNoSurer says why a verdict is not RIGHT.
func (s *Assessment) whyNoSurer(h Headline, round int) (why []string) {
	v := h.Verdict
	switch h.Word {
	case Right, TooLow, TooHigh:
		return nil
	case LevelDisputed:
		apart := math.Abs(v.BySums.Nominal)
		if gap, ok := s.OldLevelGap(round); ok && s.oldLevelZ(round) == v.LevelZ {
			apart = math.Abs(gap.Nominal)
		}
		return []string{fmt.Sprintf("level and readings are %s apart; both together explain %s", s.Show(apart, job.DimML),
			s.Show(apart*estimate.ConflictZ/v.LevelZ, job.DimML))}
	}
	if things := Budget(v.Doubt); v.Conformity != Within && len(things) > 0 {
		why = append(why, "most of the doubt: "+things[0].Name)
	}
	for _, f := range s.ForbidsProven() {
		if h.Word == Likely || f.contradiction() {
			why = append(why, f.Text())
		}
	}
	if s.Weeps() {
		why = append(why, "what the plug lost is not measured")
	}
	return why
}

// next is the best next thing to do about a verdict.
func (s *Assessment) next(h Headline, round int) string {
	v := h.Verdict
	switch {
	case s.Weeps():
		return "measure what the plug has lost"
	case h.Word == LevelDisputed && v.Act == Remeasure && s.Path().RunsEngine():
		return "set the level again: car level, tube tight, selector moved, oil in the range"
	case h.Word == LevelDisputed && v.Act == Remeasure:
		return "look at the level again: car level, settled for 10 minutes, the right hole"
	case h.Word == LevelDisputed:
		return h.Amount + " by the readings; it cannot be PROVEN"
	case s.stillDry(round):
		return "add NO more: a leak, a loose tube, a car that leans, or the wrong opening"
	case s.Path().RunsEngine() && s.LevelLook(round).Looked == estimate.NotRead:
		return "read the level as the manual has it: oil in its range, engine running"
	case v.Act == AddOil && s.BelowHole(round) && s.Path().RunsEngine():
		return h.Amount + ", and look again"
	case v.Act == AddOil && s.BelowHole(round):
		return "go on until it weeps: about " + s.Units().FormatVolume(v.ActML) + " more"
	case v.Act == AddOil, v.Act == LetOut:
		return fmt.Sprintf("%s: %d in 100 becomes %d", h.Amount, v.Odds(), v.BestOdds())
	case v.Act == Remeasure:
		thing := remeasure(v.Doubt)
		return fmt.Sprintf("measure better: %s (%s); up to %d in 100", thing.Name, s.Remedy(thing.Thing), oddsOf(v.PFixed))
	case h.Word == NotSure:
		return "nothing you can measure changes this"
	}
	return "nothing to add, nothing to drain off"
}
