package summary

// This file says what the keys of a job's file mean, and of what kind each is.

import (
	"cmp"
	"encoding/json"
	"math"
	"strconv"
	"strings"
	"time"

	"garage/tundish/model"
)

func (r *reader) file() (job model.Job, err error) {
	schema, found := "", false
	err = r.object("file", func(key string) (bool, error) {
		switch key {
		case "schema":
			schema, err = r.text(key)
			return true, err
		case "schema_version":
			_, err := r.whole(key)
			return true, err
		case "shared":
			r.notes.Shared, err = r.yes(key)
			return true, err
		case "figures":
			return true, r.goOver(key)
		case "job":
			found = true
			job, err = r.job()
			return true, err
		}
		return false, nil
	})
	if err != nil {
		return model.Job{}, err
	}
	switch {
	case schema != SchemaName:
		return model.Job{}, r.fail("schema must be %q", SchemaName)
	case !found:
		return model.Job{}, r.fail("there is no job in it")
	}
	if err := job.Check(); err != nil {
		return model.Job{}, r.fail("%v", err)
	}
	if job.ID == model.LastJob {
		return model.Job{}, r.fail("id must not be %q: that is the word for the job last worked in the guide", job.ID)
	}
	return job, nil
}

func (r *reader) job() (job model.Job, err error) {
	err = r.object("job", func(key string) (bool, error) {
		switch key {
		case "id":
			job.ID, err = r.text(key)
		case "started":
			job.Started, err = r.time(key)
		case "entries":
			err = r.list(key, func() error {
				if len(job.Entries) == model.MaxEntries {
					return r.fail("more than %d entries", model.MaxEntries)
				}
				r.entry = len(job.Entries) + 1
				e, err := r.entryOf(r.entry)
				job.Entries = append(job.Entries, e)
				return err
			})
			if err == nil {
				r.entry = 0
			}
		default:
			return false, nil
		}
		return true, err
	})
	return job, err
}

// entryOf reads the entry that stands at a place in the list, from 1.
func (r *reader) entryOf(at int) (e model.Entry, err error) {
	err = r.object("entry", func(key string) (bool, error) {
		switch key {
		case "seq":
			e.Seq, err = r.whole(key)
		case "at":
			e.At, err = r.time(key)
		case "topic":
			err = r.named(key, e.Topic.UnmarshalText)
		case "round":
			e.Round, err = r.whole(key)
		case "item":
			e.Item, err = r.whole(key)
		case "strikes":
			e.Strikes, err = r.whole(key)
		case "asked":
			e.Asked, err = r.text(key)
		case "label":
			e.Label, err = r.text(key)
		case "typed":
			e.Typed, err = r.text(key)
		case "value":
			e.Value, err = r.value()
		default:
			return false, nil
		}
		return true, err
	})
	switch {
	case err != nil:
		return e, err
	case e.Seq != at:
		return e, r.fail("seq must be %d here, not %d", at, e.Seq)
	}
	if err := cmp.Or(e.Check(), e.CheckSense()); err != nil {
		return e, r.fail("%v", err)
	}
	return e, nil
}

func (r *reader) value() (v model.Value, err error) {
	err = r.object("value", func(key string) (bool, error) {
		switch key {
		case "number":
			v.Number, err = r.number(key)
		case "high":
			v.High, err = r.number(key)
		case "unit":
			err = r.named(key, v.Unit.UnmarshalText)
		case "parts":
			err = r.list(key, func() error {
				if len(v.Parts) == model.MaxIndex {
					return r.fail("more than %d parts", model.MaxIndex)
				}
				x, err := r.number("parts")
				v.Parts = append(v.Parts, x)
				return err
			})
		case "at_c":
			var x float64
			x, err = r.number(key)
			v.AtC = &x
		case "choice":
			v.Choice, err = r.text(key)
		case "text":
			v.Text, err = r.text(key)
		case "unknown":
			v.Unknown, err = r.yes(key)
		default:
			return false, nil
		}
		return true, err
	})
	return v, err
}

func (r *reader) text(key string) (string, error) {
	t, err := r.token()
	if err != nil {
		return "", err
	}
	text, ok := t.(string)
	if !ok {
		return "", r.fail("%s must be text", key)
	}
	if strings.IndexFunc(text, hidden) >= 0 {
		r.notes.Hidden++
	}
	return text, nil
}

// named reads one of a list of names.
func (r *reader) named(key string, read func([]byte) error) error {
	text, err := r.text(key)
	if err != nil {
		return err
	}
	if err := read([]byte(clip(text))); err != nil {
		return r.fail("%s: %v", key, err)
	}
	return nil
}

func (r *reader) yes(key string) (bool, error) {
	t, err := r.token()
	if err != nil {
		return false, err
	}
	yes, ok := t.(bool)
	if !ok {
		return false, r.fail("%s must be true or false", key)
	}
	return yes, nil
}

func (r *reader) number(key string) (float64, error) {
	t, err := r.token()
	if err != nil {
		return 0, err
	}
	n, ok := t.(json.Number)
	if !ok {
		return 0, r.fail("%s must be a number", key)
	}
	x, err := n.Float64()
	if err != nil || math.IsInf(x, 0) {
		return 0, r.fail("%s must be finite, not %s", key, clip(n.String()))
	}
	return x, nil
}

func (r *reader) whole(key string) (int, error) {
	t, err := r.token()
	if err != nil {
		return 0, err
	}
	n, ok := t.(json.Number)
	if !ok {
		return 0, r.fail("%s must be a whole number", key)
	}
	i, err := strconv.Atoi(n.String())
	if err != nil {
		return 0, r.fail("%s must be a whole number, not %s", key, clip(n.String()))
	}
	return i, nil
}

func (r *reader) time(key string) (time.Time, error) {
	text, err := r.text(key)
	if err != nil {
		return time.Time{}, err
	}
	at, err := time.Parse(time.RFC3339Nano, text)
	if err != nil {
		return time.Time{}, r.fail("%s must be a time such as 2026-04-18T09:00:00Z (RFC 3339), not %q", key, clip(text))
	}
	return at, nil
}
