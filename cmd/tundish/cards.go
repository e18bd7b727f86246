package main

// This file keeps unit cards in a folder beside the store, a file each.

import (
	"bytes"
	"crypto/sha256"
	"encoding/base32"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"garage/tundish/cmd/tundish/internal/files"
	"garage/tundish/model/card"
	"garage/tundish/model/text"
	"garage/tundish/store/disk"
)

// cardsBeside is the folder of the cards of a store.
func cardsBeside(store string) string { return filepath.Join(filepath.Dir(store), "cards") }

// cardFile is the name of a card's file: the same for cards of one kind.
func cardFile(c card.Card) string {
	sum := sha256.Sum256([]byte(card.Key(c.Name) + "\x00" + c.Unit + "\x00" + c.Path))
	return "card-" + strings.ToLower(base32.StdEncoding.EncodeToString(sum[:10])) + ".json"
}

// mostCardFiles is how many files of a folder are looked at.
const mostCardFiles = 500

// cardsIn are the cards of a folder, by name. One that cannot be read is left out: no job
// must wait for it.
func cardsIn(folder string) (list []card.Card) {
	files, _ := filepath.Glob(filepath.Join(folder, "card-*.json"))
	for _, file := range files[:min(len(files), mostCardFiles)] {
		if c, err := readCard(file); err == nil {
			list = append(list, c)
		}
	}
	slices.SortFunc(list, func(a, b card.Card) int { return strings.Compare(a.Name, b.Name) })
	return list
}

func readCard(file string) (card.Card, error) {
	f, err := os.Open(file)
	if err != nil {
		return card.Card{}, err
	}
	defer f.Close()
	return card.Read(f)
}

// namedCard is a card and the file that it came in.
type namedCard struct {
	file string
	card card.Card
}

// takeCards takes the cards out of a list of files; the rest are jobs, or cannot be read.
func takeCards(files []string) (cards []namedCard, jobs []string, err error) {
	for _, file := range files {
		if !isCard(file) {
			jobs = append(jobs, file)
			continue
		}
		c, err := readCard(file)
		if err != nil {
			return nil, nil, fmt.Errorf("%s: not taken: %w", text.Visible(file), err)
		}
		cards = append(cards, namedCard{file, c})
	}
	return cards, jobs, nil
}

// isCard reports whether a file calls itself a card. What cannot be read twice does not.
func isCard(file string) bool {
	if info, err := os.Stat(file); err != nil || !info.Mode().IsRegular() {
		return false
	}
	f, err := os.Open(file)
	if err != nil {
		return false
	}
	defer f.Close()
	const most = 1 << 20
	data, err := io.ReadAll(io.LimitReader(f, most))
	return err == nil && card.Is(data)
}

// keepCards keeps cards beside the store, over older ones of the same kind, and says what
// was done with each.
func (c *importCommand) keepCards(o *outside, cards []namedCard) error {
	if len(cards) == 0 {
		return nil
	}
	path, err := o.storePath()
	if err != nil {
		return err
	}
	if path, err = disk.Locate(path); err != nil {
		return err
	}
	folder := cardsBeside(path)
	if err := disk.MakeFolder(folder); err != nil {
		return files.Unwritten(folder, err)
	}
	for _, one := range cards {
		done, err := keepCard(filepath.Join(folder, cardFile(one.card)), one.card)
		if err != nil {
			return err
		}
		c.say(o, importResult{File: one.file, Outcome: done, Card: one.card.Name}, fmt.Sprintf("card %q, %d jobs", one.card.Name,
			one.card.Jobs))
	}
	return nil
}

func keepCard(path string, c card.Card) (done string, err error) {
	var b bytes.Buffer
	if err := card.Write(&b, c); err != nil {
		return "", err
	}
	was, err := os.ReadFile(path)
	switch {
	case err == nil && bytes.Equal(was, b.Bytes()):
		return "nothing new", nil
	case err == nil:
		done = "in place of the older one"
	case errors.Is(err, fs.ErrNotExist):
		done = "added"
	default:
		return "", files.Unwritten(path, err)
	}
	err = disk.WriteWhole(path, disk.Replace, func(f *os.File) error {
		_, err := f.Write(b.Bytes())
		return err
	})
	return done, files.Unwritten(path, err)
}
