package report

// This file makes the sums of a record, as the model breaks them down: what came
// out, what the unit needs, what was put in; and whether the readings agree.

import (
	"fmt"

	"garage/tundish/model/verdict"
)

// sums are broken down as far as the job has come.
func (b builder) sums() []recordSum {
	s := b.s
	if s.CapacityML() == 0 {
		return nil
	}
	var sums []recordSum
	add := func(sum verdict.Breakdown, result string) {
		if !sum.Open || len(sum.Terms) > 0 {
			sums = append(sums, b.sum(sum, result))
		}
	}
	if _, ok := s.DrainedNow(); ok && s.Measured() {
		add(s.DrainedBreakdown(), "came out")
	}
	add(s.TargetBreakdown(), "aim")
	if r, _ := s.JudgedRound(); s.PushBegun(0) {
		add(s.NetBreakdown(r), "went in")
	}
	return sums
}

// sum puts a sum in words; its last line is named for what it comes to.
func (b builder) sum(from verdict.Breakdown, result string) recordSum {
	sum := recordSum{Title: from.Title, Facts: from.Facts}
	for i, t := range from.Terms {
		line := sumLine{Sign: t.Sign, Name: t.Label, Amount: b.s.FormatU(t.Value), Note: t.Note}
		if line.Sign == "-" {
			line.Sign = "−"
		}
		if i == len(from.Terms)-1 && !from.Open {
			line.Name, line.Result = result, true
		}
		sum.Lines = append(sum.Lines, line)
	}
	if from.Open {
		sum.Facts = append(sum.Facts, from.Advice)
	}
	return sum
}

func (b builder) roundName(round int) string {
	if round == 0 {
		return ""
	}
	return fmt.Sprintf(", correction %d", round)
}

// balance reports whether the readings of each round agree.
func (b builder) balance() []string {
	s := b.s
	var lines []string
	for r := range s.Rounds() {
		rb := s.Balance(r)
		n := len(rb.Streams)
		name := "Fill" + b.roundName(r)
		switch {
		case n == 0 || !s.PushBegun(r):
		case n == 1:
			lines = append(lines, name+": what left the vessel was measured once; nothing checks it.")
		case rb.Fails():
			lines = append(lines, fmt.Sprintf("%s: %d measures of what left the vessel do NOT agree; most likely wrong: %s, off by %s.",
				name, n, rb.Suspect(), s.Units().FormatVolume(rb.OffML)))
		default:
			lines = append(lines, fmt.Sprintf("%s: %d measures of what left the vessel agree (χ² %.2f, degrees of freedom %d, P %.2f).",
				name, n, rb.Chi2, rb.DoF, rb.P))
		}
	}
	return lines
}
