package verdict

// This file holds the breakdown of a number into lines, of what came out
// and what the unit needs. What is loaded, pushed in and judged is broken down in
// breakdown_round.go; doubt.go splits the uncertainty of a sum by its causes,
// breakdown_lines.go prints it. The lines are the parts that the computation kept of its
// number (estimate.Drained, Plan and Put); here they get their names.

import (
	"fmt"

	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/measure"
)

// Term is one line of a sum.
type Term struct {
	Sign  string // "" begins a sum, "+" and "-" go on with it, "=" is what it comes to so far
	Label string
	Value measure.Value // ml at 20 °C; of a "-" line what is taken off
	Note  string        // how it was read or where it comes from, "" none
}

// Breakdown is a number with the lines that lead to it. A line with an empty Sign
// starts a new partial sum; the last line is the "=" whose value is Total.
type Breakdown struct {
	Title  string
	Terms  []Term
	Total  measure.Value // ml at 20 °C
	Open   bool          // there is no total yet, and Advice says why
	Facts  []string      // what goes with the total: window, basis, probabilities
	Doubt  []DoubtShare  // of Total, largest first; empty where it is exact
	Advice string        // what would make it surer, or what is missing; "" nothing
}

// breakdownBuilder makes a Breakdown line by line, of the values of the computation that
// made its total: it adds nothing up.
type breakdownBuilder struct{ Breakdown }

func (s *Assessment) newBreakdown(what string) *breakdownBuilder {
	return &breakdownBuilder{Breakdown{Title: what + ", at " + s.Units().FormatTemperature(20)}}
}

func (b *breakdownBuilder) begin(label string, v measure.Value, note string) {
	b.Terms = append(b.Terms, Term{"", label, v, note})
}

// plus and minus leave out a line that is exactly nothing, unless its note says
// why it is.
func (b *breakdownBuilder) plus(label string, v measure.Value, note string) {
	b.line("+", label, v, note)
}

func (b *breakdownBuilder) minus(label string, v measure.Value, note string) {
	b.line("-", label, v, note)
}

func (b *breakdownBuilder) line(sign, label string, v measure.Value, note string) {
	if Negligible(v) && note == "" {
		return
	}
	b.Terms = append(b.Terms, Term{sign, label, v, note})
}

func (b *breakdownBuilder) equals(label string, v measure.Value) {
	b.Terms = append(b.Terms, Term{"=", label, v, ""})
}

func (b *breakdownBuilder) fact(format string, a ...any) {
	b.Facts = append(b.Facts, fmt.Sprintf(format, a...))
}

// open ends a sum that has no total yet.
func (b *breakdownBuilder) open(why string) Breakdown {
	b.Open, b.Advice = true, why
	return b.Breakdown
}

// end ends a sum with the total that the rest of the model goes by.
func (b *breakdownBuilder) end(s *Assessment, total measure.Value) Breakdown {
	b.Total, b.Doubt = total, Budget(total.Contributions())
	b.Advice = s.adviceOn(b.Doubt)
	return b.Breakdown
}

func Negligible(v measure.Value) bool { return v.Nominal == 0 && v.U() == 0 }

// meanOf adds the two shares of a weighted mean as a sum of its own.
func (b *breakdownBuilder) meanOf(weight float64, v, w, mean measure.Value, labelV, labelW, label string) {
	parts := percents(weight, 1-weight)
	b.begin(parts[0]+" of "+labelV, v.Scale(weight), "")
	b.plus(parts[1]+" of "+labelW, w.Scale(1-weight), "")
	b.equals(label, mean)
}

// DrainedBreakdown breaks down what came out.
func (s *Assessment) DrainedBreakdown() Breakdown {
	b := s.newBreakdown("What came out")
	d := s.Drained()
	if len(d.Amounts) == 0 {
		if s.DryStart() {
			return b.open(sentence(startsDry))
		}
		return b.open("Nothing is measured yet.")
	}
	later := s.addEachGo(b, d)
	if len(d.Measures) > 1 {
		addMeasures(b, d)
	}
	for _, t := range later {
		b.plus(t.Label, t.Value, t.Note)
	}
	b.equals("came out", d.Total)
	return b.end(s, d.Total)
}

// addEachGo adds a line for each amount, a sum for each measure of the same
// oil. It returns what came later, which belongs to all of them.
func (s *Assessment) addEachGo(b *breakdownBuilder, d estimate.Drained) (later []Term) {
	measures := 0
	end := func() {
		if len(d.Measures) > 0 {
			b.equals(nthMeasure(measures+1), d.Measures[measures])
		}
		measures++
	}
	for i, a := range d.Amounts {
		note := s.readNote(job.DrainedAmount, a.At)
		switch {
		case i == 0:
			b.begin("measured", a.Value, note)
		case a.As == job.MoreAgain:
			end()
			b.begin("the same oil again", a.Value, note)
		case a.As == job.MoreLate:
			later = append(later, Term{"+", "dripped out much later", a.Value, note})
		case a.As == job.MoreDone:
			later = append(later, Term{"+", "found on a second look", a.Value, note})
		default:
			b.plus("and more", a.Value, note)
		}
	}
	end()
	return later
}

func nthMeasure(n int) string {
	if n <= 3 {
		return [...]string{"first", "second", "third"}[n-1] + " measure"
	}
	return fmt.Sprintf("measure %d", n)
}

func addMeasures(b *breakdownBuilder, d estimate.Drained) {
	if d.Contradict {
		b.begin("the "+nthMeasure(d.Trusted+1), d.Measures[d.Trusted], "the one that counts: not averaged")
		b.plus(estimate.ContradictionStands, d.Stands, standsNote)
	} else {
		sofar, of := d.Measures[0], nthMeasure(1)
		for i, mean := range d.Means {
			b.meanOf(mean.Weight, sofar, d.Measures[i+1], mean.Value, of, nthMeasure(i+2), "weighted mean")
			sofar, of = mean.Value, "the mean so far"
		}
	}
	b.fact("The measures are %.1f standard uncertainties apart; above %g they contradict each other.", d.Z, estimate.ConflictZ)
}

// TargetBreakdown breaks down what the unit needs: what each measure says, their
// weights, how far they are apart, and the window.
func (s *Assessment) TargetBreakdown() Breakdown {
	b := s.newBreakdown("Aim: what belongs in")
	in, plan, err := s.WholePlan()
	if err != nil {
		return b.open(sentence(err.Error()))
	}
	switch {
	case in.DryStart:
		b.fact("%s", sentence(startsDry))
	case plan.DrainedVoid:
		b.fact("What came out does not count: %s.", s.WhyVoid())
	default:
		b.begin("came out", in.Drained, "")
		switch over := in.Drained.Sub(plan.FromDrained); {
		case in.Unit == nil:
			b.plus("level before the job", over.Scale(-1), fmt.Sprintf("%s: standard uncertainty %.0f %%",
				trustWords[min(in.Prior, estimate.TrustNobodyKnows)], 100*in.Prior.Share()))
		case over.Nominal < 0:
			b.plus("was missing before", over.Scale(-1), asLeft)
		default:
			b.minus("was too much before", over, asLeft)
		}
		b.equals("so what came out says", plan.FromDrained)
	}
	known := s.addKnown(b, in, plan)
	if !plan.DrainedVoid {
		b.fact("The two are %.1f standard uncertainties apart; above %g they contradict each other.", plan.Z, estimate.ConflictZ)
	}
	if plan.Undecided {
		return b.open("The two contradict each other: they are not averaged. Choose which one counts, and say why.")
	}
	addBasis(b, plan, known)
	b.fact("Right is %s.", s.FormatWindow(plan))
	return b.end(s, plan.Target)
}

// addKnown adds what is known beside what came out, and returns what it is called.
func (s *Assessment) addKnown(b *breakdownBuilder, in estimate.PlanInput, plan estimate.Plan) (known string) {
	known = "the fill quantity"
	if in.Unit == nil {
		addStated(b, in, plan)
	} else {
		known = "what is known else"
		b.begin("what is known else says", plan.FromOthers, "the fill quantity and the jobs before")
	}
	if in.Card == nil {
		return known
	}
	b.begin(estimate.CardSays, plan.FromCard, s.TextAt(job.Place{Topic: job.Card}))
	b.equals("so others say", plan.FromCard)
	b.fact("What others measured and %s are %.1f standard uncertainties apart; above %g they contradict each other.", known, plan.CardZ,
		estimate.ConflictZ)
	b.meanOf(plan.CardWeight, plan.FromOthers, plan.FromCard, plan.FromCapacity, known, "what others measured", "both together")
	return "both together"
}

const asLeft = "as the last job left it"

// addStated adds what the stated quantity says.
func addStated(b *breakdownBuilder, in estimate.PlanInput, plan estimate.Plan) {
	b.begin("fill quantity (manual)", plan.Said, meaningNotes[in.Means])
	note := ""
	if in.Means == estimate.MeansUnknown {
		note = "anywhere from nothing to all of it"
	}
	switch {
	case in.DryStart:
		b.plus("stays inside later, not in yet", plan.Inside.Scale(-1), note)
	case in.Means == estimate.MeansDry || in.Means == estimate.MeansUnknown:
		b.plus("dripped out much later", in.LateDrips, "")
		b.minus("stays inside at a drain", plan.Inside, note)
	default:
		b.plus("dripped out much later", in.LateDrips, "")
		b.minus("stays inside beyond the usual", plan.Inside, "")
	}
	b.equals("so the manual says", plan.FromOthers)
}

// startsDry says why there is nothing that came out.
const startsDry = "the unit starts dry: nothing came out, and nothing has stayed in"

var meaningNotes = [...]string{
	estimate.MeansDry: "dry fill after overhaul", estimate.MeansRefill: "ordinary oil change", estimate.MeansLevel: "to the level hole",
	estimate.MeansUnknown: "oil change or dry fill: not known",
}

// standsNote says what a contradiction that was overruled costs.
const standsNote = "as much as would make the gap ordinary"

// addBasis adds how the target follows from the measures.
func addBasis(b *breakdownBuilder, plan estimate.Plan, known string) {
	switch {
	case plan.Basis == estimate.ByBoth:
		b.meanOf(plan.Weight, plan.FromDrained, plan.FromCapacity, plan.Target, "what came out", known, "aim")
		return
	case plan.Basis == estimate.ByDrained:
		b.begin("what came out says", plan.FromDrained, "chosen")
		b.plus(estimate.ContradictionStands, plan.Stands, standsNote)
	case plan.Basis == estimate.BothStand:
		b.begin("what came out says", plan.FromDrained, "")
		b.plus("of the gap to what is known else", plan.Stands, "both stand, give or take as much more")
	case plan.DrainedVoid:
		b.begin(known+" says", plan.FromCapacity, "the only one")
	default:
		b.begin(known+" says", plan.FromCapacity, "chosen")
		b.plus(estimate.ContradictionStands, plan.Stands, standsNote)
	}
	b.equals("aim", plan.Target)
}

var trustWords = [...]string{estimate.Verified: "verified", estimate.Believed: "believed", estimate.TrustNobodyKnows: "nobody knows"}

// WhyVoid says why what came out is no measure.
func (s *Assessment) WhyVoid() string {
	if !s.Measured() {
		return "it is not all measured yet"
	}
	switch s.LookedCause() {
	case job.LookedNeighbour:
		return "there is oil of the unit beside it in it"
	case job.LookedWater:
		return "there is water in it"
	case job.LookedOverfilled:
		return "the unit was overfilled before"
	}
	switch {
	case s.OilLook() == job.LookMilky:
		return "there is water in it"
	case s.OilLook() == job.LookForeign:
		return "there is another unit's oil in it"
	case s.OilLook() == job.LookNotLooked:
		return "nobody looked at it"
	case s.Past() == job.PastNotKnown:
		return "nobody knows whether oil was lost or added"
	case s.Past() == job.PastLeaked:
		return "the unit has been leaking"
	case s.Past() == job.PastToppedUp:
		return "it was topped up, and nobody measured how much"
	case s.WrongBox():
		return "it is more than this unit can hold"
	}
	return "some of it was lost before it was measured"
}
