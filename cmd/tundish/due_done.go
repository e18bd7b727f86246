package main

// This file stores that something that was due is done, as the guide would.

import (
	"errors"
	"fmt"
	"time"

	"github.com/alecthomas/kong"

	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/cmd/tundish/internal/done"
	"garage/tundish/model/agenda"
	"garage/tundish/model/job"
	"garage/tundish/model/share"
	"garage/tundish/model/text"
	"garage/tundish/tui/session"
)

// dueDone is what was stored, and what the job leaves to do then, in JSON.
type dueDone struct {
	Job    string        `json:"job"`
	Item   agenda.Kind   `json:"item"`
	Answer string        `json:"answer"`
	Left   []agenda.Item `json:"left"`
}

// done stores the answer to what is due of a job, and prints what is left of it.
func (c *dueCommand) done(o *outside, k *kong.Context) error {
	read, id, err := jobFlag{c.Done}.find(o)
	if err != nil {
		return err
	}
	if err := read.Close(); err != nil {
		return err
	}
	s, err := o.writeStore()
	if err != nil {
		return err
	}
	defer s.Close()
	j, now, ask := storeJournal{s}, o.now(), cli.NewAsker(o.in, o.err, !c.JSON)
	items, err := j.dueOf(id, now)
	if err != nil {
		return err
	}
	item, err := done.Which(id, c.Item, items, ask)
	if unclear, ok := errors.AsType[done.Usage](err); ok {
		return cli.Usage(k, unclear)
	}
	if err != nil {
		return err
	}
	at, err := session.Load(j, id, now)
	if err != nil {
		return err
	}
	result := dueDone{Job: id, Item: item.Kind}
	entries, err := done.Answer(c.Answer, at.Guide(), at.Real(), item.Done, ask, now)
	if err != nil {
		return fmt.Errorf("%s: %w", item.What, err)
	}
	if at, err = at.Keep(j, entries); err != nil {
		return err
	}
	if result.Left, err = j.dueOf(id, now); err != nil {
		return err
	}
	result.Left = append([]agenda.Item{}, result.Left...)
	result.Answer = at.Real().AnswerText(entries[0])
	said := new(cli.Sheet)
	said.Note("job %s, %s: %s", text.Visible(id), item.What, text.Visible(result.Answer))
	if next, more := at.Real().Next(); more && next.Topic != job.LeakCheck && next.Topic != job.WasherRecheck {
		said.Note("the guide goes on with it: tundish --job %s", text.Visible(id))
	}
	said.Append(dueSheet(result.Left, o.dates()))
	return o.show(c.jsonFlag, result, said)
}

// dueOf is what one of the owner's jobs leaves to do.
func (j storeJournal) dueOf(id string, now time.Time) ([]agenda.Item, error) {
	s, err := j.loaded(id)
	if err != nil || share.IsCopy(id) {
		return nil, err
	}
	return jobRows(j.Store).DueOf(s.Head(), now.In(time.Local))
}
