//go:build unix

package main

// This file says the wrong thing to the line mode of the real program, and
// listens for a false word.

import (
	"strings"
	"testing"
)

// speaks works through a job and checks what was said and what was not.
func speaks(t *testing.T, job map[string][]string, want, never []string) {
	t.Helper()
	s, _ := lineJob(t, job)
	all := heard(s)
	for _, text := range want {
		if !strings.Contains(all, text) {
			t.Errorf("never said: %s\n%s", text, all)
		}
	}
	for _, text := range never {
		if strings.Contains(all, text) {
			t.Errorf("said: %s\n%s", text, all)
		}
	}
}

// calledRight is what the verdict and the end say of a fill that is right, or likely so.
var calledRight = []string{"FILLED, PROVEN", "ACCEPTED", "\nRIGHT\n", "\nLIKELY\n", "accept: "}

// 984 ml needed, 500 in, "it weeps", and again on the second look.
func TestFalseWord01LevelInTheLineMode(t *testing.T) {
	t.Parallel()
	job := levelJob()
	for ask, typed := range map[string]string{
		"Fill quantity, manual": "984", "How much came out?": "984", "How much did you pour in?": "1100", "Left in the vessel": "600",
		"The level says full": "7", "What now?": "5", "Why it is left": "out of oil",
	} {
		job[ask] = []string{typed}
	}
	speaks(t, job, []string{"The level says full, the readings say 483 ml less. Look again", "It was not the level hole",
		"\nDISPUTED\nadd ", "NOT TO BE DRIVEN", "LEFT, NOT PROVEN"}, calledRight)
}

// 450 ml came out of a unit of 600 that was trusted to be full; the owner goes by
// the manual.
func TestFalseWord07OverruledInTheLineMode(t *testing.T) {
	t.Parallel()
	job := smallJob()
	for ask, typed := range map[string]string{
		"That figure means": "1", "Level until today": "1", "How much came out?": "400", "242 ml less came out": "2",
		"Out: ": "2", "Why? A line": "the manual",
		"How much did you pour in?": "675", "What now?": "5", "Why it is left": "nothing better",
	} {
		job[ask] = []string{typed}
	}
	speaks(t, job, []string{"Which counts? (a digit)", "\nNOT SURE\n", "contradiction that stands", "LEFT, NOT PROVEN"}, calledRight)
}
