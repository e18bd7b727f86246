package input

import (
	"strings"
	"testing"

	tea "github.com/charmbracelet/bubbletea"
)

func TestField(t *testing.T) {
	f := Field{Text: "30", Stood: true, Said: true}
	if f.Half() || f.Typing() {
		t.Error("an answer that stands is half typed")
	}
	if f = f.add([]rune("2")); f.Text != "2" || !f.Half() {
		t.Errorf("the first key made %+v", f)
	}
	if f = f.add([]rune("5")).drop(); f.Text != "2" {
		t.Errorf("deleting left %q", f.Text)
	}
	if f, _ = f.Edit(tea.KeyMsg{Type: tea.KeyCtrlU}); f.Text != "" {
		t.Errorf("clearing left %q", f.Text)
	}
	if f = f.add([]rune(strings.Repeat("9", 2*maxTyped))); len(f.Text) != maxTyped {
		t.Errorf("%d characters", len(f.Text))
	}
	if got := (Field{Text: "123456"}).Shown(4); got != "3456" {
		t.Errorf("of what is too long %q is shown", got)
	}
}
