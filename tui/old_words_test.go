package tui

import (
	"os"
	"path/filepath"
	"testing"

	"github.com/charmbracelet/x/ansi"

	"garage/tundish/model/words"
)

// No screen that is kept has a word that another one stands for now.
func TestScreensUseTheWordsOfTheTrade(t *testing.T) {
	files, err := filepath.Glob("testdata/*.golden")
	if err != nil || len(files) < 10 {
		t.Fatalf("%d screens, %v", len(files), err)
	}
	for _, file := range files {
		text, err := os.ReadFile(file)
		if err != nil {
			t.Fatal(err)
		}
		for _, old := range words.Check(ansi.Strip(string(text))) {
			t.Errorf("%s: %s", filepath.Base(file), old)
		}
	}
}
