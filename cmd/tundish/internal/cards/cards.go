// Package cards keeps unit cards in a folder beside the store, a file each.
package cards

import (
	"bytes"
	"crypto/sha256"
	"encoding/base32"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"garage/tundish/cmd/tundish/internal/files"
	"garage/tundish/model/card"
	"garage/tundish/model/text"
	"garage/tundish/store"
	"garage/tundish/store/disk"
)

// cardFile is the name of a card's file: the same for cards of one kind.
func cardFile(c card.Card) string {
	sum := sha256.Sum256([]byte(card.Key(c.Name) + "\x00" + c.Unit + "\x00" + c.Path))
	return "card-" + strings.ToLower(base32.StdEncoding.EncodeToString(sum[:10])) + ".json"
}

// mostCardFiles is how many files of a folder are looked at.
const mostCardFiles = 500

// In are the cards of a folder, by name. One that cannot be read is left out: no job
// must wait for it.
func In(folder string) (list []card.Card) {
	found, _ := filepath.Glob(filepath.Join(folder, store.CardFiles))
	for _, file := range found[:min(len(found), mostCardFiles)] {
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

// Named is a card and the file that it came in.
type Named struct {
	File string
	Card card.Card
}

// Take reads the card of a file.
func Take(file string) (Named, error) {
	c, err := readCard(file)
	if err != nil {
		err = fmt.Errorf("%s: not taken: %w", text.Visible(file), err)
	}
	return Named{file, c}, err
}

// mostCard is more than a card's file takes, in bytes.
const mostCard = 1 << 20

// Is reports whether a file calls itself a card. What cannot be read twice does not.
func Is(file string) bool {
	info, err := os.Stat(file)
	if err != nil || !info.Mode().IsRegular() || info.Size() > mostCard {
		return false
	}
	data, err := os.ReadFile(file)
	return err == nil && card.Is(data)
}

// Keep keeps a card in a folder, over an older one of its kind, and says what was done.
func Keep(folder string, c card.Card) (done string, err error) {
	if err := disk.MakeFolder(folder); err != nil {
		return "", files.Unwritten(folder, err)
	}
	path := filepath.Join(folder, cardFile(c))
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

// Texts are the cards beside a store as they lie there, by the names of their files, and
// why others are none: those cannot be kept with the jobs.
func Texts(path string) (texts map[string][]byte, wrong []error, err error) {
	texts = map[string][]byte{}
	found, _ := filepath.Glob(filepath.Join(store.CardsBeside(path), store.CardFiles))
	for _, file := range found {
		if _, err := readCard(file); err != nil {
			wrong = append(wrong, fmt.Errorf("%s: not copied: %w", text.Visible(file), err))
			continue
		}
		if texts[filepath.Base(file)], err = os.ReadFile(file); err != nil {
			return nil, nil, err
		}
	}
	return texts, wrong, nil
}
