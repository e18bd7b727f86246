package history

// This file holds the sentences, and the numbers and names in them: always one
// line, always in the theme's characters.

import (
	"fmt"
	"math"
	"strings"

	"github.com/charmbracelet/lipgloss"

	"garage/tundish/model/estimate"
	"garage/tundish/model/learn"
	"garage/tundish/model/measure"
	"garage/tundish/model/text"
	"garage/tundish/model/verdict"
)

// dateLayout is how every list of this program writes a day, monthLayout where there is no
// room for it.
const dateLayout, monthLayout = "2 Jan 2006", "Jan 2006"

// What is beyond these is shown as too large, and in no chart.
const (
	largestML = 1e7
	largestKm = 1e8
)

// sentence is a text in a style.
type sentence struct {
	text  string
	style lipgloss.Style
}

// sentences are the lines above the list, most important first.
func (v view) sentences() []string {
	t := v.theme
	lines := v.pack([]sentence{{v.title(), t.Strong}, {v.basis(), t.Dim}})
	lines = append(lines, v.pack([]sentence{v.leaking()})...)
	var rest []sentence
	for _, text := range v.learned() {
		rest = append(rest, sentence{text, t.Text})
	}
	return append(lines, v.pack(append(rest, sentence{v.waste(), t.Text}))...)
}

// pack puts sentences on as few lines as their order allows. One that is wider
// than a line is broken.
func (v view) pack(all []sentence) []string {
	room := v.width - 2*margin
	if room < 1 {
		return nil
	}
	indent, between := strings.Repeat(" ", margin), " "+v.theme.Glyphs.Todo+" "
	if v.width >= 80 {
		between = " " + between + " "
	}
	var lines []string
	used := 0
	for _, s := range all {
		words := v.say(s.text)
		w := text.Width(words)
		if w == 0 {
			continue
		}
		if used > 0 && used+text.Width(between)+w <= room {
			lines[len(lines)-1] += v.theme.Dim.Render(between) + s.style.Render(words)
			used += text.Width(between) + w
			continue
		}
		for _, l := range text.Wrap(words, room) {
			lines = append(lines, indent+s.style.Render(l))
		}
		used = w
	}
	return lines
}

// say makes s one printable line in the theme's characters.
func (v view) say(s string) string {
	return v.theme.Glyphs.Spell(text.Visible(s))
}

// longestName keeps a long name from pushing the figures off the screen.
const longestName = 48

func (v view) title() string {
	name := text.Cut(v.say(v.data.Name), longestName, v.theme.Glyphs.Ellipsis)
	if name == "" {
		name = "This unit"
	}
	return name + ": " + jobs(len(v.data.Points))
}

// basis is the unit and the temperature that the figures are in.
func (v view) basis() string {
	if len(v.data.Points) == 0 {
		return ""
	}
	return v.data.Units.Volume.String() + " at " + v.data.Units.FormatTemperature(20) + "; ± holds 19 times in 20"
}

func jobs(n int) string {
	switch n {
	case 0:
		return "no job yet"
	case 1:
		return "1 job"
	}
	return fmt.Sprintf("%d jobs", n)
}

// leaking is what the history says about oil going missing.
func (v view) leaking() sentence {
	l, t := v.data.Leakage, v.theme
	if l.Jobs == 0 {
		return sentence{v.tooEarly(), t.Accent}
	}
	text := l.Text(v.data.Units)
	switch l.Sign {
	case learn.Leak, learn.Gain:
		return sentence{t.Glyphs.Fault + " " + text, t.Danger}
	case learn.NotProven:
		return sentence{t.Glyphs.StateUnproven + " " + text, t.Caution}
	}
	return sentence{text, t.Good}
}

// tooEarly says which readings are missing before a loss can be computed.
func (v view) tooEarly() string {
	switch measured := v.measured(); {
	case len(v.data.Points) == 0:
		return "no job of this unit yet: its history begins with the first"
	case measured == 0:
		return "nothing measured yet: the history begins with what comes out"
	case measured == 1:
		return "one job so far: the history begins with the next"
	}
	return v.data.Leakage.Text(v.data.Units)
}

// measured is how many jobs measured anything.
func (v view) measured() int {
	n := 0
	for _, p := range v.data.Points {
		if p.Drained || filled(p) {
			n++
		}
	}
	return n
}

// filled reports whether a job put anything in.
func filled(p verdict.HistoryPoint) bool {
	return p.Proven || p.NetML.Nominal != 0 || p.NetML.U() != 0
}

// learned says what jobs taught, and from how many.
func (v view) learned() []string {
	residual, escape := v.data.Residual, v.data.Escape
	if residual.Jobs <= 0 && escape.Jobs <= 0 {
		return []string{"stays inside, spill: nothing learned yet"}
	}
	return []string{v.lesson("stays inside", residual), v.lesson("spill", escape)}
}

func (v view) lesson(what string, l verdict.Learned) string {
	if l.Jobs <= 0 {
		return what + ": nothing learned yet"
	}
	return fmt.Sprintf("%s %s (%s)", what, v.volumeU(l.ML, l.UML), jobs(l.Jobs))
}

// waste says how much waste oil waits, of whatever unit; "" where none does.
func (v view) waste() string {
	if !(v.data.Waste.ML > 0) {
		return ""
	}
	s := "all waste oil waiting: " + v.volumeU(v.data.Waste.ML, 0)
	if !v.data.Waste.Since.IsZero() {
		s += ", since " + v.data.Waste.Since.Format(dateLayout)
	}
	return s
}

// volumeU is ml with twice its standard uncertainty, in the owner's unit.
func (v view) volumeU(ml, uML float64) string {
	switch {
	case math.IsNaN(ml):
		return "not computable"
	case math.Abs(ml) > largestML:
		return "too large"
	case uML == 0:
		return v.data.Units.FormatVolume(ml)
	case !(uML > 0 && uML <= largestML):
		return v.data.Units.FormatVolume(ml) + " ± ?"
	}
	return v.data.Units.FormatVolumeU(ml, estimate.Coverage*uML)
}

// bare is a volume without its unit, which stands elsewhere.
func (v view) bare(x measure.Value) string {
	symbol := " " + v.data.Units.Volume.String()
	return strings.Replace(v.volumeU(x.Nominal, x.U()), symbol, "", 1)
}

// perDistance is the distance that losses are given for, in words, and what a
// loss per 1,000 km is to be multiplied by for it.
func (v view) perDistance() (words string, factor float64) {
	unit := v.data.Units.Distance
	return "1,000 " + unit.String(), unit.Factor()
}
