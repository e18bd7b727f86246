package report

import _ "embed"

// Schema is the JSON Schema (draft 2020-12) of a job's file as it is written.
//
//go:embed job-4.schema.json
var Schema string
