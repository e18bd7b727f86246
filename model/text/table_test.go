package text

import (
	"bytes"
	"strings"
	"testing"
)

// Columns are as wide as their texts, with two between them, until they do not fit: then
// the widest is broken, of equals the first, and those that are to stay whole last.
func TestTableFitsItsWidth(t *testing.T) {
	words := func(n int) string {
		return strings.TrimSpace(strings.Repeat("abcd ", n/5)) + strings.Repeat("x", n%5+1)
	}
	tests := map[string]struct {
		rows  [][]string
		whole []int
		width int
		want  []int // columns of the texts
	}{
		"all fits":                          {[][]string{{"a", "bb"}, {"ccc", "d"}}, nil, 9, []int{3, 2}},
		"to the last column":                {[][]string{{words(20), words(20)}}, nil, 44, []int{20, 20}},
		"one too many: of equals the first": {[][]string{{words(20), words(20)}}, nil, 43, []int{19, 20}},
		"the widest first":                  {[][]string{{words(15), words(30)}}, nil, 40, []int{15, 21}},
		"whole ones last":                   {[][]string{{words(12), words(26)}}, []int{1}, 40, []int{10, 26}},
		"as far as nine":                    {[][]string{{words(12), words(26)}}, []int{1}, 38, []int{9, 25}},
		"none wider than 26 is whole":       {[][]string{{words(12), words(27)}}, []int{1}, 42, []int{12, 26}},
		"nothing is narrower than nine":     {[][]string{{words(20), "abc"}}, nil, 6, []int{9, 3}},
	}
	for name, tt := range tests {
		got := columnWidths(tt.rows, tt.whole, tt.width-2)
		for i, want := range tt.want {
			if got[i] != want {
				t.Errorf("%s: columns %v, want %v", name, got, tt.want)
				break
			}
		}
	}
}

func TestTableBreaksItsCells(t *testing.T) {
	var b bytes.Buffer
	Table(&b, [][]string{{"unit", "what was seen"}, {"axle", "a weeping plug\x1b"}, {"hub", "dry"}}, []int{0}, 18)
	want := "  unit  what was\n        seen\n  axle  a weeping\n        plug\\x1b\n  hub   dry\n"
	if b.String() != want {
		t.Errorf("got\n%s\nwant\n%s", b.String(), want)
	}
}
