package report

// This file holds the formats and sends a job to the one that is asked for.

import (
	"fmt"
	"io"
	"time"

	"garage/tundish/model/dates"
	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/share"
)

// Format is a form in which a job can be written.
type Format uint8

// The formats.
const (
	Markdown Format = iota
	HTML
	Text
	JSON
	CSV
	formatCount
)

var formatNames = [formatCount]string{"md", "html", "txt", "json", "csv"}

// String is the format's name on the command line, and the ending of its files.
func (f Format) String() string {
	if f < formatCount {
		return formatNames[f]
	}
	return fmt.Sprintf("format %d", uint8(f))
}

// UnmarshalText reads md, html, txt, json or csv.
func (f *Format) UnmarshalText(text []byte) error {
	for i, name := range formatNames {
		if name == string(text) {
			*f = Format(i)
			return nil
		}
	}
	return fmt.Errorf("format %q is not one of md, html, txt, json, csv", text)
}

// Options says how a job is written.
type Options struct {
	Share bool           // leave out what tells whose car it is, see Share
	Kind  bool           // but keep the kind of unit that its owner named for the club
	Zone  *time.Location // the zone that times are shown in; nil is UTC
	Dates dates.Language // how days are written
}

// Write writes a job in a format. The state must be that job's, folded after the
// unit's earlier ones, of which sharing takes out the same as of the job. JSON
// is the whole job with its Figures; the other formats show its Record.
func Write(w io.Writer, f Format, s *guide.Guide, job job.Job, o Options) error {
	if o.Share {
		of := share.Job
		if o.Kind {
			of = share.WithKind
		}
		job, s = of(job), s.Refold(of)
	}
	switch f {
	case JSON:
		return writeJSON(w, job, figuresOf(s))
	case CSV:
		return writeCSV(w, recordOf(s, o))
	case HTML:
		return writePage(w, pageTemplate, pageOf(recordOf(s, o), Facts(s, o)))
	case Markdown:
		return writeMarkdown(w, recordOf(s, o))
	case Text:
		return writeText(w, recordOf(s, o))
	}
	return fmt.Errorf("%v is not one of md, html, txt, json, csv", f)
}
