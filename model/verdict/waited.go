package verdict

// This file works out, from the times of entries, how long was waited where a
// job is to wait, and what was done faster than it can be. So it says the same
// of a job of an older file.

import (
	"fmt"
	"math"
	"time"

	"garage/tundish/model/estimate"
	"garage/tundish/model/hydraulics"
	"garage/tundish/model/job"
)

// The least that counts as waited where less than the clock of the wait will
// do, and the least that the work under the car takes (all common practice
// without a source).
const (
	capLeast   = 5 * time.Minute  // "5 to 10 minutes"
	driveLeast = 10 * time.Minute // 5 km there and back
	nightLeast = 6 * time.Hour
	workLeast  = 5 * time.Minute // from plug out to plug in, with nothing waited for
)

// waited is one wait of a job that is over.
type waited struct {
	kind    FindingKind
	Place   job.Place // of the answer that ended it
	Took    time.Duration
	wants   time.Duration
	decides bool // what is judged rests on it
}

// Span is the time between two moments. A clock that was set back has told no
// time.
func Span(from, to time.Time) time.Duration { return max(0, to.Sub(from)) }

// Waits lists the waits of a job that are over, in its order.
func (s *Assessment) Waits() []waited {
	var list []waited
	if w, ok := s.drainWaited(); ok {
		list = append(list, w)
	}
	add := func(kind FindingKind, since, ended job.Place, wants time.Duration, decides bool) {
		from, ok1 := s.Answer(since)
		to, ok2 := s.Answer(ended)
		if ok1 && ok2 {
			list = append(list, waited{kind, ended, Span(from.Happened(), to.Happened()), wants, decides})
		}
	}
	for i := range s.Items(job.DrainedAmount, 0) {
		p := job.Place{Item: i}
		add(LookShort, p.Of(job.DrainedAmount), p.Of(job.LookedAgain), SettleWait, true)
	}
	for round := range s.Rounds() {
		p := job.Place{Round: round}
		if s.LevelSeen(round) {
			add(SettleShort, s.poured(p), p.Of(job.LevelWeeps), SettleWait, true)
		}
		add(CapShort, p.Of(job.Capped), p.Of(job.PlugSeated), capLeast, false)
	}
	for round := range s.Rounds() {
		for p := (job.Place{Round: round}); s.HasItem(job.LeakCheck, round, p.Item); p.Item++ {
			since := p.Of(job.TagOff)
			if p.Item > 0 {
				since = job.At(job.WasherRenewed, round, p.Item-1)
			}
			add(CheckShort, since, p.Of(job.LeakCheck), driveLeast, false)
			add(CheckShort, p.Of(job.LeakCheck), p.Of(job.WasherRecheck), nightLeast, false)
		}
	}
	return list
}

// poured is the answer after which oil at a level hole settled: that the pouring ended,
// or, where that was said together with what was seen, the last one before it.
func (s *Assessment) poured(p job.Place) job.Place {
	ended, _ := s.Answer(p.Of(job.FillEnded))
	seen, _ := s.Answer(p.Of(job.LevelWeeps))
	if ended.Happened().Equal(seen.Happened()) {
		return job.At(job.LoadedAmount, p.Round, max(s.Items(job.LoadedAmount, p.Round)-1, 0))
	}
	return p.Of(job.FillEnded)
}

// drainWaited is the wait for the drips: as long as readings, drops or the film of this
// oil ask for.
func (s *Assessment) drainWaited() (waited, bool) {
	took, ok := s.DrainedFor()
	w := waited{DrainShort, s.LastDrained(), took, s.DrainWait(), true}
	if d := s.Drips(s.Updated); d.Ended && d.Fitted {
		w.wants = min(w.wants, time.Duration((d.Minutes+d.WaitMin)*float64(time.Minute)))
	}
	return w, ok
}

// CutShort lists the waits that were cut short, and a drain of cold oil.
func (s *Assessment) CutShort() []Finding {
	f := found{Assessment: s, step: job.Drain}
	f.coldDrain()
	for _, w := range s.Waits() {
		if w.Took < w.wants {
			say := cutWords[w.kind]
			f.step, f.round = say.step, w.Place.Round
			wants := SpanWords(w.wants + time.Minute - 1) // rounded up: never the words of what it took
			f.add(w.kind, 0, w.Place, fmt.Sprintf(say.text, SpanWords(w.Took), wants), say.do)
		}
	}
	return f.list
}

// coldDrain finds oil that was drained cold, or dripped fast, and says what more of it stays inside.
func (s *found) coldDrain() {
	t, film := s.OilTempC(), s.ColdFilm().Nominal
	if !s.Has(job.PlugOut) || !s.Has(job.OilTemperature) || t >= estimate.ColdDrainC && film == 0 {
		return
	}
	at := job.At(job.OilTemperature, 0, s.Items(job.OilTemperature, 0)-1)
	kvCSt, told := s.ViscosityAt(t)
	switch now, ordinary := s.FilmInML(); {
	case film == 0:
		s.add(DrainCold, 0, at, fmt.Sprintf("Drained at %s: cold, thick oil leaves more behind.", s.Show(t, job.DimC)),
			"Warm it by a short drive first. What stays inside is less well known.")
	case told:
		s.add(DrainCold, film, at, fmt.Sprintf("At %s, %.0f mm²/s, about %s cling inside; warm, %s.", s.Show(t, job.DimC), kvCSt,
			s.Show(math.Round(now), job.DimML), s.Units().BareVolume(math.Round(ordinary))),
			"So much less goes in: "+s.Show(math.Round(film), job.DimML)+". Warm it first the next time.")
	default:
		s.add(DrainCold, film, at, fmt.Sprintf("By the drops about %s are still to come.", s.Show(math.Round(now), job.DimML)),
			"So much less goes in: "+s.Show(math.Round(film), job.DimML)+". Longer, or warmer, the next time.")
	}
}

// DropsText says what the drops of a minute tell; "" where nobody counted them.
func (s *Assessment) DropsText() string {
	rate, minutes, ok := s.Drops()
	if !ok {
		return ""
	}
	toCome := hydraulics.ToComeML(minutes, rate)
	if toCome <= estimate.FilmDoneML {
		return fmt.Sprintf("by the drops about %s still to come, ever: go on", s.Show(math.Round(toCome), job.DimML))
	}
	more := math.Ceil(s.DrainWait().Minutes() - minutes)
	if then := hydraulics.LaterML(toCome, minutes, minutes+more); more > 0 && then <= 1.05*estimate.FilmDoneML {
		return fmt.Sprintf("by the drops about %s still to come, half of it by %.0f min: wait %.0f min more",
			s.Show(math.Round(toCome), job.DimML), 4*minutes, more)
	}
	return fmt.Sprintf("by the drops about %s still to come: too thick to be waited for. Go on, it is counted; or warm it",
		s.Show(math.Round(toCome), job.DimML))
}

// cutWords say that a wait was cut short, and what to do about it.
var cutWords = map[FindingKind]struct {
	step     job.Step
	text, do string
}{
	DrainShort: {job.Measure, "Drained for %s; it takes %s until only slow drops come.",
		"Let it drain on, and measure what comes as more that dripped out."},
	LookShort: {job.Measure, "Looked again after %s; oil and water need %s to settle.", "Look once more, and correct the answer."},
	SettleShort: {job.Fill, "The level was seen after %s; oil needs %s to settle.",
		"Look at the level hole again, and correct the answer."},
	CapShort: {job.Seat, "Capped for %s; bubbles need %s at least to rise.",
		"Froth hides what is spilled: look for oil again after the drive."},
	CheckShort: {job.CloseOut, "Looked for leaks after %s; a weep needs %s to show.", "Look again, and correct the answer."},
}

// ListTook is how long the list before the plug came out took from being shown, as the
// sheet before it was complete, to its last line; false where that is not known, or it was
// ticked on paper.
func (s *Assessment) ListTook() (time.Duration, bool) {
	first, begun := s.Answer(job.Place{Topic: job.ElectricOff})
	if !begun {
		first, begun = s.Answer(job.Place{Topic: job.GroundAndChocks})
	}
	last, ended := s.Answer(job.Place{Topic: job.TagAndKey})
	entries, _ := s.Ledger()
	if !begun || !ended || first.Seq < 2 || s.Has(job.FromPaper) {
		return 0, false
	}
	return Span(entries[first.Seq-2].At, last.At), true
}

// ListLeast is the least that the list before the plug comes out takes at the car
// (common practice, no source).
const ListLeast = time.Minute

// SpanWords is a time as it is said.
func SpanWords(d time.Duration) string {
	switch {
	case d < time.Minute:
		return "less than 1 min"
	case d < 2*time.Hour:
		return fmt.Sprintf("%d min", int(d.Minutes()))
	}
	return fmt.Sprintf("%.0f h", math.Floor(d.Hours()))
}

// hasty reports whether a job was clicked through: a wait that decides was cut
// by more than half, or the work under the car took no time.
func (s *Assessment) hasty() bool {
	for _, w := range s.Waits() {
		if w.decides && w.Took < w.wants/2 {
			return true
		}
	}
	seated, ok := s.Answer(job.Place{Topic: job.PlugSeated})
	for _, begins := range []job.Topic{job.PlugOut, job.DrainPlugIn, job.AdapterIn} {
		if e, begun := s.Answer(job.Place{Topic: begins}); begun && ok {
			return Span(e.Happened(), seated.Happened()) < workLeast
		}
	}
	return false
}

// DrainTimeText is how long it drained, "" where nothing was drained and
// measured.
func (s *Assessment) DrainTimeText() string {
	took, ok := s.DrainedFor()
	if !ok {
		return ""
	}
	return SpanWords(took) + ", from plug out to the last measure"
}

// Waits of the trade, all common practice without a source.
const (
	SettleWait = 10 * time.Minute // bubbles rise, the oil settles; a second look at the pan
	DriveWait  = 30 * time.Minute // a ShortDrive and back
	ColdWait   = 12 * time.Hour   // over night
)
