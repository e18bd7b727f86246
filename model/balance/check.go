// This file holds the checks of a network before it is solved.

package balance

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"
)

var (
	// errNetwork: a stream or balance is not valid.
	errNetwork = errors.New("balance network")
	// errContradiction: streams without uncertainty do not balance.
	errContradiction = errors.New("exactly known streams contradict each other")
)

const (
	maxStreams   = 200
	maxBalances  = 200
	maxNameRunes = 80
	maxML        = 1e9
	minUML       = 1e-9
	maxURatio    = 1e8 // of the uncertainties above 0: beyond it rounding dominates
)

// check names the first thing that is wrong.
func (n Network) check() error {
	if len(n.Streams) == 0 || len(n.Streams) > maxStreams {
		return fmt.Errorf("%w: streams must be 1 to %d, not %d", errNetwork, maxStreams, len(n.Streams))
	}
	smallest, largest := math.Inf(1), 0.0
	for _, s := range n.Streams {
		if err := s.check(); err != nil {
			return err
		}
		if s.Measured && s.UML > 0 {
			smallest, largest = min(smallest, s.UML), max(largest, s.UML)
		}
	}
	if largest > smallest*maxURatio {
		return fmt.Errorf("%w: u_ml must be 0 or at least %g of the largest, not %g beside %g",
			errNetwork, 1/maxURatio, smallest, largest)
	}
	if len(n.Balances) > maxBalances {
		return fmt.Errorf("%w: balances must be at most %d, not %d", errNetwork, maxBalances, len(n.Balances))
	}
	return n.checkNames()
}

func (s Stream) check() error {
	switch {
	case !s.Measured:
		return nil
	case !(s.ML >= 0 && s.ML <= maxML):
		return fmt.Errorf("%w: ml of stream %q must be a number from 0 to %.0f", errNetwork, s.Name, maxML)
	case s.UML != 0 && !(s.UML >= minUML && s.UML <= maxML):
		return fmt.Errorf("%w: u_ml of stream %q must be 0 or a number from %g to %.0f", errNetwork, s.Name, minUML, maxML)
	}
	return nil
}

// checkNames checks the names of streams and their use in balances.
func (n Network) checkNames() error {
	var names []string
	for i, s := range n.Streams {
		if !printable(s.Name) {
			return fmt.Errorf("%w: name of stream %d must be 1 to %d printable characters", errNetwork, i+1, maxNameRunes)
		}
		if slices.Contains(names, s.Name) {
			return fmt.Errorf("%w: name %q must be used for one stream only", errNetwork, s.Name)
		}
		names = append(names, s.Name)
	}
	for i, b := range n.Balances {
		if err := b.check(i+1, names); err != nil {
			return err
		}
	}
	return nil
}

func (b Balance) check(number int, names []string) error {
	if len(b.In) == 0 || len(b.Out) == 0 {
		return fmt.Errorf("%w: balance %d must name at least one stream in and one out", errNetwork, number)
	}
	sides := slices.Concat(b.In, b.Out)
	for i, name := range sides {
		if !slices.Contains(names, name) {
			return fmt.Errorf("%w: balance %d names %q, which is not listed in streams", errNetwork, number, name)
		}
		if slices.Contains(sides[:i], name) {
			return fmt.Errorf("%w: balance %d must name %q only once", errNetwork, number, name)
		}
	}
	return nil
}

// printable reports whether a name can be shown on one line.
func printable(name string) bool {
	isHidden := func(r rune) bool { return !unicode.IsPrint(r) }
	return name != "" && utf8.ValidString(name) && utf8.RuneCountInString(name) <= maxNameRunes && !strings.ContainsFunc(name, isHidden)
}
