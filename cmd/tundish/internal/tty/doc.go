// Package tty stands between Bubble Tea and the terminal, for what Bubble Tea v1
// does in a way of its own: a frame is drawn when there is one, not by a clock that
// ticks for as long as the program runs, the terminal is asked whether it is dark
// without anybody waiting for the answer, and a paste without an end is given up.
package tty
