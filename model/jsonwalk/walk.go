// Package jsonwalk reads JSON that a stranger may have written, token by token:
// each key is looked at, none may stand twice, and an error names its line. What
// an error says of a kind of value is the caller's, or as Text, Number and Whole say it.
package jsonwalk

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"slices"
	"strconv"

	"github.com/go-json-experiment/json/jsontext"
)

// Walker reads one text from its beginning to its end.
type Walker struct {
	// Unknown is called for a key that is none of an object's fields; where it
	// returns nil it has read the value, by Skip.
	Unknown func(object, key string, fields []Field) error
	Twice   func(object, key string) error // makes the error of a key that stands twice, where that says more
	Within  string                         // what an error says behind its line, such as ", entry 3"

	data   []byte
	tokens *jsontext.Decoder
}

// New makes a walker at the beginning of a text.
func New(data []byte) *Walker {
	w := &Walker{data: data, tokens: jsontext.NewDecoder(bytes.NewBuffer(data), jsontext.AllowDuplicateNames(true),
		jsontext.AllowInvalidUTF8(true))}
	w.Twice = func(_, key string) error { return w.Errorf("%q stands twice", Clip(key, mostShown)) }
	return w
}

// Errorf makes an error that names the line of the token read last.
func (w *Walker) Errorf(format string, args ...any) error {
	return w.errorAt(w.tokens.InputOffset(), format, args...)
}

func (w *Walker) errorAt(offset int64, format string, args ...any) error {
	return fmt.Errorf("line %d%s: %s", LineAt(w.data, offset), w.Within, fmt.Sprintf(format, args...))
}

// LineAt returns the line, from 1, of an offset.
func LineAt(data []byte, offset int64) int {
	offset = min(max(offset, 0), int64(len(data)))
	return 1 + bytes.Count(data[:offset], []byte("\n"))
}

// Token reads the next token, which is part of what; numbers are json.Number.
func (w *Walker) Token(what string) (json.Token, error) {
	token, err := w.read(what)
	if err != nil {
		return nil, err
	}
	switch kind := token.Kind(); kind {
	case '"':
		return token.String(), nil
	case '0':
		return json.Number(token.String()), nil
	case 't', 'f':
		return token.Bool(), nil
	case 'n':
		return nil, nil
	default:
		return json.Delim(kind), nil
	}
}

// read reads the next token, which counts until the one after it is read.
func (w *Walker) read(what string) (jsontext.Token, error) {
	behind := w.tokens.InputOffset()
	token, err := w.tokens.ReadToken()
	if err != nil {
		return token, w.unread(what, behind, err)
	}
	return token, nil
}

// unread is the error of what stands behind an offset and cannot be read.
func (w *Walker) unread(what string, behind int64, err error) error {
	start := int64(len(w.data) - len(bytes.TrimLeft(w.data[behind:], " \t\r\n,:")))
	if errors.Is(err, io.EOF) || errors.Is(err, io.ErrUnexpectedEOF) {
		return w.errorAt(start, "%s is cut short", what)
	}
	if syntax, ok := errors.AsType[*json.SyntaxError](json.Unmarshal(w.data, new(any))); ok {
		err = syntax // says what stands where, and not what else may
	}
	return w.errorAt(start, "%s is not valid json: %v", what, err)
}

// AtEnd reports whether nothing follows.
func (w *Walker) AtEnd() bool {
	_, err := w.tokens.ReadToken()
	return errors.Is(err, io.EOF)
}

// Scalar reads a value that is a T: string, bool or json.Number. Where it is none,
// the error is what, followed by mustBe.
func Scalar[T string | bool | json.Number](w *Walker, what, mustBe string) (value T, err error) {
	token, err := w.read(what)
	if err != nil {
		return value, err
	}
	kind, fits := token.Kind(), false
	switch to := any(&value).(type) {
	case *string:
		if fits = kind == '"'; fits {
			*to = token.String()
		}
	case *json.Number:
		if fits = kind == '0'; fits {
			*to = json.Number(token.String())
		}
	case *bool:
		if fits = kind == 't' || kind == 'f'; fits {
			*to = token.Bool()
		}
	}
	if !fits {
		return value, w.Errorf("%s %s", what, mustBe)
	}
	return value, nil
}

// Text reads a text.
func (w *Walker) Text(key string) (string, error) { return Scalar[string](w, key, "must be text") }

// Number reads a finite number.
func (w *Walker) Number(key string) (float64, error) {
	n, err := Scalar[json.Number](w, key, "must be a number")
	if err != nil {
		return 0, err
	}
	x, err := n.Float64()
	if err != nil || math.IsInf(x, 0) {
		return 0, w.Errorf("%s must be finite, not %s", key, Clip(n.String(), mostShown))
	}
	return x, nil
}

// Whole reads a whole number.
func (w *Walker) Whole(key string) (int, error) {
	n, err := Scalar[json.Number](w, key, "must be a whole number")
	if err != nil {
		return 0, err
	}
	i, err := strconv.Atoi(n.String())
	if err != nil {
		return 0, w.Errorf("%s must be a whole number, not %s", key, Clip(n.String(), mostShown))
	}
	return i, nil
}

// Optional reads a value that is nil where its key is absent.
func Optional[T any](read func(string) (T, error)) func(string) (*T, error) {
	return func(key string) (*T, error) {
		value, err := read(key)
		return &value, err
	}
}

// Field is a key of an object, and what reads its value.
type Field struct {
	Key  string
	Read func(key string) error
}

// Into is a field whose value goes into a variable.
func Into[T any](key string, to *T, read func(key string) (T, error)) Field {
	return Field{key, func(key string) (err error) {
		*to, err = read(key)
		return err
	}}
}

// Object reads an object.
func (w *Walker) Object(what, mustBe string, fields ...Field) error {
	if err := w.open('{', what, mustBe); err != nil {
		return err
	}
	var known uint64    // fields that were met
	var others []string // keys that were met and are none
	for w.tokens.PeekKind() != '}' {
		key, at, err := w.key(what, fields)
		if err != nil {
			return err
		}
		if at < len(fields) && at < 64 {
			if known&(1<<at) != 0 {
				return w.Twice(what, key)
			}
			known |= 1 << at
		} else if slices.Contains(others, key) {
			return w.Twice(what, key)
		} else {
			others = append(others, key)
		}
		if at < len(fields) {
			err = fields[at].Read(key)
		} else {
			err = w.Unknown(what, key, fields)
		}
		if err != nil {
			return err
		}
	}
	_, err := w.read(what)
	return err
}

// key reads the key of a value, and says which of the fields it is; their number where
// it is none.
func (w *Walker) key(what string, fields []Field) (key string, at int, err error) {
	behind := w.tokens.InputOffset()
	raw, err := w.tokens.ReadValue()
	if err != nil {
		return "", 0, w.unread(what, behind, err)
	}
	if plain := raw[1 : len(raw)-1]; bytes.IndexByte(plain, '\\') < 0 {
		for i, f := range fields {
			if f.Key == string(plain) {
				return f.Key, i, nil
			}
		}
		return string(plain), len(fields), nil
	}
	text, _ := jsontext.AppendUnquote(nil, raw) // what is no character becomes U+FFFD
	at = slices.IndexFunc(fields, func(f Field) bool { return f.Key == string(text) })
	if at < 0 {
		at = len(fields)
	}
	return string(text), at, nil
}

// List reads a list of at most limit items; over is the error of one that is longer.
func List[T any](w *Walker, what, mustBe string, limit int, over string, item func(what string) (T, error)) (list []T, err error) {
	if err := w.open('[', what, mustBe); err != nil {
		return nil, err
	}
	for w.tokens.PeekKind() != ']' {
		if len(list) == limit {
			return nil, w.Errorf("%s", over)
		}
		one, err := item(what)
		if err != nil {
			return nil, err
		}
		list = append(list, one)
	}
	_, err = w.read(what)
	return list, err
}

func (w *Walker) open(delim jsontext.Kind, what, mustBe string) error {
	token, err := w.read(what)
	if err == nil && token.Kind() != delim {
		err = w.Errorf("%s %s", what, mustBe)
	}
	return err
}

const maxDepth = 16 // objects and lists within each other, where Skip reads them

// Skip reads a value and keeps nothing of it.
func (w *Walker) Skip(key string) error {
	for depth := 0; ; {
		token, err := w.read(key)
		if err != nil {
			return err
		}
		switch token.Kind() {
		case '{', '[':
			depth++
		case '}', ']':
			depth--
		}
		if depth == 0 {
			return nil
		}
		if depth > maxDepth {
			return w.Errorf("%q is nested too deeply", Clip(key, mostShown))
		}
	}
}

const mostShown = 40 // letters of a text from a file, in an error

// Clip shortens a text from a file for an error to at most so many characters
// and an ellipsis.
func Clip(text string, most int) string {
	count := 0
	for i := range text {
		if count == most {
			return text[:i] + "…"
		}
		count++
	}
	return text
}
