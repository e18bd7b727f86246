package main

import (
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	"garage/tundish/model"
)

// The tag says what is so at each stage of a job, and keeps its frame.
func TestTagSaysWhatIsSo(t *testing.T) {
	for _, row := range []struct {
		stop model.Topic
		want string
	}{
		{model.PlugOut, "AN OIL CHANGE IS UNDER WAY"},
		{model.DrainedAmount, "UNIT EMPTY"},
		{model.Decision, "UNIT UNPROVEN"},
	} {
		job, err := answered(model.Job{ID: "a", Started: noon}, wholeAnswers(strings.Repeat("van ", 10), strings.Repeat("Achse über", 3)), row.stop)
		if err != nil {
			t.Fatal(err)
		}
		text := tag(model.Fold(job, model.Offers{}), time.UTC)
		if !strings.Contains(text, row.want) || !strings.Contains(text, "D O   N O T   D R I V E") {
			t.Errorf("before %v the tag is\n%s\nwant %s", row.stop, text, row.want)
		}
		for line := range strings.Lines(text) {
			if n := utf8.RuneCountInString(strings.TrimSuffix(line, "\n")); n != tagWidth+2 {
				t.Errorf("a line of %d characters breaks the frame: %q", n, line)
			}
		}
	}
}
