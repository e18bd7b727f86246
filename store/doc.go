// Package store keeps jobs on disk so that no accepted entry is lost and no
// invalid one is stored.
//
// A store is two files: a bbolt file (jobs.db) and, beside it, a journal
// (jobs.db.journal): a second copy of every accepted entry, as lines of JSON.
//
// # When an entry is accepted
//
// Append (and Create, ImportAll) writes the entry's line to the journal, commits one
// bbolt transaction while that line is being synced, waits for both, and returns nil.
// Only then is the entry accepted. It is durable in both files: three syncs, two of
// them one after the other. ImportAll does this with the lines of many jobs at once
// and syncs the journal before it commits; each line, and so each job, is stored as
// a whole or not at all.
//
// After a crash one file may be ahead of the other, and the next Open corrects that:
// complete lines after the place in the journal that bbolt has recorded are added to
// bbolt; a journal without the last line that bbolt has recorded is rewritten from
// bbolt. So an entry that was not acknowledged may appear, complete, and one that was
// acknowledged is never lost. An incomplete line is removed, and with it the later
// lines of its group (lines that were to be accepted together). If bbolt cannot commit
// because the disk is full, the line is removed from the journal at once and nothing
// is accepted. If the disk fails and the outcome is unknown (Error.Uncertain), nothing
// more is accepted until the store is opened again, which then reads both files from the
// disk and not from what the system keeps of them in memory, and all of them.
//
// bbolt records its place in the journal in the same transaction as the entry, so
// Open reads only what follows that place. That also covers two other cases: bbolt
// returns to the state before the last commit because the page naming that commit was
// damaged; and an old backup was put in place of a lost file. A journal that does not
// match, or cannot be read, and holds nothing new is renamed, never deleted; one that
// holds entries which bbolt does not have is left to Repair. Drafts are in bbolt only.
//
// # When a job is discarded
//
// Discard adds a line to the journal like any other, and takes the job out of the
// indexes; its entries stay, so TakeBack is a line too. How often both were done counts
// up in both files: whichever says more is newer, also among pages that are no longer
// used. Nothing brings such a job back in silence: no import, no journal, no repair.
// Purge writes both files anew without it and gives the journal its name first: beside
// the old file that says less than the file, and is written anew from it. A journal of a
// form that knows no such line is written anew before the first one.
//
// # When a file is damaged
//
// A journal with a damaged line is written anew from bbolt. A damaged bbolt file is made
// anew from the journal if that is whole and has every entry that can still be read of
// the file (rebuild.go). Both happen at Open, for writing; the old file is kept under
// another name, and Opening says so. In all other cases nothing is changed, and Repair
// saves into a new store what can be read, and names what is missing. A file that is gone
// beside its journal is never made anew: it may lie on another disk.
//
// # Reading while another window writes
//
// One window at a time may write; any number may read meanwhile. A reader then takes
// a copy of the file between two changes of the writer and reads that (copy.go). It
// holds all that was acknowledged by then and, of an entry still being stored,
// either nothing or all. The copy is used only if the journal agrees with it, so that
// no line that a crash left in the journal alone is missed; without a journal that
// matches, the store is refused as in use.
//
// # What is checked when
//
// Open checks the pages that name the state, the size, the list of free pages and the
// last line of the journal; every page and record of a store below 2 MB, or in which
// damage was met before; and the checksums and chain of a journal below 2 MB (of a
// larger one MendJournal, while the store is in use). Each read
// checks every page and record it passes (package pages), and each change checks the
// pages that bbolt will use. Verify checks everything, and each file against the
// other. The cost of Open, List and Load does not grow with the number of jobs.
package store
