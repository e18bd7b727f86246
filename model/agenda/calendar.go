package agenda

// This file writes what is due as an iCalendar file (RFC 5545): one all-day
// event each, with an alarm, and with a UID that stays, so that a calendar that reads the file
// again does not have it twice. There is no METHOD: nobody is invited (3.7.2).

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"time"
	"unicode/utf8"

	"github.com/emersion/go-ical"

	"garage/tundish/model/text"
)

// ErrNothingDue says that there is nothing to put into a calendar, which must
// not be empty (RFC 5545, 3.6).
var ErrNothingDue = errors.New("nothing is due on a day")

// Calendar writes what is due on a day; what is due by distance alone is left
// out. The time is that of writing (DTSTAMP). ErrNothingDue where nothing is.
func Calendar(w io.Writer, dues []Due, now time.Time) error {
	cal := ical.NewCalendar()
	cal.Props.SetText(ical.PropProductID, "-//tundish//tundish//EN")
	cal.Props.SetText(ical.PropVersion, "2.0")
	for _, d := range dues {
		if !d.Day.IsZero() {
			cal.Children = append(cal.Children, eventOf(d, now))
		}
	}
	if len(cal.Children) == 0 {
		return ErrNothingDue
	}
	var b bytes.Buffer
	if err := ical.NewEncoder(&b).Encode(cal); err != nil {
		return fmt.Errorf("write calendar: %w", err)
	}
	_, err := w.Write(folded(b.Bytes()))
	return err
}

func eventOf(d Due, now time.Time) *ical.Component {
	e := ical.NewComponent(ical.CompEvent)
	e.Props.SetText(ical.PropUID, text.Visible(d.UID))
	e.Props.SetDateTime(ical.PropDateTimeStamp, now.UTC())
	e.Props.SetDate(ical.PropDateTimeStart, d.Day)
	e.Props.SetDate(ical.PropDateTimeEnd, d.Day.AddDate(0, 0, 1)) // the first day that is not part of it
	e.Props.SetText(ical.PropSummary, text.Visible(d.Title))
	e.Props.SetText(ical.PropDescription, text.Visible(d.Detail))
	e.Props.SetText(ical.PropTransparency, "TRANSPARENT") // it does not make the day busy
	e.Children = append(e.Children, alarmOf(d))
	return e
}

// alarmAfter is when it is told of, after the first midnight of the day, where a person
// is (RFC 5545, 3.8.6.3): at nine the day before, as oil is to be bought first; a look on
// the day of the drive in the evening of it; one at a cold unit before the car is moved.
// The hours are judgement, no source.
func alarmAfter(k Kind) string {
	switch k {
	case LeakLook:
		return "PT18H"
	case WasherLook:
		return "PT7H"
	}
	return "-PT15H"
}

// alarmOf shows a text at a time relative to the beginning of the event (RFC 5545, 3.6.6).
func alarmOf(d Due) *ical.Component {
	a := ical.NewComponent(ical.CompAlarm)
	a.Props.SetText(ical.PropAction, "DISPLAY")
	a.Props.SetText(ical.PropDescription, text.Visible(d.Title))
	trigger := ical.NewProp(ical.PropTrigger)
	trigger.Value = alarmAfter(d.Kind)
	a.Props.Set(trigger)
	return a
}

// folded breaks lines so that none is longer than 75 octets and no letter is
// cut (RFC 5545, 3.1); a line that goes on begins with a space.
func folded(text []byte) []byte {
	const mostOctets = 75
	out, used := make([]byte, 0, len(text)+len(text)/8), 0
	for len(text) > 0 {
		r, size := utf8.DecodeRune(text)
		switch {
		case r == '\r' || r == '\n':
			used = 0
		case used+size > mostOctets:
			out, used = append(out, "\r\n "...), 1+size
		default:
			used += size
		}
		out, text = append(out, text[:size]...), text[size:]
	}
	return out
}
