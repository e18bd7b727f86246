// Package screen runs a real program in a real pseudo-terminal and reads its
// screen, for whole-program tests, benchmarks and the pictures in the README.
// It holds no knowledge of what the program is for.
//
//	bin := screen.Build(t, "garage/tundish/cmd/tundish")
//	s := screen.Start(t, bin, screen.Options{Args: []string{"demo"}})
//	s.WaitFor("How much came out?")
//	s.Type("830")
//	s.Press(screen.Enter)
//	s.WaitFor("830 ml")
//	s.Kill()
//
// The rule for a steady test: wait for the exact text you are about to act
// on, then act. Nothing here sleeps; every wait ends when the screen says so,
// and the deadline only keeps a broken program from hanging the test.
//
// What it cannot see:
//   - Bubble Tea v1 cuts lines that are too wide and drops lines from the top
//     of a frame that is too tall, before writing them. Such a frame neither
//     wraps nor scrolls; look for the text that would be missing.
//   - A frame longer than about 4 kB arrives in pieces, so text from the top of
//     a frame can be on the screen before its bottom is. See [Session.Settle].
//   - The program is a session leader without a shell above it, so the kernel
//     ignores its own SIGTSTP; send SIGCONT to let it go on.
//
// Tests that use it should say `//go:build unix`.
package screen
