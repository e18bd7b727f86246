package report

// This file says what the keys of a job's file mean, and of what kind each is.

import (
	"cmp"
	"encoding"
	"fmt"
	"strconv"
	"strings"
	"time"

	"garage/tundish/model/job"
	"garage/tundish/model/jsonwalk"
	"garage/tundish/model/text"
)

const wrongKind = "is of the wrong kind"

func (r *reader) file() (of job.Job, version int, err error) {
	var schema string
	var j *job.Job
	err = r.Object("file", wrongKind,
		jsonwalk.Into("schema", &schema, r.text),
		jsonwalk.Into("schema_version", &version, r.Whole),
		jsonwalk.Into("shared", &r.notes.Shared, r.yes),
		jsonwalk.Field{Key: "figures", Read: r.Skip},
		jsonwalk.Into("job", &j, jsonwalk.Optional(r.job)))
	switch {
	case err != nil:
	case schema != schemaName:
		err = r.fail("schema must be %q", schemaName)
	case j == nil:
		err = r.fail("there is no job in it")
	case j.ID == job.LastJob:
		err = r.fail("id must not be %q: that is the word for the job last worked in the guide", j.ID)
	default:
		if err = j.Check(); err != nil {
			err = r.fail("%v", err)
		}
	}
	if err != nil {
		return job.Job{}, 0, err
	}
	return *j, version, nil
}

func (r *reader) job(what string) (job job.Job, err error) {
	err = r.Object(what, wrongKind,
		jsonwalk.Into("id", &job.ID, r.text),
		jsonwalk.Into("started", &job.Started, r.time),
		jsonwalk.Into("entries", &job.Entries, r.entries))
	return job, err
}

func (r *reader) entries(key string) ([]job.Entry, error) {
	var e job.Entry
	list := make([]job.Entry, 0, min(r.entriesAbout, job.MaxEntries))
	fields := r.entryFields(&e)
	_, err := jsonwalk.List(r.Walker, key, wrongKind, job.MaxEntries, fmt.Sprintf("more than %d entries", job.MaxEntries),
		func(string) (none struct{}, err error) {
			e = job.Entry{}
			r.Within = ", entry " + strconv.Itoa(len(list)+1)
			if err := r.Object("entry", wrongKind, fields...); err != nil {
				return none, err
			}
			if e.Seq != len(list)+1 {
				return none, r.fail("seq must be %d here, not %d", len(list)+1, e.Seq)
			}
			if err := cmp.Or(e.Check(), e.CheckSense()); err != nil {
				return none, r.fail("%v", err)
			}
			list = append(list, e)
			return none, nil
		})
	if err != nil || len(list) == 0 {
		return nil, err
	}
	r.Within = ""
	return list, nil
}

// entryFields read every entry into the one variable: made once for all of a file.
func (r *reader) entryFields(e *job.Entry) []jsonwalk.Field {
	v := &e.Value
	value := []jsonwalk.Field{
		jsonwalk.Into("number", &v.Number, r.Number),
		jsonwalk.Into("high", &v.High, r.Number),
		{Key: "unit", Read: r.named(&v.Unit)},
		jsonwalk.Into("parts", &v.Parts, func(key string) ([]float64, error) {
			return jsonwalk.List(r.Walker, key, wrongKind, job.MaxIndex, fmt.Sprintf("more than %d parts", job.MaxIndex), r.Number)
		}),
		jsonwalk.Into("at_c", &v.AtC, jsonwalk.Optional(r.Number)),
		jsonwalk.Into("choice", &v.Choice, r.text),
		jsonwalk.Into("text", &v.Text, r.text),
		jsonwalk.Into("unknown", &v.Unknown, r.yes),
	}
	return []jsonwalk.Field{
		jsonwalk.Into("seq", &e.Seq, r.Whole),
		jsonwalk.Into("at", &e.At, r.time),
		{Key: "topic", Read: r.named(&e.Topic)},
		jsonwalk.Into("round", &e.Round, r.Whole),
		jsonwalk.Into("item", &e.Item, r.Whole),
		jsonwalk.Into("strikes", &e.Strikes, r.Whole),
		jsonwalk.Into("asked", &e.Asked, r.text),
		jsonwalk.Into("label", &e.Label, r.text),
		jsonwalk.Into("typed", &e.Typed, r.text),
		{Key: "value", Read: func(key string) error { return r.Object(key, wrongKind, value...) }},
	}
}

func (r *reader) text(key string) (string, error) {
	s, err := r.Text(key)
	if strings.ContainsFunc(s, text.Hidden) {
		r.notes.Hidden++
	}
	return s, err
}

// named reads one of a list of names.
func (r *reader) named(to encoding.TextUnmarshaler) func(key string) error {
	return func(key string) error {
		text, err := r.Text(key)
		if err != nil {
			return err
		}
		if err := to.UnmarshalText([]byte(clip(text))); err != nil {
			return r.fail("%s: %v", key, err)
		}
		return nil
	}
}

func (r *reader) yes(key string) (bool, error) {
	return jsonwalk.Scalar[bool](r.Walker, key, "must be true or false")
}

func (r *reader) time(key string) (time.Time, error) {
	text, err := r.Text(key)
	if err != nil {
		return time.Time{}, err
	}
	at, err := time.Parse(time.RFC3339Nano, text)
	if err != nil {
		return time.Time{}, r.fail("%s must be a time such as 2026-04-18T09:00:00Z (RFC 3339), not %q", key, clip(text))
	}
	return at, nil
}
