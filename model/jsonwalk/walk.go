// Package jsonwalk reads JSON that a stranger may have written, token by token:
// each key is looked at, none may stand twice, and an error names its line. What
// an error says is the caller's.
package jsonwalk

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
)

// Walker reads one text from its beginning to its end.
type Walker struct {
	// Unknown is called for a key that is none of an object's fields; where it
	// returns nil it has read the value, by Skip.
	Unknown func(object, key string, fields []Field) error
	Twice   func(object, key string) error // makes the error of a key that stands twice
	Within  string                         // what an error says behind its line, such as ", entry 3"

	data   []byte
	tokens *json.Decoder
}

// New makes a walker at the beginning of a text.
func New(data []byte) *Walker {
	tokens := json.NewDecoder(bytes.NewReader(data))
	tokens.UseNumber()
	return &Walker{data: data, tokens: tokens}
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
	behind := w.tokens.InputOffset()
	token, err := w.tokens.Token()
	if err == nil {
		return token, nil
	}
	start := int64(len(w.data) - len(bytes.TrimLeft(w.data[behind:], " \t\r\n,:")))
	if syntax, ok := errors.AsType[*json.SyntaxError](err); ok {
		return nil, w.errorAt(start, "%s is not valid json: %v", what, syntax)
	}
	return nil, w.errorAt(start, "%s is cut short", what)
}

// AtEnd reports whether nothing follows.
func (w *Walker) AtEnd() bool {
	_, err := w.tokens.Token()
	return errors.Is(err, io.EOF)
}

// Scalar reads a value that is a T: string, bool or json.Number. Where it is none,
// the error is what, followed by mustBe.
func Scalar[T comparable](w *Walker, what, mustBe string) (value T, err error) {
	token, err := w.Token(what)
	if err != nil {
		return value, err
	}
	value, ok := token.(T)
	if !ok {
		return value, w.Errorf("%s %s", what, mustBe)
	}
	return value, nil
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
	seen := map[string]bool{}
	for w.tokens.More() {
		token, err := w.Token(what)
		if err != nil {
			return err
		}
		key, _ := token.(string)
		if seen[key] {
			return w.Twice(what, key)
		}
		seen[key] = true
		if err := w.value(what, key, fields); err != nil {
			return err
		}
	}
	_, err := w.Token(what)
	return err
}

func (w *Walker) value(what, key string, fields []Field) error {
	for _, f := range fields {
		if f.Key == key {
			return f.Read(key)
		}
	}
	return w.Unknown(what, key, fields)
}

// List reads a list of at most limit items; over is the error of one that is longer.
func List[T any](w *Walker, what, mustBe string, limit int, over string, item func(what string) (T, error)) (list []T, err error) {
	if err := w.open('[', what, mustBe); err != nil {
		return nil, err
	}
	for w.tokens.More() {
		if len(list) == limit {
			return nil, w.Errorf("%s", over)
		}
		one, err := item(what)
		if err != nil {
			return nil, err
		}
		list = append(list, one)
	}
	_, err = w.Token(what)
	return list, err
}

func (w *Walker) open(delim json.Delim, what, mustBe string) error {
	got, err := Scalar[json.Delim](w, what, mustBe)
	if err == nil && got != delim {
		err = w.Errorf("%s %s", what, mustBe)
	}
	return err
}

const maxDepth = 16 // objects and lists within each other, where Skip reads them

// Skip reads a value and keeps nothing of it.
func (w *Walker) Skip(key string) error {
	for depth := 0; ; {
		token, err := w.Token(key)
		if err != nil {
			return err
		}
		switch token {
		case json.Delim('{'), json.Delim('['):
			depth++
		case json.Delim('}'), json.Delim(']'):
			depth--
		}
		if depth == 0 {
			return nil
		}
		if depth > maxDepth {
			return w.Errorf("%q is nested too deeply", Clip(key, 40))
		}
	}
}

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
