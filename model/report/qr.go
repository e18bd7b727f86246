package report

// This file says in a few lines of plain text what a phone should keep of a job, and
// draws it.

import (
	"slices"
	"strings"
	"time"

	"garage/tundish/model/guide"
	"garage/tundish/model/job"
	"garage/tundish/model/qr"
	"garage/tundish/model/share"
	"garage/tundish/model/text"
)

// Facts is what a QR code of a job holds: unit, day, state, amounts, oil, what is next.
// Names are left out of a shared one.
func Facts(s *guide.Guide, o Options) string {
	b := builder{s: s, zone: o.Zone, shared: o.Share || share.IsCopy(s.ID)}.zoned()
	lines := []string{b.title(), "job " + s.ID, s.Started.In(b.zone).Format(time.DateOnly) + " " + s.Head().StateWords()}
	for _, f := range b.gauge().facts() {
		lines = append(lines, f.Name+" "+f.Text)
	}
	if grade := s.Text(job.OilGrade); grade != "" && grade != share.LeftOut {
		lines = append(lines, grade)
	}
	at, km := s.Due()
	switch due := s.Units().FormatDistance(km); {
	case !at.IsZero() && km > 0:
		lines = append(lines, "next: "+at.In(b.zone).Format(time.DateOnly)+" or "+due)
	case !at.IsZero():
		lines = append(lines, "next: "+at.In(b.zone).Format(time.DateOnly))
	case km > 0:
		lines = append(lines, "next: "+due)
	}
	for i, l := range lines {
		lines[i] = text.Visible(l)
	}
	return strings.Join(lines, "\n")
}

// Code is what the QR code of the tag holds.
func (t TagWords) Code() string {
	lines := slices.Concat([]string{strings.Join(t.Big, " "), t.What}, t.Units, t.Orders, []string{t.Since, t.Job})
	for i, l := range lines {
		lines[i] = text.Visible(l)
	}
	return strings.Join(lines, "\n")
}

// codePicture is a QR code for a page.
type codePicture struct {
	Size int
	Path string
}

// pictureOf draws a text; nil where it cannot be, and then there is none.
func pictureOf(text string) *codePicture {
	c, err := qr.Of(text)
	if err != nil {
		return nil
	}
	return &codePicture{c.Size(), c.Path()}
}
