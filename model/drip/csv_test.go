// This file checks the CSV reader.

package drip

import (
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"testing/iotest"
)

func TestReadCSV(t *testing.T) {
	want := []Reading{{5, 500}, {10.5, 650}}
	for name, text := range map[string]string{
		"plain":           "minutes,ml\n5,500\n10.5,650\n",
		"no last newline": "minutes,ml\n5,500\n10.5,650",
		"crlf":            "minutes,ml\r\n5,500\r\n10.5,650\r\n",
		"byte order mark": "\ufeffminutes,ml\n5,500\n10.5,650\n",
		"blank lines":     "\n  \nminutes,ml\n\n5,500\n \t\n10.5,650\n\n\n",
		"spaces":          " Minutes , ML \n 5 , 500 \n10.5 ,650\n",
		"quotes":          "\"minutes\",\"ml\"\n\"5\",\"500\"\n10.5,650\n",
		"exponents":       "minutes,ml\n5e0,5E2\n1.05e1,+650\n",
	} {
		got, err := ReadCSV(strings.NewReader(text))
		if err != nil || !slices.Equal(got, want) {
			t.Errorf("%s: %v, %v", name, got, err)
		}
	}
	if got, err := ReadCSV(strings.NewReader("minutes,ml\n")); err != nil || len(got) != 0 {
		t.Errorf("header alone: %v, %v", got, err)
	}
}

func TestReadCSVNamesWhatIsWrong(t *testing.T) {
	tests := []struct{ name, text, says string }{
		{"empty", "", "line 1: the header must be minutes,ml"},
		{"no header", "5,500\n", "line 1: the header must be minutes,ml"},
		{"wrong header", "\nml,minutes\n", "line 2: the header must be minutes,ml"},
		{"words", "minutes,ml\n5,500\n\n10,much\n", `line 4: ml is "much", must be a number from 0 to`},
		{"not a number", "minutes,ml\nNaN,5\n", `line 2: minutes is "NaN", must be a number`},
		{"infinite", "minutes,ml\n5,inf\n", `line 2: ml is "inf"`},
		{"hexadecimal", "minutes,ml\n0x10,5\n", `line 2: minutes is "0x10"`},
		{"negative", "minutes,ml\n5,-1\n", `line 2: ml is "-1"`},
		{"too large", "minutes,ml\n5,1e300\n", "from 0 to 1000000000"},
		{"overflow", "minutes,ml\n5,1e999\n", `line 2: ml is "1e999"`},
		{"missing field", "minutes,ml\n5\n", "line 2: has 1 fields"},
		{"empty field", "minutes,ml\n5,\n", `line 2: ml is ""`},
		{"decimal comma", "minutes,ml\n5,500,5\n", "line 2: has 3 fields, want two numbers with a decimal point"},
		{"bare quote", "minutes,ml\n5,5\"0\n", "line 2: "},
		{"long field", "minutes,ml\n5," + strings.Repeat("9", 500) + "x\n", "…"},
		{"too many rows", "minutes,ml\n" + strings.Repeat("1,2\n", 10001), "line 10002: at most 10000"},
		{"too large a file", strings.Repeat("\n", 1<<20+1), "at most 1048576 bytes"},
	}
	for _, tt := range tests {
		got, err := ReadCSV(strings.NewReader(tt.text))
		if err == nil || got != nil || !strings.Contains(err.Error(), tt.says) {
			t.Errorf("%s: %v, %v; want an error that says %q", tt.name, got, err, tt.says)
		} else if len(err.Error()) > 200 || strings.Contains(err.Error(), "\n") {
			t.Errorf("%s: error is not one short line: %q", tt.name, err)
		}
	}
	broken := errors.New("disk gone")
	if _, err := ReadCSV(iotest.ErrReader(broken)); !errors.Is(err, broken) {
		t.Errorf("a failed read gives %v", err)
	}
}

// Whatever is read can be written and read again to the same; on error nothing is
// returned; and nothing read is outside what Fit takes.
func FuzzReadCSV(f *testing.F) {
	f.Add("minutes,ml\n5,500\n10,650\n15,700\n")
	f.Add("\ufeffminutes,ml\r\n\r\n5,-0\r\n")
	f.Add("minutes,ml\n\"5\n\",1e-320")
	f.Fuzz(func(t *testing.T, text string) {
		readings, err := ReadCSV(strings.NewReader(text))
		if err != nil {
			if readings != nil || strings.Contains(err.Error(), "\n") {
				t.Fatalf("%v with %q", readings, err)
			}
			return
		}
		if err := checkEach(readings); err != nil {
			t.Fatal(err)
		}
		var again strings.Builder
		again.WriteString("minutes,ml\n")
		for _, r := range readings {
			fmt.Fprintf(&again, "%v,%v\n", r.Minutes, r.ML)
		}
		reread, err := ReadCSV(strings.NewReader(again.String()))
		if err != nil || !slices.Equal(reread, readings) {
			t.Fatalf("%v became %v, %v", readings, reread, err)
		}
	})
}
