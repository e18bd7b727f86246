//go:build unix

package main

// This file makes the pictures of the README from the real program. It runs
// only when TUNDISH_PICTURES names the folder to write them to; .ci/pictures
// calls it so.

import (
	"os"
	"path/filepath"
	"testing"

	"garage/tundish/cmd/tundish/internal/screen"
)

func TestPictures(t *testing.T) {
	folder := os.Getenv("TUNDISH_PICTURES")
	if folder == "" {
		t.Skip("TUNDISH_PICTURES names no folder")
	}
	for _, look := range []struct {
		name   string
		dark   bool
		answer screen.Answer
	}{{"dark", true, screen.AnswerAll}, {"light", false, screen.AnswerLight}} {
		o := begin(t, map[string][]string{
			"What is in the drain port": {"\x03"}, "How much came out?": {"500+330"}, "Really in the vessel now?": {"930"}, "Left in the vessel now?": {"20"},
			"Left in the vessel as you push": {"600", "240", ""}, "Escaped at the swap?": {"55"},
		}, screen.Options{Args: []string{"demo", "--background", look.name}, Cols: 100, Rows: 30, Answer: look.answer})
		shoot := func(name, shows string) {
			o.s.WaitFor(shows)
			o.s.Settle()
			file := filepath.Join(folder, name+"-"+look.name+".svg")
			if err := os.WriteFile(file, []byte(o.s.SVG("tundish", look.dark)), 0o644); err != nil {
				t.Fatal(err)
			}
		}
		o.upTo("How much came out?")
		o.s.Type("500+330")
		shoot("measure", "500 + 330 = 830 ml")
		o.s.Press(screen.CtrlU)
		o.upTo("Pre-load")
		shoot("preload", "Pre-load")
		o.upTo("Left in the vessel as you push")
		o.step()
		o.s.Type("240")
		shoot("fill", "240 ml")
		o.s.Press(screen.CtrlU)
		o.upTo("In the unit")
		shoot("verdict", "VERDICT:")
		o.s.Press("*")
		shoot("menu", "Back to the job")
		o.s.Press("0")
		o.s.WaitFor("VERDICT:")
		o.s.Press("/")
		shoot("sums", "holds 19 times in 20")
		o.s.Kill()
	}
}
