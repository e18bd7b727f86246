package cli

import (
	"bytes"
	"encoding/json"
	"math"
	"testing"
)

func TestSheetKeepsFiguresInOneColumn(t *testing.T) {
	s := new(Sheet)
	s.Add("hold-up", "75.4 ± 7.5 ml", "when full")
	s.Add("Ölrest", "5 ml", "")
	s.Note("100 %% of it")
	var out bytes.Buffer
	if err := s.Write(&out); err != nil {
		t.Fatal(err)
	}
	want := "hold-up  75.4 ± 7.5 ml  when full\nÖlrest   5 ml\n100 % of it\n"
	if out.String() != want {
		t.Errorf("got\n%s\nwant\n%s", out.String(), want)
	}
}

// JSON has no figure for what is not one (RFC 8259, section 6).
func TestKnownIsNullForWhatIsNoNumber(t *testing.T) {
	got, err := json.Marshal([]*float64{Known(1.5), Known(math.NaN()), Known(math.Inf(1)), Known(math.Inf(-1)), Known(0)})
	if err != nil || string(got) != "[1.5,null,null,null,0]" {
		t.Errorf("%s, %v", got, err)
	}
}
