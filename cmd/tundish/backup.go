package main

// This file copies the store, looks it through, and rescues what can be read of
// a damaged one.

import (
	"context"
	"errors"
	"fmt"

	"garage/tundish/cmd/tundish/internal/cards"
	"garage/tundish/cmd/tundish/internal/progress"
	"garage/tundish/cmd/tundish/internal/rows"
	"garage/tundish/model/text"
	"garage/tundish/store"
	"garage/tundish/store/fault"
)

type backupCommand struct {
	File string `arg:"" complete:"file" help:"File to write. One that is there is kept, unless --force."`
	forceFlag
	jsonFlag
}

// Run copies the store as it is now, and the unit cards beside it.
func (c *backupCommand) Run(o *outside) error {
	s, err := o.readStore()
	if err != nil {
		return err
	}
	defer s.Close()
	kept, wrong, err := cards.Texts(s.Path())
	if err != nil {
		return err
	}
	for _, w := range wrong {
		fmt.Fprintf(o.err, "tundish: %v\n", w)
	}
	step, end := o.steps("there is no new copy")
	err = c.Commit(o.owned, c.File, func(temp string) error {
		err := s.Backup(temp, true, kept, step)
		if e, ok := errors.AsType[*fault.Error](err); ok && e.Path == temp {
			e.Path = c.File
		}
		return err
	})
	if end(); err != nil {
		return err
	}
	with := ""
	if len(kept) > 0 {
		with = fmt.Sprintf(", with %d unit card(s)", len(kept))
	}
	return o.streams().ShowText(c.jsonFlag, map[string]any{"store": s.Path(), "copy": c.File, "cards": len(kept)},
		fmt.Sprintf("%s: copied to %s%s\n", text.Visible(s.Path()), text.Visible(c.File), with))
}

type verifyCommand struct{ jsonFlag }

// Run looks the store through and changes nothing. Damage is a failure.
func (c *verifyCommand) Run(o *outside) error {
	path, err := o.storePath()
	if err != nil {
		return err
	}
	step, end := o.steps("nothing was changed")
	r, err := store.Verify(path, step)
	if end(); err != nil {
		return absentHint(err)
	}
	o.tell(r.Path, store.Opening{Beside: r.Beside})
	r.Findings = append([]store.Finding{}, r.Findings...) // [] in JSON where there are none
	if err := o.show(c.jsonFlag, r, rows.Report(r, "wrong")); err != nil {
		return err
	}
	return r.Err()
}

type repairCommand struct {
	Into string `arg:"" complete:"file" help:"New store to write; it must not be there. The damaged one is not changed."`
	jsonFlag
}

// Run writes what can be read of the store and its journal into a new one.
// What could not be saved is a failure.
func (c *repairCommand) Run(o *outside) error {
	path, err := o.storePath()
	if err != nil {
		return err
	}
	step, end := o.steps("there is no new store")
	r, err := store.Repair(path, c.Into, headOf, step)
	if end(); err != nil {
		return err
	}
	s, err := store.Open(c.Into, store.Options{})
	if err != nil {
		return err
	}
	made := o.jobRows(s)
	made.Bar = func(doing, of, _ string) *progress.Bar {
		return o.progress(doing, of, "all that could be saved is in "+c.Into)
	}
	err = errors.Join(made.Complete(false), s.Close())
	if err != nil && !errors.Is(err, context.Canceled) {
		return err
	}
	r.Findings = append([]store.Finding{}, r.Findings...) // [] in JSON where there are none
	if err := o.show(c.jsonFlag, r, rows.Report(r, "lost")); err != nil {
		return err
	}
	if err != nil {
		return err
	}
	if !r.OK() {
		return fmt.Errorf("%s: not all could be saved, see the lines above; look through the jobs with: tundish jobs --store %s",
			path, c.Into)
	}
	whole := "all that was accepted"
	if r.AfterLine > 0 {
		whole = fmt.Sprintf("all up to line %d of the journal", r.AfterLine)
	}
	_, err = fmt.Fprintf(o.err, "tundish: %s is in %s; use it with --store, or put it in the place of %s\n",
		whole, text.Visible(c.Into), text.Visible(path))
	return err
}
