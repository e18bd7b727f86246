package main

// This file reconciles volumes that were measured more often than needed.

import (
	"fmt"
	"strings"

	"garage/tundish/model/balance"
	"garage/tundish/model/measure"
	"garage/tundish/model/text"
)

type balanceCommand struct {
	File string `arg:"" complete:"file" help:"${help_balance_file}"`
	jsonFlag
}

// Run prints the reconciled streams. A balance that fails is a result too.
func (c *balanceCommand) Run(o *outside) error {
	f, name, err := o.open(c.File)
	if err != nil {
		return err
	}
	defer f.Close()
	network, err := balance.ReadJSON(f)
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	r, err := balance.Solve(network)
	if err != nil {
		return fmt.Errorf("%s: %w", name, err)
	}
	return o.show(c.jsonFlag, r, balanceSheet(network, r))
}

func balanceSheet(n balance.Network, r balance.Result) *sheet {
	s := new(sheet)
	for i, stream := range r.Streams {
		name := text.Visible(stream.Name)
		if stream.Role == balance.Unobservable {
			s.add(name, "not known", "%v", stream.Role)
			continue
		}
		from := stream.Role.String()
		if in := n.Streams[i]; in.Measured {
			from = fmt.Sprintf("measured %s; %v", mlU(measure.Gaussian("reading", in.ML, in.UML)), stream.Role)
		}
		if stream.Role == balance.Redundant {
			from += fmt.Sprintf(", z = %.2f", stream.Z)
		}
		s.add(name, mlU(measure.Gaussian("reconciled", stream.ReconciledML, stream.UML)), "%s", from)
	}
	switch {
	case r.DoF == 0:
		s.note("nothing is measured twice over: nothing is checked")
	case r.Holds():
		s.note("the balance holds: χ² = %.2f with %d degree(s) of freedom, p = %.3f", r.Chi2, r.DoF, r.P)
	default:
		s.note("THE BALANCE FAILS: χ² = %.2f with %d degree(s) of freedom, p = %.2g", r.Chi2, r.DoF, r.P)
		s.note("most likely wrong: %s; measure it again", text.Visible(strings.Join(r.Suspects, " or ")))
	}
	s.note(coverageNote)
	return s
}
