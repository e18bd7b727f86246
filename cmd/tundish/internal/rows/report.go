package rows

// This file says in words what looking a store through has found, what restoring one did,
// and what is done with it.

import (
	"fmt"

	"garage/tundish/cmd/tundish/internal/cards"
	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/cmd/tundish/internal/progress"
	"garage/tundish/model/text"
	"garage/tundish/store"
	"garage/tundish/store/restore"
	"garage/tundish/store/steps"
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

// mostNamed is how many jobs are named one by one.
const mostNamed = 20

// Restored is what restoring a backup did, with the journal that was named.
func Restored(done restore.Done, backup, journal string) *cli.Sheet {
	said := new(cli.Sheet)
	said.Note("%s: put back from %s, %d job(s)", text.Visible(done.Path), text.Visible(backup), done.Jobs)
	switch {
	case done.Cards != nil && *done.Cards > 0:
		said.Note("put back: %d unit card(s)", *done.Cards)
	case done.Cards == nil && len(cards.In(store.CardsBeside(done.Path))) > 0:
		said.Note("unit cards: the backup was made without them; those that are here stay")
	}
	if journal != "" {
		said.Note("taken up: %d line(s) of %s", done.TakenUp, text.Visible(journal))
	}
	for _, kept := range done.Kept {
		said.Note("kept: %s", text.Visible(kept))
	}
	for i, n := range done.Newer {
		if i == mostNamed {
			said.Note("not in the store now: something of %d jobs more", len(done.Newer)-mostNamed)
			break
		}
		said.Note("not in the store now: job %s, %d entries more", text.Visible(n.Job), n.Entries)
	}
	for _, id := range done.Back {
		said.Note("job %s was discarded after the backup and is in the lists again; see: tundish discard", text.Visible(id))
	}
	for _, id := range done.Away {
		said.Note("job %s was taken back after the backup and is discarded again; see: tundish discard", text.Visible(id))
	}
	if done.Unread != "" {
		said.Note("not all of the journal that was there can be read: %s", text.Visible(done.Unread))
	}
	if len(done.Newer) > 0 && len(done.Kept) > 0 {
		said.Note("that is in the journal that is kept; to have it too: tundish restore %s --journal %s",
			text.Visible(backup), text.Visible(done.Kept[0]))
	}
	return said
}

// Doing says what is done with a store, and what is true where its opening is stopped there.
func Doing(k steps.Kind) progress.Words {
	const nothing = "nothing was changed"
	return [...]progress.Words{
		steps.Copying:    {Doing: "copying", Of: "pages", Then: nothing},
		steps.Looking:    {Doing: "looking through", Of: "pages", Then: nothing},
		steps.Reading:    {Doing: "reading", Of: "pages", Then: nothing},
		steps.Writing:    {Doing: "writing", Of: "jobs", Then: nothing},
		steps.Journaling: {Doing: "writing the journal", Of: "jobs", Then: nothing},
		steps.TakingUp:   {Doing: "taking up", Of: "lines", Then: "those are in; opening it again goes on"},
		steps.Verifying:  {Doing: "looking through", Of: "entries", Then: nothing},
		steps.Comparing:  {Doing: "comparing", Of: "jobs", Then: nothing},
	}[k]
}
