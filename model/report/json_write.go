package report

// This file writes a job as JSON: the whole of it, one entry a line, and before
// it the figures that it comes to, for readers who cannot work them out. They
// are no part of the job: ReadJSON leaves them.

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"

	"garage/tundish/model/job"
	"garage/tundish/model/share"
	"garage/tundish/model/text"
)

// The head of a file: what it is, and the version of its schema. Version 2
// keeps questions as they were asked; a file of version 1 is one without.
const (
	schemaName    = "tundish-job"
	schemaVersion = 4
)

// writeJSON writes a job that passes its own check. What is written is read
// back by ReadJSON to the same job, and written again to the same bytes.
func writeJSON(w io.Writer, job job.Job, figures figures) error {
	if err := job.Check(); err != nil {
		return fmt.Errorf("job %s cannot be written: %w", text.Visible(job.ID), err)
	}
	var b bytes.Buffer
	fmt.Fprintf(&b, "{\n  \"schema\": %q,\n  \"schema_version\": %d,\n", schemaName, schemaVersion)
	if share.IsCopy(job.ID) {
		b.WriteString("  \"shared\": true,\n")
	}
	derived, err := json.MarshalIndent(figures, "  ", "  ")
	if err != nil {
		return fmt.Errorf("job %s cannot be written: figures: %w", job.ID, err)
	}
	fmt.Fprintf(&b, "  \"figures\": %s,\n", derived)
	started, err := job.Started.MarshalJSON()
	if err != nil {
		return fmt.Errorf("job %s cannot be written: start: %w", job.ID, err)
	}
	fmt.Fprintf(&b, "  \"job\": {\n    \"id\": %q,\n    \"started\": %s,\n    \"entries\": [", job.ID, started)
	for i, e := range job.Entries {
		line, err := entryJSON(e)
		if err != nil {
			return fmt.Errorf("job %s cannot be written: entry %d: %w", job.ID, e.Seq, err)
		}
		if i > 0 {
			b.WriteByte(',')
		}
		b.WriteString("\n      ")
		b.Write(line)
	}
	if len(job.Entries) > 0 {
		b.WriteString("\n    ")
	}
	b.WriteString("]\n  }\n}\n")
	_, err = w.Write(text.VisibleJSON(b.Bytes()))
	return err
}

// entryJSON is an entry on one line.
func entryJSON(e job.Entry) ([]byte, error) {
	if len(e.Value.Parts) == 0 {
		e.Value.Parts = nil // an empty list and none are the same value
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(e); err != nil {
		return nil, err
	}
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), nil
}
