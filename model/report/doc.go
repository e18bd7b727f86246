// Package report turns a job into what leaves the garage: a record as
// Markdown, HTML, plain text or CSV, the whole job as JSON and back, the tag
// for the steering wheel, and the history of a unit.
//
// Every format shows one intermediate value, the Record, so no two of them can
// disagree. Text that came from outside is shown as text: each format escapes
// for itself, and control characters are made visible.
//
// The package is pure: no files, no clock. Times come in with the job, the
// zone to show them in with Options.
package report
