package tty

// This file ends a paste that a terminal has begun and not ended: Bubble Tea would wait
// for its end for ever, and take all keys as pasted.

import (
	"bytes"
	"time"
)

// A paste stands between these. Source: XTerm Control Sequences, "Bracketed Paste Mode".
const (
	pasteStart = "\x1b[200~"
	pasteEnd   = "\x1b[201~"
)

// pasteSilence is how long nothing must come before a paste that is open is ended.
const pasteSilence = 2 * time.Second

// paste follows whether one is open.
type paste struct {
	open bool
	tail []byte // what may be the beginning of a mark
}

// see takes the next keys.
func (p *paste) see(keys []byte) {
	stream := append(p.tail, keys...)
	for mark := p.mark(); ; mark = p.mark() {
		at := bytes.Index(stream, []byte(mark))
		if at < 0 {
			break
		}
		stream, p.open = stream[at+len(mark):], !p.open
	}
	p.tail = bytes.Clone(stream[max(len(stream)-len(pasteEnd)+1, 0):])
}

// mark is what is looked for.
func (p *paste) mark() string {
	if p.open {
		return pasteEnd
	}
	return pasteStart
}

// ended is the keys, and the end of a paste that is open and after which nothing came.
func (p *paste) ended(keys []byte, comes func(within time.Duration) bool) []byte {
	p.see(keys)
	if !p.open || comes(pasteSilence) {
		return keys
	}
	p.open, p.tail = false, nil
	return append(keys, pasteEnd...)
}
