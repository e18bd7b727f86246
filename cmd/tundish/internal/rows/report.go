package rows

// This file says in words what looking a store through has found.

import (
	"fmt"

	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/model/text"
	"garage/tundish/store"
)

// Report is a report as text; what its findings are is said by word.
func Report(r store.Report, word string) *cli.Sheet {
	s := new(cli.Sheet)
	for _, f := range r.Findings {
		s.Note("%s: %s", word, text.Visible(f.String()))
	}
	if r.MoreFaults > 0 {
		s.Note("%s: and %d more", word, r.MoreFaults)
	}
	for _, f := range r.Notes {
		s.Note("note: %s", text.Visible(f.String()))
	}
	discarded := ""
	if r.Discarded > 0 {
		discarded = fmt.Sprintf(" (%d discarded)", r.Discarded)
	}
	s.Note("%s: %d job(s)%s, %d entries, %d line(s) of journal", text.Visible(r.Path), r.Jobs, discarded, r.Entries, r.Lines)
	switch {
	case r.OK() && r.AfterLine > 0:
		s.Note("nothing is %s up to there", word)
	case r.OK():
		s.Note("nothing is %s", word)
	}
	return s
}
