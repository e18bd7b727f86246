package record

// This file holds the unit cards that a backup brings along, in a table that a store in
// use leaves empty.

import (
	"encoding/json"
	"errors"
	"fmt"
	"maps"
	"path/filepath"
	"slices"

	"go.etcd.io/bbolt"

	"garage/tundish/store/disk"
	"garage/tundish/store/fault"
	"garage/tundish/store/pages"
)

// cardsKey stands in the settings of a copy that has the cards, be it none, with their
// names; each is a record under its name.
const cardsKey = "cards"

// PutCards puts cards into a file that holds no others then.
func PutCards(path string, cards map[string][]byte) error {
	names := slices.Sorted(maps.Keys(cards))
	if names == nil {
		names = []string{}
	}
	list, err := json.Marshal(names)
	if err != nil {
		return err
	}
	records := []pages.Element{{Key: []byte(cardsKey), Value: list}}
	for _, name := range names {
		if !json.Valid(cards[name]) {
			return fmt.Errorf("%s is no JSON", name)
		}
		records = append(records, pages.Element{Key: []byte(name), Value: cards[name]})
	}
	db, err := bbolt.Open(path, disk.FileMode, &bbolt.Options{PageSize: pages.Size, NoStatistics: true, NoSync: true})
	if err != nil {
		return err
	}
	err = db.Update(func(tx *bbolt.Tx) error {
		if err := tx.DeleteBucket([]byte(Settings)); err != nil {
			return err
		}
		_, err := tx.CreateBucket([]byte(Settings))
		return err
	})
	if err == nil {
		err = PutAll(db, Settings, records)
	}
	return errors.Join(err, db.Close())
}

// Cards are the cards that the file was backed up with, by name; nil where it was not.
func (s Snapshot) Cards() (map[string][]byte, error) {
	var names []string
	found, err := s.GetJSON(Settings, []byte(cardsKey), &names)
	if err != nil || !found {
		return nil, err
	}
	cards := map[string][]byte{}
	for _, name := range names {
		text, found, err := s.Get(Settings, []byte(name))
		if err != nil {
			return nil, err
		}
		if !found || filepath.Base(name) != name {
			return nil, fault.Damage(s.Path, "it names a card %q that it does not have", name)
		}
		cards[name] = slices.Clone(text)
	}
	return cards, nil
}
