package summary

// This file reads a job from JSON that a stranger may have written: sizes are
// limited, every key is looked at, and an error says where it stands. What the
// keys of a job mean is in json_fields.go.

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"unicode/utf8"

	"garage/tundish/model"
)

// Limits of a file of one job.
const (
	MaxBytes        = 4 << 20 // bytes
	maxDepth        = 16      // objects and lists within each other
	maxUnknownNamed = 20      // unknown fields that are named
)

// ErrNewerSchema says that a file was written by a newer version.
var ErrNewerSchema = errors.New("written by a newer version of tundish")

// Notes says what a reader of a file may want to know beside the job.
type Notes struct {
	Shared        bool     // names, places and remarks were left out when it was written
	UnknownFields []string // fields that this version does not know and left out, the first 20
	Unknowns      int      // how many there were
	Hidden        int      // texts with characters that do not show: show them with Visible
}

// ReadJSON reads one job. The job passes its own check, or the error says in
// which line, and of which entry, it does not; ErrNewerSchema where the file
// is of a newer schema. Fields that are not known are left out and named.
func ReadJSON(from io.Reader) (model.Job, Notes, error) {
	data, err := io.ReadAll(io.LimitReader(from, MaxBytes+1))
	if err != nil {
		return model.Job{}, Notes{}, err
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff")) // some editors begin a file with one
	if err := checkJSON(data); err != nil {
		return model.Job{}, Notes{}, err
	}
	r := &reader{data: data, dec: json.NewDecoder(bytes.NewReader(data))}
	r.dec.UseNumber()
	job, err := r.file()
	if err != nil {
		return model.Job{}, Notes{}, err
	}
	return job, r.notes, nil
}

// checkJSON says whether the bytes are JSON of a version that can be read.
func checkJSON(data []byte) error {
	if len(data) > MaxBytes {
		return fmt.Errorf("file is larger than %d MB, too large for one job", MaxBytes>>20)
	}
	if !utf8.Valid(data) {
		return errors.New("file is not UTF-8 text")
	}
	var head struct {
		Schema  any `json:"schema"`
		Version any `json:"schema_version"`
	}
	if err := json.Unmarshal(data, &head); err != nil {
		if syntax, ok := errors.AsType[*json.SyntaxError](err); ok {
			return fmt.Errorf("line %d: not JSON: %s", lineAt(data, syntax.Offset), Visible(syntax.Error()))
		}
		return errors.New("not a job of this program: a JSON object is needed")
	}
	version, ok := head.Version.(float64)
	switch {
	case head.Schema != SchemaName || !ok:
		return fmt.Errorf("not a job of this program: schema must be %q, with a schema_version", SchemaName)
	case version > SchemaVersion:
		return fmt.Errorf("%w: schema_version %g, this one reads up to %d", ErrNewerSchema, version, SchemaVersion)
	case version < 1 || version != math.Trunc(version):
		return fmt.Errorf("schema_version %g is not one that was ever written", version)
	}
	return nil
}

// lineAt is the line, from 1, of a byte.
func lineAt(data []byte, offset int64) int {
	offset = min(max(offset, 0), int64(len(data)))
	return 1 + bytes.Count(data[:offset], []byte("\n"))
}

// reader walks through a file key by key.
type reader struct {
	data  []byte
	dec   *json.Decoder
	entry int // the entry that is being read, 0 outside
	notes Notes
}

// fail is an error with the place where it stands.
func (r *reader) fail(format string, a ...any) error {
	where := fmt.Sprintf("line %d", lineAt(r.data, r.dec.InputOffset()))
	if r.entry > 0 {
		where += fmt.Sprintf(", entry %d", r.entry)
	}
	return fmt.Errorf("%s: %s", where, Visible(fmt.Sprintf(format, a...)))
}

func (r *reader) token() (json.Token, error) {
	t, err := r.dec.Token()
	if err != nil {
		return nil, r.fail("not JSON: %v", err)
	}
	return t, nil
}

func (r *reader) delim(want json.Delim, what string) error {
	t, err := r.token()
	if err != nil {
		return err
	}
	if t != want {
		return r.fail("%s is of the wrong kind", what)
	}
	return nil
}

// object reads an object; field reads the value of a key that it knows. A key
// that stands twice is refused, one that is not known is named and left out.
func (r *reader) object(what string, field func(key string) (known bool, err error)) error {
	if err := r.delim('{', what); err != nil {
		return err
	}
	seen := map[string]bool{}
	for r.dec.More() {
		t, err := r.token()
		if err != nil {
			return err
		}
		key, _ := t.(string)
		if seen[key] {
			return r.fail("%q stands twice", clip(key))
		}
		seen[key] = true
		known, err := field(key)
		if err != nil {
			return err
		}
		if !known {
			if err := r.leaveOut(what, key); err != nil {
				return err
			}
		}
	}
	return r.delim('}', what)
}

// list reads a list, item by item.
func (r *reader) list(what string, item func() error) error {
	if err := r.delim('[', what); err != nil {
		return err
	}
	for r.dec.More() {
		if err := item(); err != nil {
			return err
		}
	}
	return r.delim(']', what)
}

// leaveOut names an unknown key and goes over its value.
func (r *reader) leaveOut(what, key string) error {
	r.notes.Unknowns++
	if r.notes.Unknowns <= maxUnknownNamed {
		r.notes.UnknownFields = append(r.notes.UnknownFields, Visible(what+"."+clip(key)))
	}
	return r.goOver(key)
}

// goOver reads a value and keeps nothing of it.
func (r *reader) goOver(key string) error {
	for depth := 0; ; {
		t, err := r.token()
		if err != nil {
			return err
		}
		switch t {
		case json.Delim('{'), json.Delim('['):
			depth++
		case json.Delim('}'), json.Delim(']'):
			depth--
		}
		if depth == 0 {
			return nil
		}
		if depth > maxDepth {
			return r.fail("%q is nested too deeply", clip(key))
		}
	}
}

// clip shortens a text from a file for an error.
func clip(text string) string {
	const most = 40
	short := 0
	for i := range text {
		if short == most {
			return text[:i] + "…"
		}
		short++
	}
	return text
}
