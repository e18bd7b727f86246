// Package store keeps jobs on the disk so that nothing accepted is lost and
// nothing wrong is let in.
//
// A store is two files: a bbolt file (jobs.db) and a journal beside it
// (jobs.db.journal), a second copy of every accepted entry in lines of JSON.
//
// # What an acknowledged entry is
//
// Append (and Create, ImportAll) writes the line of the journal, commits one bbolt
// transaction while the disk takes that line, waits for both, and returns nil.
// Only then is the entry accepted, and it is durable in both files: three syncs,
// two of them one after the other. ImportAll does so with the lines of many jobs
// at once, the journal before bbolt; each line, and so each job, is in whole or
// not at all.
//
// After a crash in between one file may be ahead, and the next Open brings the
// other up: a whole line behind bbolt's place in the journal is put into bbolt;
// a journal that lacks the last line that bbolt knows is written anew from it.
// So an entry that was not acknowledged may appear, whole, and one that was is
// never lost. A line that was cut off in the writing is taken out, with those that
// were to be accepted together with it and came through behind it. Where bbolt
// cannot commit (disk full), the line is taken out of the journal at once and
// nothing is accepted. Where the disk fails so that nobody knows (ErrUncertain),
// nothing more is accepted until the store is opened again.
//
// bbolt keeps its place in the journal in the same transaction as the entry,
// so Open looks only at what lies behind that place. That also mends the case
// that bbolt falls back to its state before the last commit, because the page
// that names that commit was damaged, and an old backup in place of a lost file
// catches up. A journal that does not fit and holds nothing new is set aside,
// never removed; one that holds entries which bbolt has not is for Repair.
// Drafts are in bbolt only.
//
// # Reading while another window writes
//
// One window at a time may write; any number may read meanwhile. A reader then
// takes a copy of the file between two of the writer's changes, and reads that
// (beside.go). It is the state of that moment: all that was acknowledged is in
// it, and of an entry under way nothing or, where only its last sync is still
// awaited, all. It is taken only where the journal says the same, so that no line
// is missed which a crash had left in the journal alone; without a journal that
// fits, the store is refused as in use.
//
// # What is looked at when
//
// Open checks the pages that name the state, the size, the list of free pages
// and the last line of the journal, and every page and record of a store below
// 2 MB. Each read checks every page and record on its way (tree.go), and each
// change the pages that bbolt will go through. Verify checks all, and one file
// against the other. Open, List and Load do not grow with the number of jobs.
package store
