// Package tty stands between Bubble Tea and the terminal, for two things that
// Bubble Tea v1 does in a way of its own: the first frame is on the screen
// before its clock has ticked, and the terminal is asked whether it is dark
// without anybody waiting for the answer.
package tty
