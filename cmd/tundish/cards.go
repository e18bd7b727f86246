package main

// This file takes in unit cards.

import (
	"fmt"

	"garage/tundish/cmd/tundish/internal/cards"
	"garage/tundish/store"
	"garage/tundish/store/disk"
)

// keepCards keeps cards beside the store, over older ones of the same kind, and says what
// was done with each.
func (c *importCommand) keepCards(o *outside, list []cards.Named) error {
	if len(list) == 0 {
		return nil
	}
	path, err := o.storePath()
	if err != nil {
		return err
	}
	if path, err = disk.Locate(path); err != nil {
		return err
	}
	for _, one := range list {
		done, err := cards.Keep(store.CardsBeside(path), one.Card)
		if err != nil {
			return err
		}
		c.say(o, importResult{File: one.File, Outcome: done, Card: one.Card.Name}, fmt.Sprintf("card %q, %d jobs", one.Card.Name,
			one.Card.Jobs))
	}
	return nil
}
