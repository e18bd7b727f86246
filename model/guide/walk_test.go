package guide

// This file walks at random through jobs the way no sensible person does:
// right and odd answers, corrections, undo. What must hold all the way is
// checked at every step.

import (
	"cmp"
	"encoding/json"
	"fmt"
	"reflect"
	"slices"
	"strconv"
	"testing"
	"time"

	"pgregory.net/rapid"

	"garage/tundish/model/ask"
	"garage/tundish/model/estimate"
	"garage/tundish/model/job"
	"garage/tundish/model/verdict"
	"garage/tundish/testdata/runs"
)

// walk is a job under way.
type walk struct {
	t      *rapid.T
	job    job.Job
	offers Offers
	at     time.Time
	before []view // what was seen before each entry that undo would take back
}

// view is what a person sees of a job: what is asked, planned, judged, listed.
type view struct {
	next    job.Place
	more    bool
	step    job.Step
	head    Head
	plan    estimate.Plan
	verdict verdict.Verdict
	errs    string
	found   []verdict.Finding
}

func look(s *Guide) view {
	p, more := s.Next()
	v := view{next: p.Place, more: more, step: s.Step(), head: s.Head()}
	for _, f := range s.Findings() {
		if f.Kind != verdict.StoodOpen { // time goes on while one undoes
			v.found = append(v.found, f)
		}
	}
	v.head.Entries, v.head.Updated = 0, time.Time{}
	var err1, err2 error
	v.plan, err1 = s.Plan(s.Round())
	v.verdict, err2 = s.Verdict(s.Round())
	v.errs = fmt.Sprint(err1, err2)
	return v
}

func (w *walk) state() *Guide { return Fold(w.job, w.offers) }

func (w *walk) add(e job.Entry) {
	if err := cmp.Or(e.Check(), e.CheckSense()); err != nil { // what the guide takes, an import takes
		w.t.Fatalf("entry %+v: %v", e, err)
	}
	w.at = w.at.Add(time.Duration(rapid.SampledFrom([]int{1, 5, 60, 600}).Draw(w.t, "minutes")) * time.Minute)
	w.job.Entries = append(w.job.Entries, e)
}

// answer puts in a valid answer of any kind that the prompt takes.
func (w *walk) answer(s *Guide, p Prompt) {
	w.before = append(w.before, look(s))
	switch p.Kind {
	case job.Acknowledge, job.Event:
		w.add(answered(s, p, "", w.at))
		return
	case job.Choose:
		options := slices.DeleteFunc(slices.Clone(p.Choices(s)), func(o ask.Option) bool {
			return p.Accept(s, p.ChoiceValue(s, o)) != nil // named, so as to be refused
		})
		if len(options) == 0 {
			w.t.Fatalf("%v offers nothing to choose", p.Topic)
		}
		w.accept(s, p, p.ChoiceValue(s, rapid.SampledFrom(options).Draw(w.t, "option")), "")
		return
	}
	if p.Ends != job.NoTopic && p.Strikes == 0 && rapid.IntRange(0, 2).Draw(w.t, "end") > 0 {
		w.add(answered(s, p, "", w.at))
		return
	}
	if v, ok := p.DefaultValue(s); ok && rapid.Bool().Draw(w.t, "offer") {
		w.accept(s, p, v, "")
		return
	}
	if p.Unknown != "" && rapid.IntRange(0, 3).Draw(w.t, "unknown") == 0 {
		w.accept(s, p, job.Value{Unknown: true}, ".")
		return
	}
	w.typeIn(s, p)
}

// plain are lines one of which every field takes.
var plain = []string{"10 ml", "100 ml", "1000 ml", "0 ml", "0 g", "40", "885", "1", "20000 g", "35-45 C", "page 12"}

// typeIn types odd lines, then plain ones, until one is taken.
func (w *walk) typeIn(s *Guide, p Prompt) {
	for i := range 20 + len(plain) {
		line := plain[max(0, i-20)]
		if i < 20 {
			line = w.line(s, p)
		}
		if v, err := p.Parse(s, line); err == nil {
			w.accept(s, p, v, line)
			return
		}
	}
	if p.Ends != job.NoTopic {
		w.add(answered(s, p, "", w.at))
		return
	}
	if p.Unknown == "" {
		w.t.Fatalf("no answer to %v is taken: %q", p.Topic, p.AskText(s))
	}
	w.accept(s, p, job.Value{Unknown: true}, ".")
}

func (w *walk) accept(s *Guide, p Prompt, v job.Value, typed string) {
	if err := p.Accept(s, v); err != nil {
		w.t.Fatalf("%v: %+v, on offer or parsed, is refused: %v", p.Topic, v, err)
	}
	w.add(p.Entry(s, v, typed, w.at))
}

// line is something that could be typed: mostly near what is right.
func (w *walk) line(s *Guide, p Prompt) string {
	c := max(s.CapacityML(), 300)
	ml := rapid.Float64Range(0, 1.4*c).Draw(w.t, "ml")
	switch p.Kind {
	case job.Free:
		return rapid.StringMatching(`[a-z]{1,12}`).Draw(w.t, "text")
	case job.Range:
		low := rapid.Float64Range(20, 2000).Draw(w.t, "low")
		return rapid.SampledFrom([]string{fmt.Sprintf("%.0f ml", low), fmt.Sprintf("%.0f-%.0f ml", low, 1.1*low), "40", "35-45 C",
			"2-5 mm"}).Draw(w.t, "range")
	case job.Bounds:
		return rapid.SampledFrom([]string{"50 ml", "5%", "+20 -50 ml", "3%"}).Draw(w.t, "bounds")
	case job.Amount:
		g := 0.885 * ml
		return rapid.SampledFrom([]string{
			fmt.Sprintf("%.0f ml", ml), fmt.Sprintf("%.0f+%.0f ml", ml/2, ml/3), fmt.Sprintf("%.0fml@40C", ml),
			fmt.Sprintf("%.0f g", g), fmt.Sprintf("%.0f-330 g", g+330), "0 ml", "0 g", fmt.Sprintf("%.0f ml", ml/20), "10 ml",
		}).Draw(w.t, "amount")
	}
	return strconv.FormatFloat(rapid.SampledFrom([]float64{1, 3, 15, 45, 55, 70, 100, 885, 500, 1000, 1350, 12, 40}).Draw(w.t, "number"),
		'f', -1, 64)
}

// correct asks a standing entry again.
func (w *walk) correct(s *Guide) {
	standing := s.Standing()
	if len(standing) == 0 {
		return
	}
	e := rapid.SampledFrom(standing).Draw(w.t, "corrected")
	p, ok := s.Correcting(e.Seq)
	if !ok {
		w.t.Fatalf("standing entry %d (%v) cannot be corrected", e.Seq, e.Topic)
	}
	if p.Kind == job.Choose && len(p.Choices(s)) == 0 {
		return // what it chose between is gone
	}
	w.answerOrNot(s, p)
}

// answerOrNot corrects where any of a few lines is taken: an entry of a round
// that no longer makes sense may have no valid answer left.
func (w *walk) answerOrNot(s *Guide, p Prompt) {
	if p.Kind == job.Acknowledge || p.Kind == job.Event || p.Kind == job.Choose {
		w.answer(s, p)
		return
	}
	for range 5 {
		if v, err := p.Parse(s, w.line(s, p)); err == nil {
			w.before = append(w.before, look(s))
			w.accept(s, p, v, "")
			return
		}
	}
}

func (w *walk) undo(s *Guide) {
	e, ok := s.UndoEntry(w.at)
	if !ok {
		return
	}
	w.add(e)
	if n := len(w.before); n > 0 {
		want := w.before[n-1]
		w.before = w.before[:n-1]
		if got := look(w.state()); !reflect.DeepEqual(got, want) {
			w.t.Fatalf("undo of line %d gives\n%+v\nand not what was there before\n%+v", e.Strikes, got, want)
		}
	}
}

// strike takes back any one entry; undo then no longer walks back the same way.
func (w *walk) strike(s *Guide) {
	standing := s.Standing()
	if len(standing) == 0 {
		return
	}
	e, ok := s.StrikeEntry(rapid.SampledFrom(standing).Draw(w.t, "struck").Seq, w.at)
	if !ok {
		w.t.Fatal("a standing entry cannot be struck out")
	}
	w.add(e)
	w.before = nil
}

// step does one thing; false when there is nothing to answer.
func (w *walk) step() bool {
	s := w.state()
	switch n := rapid.IntRange(0, 99).Draw(w.t, "what"); {
	case n < 6:
		w.correct(s)
	case n < 10:
		w.undo(s)
	case n < 11:
		w.strike(s)
	default:
		p, ok := s.Next()
		if !ok {
			return false
		}
		w.answer(s, p)
	}
	w.check()
	return true
}

// check holds what must be true of every job at every moment.
func (w *walk) check() {
	s := w.state()
	unit, last := s.UnitState(), s.Round()
	if s.Has(job.PlugOut) && unit == verdict.AsFound {
		w.t.Fatal("the plug has been out, and the unit is said to be as found")
	}
	if unit == verdict.Proven {
		v, err := s.Verdict(last)
		if err != nil || !s.HasIn(job.PlugSeated, last) || s.Decision(last) != job.DecideAccept || !verdict.Acceptable(v) || s.Weeps() {
			w.t.Fatalf("proven without plug, acceptance or verdict: %v %v", v.Conformity, err)
		}
	}
	if s.MayDrive() && s.Has(job.PlugOut) && (unit == verdict.Empty || unit == verdict.Unproven || !s.BreatherOpen()) {
		w.t.Fatalf("may be driven while %v", unit)
	}
	for p, open := range s.Prompts() {
		if open && p.Strikes != 0 && (p.Kind == job.Event || p.Kind == job.Acknowledge) && p.Stale == nil {
			w.t.Fatalf("%v, done already, is asked again", p.Topic)
		}
	}
	for _, u := range allBreakdowns(s) {
		if fault := sumFault(u); fault != "" {
			w.t.Fatalf("%s: %s", u.what, fault)
		}
	}
	for _, f := range s.Findings() {
		if f.Text == "" || f.Do == "" || f.Seq < 0 || f.Seq > s.Count {
			w.t.Fatalf("finding %+v", f)
		}
	}
}

// readBack checks that a job read back from JSON, and asked in another order,
// is the same.
func (w *walk) readBack() {
	if len(w.job.Entries) == 0 {
		return
	}
	if err := w.job.Check(); err != nil {
		w.t.Fatal(err)
	}
	text, err := json.Marshal(w.job)
	if err != nil {
		w.t.Fatal(err)
	}
	var back job.Job
	if err := json.Unmarshal(text, &back); err != nil {
		w.t.Fatal(err)
	}
	other := Fold(back, w.offers)
	questions := []func(){
		func() { other.Verdict(other.Round()) }, func() { other.Findings() }, func() { other.Balance(0) }, func() { other.NetFill(2) },
		func() { other.UnitState() }, func() { other.LoadDevices() }, func() { other.Plan(1) },
	}
	for _, ask := range rapid.Permutation(questions).Draw(w.t, "order") {
		ask()
	}
	if got, want := look(other), look(w.state()); !reflect.DeepEqual(got, want) {
		w.t.Fatalf("read back from JSON it is\n%+v\nand was\n%+v", got, want)
	}
}

// settled are answers that lead to the end from wherever a job has got to.
var settled = []string{"accept", "leave", "done", "dry", "nothing_more", "go_on", "right_unit", "keep_from_rust", "stands", "holds", "none",
	"capacity"}

// finish answers sensibly until nothing is asked.
func (w *walk) finish() {
	for range 400 {
		s := w.state()
		p, ok := s.Next()
		if !ok {
			return
		}
		if p.Topic == job.OilTemperature {
			w.add(p.Entry(s, job.Value{Number: 40, Unit: job.DimC}, "", w.at))
			continue
		}
		if p.Ends != job.NoTopic {
			w.add(answered(s, p, "", w.at))
			continue
		}
		if p.Kind != job.Choose {
			w.answer(s, p)
			continue
		}
		options := p.Choices(s)
		i := slices.IndexFunc(options, func(o ask.Option) bool { return slices.Contains(settled, o.Token) })
		w.accept(s, p, p.ChoiceValue(s, options[max(i, 0)]), "")
	}
	s := w.state()
	p, _ := s.Next()
	w.t.Fatalf("the job does not end; asked is %v of round %d, item %d", p.Topic, p.Place.Round, p.Place.Item)
}

func newWalk(t *rapid.T, before *Guide) *walk {
	w := &walk{t: t, job: job.Job{ID: job.NewID(start, 3), Started: start}, at: start}
	if rapid.Bool().Draw(t, "learned") {
		w.offers.Before = before
	}
	return w
}

func TestAnyWayThroughAJobHolds(t *testing.T) {
	before := earlierJob(t)
	runs.Check(t, 40, func(t *rapid.T) {
		w := newWalk(t, before)
		for range rapid.IntRange(20, 130).Draw(t, "steps") {
			if !w.step() {
				break
			}
		}
		w.readBack()
		w.finish()
		w.check()
		w.readBack()
	})
}
