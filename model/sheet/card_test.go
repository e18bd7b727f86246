package sheet

import (
	"strings"
	"testing"

	"garage/tundish/model/ask"
	"garage/tundish/model/card"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
)

// A card is shown on the first sheet, is taken by one digit and left out by another, and
// nobody who does not take it is asked.
func TestCardOnItsSheet(t *testing.T) {
	p := firstJob(t)
	p.offers = guide.Offers{Offers: ask.Offers{Cards: []card.Card{{Name: "K2", Unit: "final_drive", Path: "drain_only", Jobs: 14,
		Out: card.Figure{Jobs: 14, Mean: 600, SD: 20}}}}}
	line := func() (Sheet, int) {
		s := Of(p.guide(), At{ID: Prepare1}, p.now)
		return s, s.LineOf(job.Place{Topic: job.Card})
	}
	for {
		s, _ := line()
		if s.FirstOpen() < 0 {
			break
		}
		p.one(s)
	}
	s, i := line()
	if i < 0 || s.Lines[i].Folded || s.Lines[i].Value != "14 jobs: 600 ± 44 ml; not taken" || len(s.Lines[i].Options) != 1 ||
		!strings.HasPrefix(s.Lines[i].Options[0].Hint, "± ") {
		t.Fatalf("line %d of %s", i, show(s))
	}
	for _, want := range []string{"K2, 14 jobs: 600 ± 44 ml came out", "14 jobs: 600 ± 44 ml; not taken"} {
		key := s.Lines[i].Options[len(s.Lines[i].Options)-1].Key
		entries, err := s.Take(p.guide(), i, Answer{Key: key}, p.now)
		if err != nil || len(entries) != 2 {
			t.Fatalf("%d entries, %v", len(entries), err)
		}
		p.job.Entries = append(p.job.Entries, entries...)
		if s, i = line(); !strings.HasPrefix(s.Lines[i].Value, want) && !strings.Contains(s.Lines[i].Value, "left") {
			t.Errorf("it says %q, want %q", s.Lines[i].Value, want)
		}
		if _, taken := p.guide().CardTaken(); taken != strings.HasPrefix(want, "K2") {
			t.Errorf("after %q it is taken: %v", want, taken)
		}
	}
}
