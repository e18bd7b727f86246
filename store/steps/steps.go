// Package steps tells how far long work on a store has come, and ends it between two
// steps.
package steps

import "io"

// Kind is what is done, one after the other.
type Kind uint8

// What is counted of each stands behind it.
const (
	Copying    Kind = iota + 1 // pages of the file
	Looking                    // pages, whether they are sound
	Reading                    // pages of both files, of what can be saved
	Writing                    // jobs, into a new store
	Journaling                 // jobs, into a new journal
	TakingUp                   // lines of the journal, each for good
	Verifying                  // entries, each of which is in two files
	Comparing                  // jobs, of a journal with those of a store
)

// PageBytes is what a page counts.
const PageBytes = 4096

// Func is told how much of a thing is done. Its error ends the work, and is part of the
// error of that; it is context.Canceled where somebody wished it. A nil one is never told.
type Func func(k Kind, done, total int) error

// Step tells f.
func (f Func) Step(k Kind, done, total int) error {
	if f == nil {
		return nil
	}
	return f(k, done, total)
}

// Writer is a file that pages are copied to.
type Writer struct {
	io.Writer
	Func
	Pages int // in all
	bytes int // so far
}

func (w *Writer) Write(p []byte) (int, error) {
	n, err := w.Writer.Write(p)
	if w.bytes += n; err == nil {
		err = w.Step(Copying, w.bytes/PageBytes, w.Pages)
	}
	return n, err
}
