// This file holds the strict reader of a network in JSON:
//
//	{"streams":  [{"name": "a", "ml": 100, "u_ml": 1}, {"name": "b"}, …],
//	 "balances": [{"in": ["a"], "out": ["b", "c"]}, …]}
//
// A stream with neither ml nor u_ml was not measured.

package balance

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
	"math"
	"strings"

	"garage/tundish/model/jsonwalk"
)

const maxJSONBytes = 1 << 20

// ReadJSON reads a network of at most 1 MB. Errors name the line, the field and
// what is allowed: an unknown or repeated key, a value of another type, ml without
// u_ml or the other way round, text after the end. What the names and numbers must
// be like is as for Solve.
func ReadJSON(r io.Reader) (Network, error) {
	data, err := io.ReadAll(io.LimitReader(r, maxJSONBytes+1))
	if err != nil {
		return Network{}, fmt.Errorf("read balance network: %w", err)
	}
	if len(data) > maxJSONBytes {
		return Network{}, fmt.Errorf("balance network must be at most %d bytes", maxJSONBytes)
	}
	data = bytes.TrimPrefix(data, []byte("\ufeff"))
	n, err := newReader(data).network()
	if err == nil {
		err = n.check()
	}
	if err != nil {
		return Network{}, err
	}
	return n, nil
}

// reader reads a network. Its depth is that of the format: nothing it does not
// expect is entered.
type reader struct{ *jsonwalk.Walker }

func newReader(data []byte) reader {
	r := reader{jsonwalk.New(data)}
	r.Twice = func(object, key string) error { return r.Errorf("%s must have %s only once", object, key) }
	r.Unknown = func(object, key string, fields []jsonwalk.Field) error {
		var names []string
		for _, f := range fields {
			names = append(names, f.Key)
		}
		return r.Errorf("%s has an unknown field %q, allowed are %s", object, jsonwalk.Clip(key, clipAt), strings.Join(names, ", "))
	}
	return r
}

func (r reader) network() (n Network, err error) {
	err = r.object("network",
		jsonwalk.Into("streams", &n.Streams, list(r, maxStreams, r.stream)),
		jsonwalk.Into("balances", &n.Balances, list(r, maxBalances, r.balance)))
	if err == nil && !r.AtEnd() {
		err = r.Errorf("nothing may follow the network")
	}
	return n, err
}

func (r reader) stream(string) (one Stream, err error) {
	var ml, uML *float64
	err = r.object("stream",
		jsonwalk.Into("name", &one.Name, r.text),
		jsonwalk.Into("ml", &ml, r.number),
		jsonwalk.Into("u_ml", &uML, r.number))
	switch {
	case err != nil:
		return Stream{}, err
	case one.Name == "":
		return Stream{}, r.Errorf("stream must have a name")
	case ml != nil && uML == nil:
		return Stream{}, r.Errorf("stream %q has ml but no u_ml: give its standard uncertainty, 0 if known exactly", one.Name)
	case ml == nil && uML != nil:
		return Stream{}, r.Errorf("stream %q has u_ml but no ml: give both, or neither if it was not measured", one.Name)
	case ml != nil:
		one.ML, one.UML, one.Measured = *ml, *uML, true
	}
	return one, nil
}

func (r reader) balance(string) (one Balance, err error) {
	name := func(in string) (string, error) { return r.text("name in " + in) }
	err = r.object("balance",
		jsonwalk.Into("in", &one.In, list(r, maxStreams, name)),
		jsonwalk.Into("out", &one.Out, list(r, maxStreams, name)))
	return one, err
}

func (r reader) text(what string) (string, error) {
	return jsonwalk.Scalar[string](r.Walker, what, "must be a text in quotes")
}

func (r reader) object(what string, fields ...jsonwalk.Field) error {
	return r.Object(what, "must be an object", fields...)
}

// list reads a list of at most limit elements.
func list[T any](r reader, limit int, element func(string) (T, error)) func(what string) ([]T, error) {
	return func(what string) ([]T, error) {
		return jsonwalk.List(r.Walker, what, "must be a list", limit, fmt.Sprintf("%s must be at most %d", what, limit), element)
	}
}

// number reads a number, or nil for null.
func (r reader) number(what string) (*float64, error) {
	token, err := r.Token(what)
	if err != nil || token == nil {
		return nil, err
	}
	text, ok := token.(json.Number)
	if !ok {
		return nil, r.Errorf("%s must be a number without quotes", what)
	}
	x, err := text.Float64()
	if err != nil || !(x >= 0 && x <= maxML) {
		return nil, r.Errorf("%s is %s, must be a number from 0 to %.0f", what, jsonwalk.Clip(text.String(), clipAt), maxML)
	}
	x = math.Abs(x) // so that −0 reads as 0
	return &x, nil
}

// clipAt keeps an error to one line of sensible length.
const clipAt = 30
