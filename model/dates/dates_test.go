package dates

import (
	"testing"
	"time"
)

// Forms of the Unicode CLDR, from memory.
func TestDaysAsPeopleWriteThem(t *testing.T) {
	day := time.Date(2026, 3, 1, 9, 0, 0, 0, time.UTC)
	for token, want := range map[string][2]string{
		"en": {"1 March 2026", "1 Mar 2026"}, "de": {"1. März 2026", "1. März 2026"}, "fr": {"1er mars 2026", "1er mars 2026"},
		"es": {"1 de marzo de 2026", "1 mar 2026"}, "iso": {"2026-03-01", "2026-03-01"},
	} {
		var l Language
		if err := l.UnmarshalText([]byte(token)); err != nil || l.String() != token {
			t.Fatalf("%s: %v, %v", token, l, err)
		}
		if got := [2]string{l.Long(day), l.Short(day)}; got != want {
			t.Errorf("%s: %q, want %q", token, got, want)
		}
	}
	if got := French.Long(day.AddDate(0, 5, 1)); got != "2 août 2026" {
		t.Error(got)
	}
	if new(Language).UnmarshalText([]byte("tlh")) == nil {
		t.Error("a language that is none is taken")
	}
}
