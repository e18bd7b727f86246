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
	"errors"
	"fmt"
	"io"
	"math"
	"strconv"
	"strings"
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
	s := scanner{data: data, tokens: json.NewDecoder(bytes.NewReader(data))}
	s.tokens.UseNumber()
	n, err := s.network()
	if err != nil {
		return Network{}, err
	}
	if err := n.check(); err != nil {
		return Network{}, err
	}
	return n, nil
}

// scanner walks the tokens and knows the line it is on. Its depth is that of the
// format: nothing it does not expect is entered.
type scanner struct {
	data   []byte
	tokens *json.Decoder
}

// failf makes an error that carries the line of the token read last.
func (s *scanner) failf(format string, args ...any) error {
	return s.failAt(s.tokens.InputOffset(), format, args...)
}

func (s *scanner) failAt(offset int64, format string, args ...any) error {
	line := 1 + bytes.Count(s.data[:offset], []byte("\n"))
	return fmt.Errorf("line %d: %s", line, fmt.Sprintf(format, args...))
}

// next is where the token that comes now starts.
func (s *scanner) next() int64 {
	offset := s.tokens.InputOffset()
	rest := s.data[offset:]
	return offset + int64(len(rest)-len(bytes.TrimLeft(rest, " \t\r\n,:")))
}

func (s *scanner) network() (n Network, err error) {
	err = s.object("network", fields{
		"streams": func() error {
			return s.array("streams", maxStreams, func() error {
				one, err := s.stream()
				n.Streams = append(n.Streams, one)
				return err
			})
		},
		"balances": func() error {
			return s.array("balances", maxBalances, func() error {
				one, err := s.balance()
				n.Balances = append(n.Balances, one)
				return err
			})
		},
	})
	if err != nil {
		return Network{}, err
	}
	if _, err := s.tokens.Token(); !errors.Is(err, io.EOF) {
		return Network{}, s.failf("nothing may follow the network")
	}
	return n, nil
}

func (s *scanner) stream() (one Stream, err error) {
	var ml, uML *float64
	err = s.object("stream", fields{
		"name": func() (err error) { one.Name, err = s.text("name"); return err },
		"ml":   func() (err error) { ml, err = s.number("ml"); return err },
		"u_ml": func() (err error) { uML, err = s.number("u_ml"); return err },
	})
	switch {
	case err != nil:
		return Stream{}, err
	case one.Name == "":
		return Stream{}, s.failf("stream must have a name")
	case ml != nil && uML == nil:
		return Stream{}, s.failf("stream %q has ml but no u_ml: give its standard uncertainty, 0 if known exactly", one.Name)
	case ml == nil && uML != nil:
		return Stream{}, s.failf("stream %q has u_ml but no ml: give both, or neither if it was not measured", one.Name)
	case ml != nil:
		one.ML, one.UML, one.Measured = *ml, *uML, true
	}
	return one, nil
}

func (s *scanner) balance() (one Balance, err error) {
	err = s.object("balance", fields{
		"in":  func() (err error) { one.In, err = s.texts("in"); return err },
		"out": func() (err error) { one.Out, err = s.texts("out"); return err },
	})
	return one, err
}

// fields maps the keys of an object to what reads their values.
type fields map[string]func() error

func (f fields) names() string {
	for _, known := range []string{"streams, balances", "name, ml, u_ml", "in, out"} {
		first, _, _ := strings.Cut(known, ",")
		if _, ok := f[first]; ok {
			return known
		}
	}
	return ""
}

// object reads an object whose keys are all in known, each at most once.
func (s *scanner) object(what string, known fields) error {
	if err := s.open('{', what, "an object"); err != nil {
		return err
	}
	seen := map[string]bool{}
	for s.tokens.More() {
		token, err := s.token(what)
		if err != nil {
			return err
		}
		key, _ := token.(string)
		read, ok := known[key]
		if !ok {
			return s.failf("%s has an unknown field %q, allowed are %s", what, shortened(key), known.names())
		}
		if seen[key] {
			return s.failf("%s must have %s only once", what, key)
		}
		seen[key] = true
		if err := read(); err != nil {
			return err
		}
	}
	_, err := s.token(what)
	return err
}

// array reads a list of at most limit elements.
func (s *scanner) array(what string, limit int, element func() error) error {
	if err := s.open('[', what, "a list"); err != nil {
		return err
	}
	for count := 0; s.tokens.More(); count++ {
		if count == limit {
			return s.failf("%s must be at most %d", what, limit)
		}
		if err := element(); err != nil {
			return err
		}
	}
	_, err := s.token(what)
	return err
}

func (s *scanner) open(delim json.Delim, what, kind string) error {
	token, err := s.token(what)
	if err != nil {
		return err
	}
	if token != delim {
		return s.failf("%s must be %s", what, kind)
	}
	return nil
}

func (s *scanner) text(what string) (string, error) {
	token, err := s.token(what)
	if err != nil {
		return "", err
	}
	text, ok := token.(string)
	if !ok {
		return "", s.failf("%s must be a text in quotes", what)
	}
	return text, nil
}

func (s *scanner) texts(what string) (list []string, err error) {
	err = s.array(what, maxStreams, func() error {
		name, err := s.text("name in " + what)
		list = append(list, name)
		return err
	})
	return list, err
}

// number reads a number, or nil for null.
func (s *scanner) number(what string) (*float64, error) {
	token, err := s.token(what)
	if err != nil || token == nil {
		return nil, err
	}
	text, ok := token.(json.Number)
	if !ok {
		return nil, s.failf("%s must be a number without quotes", what)
	}
	x, err := strconv.ParseFloat(text.String(), 64)
	if err != nil || !(x >= 0 && x <= maxML) {
		return nil, s.failf("%s is %s, must be a number from 0 to %.0f", what, shortened(text.String()), maxML)
	}
	x = math.Abs(x) // so that −0 reads as 0
	return &x, nil
}

func (s *scanner) token(what string) (json.Token, error) {
	start := s.next()
	token, err := s.tokens.Token()
	var syntax *json.SyntaxError
	switch {
	case errors.As(err, &syntax):
		return nil, s.failAt(start, "%s is not valid json: %v", what, syntax)
	case err != nil:
		return nil, s.failAt(start, "%s is cut short", what)
	}
	return token, nil
}

// shortened keeps an error to one line of sensible length.
func shortened(text string) string {
	const limit = 30
	if runes := []rune(text); len(runes) > limit {
		return string(runes[:limit]) + "…"
	}
	return text
}
