package jsonwalk

import (
	"encoding/json"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
)

// pair is what the tests read: {"name": "a", "sizes": [1, 2], "deep": …}.
type pair struct {
	name  string
	sizes []json.Number
}

func read(text string) (p pair, w *Walker, err error) {
	w = New([]byte(text))
	w.Unknown = func(object, key string, fields []Field) error {
		return w.Errorf("%s has no %s, it has %d others", object, key, len(fields))
	}
	w.Twice = func(object, key string) error { return w.Errorf("%s of %s twice", key, object) }
	size := func(what string) (json.Number, error) { return Scalar[json.Number](w, what, "must be a number") }
	sizes := func(key string) ([]json.Number, error) {
		return List(w, key, "must be a list", 3, "more than 3", size)
	}
	err = w.Object("pair", "must be an object", Into("name", &p.name, w.Text), Into("sizes", &p.sizes, sizes), Field{"deep", w.Skip})
	return p, w, err
}

func TestObject(t *testing.T) {
	p, w, err := read(` {"sizes": [1, 2e3, -0.5], "name": "a", "deep": {"x": [{}, "y"]}}` + "\n ")
	if err != nil || p.name != "a" || !slices.Equal(p.sizes, []json.Number{"1", "2e3", "-0.5"}) {
		t.Errorf("%+v, %v", p, err)
	}
	if !w.AtEnd() {
		t.Error("not at its end")
	}
	if p, w, err = read(`{"sizes": []} 1`); err != nil || p.sizes != nil || w.AtEnd() {
		t.Errorf("%+v, %v; at its end: %v", p, err, w.AtEnd())
	}
}

func TestErrorsNameLineAndPlace(t *testing.T) {
	for text, want := range map[string]string{
		"":                               "line 1: pair is cut short",
		"\n\n{\"name\":":                 "line 3: name is cut short",
		"{\"name\": \"a\",\n":            "line 2: pair is cut short",
		"{\"sizes\": [1,\n 2":            "line 2: sizes is cut short",
		"{\"name\"\n:\n nan}":            "line 3: name is not valid json: invalid character 'a' in literal null (expecting 'u')",
		"[]":                             "line 1: pair must be an object",
		"7":                              "line 1: pair must be an object",
		"{\n\"name\": 5}":                "line 2: name must be text",
		`{"name": null}`:                 "line 1: name must be text",
		`{"sizes": {}}`:                  "line 1: sizes must be a list",
		"{\"sizes\": [\n1,\n\"2\"]}":     "line 3: sizes must be a number",
		`{"sizes": [1, 2, 3, 4]}`:        "line 1: more than 3",
		"{\"colour\":\n 1}":              "line 1: pair has no colour, it has 3 others",
		"{\"name\": \"a\",\n\"name\":1}": "line 2: name of pair twice",
		`{"deep": 1, "deep": 2}`:         "line 1: deep of pair twice",
		`{"deep": [1}`:                   "line 1: deep is not valid json: invalid character '}' after array element",
	} {
		if _, _, err := read(text); err == nil || err.Error() != want {
			t.Errorf("%q: %v, want %s", text, err, want)
		}
	}
	w := New([]byte("\n1"))
	w.Within = ", entry 3"
	if _, err := Scalar[bool](w, "yes", "must be true or false"); fmt.Sprint(err) != "line 2, entry 3: yes must be true or false" {
		t.Error(err)
	}
}

func TestNumbers(t *testing.T) {
	for text, want := range map[string]string{
		"7": "7 <nil>, 7 <nil>", "-2.5": "-2.5 <nil>, 0 line 1: n must be a whole number, not -2.5",
		"1e999": "0 line 1: n must be finite, not 1e999, 0 line 1: n must be a whole number, not 1e999",
		`"7"`:   "0 line 1: n must be a number, 0 line 1: n must be a whole number",
	} {
		x, numberErr := New([]byte(text)).Number("n")
		i, wholeErr := New([]byte(text)).Whole("n")
		if got := fmt.Sprintf("%v %v, %d %v", x, numberErr, i, wholeErr); got != want {
			t.Errorf("%s: %s, want %s", text, got, want)
		}
	}
}

// A key is known however it is written, and what is no character is read as U+FFFD.
func TestKeysWithEscapes(t *testing.T) {
	if p, _, err := read(`{"n\u0061me": "\ud800b"}`); err != nil || p.name != "\ufffdb" {
		t.Errorf("%+v, %v", p, err)
	}
	if _, _, err := read(`{"name": "a", "n\u0061me": "b"}`); err == nil || err.Error() != "line 1: name of pair twice" {
		t.Error(err)
	}
	if _, _, err := read(`{"\ud800": 1}`); err == nil || err.Error() != "line 1: pair has no \ufffd, it has 3 others" {
		t.Error(err)
	}
}

func TestSkipGoesSixteenDeep(t *testing.T) {
	deep := func(n int) string {
		return `{"deep": ` + strings.Repeat("[", n) + strings.Repeat("]", n) + `, "name": "a"}`
	}
	if p, _, err := read(deep(maxDepth)); err != nil || p.name != "a" {
		t.Errorf("%+v, %v", p, err)
	}
	if _, _, err := read(deep(maxDepth + 1)); err == nil || err.Error() != `line 1: "deep" is nested too deeply` {
		t.Error(err)
	}
	flat := `{"deep": [` + strings.Repeat("{},", 40) + `{}], "name": "a"}`
	if p, _, err := read(flat); err != nil || p.name != "a" {
		t.Errorf("%+v, %v", p, err)
	}
}

func TestUnknownKeysCanBeSkipped(t *testing.T) {
	w := New([]byte(`{"a": [1, {"b": 2}], "c": "d"}`))
	w.Unknown = func(_, key string, _ []Field) error { return w.Skip(key) }
	var got string
	err := w.Object("it", "must be an object", Into("c", &got, func(key string) (string, error) { return Scalar[string](w, key, "") }))
	if err != nil || got != "d" {
		t.Errorf("%q, %v", got, err)
	}
}

func TestFieldErrorEndsTheReading(t *testing.T) {
	w, stop := New([]byte(`{"a": 1, "b": 2}`)), errors.New("stop")
	err := w.Object("it", "", Field{"a", func(string) error { return stop }}, Field{"b",
		func(string) error { t.Error("read on"); return nil }})
	if !errors.Is(err, stop) {
		t.Error(err)
	}
}

func TestLineAt(t *testing.T) {
	text := []byte("a\nb\n")
	for offset, want := range map[int64]int{-1: 1, 0: 1, 1: 1, 2: 2, 3: 2, 4: 3, 99: 3} {
		if got := LineAt(text, offset); got != want {
			t.Errorf("byte %d is in line %d, want %d", offset, got, want)
		}
	}
}

func TestClip(t *testing.T) {
	for text, want := range map[string]string{"": "", "äöü": "äöü", "äöüs": "äöü…", "abcdef": "abc…"} {
		if got := Clip(text, 3); got != want {
			t.Errorf("%q becomes %q, want %q", text, got, want)
		}
	}
}
