package card

// This file writes a card as JSON, and reads one that a stranger may have written:
// sizes are limited, every key is looked at, and an error says where it stands.

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"unicode/utf8"

	"garage/tundish/model/jsonwalk"
	"garage/tundish/model/text"
)

// The head of a file: what it is, and the version of its schema.
const (
	schemaName    = "tundish-card"
	schemaVersion = 1
	maxBytes      = 64 << 10
)

// Write writes a card that passes its check. What is written is read back by Read to
// the same card, and written again to the same bytes.
func Write(w io.Writer, c Card) error {
	if err := c.Check(); err != nil {
		return fmt.Errorf("card: %w", err)
	}
	b, err := json.MarshalIndent(struct {
		Schema  string `json:"schema"`
		Version int    `json:"schema_version"`
		Card    Card   `json:"card"`
	}{schemaName, schemaVersion, c}, "", "  ")
	if err == nil {
		_, err = w.Write(append(text.VisibleJSON(b), '\n'))
	}
	return err
}

// Is reports whether bytes call themselves a card, of whatever version.
func Is(data []byte) bool {
	var head struct {
		Schema any `json:"schema"`
	}
	return len(data) <= maxBytes && json.Unmarshal(bytes.TrimPrefix(data, byteOrderMark), &head) == nil && head.Schema == schemaName
}

// byteOrderMark is what some editors put first in a file.
var byteOrderMark = []byte("\ufeff")

// Read reads one card. It passes its check, or the error says in which line it does
// not. Fields that are not known are left out.
func Read(from io.Reader) (Card, error) {
	data, err := io.ReadAll(io.LimitReader(from, maxBytes+1))
	switch {
	case err != nil:
		return Card{}, err
	case len(data) > maxBytes:
		return Card{}, fmt.Errorf("file is larger than %d KB, too large for a card", maxBytes>>10)
	case !utf8.Valid(data):
		return Card{}, errors.New("file is not UTF-8 text")
	}
	r := reader{jsonwalk.New(bytes.TrimPrefix(data, byteOrderMark))}
	r.Unknown = func(_, key string, _ []jsonwalk.Field) error { return r.Skip(key) }
	c, err := r.file()
	if err != nil {
		return Card{}, errors.New(text.Visible(err.Error()))
	}
	return c, nil
}

const wrongKind = "is of the wrong kind"

type reader struct{ *jsonwalk.Walker }

func (r reader) file() (Card, error) {
	var schema string
	var version int
	var c *Card
	err := r.Object("file", wrongKind,
		jsonwalk.Into("schema", &schema, r.Text),
		jsonwalk.Into("schema_version", &version, r.Whole),
		jsonwalk.Into("card", &c, r.card))
	switch {
	case err != nil:
		return Card{}, err
	case !r.AtEnd():
		return Card{}, r.Errorf("something follows the card")
	case schema != schemaName:
		return Card{}, fmt.Errorf("not a card of this program: schema must be %q", schemaName)
	case version > schemaVersion:
		return Card{}, fmt.Errorf("written by a newer version of tundish: schema_version %d, this one reads up to %d", version,
			schemaVersion)
	case version < 1 || c == nil:
		return Card{}, errors.New("not a card of this program: schema_version or card is missing")
	}
	return *c, c.Check()
}

func (r reader) card(what string) (*Card, error) {
	var c Card
	var out *Figure
	err := r.Object(what, wrongKind,
		jsonwalk.Into("name", &c.Name, r.Text),
		jsonwalk.Into("unit_kind", &c.Unit, r.Text),
		jsonwalk.Into("fill_path", &c.Path, r.Text),
		jsonwalk.Into("jobs", &c.Jobs, r.Whole),
		jsonwalk.Into("plug_thread", &c.Thread, r.Text),
		jsonwalk.Into("plug_key", &c.Key, r.Text),
		jsonwalk.Into("washer", &c.Washer, r.Text),
		jsonwalk.Into("came_out_ml", &out, r.figure),
		jsonwalk.Into("went_in_ml", &c.In, r.figure),
		jsonwalk.Into("stays_inside_ml", &c.Stays, r.figure),
		jsonwalk.Into("drain_min", &c.Drain, r.figure),
		jsonwalk.Into("spilled_ml", &c.Spill, r.rigs))
	if err == nil && out == nil {
		err = r.Errorf("came_out_ml is missing")
	}
	if err != nil {
		return nil, err
	}
	c.Out = *out
	return &c, nil
}

func (r reader) figure(what string) (*Figure, error) {
	var f Figure
	return &f, r.Object(what, wrongKind, r.ofFigure(&f)...)
}

func (r reader) ofFigure(f *Figure) []jsonwalk.Field {
	return []jsonwalk.Field{jsonwalk.Into("jobs", &f.Jobs, r.Whole), jsonwalk.Into("mean", &f.Mean, r.Number),
		jsonwalk.Into("sd", &f.SD, r.Number)}
}

func (r reader) rigs(what string) ([]ByRig, error) {
	return jsonwalk.List(r.Walker, what, wrongKind, mostRigs, fmt.Sprintf("more than %d rigs", mostRigs), func(what string) (ByRig, error) {
		var b ByRig
		return b, r.Object(what, wrongKind, append(r.ofFigure(&b.Figure),
			jsonwalk.Into("filler", &b.Filler, r.Text), jsonwalk.Into("hose_ml", &b.HoseML, r.Whole))...)
	})
}
