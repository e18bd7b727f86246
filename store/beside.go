package store

// This file reads a store that another window has open for writing: it copies
// what is stored by now, and the copy is read in its place.
//
// The lock keeps no reader away from the bytes, it only says that they change.
// But bbolt writes over no page of its last state before the next one is named
// in a state page. So a copy of that state's pages is whole where the state
// pages name the same state after the copying as before. And where the journal
// does not go on behind it, that state is all that was accepted. Otherwise an
// entry is on its way, or lines that a crash left in the journal alone are being
// put back: the copy is thrown away, and another is taken a moment later.

import (
	"errors"
	"io"
	"os"
)

var errBusy = errors.New("it was in the middle of storing something each time")

// openToRead opens a file that is there for reading, with its lock, or, where
// another window is writing to it, a copy of what is stored in it by now.
func openToRead(path string, o Options) (f *os.File, beside bool, err error) {
	o.ReadOnly = true
	f, err = openLocked(path, o, func(held *os.File) (*os.File, error) {
		copied, err := copyBeside(path, held)
		beside = err == nil
		return copied, err
	})
	return f, beside, err
}

// copyBeside copies a file, whose lock another has, into one without a name.
func copyBeside(path string, held *os.File) (*os.File, error) {
	copied, err := os.CreateTemp("", "tundish-beside-*")
	if err != nil {
		return nil, err
	}
	_ = os.Remove(copied.Name()) // where the system lets go of a name only with the file, discard does it
	if err := copyQuiet(copied, path, held); err != nil {
		return nil, errors.Join(err, discard(copied))
	}
	return copied, nil
}

// discard closes a copy, and sees to it that nothing is left of it.
func discard(copied *os.File) error {
	return errors.Join(copied.Close(), removeOld(copied.Name()))
}

// copyQuiet copies a file's state. It is an error where the file was written to
// meanwhile, or the journal holds what that state has not.
func copyQuiet(to io.Writer, path string, held *os.File) error {
	state, err := snap(path, held)
	if err != nil {
		return err
	}
	if err := copyState(to, held, state.tree.meta); err != nil {
		return err
	}
	from := &Store{path: path, file: held}
	j, rest, problem, err := from.compare(state, false)
	if j != nil {
		j.file.Close()
	}
	now, fault := latestMeta(held)
	switch {
	case fault != metaFine || now != state.tree.meta || !sameFile(path, held):
		return errBusy
	case err != nil:
		return err
	case problem != "":
		return errors.New("to read it beside that its journal is needed, and " + problem)
	case len(rest.lines) > 0 || rest.torn:
		return errBusy
	}
	return nil
}
