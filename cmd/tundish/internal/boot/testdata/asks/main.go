// Command asks does what Bubble Tea v1 does when nobody has told lipgloss what
// the background is. It serves only to show that a test would see it.
package main

import "github.com/charmbracelet/lipgloss"

func main() { lipgloss.HasDarkBackground() }
