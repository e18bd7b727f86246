package report

// This file reads a job from JSON that a stranger may have written: sizes are
// limited, every key is looked at, and an error says where it stands. What the
// keys of a job mean is in json_fields.go.

import (
	"bytes"
	"cmp"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"sync"
	"unicode/utf8"

	"garage/tundish/model/job"
	"garage/tundish/model/jsonwalk"
	"garage/tundish/model/text"
)

// Limits of a file of one job.
const (
	maxBytes        = 4 << 20 // bytes
	maxUnknownNamed = 20      // unknown fields that are named
)

// texts are of files that were read: nothing of a job lies in one.
var texts = sync.Pool{New: func() any { return new(bytes.Buffer) }}

// errNewerSchema says that a file was written by a newer version.
var errNewerSchema = errors.New("written by a newer version of tundish")

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
func ReadJSON(from io.Reader) (job.Job, Notes, error) {
	b, _ := texts.Get().(*bytes.Buffer)
	defer texts.Put(b)
	b.Reset()
	if _, err := b.ReadFrom(io.LimitReader(from, maxBytes+1)); err != nil {
		return job.Job{}, Notes{}, err
	}
	data := b.Bytes()
	if len(data) > maxBytes {
		return job.Job{}, Notes{}, fmt.Errorf("file is larger than %d MB, too large for one job", maxBytes>>20)
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff")) // some editors begin a file with one
	if !utf8.Valid(data) {
		return job.Job{}, Notes{}, errors.New("file is not UTF-8 text")
	}
	r := newReader(data)
	j, version, err := r.file()
	if err != nil || !r.AtEnd() || version < 1 || version > schemaVersion { // what is wrong with all of it counts first
		err = cmp.Or(checkJSON(data), err)
	}
	if err != nil {
		return job.Job{}, Notes{}, err
	}
	return j, r.notes, nil
}

// checkJSON returns why a text is not JSON of a version that can be read.
func checkJSON(data []byte) error {
	var head struct {
		Schema  any `json:"schema"`
		Version any `json:"schema_version"`
	}
	if err := json.Unmarshal(data, &head); err != nil {
		if syntax, ok := errors.AsType[*json.SyntaxError](err); ok {
			return fmt.Errorf("line %d: not JSON: %s", jsonwalk.LineAt(data, syntax.Offset), text.Visible(syntax.Error()))
		}
		return errors.New("not a job of this program: a JSON object is needed")
	}
	version, ok := head.Version.(float64)
	switch {
	case head.Schema != schemaName || !ok:
		return fmt.Errorf("not a job of this program: schema must be %q, with a schema_version", schemaName)
	case version > schemaVersion:
		return fmt.Errorf("%w: schema_version %g, this one reads up to %d", errNewerSchema, version, schemaVersion)
	case version < 1 || version != math.Trunc(version):
		return fmt.Errorf("schema_version %g is not one that was ever written", version)
	}
	return nil
}

// reader reads a job's file key by key.
type reader struct {
	*jsonwalk.Walker
	notes        Notes
	entriesAbout int // that are in it
}

// entryBytes is about what an entry takes in a file; where they take less the list grows.
const entryBytes = 128

func newReader(data []byte) *reader {
	r := &reader{Walker: jsonwalk.New(data), entriesAbout: len(data) / entryBytes}
	r.Unknown = r.leaveOut
	return r
}

// fail is an error with its line, in which everything shows.
func (r *reader) fail(format string, a ...any) error {
	return r.Errorf("%s", text.Visible(fmt.Sprintf(format, a...)))
}

// leaveOut names an unknown key and skips its value.
func (r *reader) leaveOut(what, key string, _ []jsonwalk.Field) error {
	r.notes.Unknowns++
	if r.notes.Unknowns <= maxUnknownNamed {
		r.notes.UnknownFields = append(r.notes.UnknownFields, text.Visible(what+"."+clip(key)))
	}
	return r.Skip(key)
}

func clip(text string) string { return jsonwalk.Clip(text, 40) }
