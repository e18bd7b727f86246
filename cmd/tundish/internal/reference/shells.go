package reference

// This file holds the scripts that make shells ask for completions.

import (
	"embed"
	"fmt"
)

//go:embed shells
var shells embed.FS

// Shells are those that there is a script for, as kong's enum tag wants them.
const Shells = "bash,zsh,fish,powershell"

// Script is what a shell has to read, so that it completes the words of the program.
func Script(shell string) (string, error) {
	text, err := shells.ReadFile("shells/tundish." + shell)
	if err != nil {
		return "", fmt.Errorf("there is no completion for %s: %w", shell, err)
	}
	return string(text), nil
}
