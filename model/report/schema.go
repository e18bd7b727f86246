package report

import _ "embed"

//go:embed job-4.schema.json
var schema string

// Schema is the JSON Schema (draft 2020-12) of a job's file as it is written.
func Schema() string { return schema }
