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

// 984 ml needed, 500 in, "it weeps", and again on the second look.
func TestFalseWord01LevelInTheLineMode(t *testing.T) {
	t.Parallel()
	job := levelJob()
	for ask, line := range map[string]string{
		"Stated quantity": "984", "How much came out?": "984", "Really in the vessel now?": "1100", "Left in the vessel now?": "600",
		"How much ran over": "0", "Level says full": "\x01", "In the unit": "\x02", "Why is it left": "out of oil",
	} {
		job[ask] = []string{line}
	}
	speaks(t, job, []string{"Level says full, the sums say 480 ml less. Look again", "It was not the level hole",
		"VERDICT: disputed, add ", "NOT TO BE DRIVEN", "LEFT, NOT PROVEN"},
		[]string{"FILLED, PROVEN", "ACCEPTED", "VERDICT: within"})
}

// 450 ml came out of a unit of 600 that was trusted to be full; the owner goes by
// the manual.
func TestFalseWord07OverruledInTheLineMode(t *testing.T) {
	t.Parallel()
	job := smallJob()
	for ask, line := range map[string]string{
		"What does that quantity": "\x02", "How far is the level": "\x01", "How much came out?": "400", "STOP": "\x03",
		"Out: ": "\x02", "Why? A line": "the manual",
		"Really in the vessel now?": "675", "In the unit": "\x02", "Why is it left": "nothing better",
	} {
		job[ask] = []string{line}
	}
	speaks(t, job, []string{"Which counts? (a number from 1 to 3)", "VERDICT: not proven", "contradiction that stands",
		"LEFT, NOT PROVEN"}, []string{"FILLED, PROVEN", "ACCEPTED", "VERDICT: within"})
}
