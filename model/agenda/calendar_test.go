package agenda

// This file reads the reminders back with a library that did not write them
// (arran4/golang-ical) and holds them to RFC 5545.

import (
	"bytes"
	"errors"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"
	"unicode/utf8"

	ics "github.com/arran4/golang-ical"
	"pgregory.net/rapid"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/jobtest"
	"garage/tundish/model/text"
)

var writing = time.Date(2026, 4, 18, 20, 0, 0, 0, time.UTC)

func calendarText(t *testing.T, dues []Due) string {
	t.Helper()
	var b bytes.Buffer
	if err := Calendar(&b, dues, writing); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func events(t jobtest.Fataler, text string) []*ics.VEvent {
	t.Helper()
	cal, err := ics.ParseCalendar(strings.NewReader(text))
	if err != nil {
		t.Fatal("not read by another library: ", err, "\n", text)
	}
	return cal.Events()
}

// prop is a property as it stands, escapes undone.
func prop(t jobtest.Fataler, e *ics.VEvent, name ics.ComponentProperty) string {
	t.Helper()
	p := e.GetProperty(name)
	if p == nil {
		t.Fatal("no ", name)
	}
	return p.Value
}

// waiting is the drain-port job that waits for the looks after the drive.
func waiting(t *testing.T) *guide.Guide {
	t.Helper()
	return jobtest.New(t, jobtest.DrainPort()).Until(job.LeakCheck)
}

func TestRemindersAreRead(t *testing.T) {
	s := waiting(t)
	text := calendarText(t, Dues(s, nil))
	want := []struct{ uid, start, end, summary string }{
		{s.ID + "-leak@tundish", "20260418", "20260419", "leak check after a drive: rear axle of blue estate"},
		{s.ID + "-washer@tundish", "20260419", "20260420", "washer check, cold: rear axle of blue estate"},
		{s.ID + "-change@tundish", "20290418", "20290419", "next oil change: rear axle of blue estate"},
	}
	got := events(t, text)
	if len(got) != len(want) {
		t.Fatalf("%d events, want %d:\n%s", len(got), len(want), text)
	}
	for i, w := range want {
		e := got[i]
		// RFC 5545, 3.6.1: an event of whole days has DATE values, and ends the day after.
		for name, day := range map[ics.ComponentProperty]string{ics.ComponentPropertyDtStart: w.start, ics.ComponentPropertyDtEnd: w.end} {
			if p := e.GetProperty(name); p == nil || p.Value != day || !slices.Equal(p.ICalParameters["VALUE"], []string{"DATE"}) {
				t.Errorf("event %d: %s is %+v, want the date %s", i, name, p, day)
			}
		}
		if uid, title := e.Id(), prop(t, e, ics.ComponentPropertySummary); uid != w.uid || title != w.summary {
			t.Errorf("event %d is %s %q, want %s %q", i, uid, title, w.uid, w.summary)
		}
		if busy := prop(t, e, ics.ComponentPropertyTransp); busy != "TRANSPARENT" { // RFC 5545, 3.8.2.7: the day stays free
			t.Errorf("event %d is %s", i, busy)
		}
		if stamp, err := e.GetDtStampTime(); err != nil || !stamp.Equal(writing) {
			t.Errorf("event %d stamped %v (%v), want %v", i, stamp, err, writing)
		}
	}
	// With a METHOD it would be an invitation and need an organizer (RFC 5546, 3.2.1).
	if strings.Contains(text, "\r\nMETHOD:") {
		t.Error("there is a METHOD")
	}
	if text != calendarText(t, Dues(s, nil)) {
		t.Error("written differently the second time")
	}
}

// RFC 5545, 3.6.6: a display alarm has ACTION, DESCRIPTION and TRIGGER, each once, and no
// DURATION without REPEAT; 3.8.6.3 and 3.3.6: the trigger is a duration from the start of
// the event, of whole hours here.
func TestEachReminderHasOneAlarm(t *testing.T) {
	s := waiting(t)
	duration := regexp.MustCompile(`^[+-]?P(\d+D)?(T(\d+H(\d+M(\d+S)?)?|\d+M(\d+S)?|\d+S))?$`) // of 3.3.6, without weeks
	want := []time.Duration{18 * time.Hour, 7 * time.Hour, -15 * time.Hour}
	got := events(t, calendarText(t, Dues(s, nil)))
	if len(got) != len(want) {
		t.Fatalf("%d events, want %d", len(got), len(want))
	}
	for i, e := range got {
		alarms := e.Alarms()
		if len(alarms) != 1 || len(alarms[0].Properties) != 3 {
			t.Fatalf("event %d: %d alarms, %+v", i, len(alarms), alarms)
		}
		of := func(name ics.ComponentProperty) *ics.IANAProperty { return alarms[0].GetProperty(name) }
		action, says, trigger := of(ics.ComponentPropertyAction), of(ics.ComponentPropertyDescription), of(ics.ComponentPropertyTrigger)
		if action == nil || action.Value != "DISPLAY" || says == nil || says.Value != prop(t, e, ics.ComponentPropertySummary) {
			t.Errorf("event %d: %+v, %+v", i, action, says)
		}
		if trigger == nil || !duration.MatchString(trigger.Value) {
			t.Fatalf("event %d: trigger %+v", i, trigger)
		}
		for name, values := range trigger.ICalParameters {
			if name != "VALUE" || !slices.Equal(values, []string{"DURATION"}) {
				t.Errorf("event %d: trigger with %s %v", i, name, values)
			}
		}
		text := strings.ToLower(strings.NewReplacer("P", "", "T", "", "0D", "").Replace(trigger.Value))
		if after, err := time.ParseDuration(text); err != nil || after != want[i] {
			t.Errorf("event %d: %s is %v (%v), want %v", i, trigger.Value, after, err, want[i])
		}
	}
}

// RFC 5545, 3.1: lines end with CR LF and are at most 75 octets long, and no
// letter is cut; VERSION and PRODID are required (3.6). Whatever a text holds,
// it is one text of one event, and is read back as it is shown.
func TestCalendarLines(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		title := strings.Repeat("n", rapid.IntRange(0, 80).Draw(t, "before")) + jobtest.AnyHostile().Draw(t, "text")
		title += strings.Repeat(", ünïcode; 😀", rapid.IntRange(0, 20).Draw(t, "times"))
		var b bytes.Buffer
		due := Due{UID: "a@tundish", Day: writing.Truncate(24 * time.Hour), Title: title, Detail: title}
		if err := Calendar(&b, []Due{due}, writing); err != nil {
			t.Fatal(err)
		}
		page := b.String()
		for _, l := range strings.Split(page, "\r\n") {
			if len(l) > 75 || strings.ContainsAny(l, "\r\n") || !utf8.ValidString(l) {
				t.Fatalf("line of %d octets: %q", len(l), l)
			}
		}
		if !strings.HasPrefix(page, "BEGIN:VCALENDAR\r\n") || !strings.Contains(page, "\r\nVERSION:2.0\r\n") ||
			!strings.Contains(page, "\r\nPRODID:") {
			t.Fatalf("head is wrong:\n%s", page)
		}
		got := events(t, page)
		if len(got) != 1 || prop(t, got[0], ics.ComponentPropertySummary) != text.Visible(title) ||
			prop(t, got[0], ics.ComponentPropertyDescription) != text.Visible(title) {
			t.Fatalf("the text became another: %d events\n%s", len(got), page)
		}
	})
}

func TestNothingDueIsNoCalendar(t *testing.T) {
	if err := Calendar(&bytes.Buffer{}, nil, writing); !errors.Is(err, ErrNothingDue) {
		t.Errorf("error %v, want ErrNothingDue", err)
	}
}

func TestDues(t *testing.T) {
	names := func(s *guide.Guide) (list []string) {
		for _, d := range Dues(s, nil) {
			list = append(list, d.Day.Format("01-02")+" "+d.Kind.Words())
		}
		return list
	}
	later := jobtest.New(t, jobtest.DrainPort())
	later.Until(job.WasherRecheck)
	weeping := jobtest.DrainPort()
	weeping[job.LeakCheck] = []string{"weeps", "dry"}
	weeping[job.LeakedHow] = []string{"guess"}
	weeping[job.LeakedAmount] = []string{"3"}
	weeps := jobtest.New(t, weeping)
	weeps.Until(job.LeakCheck)
	weeps.At = weeps.At.Add(48 * time.Hour)
	next, _ := weeps.Guide().Next()
	weeps.Answer(weeps.Guide(), next)
	tagged := jobtest.New(t, jobtest.DrainPort()) // the plug went in two days before
	tagged.Until(job.TagOff)
	tagged.At = tagged.At.Add(48 * time.Hour)
	unproven := jobtest.New(t, jobtest.DrainPort())
	unproven.Until(job.Decision)
	left := jobtest.DrainPort()
	left[job.LoadedAmount], left[job.VesselWeighedFull], left[job.VesselWeighedAfter] = []string{"700"}, []string{"-"}, []string{"-"}
	left[job.BottlesOpened], left[job.BottlesLeft] = []string{"-"}, []string{"-"}
	left[job.Decision], left[job.LeftWhy] = []string{"leave"}, []string{"the light went"}
	tests := []struct {
		name string
		s    *guide.Guide
		want string
	}{
		{"not begun", jobtest.New(t, jobtest.DrainPort()).Until(job.PlugOut), ""},
		{"unproven", unproven.Guide(), ""},
		{"looks to come", waiting(t), "04-18 leak check after a drive|04-19 washer check, cold|04-18 next oil change"},
		{"leak check made", later.Guide(), "04-19 washer check, cold|04-18 next oil change"},
		{"weeping, renewed", weeps.Until(job.LeakCheck), "04-20 leak check after a drive|04-21 washer check, cold|04-18 next oil change"},
		{"tag off later", tagged.Until(job.LeakCheck), "04-18 leak check after a drive|04-19 washer check, cold|04-18 next oil change"},
		{"all done", guide.Fold(jobtest.New(t, jobtest.DrainPort()).ToTheEnd(), guide.Offers{}), "04-18 next oil change"},
		{"left unproven", jobtest.New(t, left).Until(job.NoTopic), ""},
	}
	for _, tt := range tests {
		if got := strings.Join(names(tt.s), "|"); got != tt.want {
			t.Errorf("%s: due %q, want %q", tt.name, got, tt.want)
		}
	}
}

// A job of the evening is due by the day of the garage, not by that of
// Greenwich.
func TestDuesAreDaysOfTheZone(t *testing.T) {
	west := time.FixedZone("west", -8*3600)
	s := waiting(t)
	if got := Dues(s, west)[0].Day.Format(time.DateOnly); got != "2026-04-18" {
		t.Errorf("leak check due %s", got)
	}
	d := jobtest.New(t, jobtest.DrainPort())
	d.At = time.Date(2026, 4, 19, 2, 0, 0, 0, time.UTC) // the evening of the 18th in the west
	if got := Dues(d.Until(job.LeakCheck), west)[0].Day.Format(time.DateOnly); got != "2026-04-18" {
		t.Errorf("leak check of the evening due %s", got)
	}
}
