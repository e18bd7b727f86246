//go:build unix

package main

// This file completes words in the shells themselves. Those that are not here are
// skipped and counted; with TUNDISH_LONG set all are asked, and at least one must be.

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"garage/tundish/cmd/tundish/internal/reference"
	"garage/tundish/cmd/tundish/internal/screen"
	"garage/tundish/store"
	"garage/tundish/tui/demo"
)

// shellTest is how a shell is asked without a person at it: start makes it read the
// script, and ask tells the words that a line that is typed so far may end with. It
// may return as soon as it sees the one that is wanted.
type shellTest struct {
	program string
	start   func(t *testing.T, home, script string) (ask func(line, want string) []string)
}

var shellTests = map[string]shellTest{
	"bash":       {"bash", askAtPrompt("bash", "--norc", "")},
	"fish":       {"fish", askFish},
	"zsh":        {"zsh", askAtPrompt("zsh", "-f", "autoload -U compinit; compinit -u -D; ")},
	"powershell": {"pwsh", askPowerShell},
}

// inShell runs a shell with the program on its path, and returns what it prints.
func inShell(t *testing.T, home, program string, args ...string) string {
	t.Helper()
	cmd := exec.Command(program, args...)
	cmd.Dir, cmd.Env = home, shellEnv(home)
	out, err := cmd.CombinedOutput()
	if err != nil {
		t.Fatalf("%s: %v\n%s", program, err, out)
	}
	return string(out)
}

func shellEnv(home string) []string {
	return append(screen.CleanEnv(home, "TUNDISH_STORE="+filepath.Join(home, "jobs.db")), "PATH="+home+":"+os.Getenv("PATH"))
}

func askFish(t *testing.T, home, script string) func(line, _ string) []string {
	return func(line, _ string) (values []string) {
		t.Helper()
		said := inShell(t, home, "fish", "--no-config", "-c", `source $argv[1]; complete -C $argv[2]`, script, line)
		for one := range strings.Lines(said) {
			value, _, _ := strings.Cut(strings.TrimSpace(one), "\t")
			values = append(values, value)
		}
		return values
	}
}

// askAtPrompt presses a person's keys at the prompt of a shell in a terminal.
func askAtPrompt(program, bare, prepare string) func(*testing.T, string, string) func(line, want string) []string {
	return func(t *testing.T, home, script string) func(line, want string) []string {
		t.Helper()
		path, err := exec.LookPath(program)
		if err != nil {
			t.Fatal(err)
		}
		session := screen.Start(t, path, screen.Options{Args: []string{bare, "-i"}, Env: shellEnv(home), Dir: home})
		session.Type(prepare + "PS1='ready> '; source " + script + "; clear\n")
		return func(line, want string) []string {
			t.Helper()
			session.WaitUntil("the prompt alone", func(rows []string) bool {
				return strings.TrimSpace(strings.Join(rows, "")) == "ready>"
			})
			session.Type(line)
			session.Press("\t\t\t") // the third lists, where the first found more letters that all have
			session.WaitFor(want)
			values := strings.Fields(session.Text())
			session.Press(screen.CtrlU + "\x0c") // the line away, then all of the screen
			return values
		}
	}
}

func askPowerShell(t *testing.T, home, script string) func(line, _ string) []string {
	return func(line, _ string) []string {
		t.Helper()
		return strings.Fields(inShell(t, home, "pwsh", "-NoProfile", "-Command", "Invoke-Expression (Get-Content -Raw '"+script+
			"'); (TabExpansion2 -inputScript '"+line+"' -cursorColumn '"+line+"'.Length).CompletionMatches.CompletionText"))
	}
}

func TestShellsComplete(t *testing.T) {
	t.Parallel()
	bin := screen.Build(t, "garage/tundish/cmd/tundish")
	home := t.TempDir()
	if err := os.Symlink(bin, filepath.Join(home, "tundish")); err != nil {
		t.Fatal(err)
	}
	put(t, filepath.Join(home, "readings.csv"), "minutes,ml\n")
	made, err := demo.Job(time.Date(2026, 4, 10, 9, 0, 0, 0, time.UTC))
	if err != nil {
		t.Fatal(err)
	}
	st, err := store.Open(filepath.Join(home, "jobs.db"), store.Options{})
	if err != nil {
		t.Fatal(err)
	}
	if err := errors.Join(st.Create(made, headOf(made)), st.Close()); err != nil {
		t.Fatal(err)
	}
	var skipped []string
	all := strings.Split(reference.Shells, ",")
	for _, shell := range all {
		s := shellTests[shell]
		if _, err := exec.LookPath(s.program); err != nil {
			skipped = append(skipped, shell)
			continue
		}
		if os.Getenv("TUNDISH_LONG") == "" && shell != "bash" {
			continue // zsh takes seconds to be ready
		}
		t.Run(shell, func(t *testing.T) {
			t.Parallel()
			script := filepath.Join(home, "tundish."+shell)
			_, text, _ := runHere(t, nil, "completion", shell)
			put(t, script, text)
			ask := s.start(t, home, script)
			for line, want := range map[string]string{
				"tundish su":                 "summary",
				"tundish summary 20":         "20260410-",
				"tundish summary --format h": "html",
				"tundish calc plan --capa":   "--capacity-means",
				"tundish calc drip read":     "readings.csv",
			} {
				got := ask(line, want)
				if !slices.ContainsFunc(got, func(v string) bool { return strings.HasPrefix(v, want) }) {
					t.Errorf("%q: %q, want one that begins with %q", line, got, want)
				}
			}
		})
	}
	t.Logf("%d of %d shells SKIPPED, not here: %v", len(skipped), len(all), skipped)
	if os.Getenv("TUNDISH_LONG") != "" && len(skipped) == len(all) {
		t.Error("no shell was there to be asked")
	}
}
