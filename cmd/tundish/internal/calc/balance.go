package calc

// This file reconciles volumes that were measured more often than needed.

import (
	"fmt"
	"strings"

	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/model/balance"
	"garage/tundish/model/measure"
	"garage/tundish/model/text"
)

type balanceCommand struct {
	File string `arg:"" complete:"file" help:"${help_balance_file}"`
	cli.JSONFlag
}

// Run prints the reconciled streams. A balance that fails is a result too.
func (c *balanceCommand) Run(o *cli.Streams) error {
	f, name, err := o.Open(c.File)
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
	return o.Show(c.JSONFlag, r, balanceSheet(network, r))
}

func balanceSheet(n balance.Network, r balance.Result) *cli.Sheet {
	s := new(cli.Sheet)
	for i, stream := range r.Streams {
		name := text.Visible(stream.Name)
		if stream.Role == balance.Unobservable {
			s.Add(name, "not known", "%v", stream.Role)
			continue
		}
		from := stream.Role.String()
		if in := n.Streams[i]; in.Measured {
			from = fmt.Sprintf("measured %s; %v", mlU(measure.Gaussian("reading", in.ML, in.UML)), stream.Role)
		}
		if stream.Role == balance.Redundant {
			from += fmt.Sprintf(", z = %.2f", stream.Z)
		}
		s.Add(name, mlU(measure.Gaussian("reconciled", stream.ReconciledML, stream.UML)), "%s", from)
	}
	switch {
	case r.DoF == 0:
		s.Note("nothing is measured twice over: nothing is checked")
	case r.Holds():
		s.Note("the balance holds: χ² = %.2f with %d degree(s) of freedom, p = %.3f", r.Chi2, r.DoF, r.P)
	default:
		s.Note("THE BALANCE FAILS: χ² = %.2f with %d degree(s) of freedom, p = %.2g", r.Chi2, r.DoF, r.P)
		s.Note("most likely wrong: %s; measure it again", text.Visible(strings.Join(r.Suspects, " or ")))
	}
	s.Note(coverageNote)
	return s
}
