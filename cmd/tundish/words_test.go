package main

import (
	"os"
	"strings"
	"testing"

	"garage/tundish/model/words"
)

// Help of every command, and README, say no word that the program does not use.
func TestNoOldWords(t *testing.T) {
	t.Parallel()
	readme, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	texts := map[string]string{"README.md": string(readme)}
	var c commands
	parser, err := newParser(&c, new(outside))
	if err != nil {
		t.Fatal(err)
	}
	texts["help"] = parser.Model.Help + parser.Model.Detail
	for _, command := range parser.Model.Leaves(true) {
		text := []string{command.Help, command.Detail}
		for _, flag := range command.Flags {
			text = append(text, flag.Help)
		}
		texts[command.Path()+" --help"] = strings.Join(text, "\n")
	}
	if len(texts) < 15 {
		t.Errorf("only %d texts", len(texts))
	}
	for what, text := range texts {
		for _, fault := range words.Check(text) {
			t.Errorf("%s: %s", what, fault)
		}
	}
}
