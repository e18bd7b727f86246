// Package finding is what looking a store through has found, or what had to be done when
// it was opened, and the sentence of each.
package finding

import (
	"fmt"

	"garage/tundish/store/fault"
)

// Report is the result of checking or repairing a store.
type Report struct {
	Path       string    `json:"path"`
	Jobs       int       `json:"jobs"`                 // whole jobs
	Entries    int       `json:"entries"`              // entries of those
	Discarded  int       `json:"discarded,omitempty"`  // those of the jobs that are discarded
	Lines      int       `json:"lines"`                // intact lines of the journal after the first
	Findings   []Finding `json:"findings"`             // what is wrong; after Repair, what was lost
	Notes      []Finding `json:"notes"`                // what the next opening corrects
	MoreFaults int       `json:"more_faults"`          // findings beyond the first hundred
	AfterLine  int       `json:"after_line,omitempty"` // last line of a journal that was read alone: whether more was stored cannot be told
	Cause      error     `json:"-"`                    // what stands for all findings: no damage, but that it cannot be looked through
	Beside     bool      `json:"-"`                    // another window was writing: what it had stored by then was checked
}

// Finding is one thing about one file.
type Finding struct {
	Path string `json:"path"`
	Fact string `json:"fact"`
}

// String returns the finding as one line.
func (f Finding) String() string { return f.Path + ": " + f.Fact }

// OK reports whether nothing is wrong.
func (r Report) OK() bool { return len(r.Findings) == 0 }

// Err returns an error with the first finding, nil if nothing is wrong.
func (r Report) Err() error {
	if r.OK() || r.Cause != nil {
		return r.Cause
	}
	more := ""
	if n := len(r.Findings) + r.MoreFaults - 1; n > 0 {
		more = fmt.Sprintf(", and %d more", n)
	}
	return &fault.Error{Kind: fault.ErrDamaged, Path: r.Findings[0].Path, Fact: r.Findings[0].Fact + more,
		Next: "nothing was changed; run: tundish repair"}
}

const maxFindings = 100

// Find adds a finding.
func (r *Report) Find(path, format string, a ...any) {
	if len(r.Findings) == maxFindings {
		r.MoreFaults++
		return
	}
	r.Findings = append(r.Findings, Finding{path, fmt.Sprintf(format, a...)})
}

// Note adds what the next opening corrects.
func (r *Report) Note(path, format string, a ...any) {
	r.Notes = append(r.Notes, Finding{path, fmt.Sprintf(format, a...)})
}

// Opening is what Open had to do besides opening; the zero value is nothing.
type Opening struct {
	Beside        bool   // opened for reading while another window writes
	Replayed      int    // lines of the journal that were added to the store
	JournalMade   string // why the journal was rewritten
	JournalAside  string // new name of the old journal
	JournalBad    string // what is wrong with the journal and was not mended
	MigratedFrom  int    // schema before, where SchemaBackup is set
	SchemaBackup  string // copy of the file before its schema was changed
	TornTailTaken bool   // an incomplete line was removed
	Rebuilt       string // name of the damaged file, in the place of which one was made from the journal
}

// Notes returns what a user should be told, one line each; usually nothing.
func (o Opening) Notes() (notes []string) {
	if o.Beside {
		notes = append(notes, "another window has it open; this is what it had stored by now")
	}
	if o.Rebuilt != "" {
		notes = append(notes, "it was damaged, and was made anew from its journal, which is whole; the damaged file is "+o.Rebuilt)
	}
	if o.Replayed > 0 {
		notes = append(notes,
			fmt.Sprintf("%d line(s) of the journal had not reached the store when the program was cut off; they are in it now", o.Replayed))
	}
	if o.TornTailTaken {
		notes = append(notes, "a line that was cut off in the writing was taken out of the journal; it had not been accepted")
	}
	if o.JournalMade != "" {
		note := "the journal was written anew: " + o.JournalMade
		if o.JournalAside != "" {
			note += "; the old one is " + o.JournalAside
		}
		notes = append(notes, note)
	}
	if o.JournalBad != "" {
		notes = append(notes, "its journal is not as it should be: "+o.JournalBad)
	}
	if o.SchemaBackup != "" {
		notes = append(notes, fmt.Sprintf("brought up to date from schema %d; the file as it was is %s", o.MigratedFrom, o.SchemaBackup))
	}
	return notes
}
