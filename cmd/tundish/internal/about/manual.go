package about

// This file holds what the manual says that no definition of a command does: the
// examples, two of each command, and what the program reads around it.

import (
	_ "embed"
	"strings"

	"garage/tundish/cmd/tundish/internal/reference"
)

// examples are the command lines that the manual shows: a command, under it lines that
// call it, under each what it does.
//
//go:embed examples.txt
var examples string

// Examples are two of each command.
func Examples() reference.Examples {
	all, command, args := reference.Examples{}, "", ""
	for line := range strings.Lines(examples) {
		words := strings.TrimSpace(line)
		path := strings.TrimSpace(strings.TrimPrefix(words, "tundish"))
		switch len(line) - len(strings.TrimLeft(line, " ")) {
		case 0:
			command = path
		case 2:
			args = path
		default:
			all[command] = append(all[command], reference.Example{Args: args, Does: words})
		}
	}
	return all
}

// Environment is what the program reads of it.
func Environment() [][2]string {
	return [][2]string{
		{"TUNDISH_STORE", "File that holds the jobs, where --store does not say."},
		{"XDG_DATA_HOME", "Folder of data; the jobs are in tundish/jobs.db there. Else ~/.local/share, or what is usual on the system."},
		{"XDG_CONFIG_HOME", "Folder of settings; they are in tundish/config there. Else ~/.config."},
		{"TUNDISH_BACKGROUND", "light or dark: that of the terminal. COLORFGBG, which some terminals set, counts after it."},
		{"NO_COLOR", "Set to anything, it turns colours off."},
		{"TERM", "dumb: the guide goes one line at a time, as with --plain."},
		{"LC_ALL, LC_CTYPE, LANG", "A character set other than UTF-8 makes the guide draw ASCII only."},
		{"TZ", "The zone that times are printed in."},
	}
}

// Files are those that the program keeps.
func Files() [][2]string {
	return [][2]string{
		{"~/.config/tundish/config", "The settings, a line each: key = value."},
		{"~/.local/share/tundish/jobs.db", "The jobs."},
		{"~/.local/share/tundish/jobs.db.journal", "The same once more, line by line: what verify looks through and repair reads."},
	}
}
