// Package dates writes a day as people of a language do.
package dates

import (
	"fmt"
	"time"
)

// Language is how days are written; the zero value is English.
type Language uint8

// The languages, and the form of ISO 8601.
const (
	English Language = iota
	German
	French
	Spanish
	ISO
	numLanguages
)

var tokens = [numLanguages]string{"en", "de", "fr", "es", "iso"}

// String is the language as it is typed: en, de, fr, es or iso.
func (l Language) String() string {
	if l < numLanguages {
		return tokens[l]
	}
	return fmt.Sprintf("language %d", uint8(l))
}

// UnmarshalText reads what String writes.
func (l *Language) UnmarshalText(text []byte) error {
	for i, token := range tokens {
		if token == string(text) {
			*l = Language(i)
			return nil
		}
	}
	return fmt.Errorf("%q is not one of en, de, fr, es, iso", text)
}

// The months, whole and short (Unicode CLDR, from memory).
var months = map[Language][12]string{
	German: {"Januar", "Februar", "März", "April", "Mai", "Juni", "Juli", "August", "September", "Oktober", "November", "Dezember"},
	French: {"janvier", "février", "mars", "avril", "mai", "juin", "juillet", "août", "septembre", "octobre", "novembre", "décembre"},
	Spanish: {"enero", "febrero", "marzo", "abril", "mayo", "junio", "julio", "agosto", "septiembre", "octubre", "noviembre",
		"diciembre"},
}

var shortMonths = map[Language][12]string{
	German:  {"Jan.", "Feb.", "März", "Apr.", "Mai", "Juni", "Juli", "Aug.", "Sept.", "Okt.", "Nov.", "Dez."},
	French:  {"janv.", "févr.", "mars", "avr.", "mai", "juin", "juil.", "août", "sept.", "oct.", "nov.", "déc."},
	Spanish: {"ene", "feb", "mar", "abr", "may", "jun", "jul", "ago", "sept", "oct", "nov", "dic"},
}

// Long is a day with the whole name of its month: 18 April 2026.
func (l Language) Long(day time.Time) string {
	if l == Spanish {
		return fmt.Sprintf("%d de %s de %d", day.Day(), months[l][day.Month()-1], day.Year())
	}
	return l.written(day, months, "2 January 2006")
}

// Short is a day for a list: 18 Apr 2026.
func (l Language) Short(day time.Time) string { return l.written(day, shortMonths, "2 Jan 2006") }

func (l Language) written(day time.Time, names map[Language][12]string, english string) string {
	number := fmt.Sprint(day.Day())
	switch l {
	case English:
		return day.Format(english)
	case ISO:
		return day.Format(time.DateOnly)
	case German:
		number += "."
	case French:
		if day.Day() == 1 {
			number = "1er"
		}
	}
	return fmt.Sprintf("%s %s %d", number, names[l][day.Month()-1], day.Year())
}
