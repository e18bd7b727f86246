package summary

import "io"

func writeHTML(w io.Writer, r Record) error { return writeText(w, r) }
