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

// photographer takes pictures of a demo on the way through it.
type photographer struct {
	*owner
	folder, look string
	dark         bool
}

// shoot keeps a picture of the screen, once it shows a text.
func (p photographer) shoot(name, shows string) {
	p.t.Helper()
	p.s.WaitFor(shows)
	p.s.Settle()
	file := filepath.Join(p.folder, name+"-"+p.look+".svg")
	if err := os.WriteFile(file, []byte(p.s.SVG("tundish", p.dark)), 0o644); err != nil {
		p.t.Fatal(err)
	}
}

func TestPictures(t *testing.T) {
	folder := os.Getenv("TUNDISH_PICTURES")
	if folder == "" {
		t.Skip("TUNDISH_PICTURES names no folder")
	}
	for look, answer := range map[string]screen.Answer{"dark": screen.AnswerAll, "light": screen.AnswerLight} {
		o := begin(t, map[string][]string{
			"In the drain port now": {"3"}, "How much came out?": {"500+330"}, "How much did you pour in?": {"1000"},
			"Left in the vessel": {"50"}, "Spilled, all of it": {"35"},
		}, screen.Options{Args: []string{"demo", "--background", look}, Cols: 100, Rows: 30, Answer: answer})
		p := photographer{o, folder, look, look == "dark"}
		o.upTo("How much came out?")
		o.s.Type("500+330")
		p.shoot("measure", "830 ml")
		o.s.Press(screen.CtrlU)
		o.upTo("The hose, before")
		p.shoot("preload", "POUR INTO THE VESSEL")
		o.upTo("Vessel reads")
		o.s.Type("240")
		p.shoot("fill", "[240")
		o.s.Press(screen.CtrlU)
		o.upTo("how it was worked out")
		p.shoot("verdict", "went in")
		o.s.Type("*")
		p.shoot("menu", "Correct an earlier answer")
		o.s.Type("0")
		o.s.WaitFor("went in")
		o.s.Type("+")
		p.shoot("sums", "holds 19 times in 20")
		o.s.Kill()
	}
}
