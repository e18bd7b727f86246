// Package store keeps jobs on the disk so that nothing accepted is lost and
// nothing wrong is let in.
//
// A store is two files: a bbolt file (jobs.db) and a journal beside it
// (jobs.db.journal), a second copy of every accepted entry in lines of JSON.
//
// # What an acknowledged entry is
//
// Append (and Create, Import) writes the line of the journal and syncs it,
// then commits one bbolt transaction, then returns nil. Only then is the entry
// accepted, and it is in both files. Between the two the journal is one line
// ahead: after a crash there the next Open puts that line into bbolt, so an
// entry that was not acknowledged may appear, and one that was is never lost.
// Where bbolt cannot commit (disk full), the line is taken out of the journal
// again and nothing is accepted. A line that was cut off in the writing was
// never acknowledged and is taken out at the next Open.
//
// bbolt keeps its place in the journal in the same transaction as the entry,
// so Open looks only at what lies behind that place. It also mends the case
// that bbolt itself falls back to its state before the last commit, because
// the page that names that commit was damaged.
//
// # What is looked at when
//
// Open checks the pages that name the state, the size, the list of free pages
// and the last line of the journal, and everything in a small store. Each read
// checks every page and every record on its way (tree.go). Verify checks all.
package store
