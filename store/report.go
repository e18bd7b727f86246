package store

// This file holds what Verify and Repair say.

import "fmt"

// Report is what was found when a store was looked through.
type Report struct {
	Path       string    `json:"path"`
	Jobs       int       `json:"jobs"`        // whole jobs
	Entries    int       `json:"entries"`     // entries of those
	Lines      int       `json:"lines"`       // whole lines of the journal behind its first
	Findings   []Finding `json:"findings"`    // what is wrong; with Repair, what could not be saved
	Notes      []Finding `json:"notes"`       // what the next opening puts right by itself
	MoreFaults int       `json:"more_faults"` // findings beyond the first hundred
	Beside     bool      `json:"-"`           // another window was writing: looked at was what it had stored by then
}

// Finding is one thing about one file.
type Finding struct {
	Path string `json:"path"`
	Fact string `json:"fact"`
}

// String is the finding as one line.
func (f Finding) String() string { return f.Path + ": " + f.Fact }

// OK says whether nothing is wrong.
func (r Report) OK() bool { return len(r.Findings) == 0 }

// Err is nil where nothing is wrong, else an ErrDamaged with the first finding.
func (r Report) Err() error {
	if r.OK() {
		return nil
	}
	more := ""
	if n := len(r.Findings) + r.MoreFaults - 1; n > 0 {
		more = fmt.Sprintf(", and %d more", n)
	}
	return &Error{Kind: ErrDamaged, Path: r.Findings[0].Path, Fact: "damaged: " + r.Findings[0].Fact + more,
		Next: "nothing was changed; run: tundish repair"}
}

const maxFindings = 100

func (r *Report) find(path, format string, a ...any) {
	if len(r.Findings) == maxFindings {
		r.MoreFaults++
		return
	}
	r.Findings = append(r.Findings, Finding{path, fmt.Sprintf(format, a...)})
}

func (r *Report) note(path, format string, a ...any) {
	r.Notes = append(r.Notes, Finding{path, fmt.Sprintf(format, a...)})
}
