package summary

// This file writes what is due as an iCalendar file (RFC 5545): one all-day
// event each, with a UID that stays, so that a calendar that reads the file
// again does not have it twice.

import (
	"errors"
	"fmt"
	"io"
	"time"

	ics "github.com/arran4/golang-ical"
)

// ErrNothingDue says that there is nothing to put into a calendar, which must
// not be empty (RFC 5545, 3.6).
var ErrNothingDue = errors.New("nothing is due")

// Calendar writes what is due. The time is that of writing (DTSTAMP).
// ErrNothingDue where nothing is.
func Calendar(w io.Writer, dues []Due, now time.Time) error {
	if len(dues) == 0 {
		return ErrNothingDue
	}
	cal := ics.NewCalendar()
	cal.SetProductId("-//tundish//tundish//EN")
	cal.SetMethod(ics.MethodPublish)
	for _, d := range dues {
		e := cal.AddEvent(Visible(d.UID))
		e.SetDtStampTime(now)
		e.SetAllDayStartAt(d.Day)
		e.SetAllDayEndAt(d.Day.AddDate(0, 0, 1)) // the first day that is not part of it
		e.SetSummary(Visible(d.Title))
		e.SetDescription(Visible(d.Detail))
		e.SetTimeTransparency(ics.TransparencyTransparent) // it does not make the day busy
	}
	if err := cal.SerializeTo(w, ics.WithNewLineWindows); err != nil {
		return fmt.Errorf("write calendar: %w", err)
	}
	return nil
}
