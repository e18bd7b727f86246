package stream

// This file reads what comes in: one object a line, key by key.

import (
	"encoding/json"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"
	"unicode/utf8"

	"garage/tundish/model/job"
	"garage/tundish/model/jsonwalk"
)

// act says what a request wants.
type act uint8

const (
	actAnswer   act = iota // to the prompt, or to a line of the sheet by its topic
	actKey                 // confirms a caution
	actChoose              // settles a doubt
	actCorrect             // an answer that stands
	actComplete            // the sheet is
	actUndo
	actLeave
	actFigures
)

// request is one object that came in.
type request struct {
	act         act
	topic       job.Topic // NoTopic: what the prompt is for
	round, item *int      // of the topic; nil not said
	text        string    // what is answered, or the token that is chosen
	unknown     bool      // the answer is "don't know"
	key         rune
	at          time.Time // when it happened; zero now
}

// fields are what can stand in a request.
type fields struct {
	answer, key, choose *string
	null                bool // answer is null
	topic, correct      job.Topic
	round, item         *int
	complete, undo      bool
	leave, figures      bool
	at                  time.Time
}

// parse reads one request. The error says in one line what is wrong.
func parse(line string) (request, error) {
	if !utf8.ValidString(line) {
		return request{}, errors.New("not UTF-8")
	}
	w := jsonwalk.New([]byte(line))
	w.Unknown = func(_, key string, known []jsonwalk.Field) error {
		names := make([]string, len(known))
		for i, f := range known {
			names[i] = f.Key
		}
		return w.Errorf("%q is not a key that is known; known are %s", jsonwalk.Clip(key, 40), strings.Join(names, ", "))
	}
	var f fields
	err := w.Object("request", "must be an object", f.list(w)...)
	if err == nil && !w.AtEnd() {
		err = w.Errorf("one object a line")
	}
	if err != nil {
		return request{}, errors.New(strings.TrimPrefix(err.Error(), "line 1: "))
	}
	return f.request()
}

// list are the keys that can stand in a request, each with what reads its value.
func (f *fields) list(w *jsonwalk.Walker) []jsonwalk.Field {
	yes := func(into *bool) func(string) error {
		return func(key string) (err error) {
			if *into, err = jsonwalk.Scalar[bool](w, key, "must be true"); err == nil && !*into {
				err = w.Errorf("%s must be true", key)
			}
			return err
		}
	}
	return []jsonwalk.Field{
		{Key: "answer", Read: func(key string) error { return f.readAnswer(w, key) }},
		jsonwalk.Into("key", &f.key, jsonwalk.Optional(w.Text)),
		jsonwalk.Into("choose", &f.choose, jsonwalk.Optional(w.Text)),
		{Key: "topic", Read: topicInto(w, &f.topic)},
		{Key: "correct", Read: topicInto(w, &f.correct)},
		{Key: "round", Read: indexInto(w, &f.round)},
		{Key: "item", Read: indexInto(w, &f.item)},
		{Key: "complete", Read: yes(&f.complete)},
		{Key: "undo", Read: yes(&f.undo)},
		{Key: "leave", Read: yes(&f.leave)},
		{Key: "figures", Read: yes(&f.figures)},
		{Key: "at", Read: func(key string) error {
			s, err := w.Text(key)
			if err != nil {
				return err
			}
			if f.at, err = time.Parse(time.RFC3339, s); err != nil {
				return w.Errorf("at must be a time such as 2026-01-02T10:00:00Z (RFC 3339), not %q", jsonwalk.Clip(s, 40))
			}
			return nil
		}},
	}
}

// readAnswer reads a text, a number as it stands, or null.
func (f *fields) readAnswer(w *jsonwalk.Walker, key string) error {
	token, err := w.Token(key)
	if err != nil {
		return err
	}
	var s string
	switch v := token.(type) {
	case nil:
		f.null = true
	case string:
		s = v
	case json.Number:
		s = v.String()
	default:
		return w.Errorf("%s must be text, or null where it is not known", key)
	}
	if len(s) > job.MaxTextBytes {
		return w.Errorf("%s is longer than %d bytes", key, job.MaxTextBytes)
	}
	f.answer = &s
	return nil
}

func topicInto(w *jsonwalk.Walker, into *job.Topic) func(string) error {
	return func(key string) error {
		s, err := jsonwalk.Scalar[string](w, key, "must be the name of a topic")
		if err == nil && into.UnmarshalText([]byte(s)) != nil {
			err = w.Errorf("%s: %q is not a topic that is known", key, jsonwalk.Clip(s, 40))
		}
		return err
	}
}

func indexInto(w *jsonwalk.Walker, into **int) func(string) error {
	return func(key string) error {
		n, err := jsonwalk.Scalar[json.Number](w, key, "must be a whole number")
		if err != nil {
			return err
		}
		i, err := strconv.Atoi(n.String())
		if err != nil || i < 0 || i > job.MaxIndex {
			return w.Errorf("%s must be a whole number from 0 to %d", key, job.MaxIndex)
		}
		*into = &i
		return nil
	}
}

// request is what the fields want together: one thing.
func (f *fields) request() (request, error) {
	r := request{topic: f.topic, round: f.round, item: f.item, unknown: f.null, at: f.at}
	wants := 0
	want := func(is bool, a act, text *string) {
		if is {
			wants++
			r.act = a
			if text != nil {
				r.text = *text
			}
		}
	}
	if f.correct != job.NoTopic {
		r.topic = f.correct
	}
	want(f.answer != nil && f.correct == job.NoTopic, actAnswer, f.answer)
	want(f.answer != nil && f.correct != job.NoTopic, actCorrect, f.answer)
	want(f.key != nil, actKey, f.key)
	want(f.choose != nil, actChoose, f.choose)
	want(f.complete, actComplete, nil)
	want(f.undo, actUndo, nil)
	want(f.leave, actLeave, nil)
	want(f.figures, actFigures, nil)
	placed := r.topic != job.NoTopic
	switch {
	case wants != 1:
		return request{}, errors.New("one of answer, key, choose, complete, undo, leave and figures, and no other")
	case f.topic != job.NoTopic && f.correct != job.NoTopic:
		return request{}, errors.New("either topic or correct")
	case placed && r.act != actAnswer && r.act != actCorrect:
		return request{}, errors.New("topic and correct go with answer alone")
	case !placed && (r.round != nil || r.item != nil):
		return request{}, errors.New("round and item go with topic or correct alone")
	case r.act == actKey && utf8.RuneCountInString(r.text) != 1:
		return request{}, fmt.Errorf("key must be one digit, not %q", jsonwalk.Clip(r.text, 40))
	case r.act == actKey:
		r.key, _ = utf8.DecodeRuneInString(r.text)
	}
	return r, nil
}
