package report

import (
	"strings"
	"testing"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/qr"
)

func TestFactsArePlainTextThatACodeHolds(t *testing.T) {
	s := guide.Fold(wholeDrainPort(t), guide.Offers{})
	got := Facts(s, Options{Zone: time.UTC})
	want := "Oil change: rear axle of blue estate\njob 20260418-700000\n2026-04-18 ACCEPTED, LIKELY 84 in 100\n" +
		"Fill quantity (manual) 900 ml\nCame out 834 ± 21 ml\nAim 830 ± 57 ml\nRight 780 ml to 890 ml\nWent in 816 ± 12 ml\n75W-90 GL-5\n" +
		"next: 2029-04-18 or 183 456 km"
	if strings.ReplaceAll(got, " ", " ") != want {
		t.Errorf("got\n%s\nwant\n%s", got, want)
	}
	if len(got) > qr.MostBytes {
		t.Errorf("%d bytes", len(got))
	}
	if shared := Facts(s, Options{Share: true}); strings.Contains(shared, "estate") {
		t.Errorf("a shared one names the car:\n%s", shared)
	}
	bare := guide.Fold(job.Job{ID: "20260418-1", Started: s.Started}, guide.Offers{})
	if got := Facts(bare, Options{}); strings.Count(got, "\n") != 2 {
		t.Errorf("of a job that has only begun: %q", got)
	}
}

// The pages have the code, and no other page is asked for.
func TestPagesHaveTheirCode(t *testing.T) {
	s := guide.Fold(wholeDrainPort(t), guide.Offers{})
	c, err := qr.Of(Facts(s, Options{}))
	if err != nil {
		t.Fatal(err)
	}
	page := written(t, HTML, wholeDrainPort(t))
	if !strings.Contains(page, `d="`+c.Path()+`"`) || strings.Contains(page, "://") {
		t.Error("the record has no code, or asks for another page")
	}
}
