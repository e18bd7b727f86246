package input

// This file is the pointer in a list: moved by arrows, or by the number shown
// beside an item, of one digit or more. Every list on the screens has one.

import tea "github.com/charmbracelet/bubbletea"

// Pointer is where a list is pointed at, and the number typed so far.
type Pointer struct {
	At    int // -1: nowhere yet
	typed int
}

// Among moves a pointer in a list of n items whose numbers go up to most and
// may be any: index says where a number stands, below 0 nowhere.
func (p Pointer) Among(msg tea.KeyMsg, k Keys, n, most int, index func(number int) int) Pointer {
	switch {
	case n == 0:
	case Matches(msg, k.Up):
		return Pointer{At: (max(p.At, 0) + n - 1) % n}
	case Matches(msg, k.Down):
		return Pointer{At: (p.At + 1) % n}
	case msg.Type == tea.KeyRunes && !msg.Paste:
		for _, r := range msg.Runes {
			p = p.digit(r, most, index)
		}
	}
	return p
}

// digit takes one more digit of a number; one too many begins a new number.
func (p Pointer) digit(r rune, most int, index func(number int) int) Pointer {
	if r < '0' || r > '9' {
		return p
	}
	if p.typed = p.typed*10 + int(r-'0'); p.typed > most {
		p.typed = int(r - '0')
	}
	if i := index(p.typed); i >= 0 && p.typed > 0 && p.typed <= most {
		p.At = i
	}
	return p
}

// Awaits reports whether a key goes on with the number that is typed.
func (p Pointer) Awaits(msg tea.KeyMsg, most int) bool {
	return IsTyped(msg, "0") && p.typed > 0 && p.typed*10 <= most
}

// To is a pointer that points elsewhere, where that is in a list of n items.
func (p Pointer) To(at, n int) Pointer {
	if at < 0 || at >= n {
		return p
	}
	return Pointer{At: at}
}
