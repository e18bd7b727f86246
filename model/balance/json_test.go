// This file checks the JSON reader and writer.

package balance

import (
	"encoding/json"
	"errors"
	"math"
	"reflect"
	"strings"
	"testing"
	"testing/iotest"
)

const joinedJSON = `{"streams": [
  {"name": "a", "ml": 100, "u_ml": 1},
  {"name": "b", "ml": 60.5, "u_ml": 0},
  {"name": "c"}, {"name": "d", "ml": null, "u_ml": null}],
 "balances": [{"in": ["a"], "out": ["b", "c"]}]}`

func TestReadJSON(t *testing.T) {
	want := Network{
		Streams:  []Stream{measured("a", 100, 1), measured("b", 60.5, 0), unmeasured("c"), unmeasured("d")},
		Balances: []Balance{{[]string{"a"}, []string{"b", "c"}}},
	}
	for name, text := range map[string]string{
		"as is":           joinedJSON,
		"byte order mark": "\ufeff" + joinedJSON + "\n",
		"crlf":            strings.ReplaceAll(joinedJSON, "\n", "\r\n"),
	} {
		got, err := ReadJSON(strings.NewReader(text))
		if err != nil || !reflect.DeepEqual(got, want) {
			t.Errorf("%s: %+v, %v", name, got, err)
		}
	}
}

func TestReadJSONNamesWhatIsWrong(t *testing.T) {
	stream := func(fields string) string { return "{\n\"streams\": [\n{\"name\": \"a\"" + fields + "}]}" }
	tests := []struct{ name, text, says string }{
		{"empty", "", "line 1: network is cut short"},
		{"cut short", "{\"streams\": [\n{\"name\": \"a\"", "line 2: stream is cut short"},
		{"a list", "[]", "line 1: network must be an object"},
		{"a number", "7", "line 1: network must be an object"},
		{"not json", "{\n\"streams\": [\n\nNaN]}", "line 4: stream is not valid json"},
		{"deep", strings.Repeat("[", 100000), "line 1: network must be an object"},
		{"deep inside", `{"streams": [{"name": ` + strings.Repeat("[", 100000), "name must be a text"},
		{"streams no list", `{"streams": {}}`, "streams must be a list"},
		{"stream no object", `{"streams": ["a"]}`, "stream must be an object"},
		{"unknown field", "{\"streams\": [],\n\"flows\": 1}",
			`line 2: network has an unknown field "flows", allowed are streams, balances`},
		{"unknown stream field", stream(`, "litres": 1`), `line 3: stream has an unknown field "litres", allowed are name, ml, u_ml`},
		{"upper case field", stream(`, "ML": 1`), `unknown field "ML"`},
		{"unknown balance field", `{"balances": [{"into": []}]}`, `balance has an unknown field "into", allowed are in, out`},
		{"field twice", stream(`, "ml": 1, "ml": 2`), "line 3: stream must have ml only once"},
		{"no name", "{\"streams\": [{\"ml\": 1,\n\"u_ml\": 1}]}", "line 2: stream must have a name"},
		{"name a number", `{"streams": [{"name": 5}]}`, "name must be a text in quotes"},
		{"ml in quotes", stream(`, "ml": "100", "u_ml": 1`), "line 3: ml must be a number without quotes"},
		{"ml without u", stream(`, "ml": 100`), `line 3: stream "a" has ml but no u_ml`},
		{"u without ml", stream(`, "u_ml": 1`), `line 3: stream "a" has u_ml but no ml`},
		{"negative ml", stream(`, "ml": -1, "u_ml": 1`), "line 3: ml is -1, must be a number from 0 to"},
		{"overflow", stream(`, "ml": 1e999, "u_ml": 1`), "line 3: ml is 1e999, must be a number from 0 to"},
		{"negative u", stream(`, "ml": 1, "u_ml": -0.5`), "line 3: u_ml is -0.5, must be"},
		{"name in balance", `{"streams": [{"name": "a"}], "balances": [{"in": [1], "out": ["a"]}]}`, "name in in must be a text"},
		{"unlisted", `{"streams": [{"name": "a"}], "balances": [{"in": ["a"], "out": ["q"]}]}`, `balance 1 names "q", which is not listed`},
		{"no streams", "{}", "streams must be 1 to 200"},
		{"trailing", joinedJSON + "\n{}", "line 6: nothing may follow the network"},
		{"too many", `{"streams": [` + strings.Repeat(`{"name": "a"},`, 200) + `{"name": "a"}]}`, "streams must be at most 200"},
		{"too large", strings.Repeat(" ", 1<<20+1), "at most 1048576 bytes"},
	}
	for _, tt := range tests {
		got, err := ReadJSON(strings.NewReader(tt.text))
		if err == nil || got.Streams != nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %+v, %v; want an error that says %q", tt.name, got, err, tt.says)
		} else if len(err.Error()) > 200 || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: error is not one short line: %q", tt.name, err)
		}
	}
	broken := errors.New("disk gone")
	if _, err := ReadJSON(iotest.ErrReader(broken)); !errors.Is(err, broken) {
		t.Errorf("a failed read gives %v", err)
	}
}

func TestResultAsJSON(t *testing.T) {
	tests := []struct {
		name   string
		result Result
		want   string
	}{
		{
			"holds, with an unobservable stream",
			Result{P: 1, Streams: []StreamResult{
				{Name: "a", Role: Unchecked, ReconciledML: 100, UML: 0},
				{Name: "c", Role: Unobservable},
			}},
			`{"streams":[{"name":"a","role":"unchecked","reconciled_ml":100,"u_ml":0,"z":0},` +
				`{"name":"c","role":"unobservable","reconciled_ml":null,"u_ml":null,"z":0}],` +
				`"chi2":0,"dof":0,"p":1,"suspect":null}`,
		},
		{
			"one suspect",
			Result{Chi2: 16, DoF: 4, P: 0.002, Suspects: []string{"2"}},
			`{"streams":[],"chi2":16,"dof":4,"p":0.002,"suspect":"2"}`,
		},
		{
			"two suspects",
			Result{Chi2: 16, DoF: 1, P: 0.002, Suspects: []string{"in", "out"}},
			`{"streams":[],"chi2":16,"dof":1,"p":0.002,"suspect":"in","suspects":["in","out"]}`,
		},
	}
	for _, tt := range tests {
		got, err := json.Marshal(tt.result)
		if err != nil || string(got) != tt.want {
			t.Errorf("%s:\n got %s, %v\nwant %s", tt.name, got, err, tt.want)
		}
	}
}

// Whatever is read is solved or refused with a reason, never with a figure that is
// no number, and the result can always be written.
func FuzzReadJSON(f *testing.F) {
	f.Add(joinedJSON)
	f.Add(`{"streams":[{"name":"a","ml":1e9,"u_ml":1e-9},{"name":"b","ml":0,"u_ml":1e-1}],"balances":[{"in":["a"],"out":["b"]}]}`)
	f.Add(`{"streams":[{"name":"a"},{"name":"b","ml":5,"u_ml":0}],"balances":[{"in":["a"],"out":["b"]},{"in":["b"],"out":["a"]}]}`)
	f.Add(`{"balances":[],"streams":[{"name":"\ud800","ml":-0,"u_ml":1}]}`)
	f.Fuzz(func(t *testing.T, text string) {
		n, err := ReadJSON(strings.NewReader(text))
		if err != nil {
			if n.Streams != nil || n.Balances != nil || strings.Contains(err.Error(), "\n") {
				t.Fatalf("%+v with %q", n, err)
			}
			return
		}
		r, err := Solve(n)
		if err != nil {
			if !errors.Is(err, errContradiction) {
				t.Fatalf("read but refused: %v", err)
			}
			return
		}
		for _, s := range r.Streams {
			for _, x := range []float64{s.ReconciledML, s.UML, s.Z} {
				if math.IsNaN(x) || math.IsInf(x, 0) {
					t.Fatalf("%+v", s)
				}
			}
		}
		if _, err := json.Marshal(r); err != nil {
			t.Fatal(err)
		}
	})
}
