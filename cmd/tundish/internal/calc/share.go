package calc

// This file computes what share of a fill is renewed where only a part of it drains.

import (
	"errors"
	"fmt"

	"github.com/alecthomas/kong"

	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/model/hydraulics"
)

type shareCommand struct {
	Total  float64  `type:"ml" required:"" placeholder:"ML" help:"All that is in it, with converter, cooler and lines."`
	Out    float64  `type:"ml" required:"" placeholder:"ML" help:"What one drain brings out."`
	Times  int      `default:"3" placeholder:"N" help:"How often it is drained and filled."`
	Mixing float64  `default:"0.8" placeholder:"SHARE" help:"Of full mixing, between drains: 0.5 to 0.8 idling, 1 after a drive."`
	Want   *float64 `type:"share" placeholder:"PERCENT" help:"Share that is to be new: how often, and how much oil."`
	cli.JSONFlag
}

// shareResult is the answer in JSON. What was not asked for is null.
type shareResult struct {
	RenewedShares []float64 `json:"renewed_shares"` // after the first drain and fill, the second, ...
	OilML         float64   `json:"oil_ml"`
	TimesForWant  *int      `json:"times_for_want"`
	OilForWantML  *float64  `json:"oil_for_want_ml"`
	ThroughML     *float64  `json:"flowing_through_for_want_ml"`
}

const mostTimes = 20

// Run prints the share after each drain and fill.
func (c *shareCommand) Run(o *cli.Streams, k *kong.Context) error {
	e := hydraulics.Exchange{TotalML: c.Total, OutML: c.Out, Mixing: c.Mixing}
	if err := e.Check(); err != nil {
		return cli.Usage(k, err)
	}
	if c.Times < 1 || c.Times > mostTimes {
		return cli.Usage(k, errors.New("--times must be 1 to 20"))
	}
	r := shareResult{OilML: float64(c.Times) * c.Out}
	s := new(cli.Sheet)
	for n := 1; n <= c.Times; n++ {
		share := e.Renewed(n)
		r.RenewedShares = append(r.RenewedShares, share)
		s.Add(timesWord(n), percent(share)+" new", "%s of new oil", ml(float64(n)*c.Out))
	}
	if c.Want != nil {
		if err := c.want(e, &r, s); err != nil {
			return cli.Usage(k, err)
		}
	}
	s.Note("1 - (1 - f)(1 - m f)^(n-1), f = out/total, m = mixing: a model; converter, cooler and lines stay full")
	return o.Show(c.JSONFlag, r, s)
}

// want adds how often it takes, and what to buy for it.
func (c *shareCommand) want(e hydraulics.Exchange, r *shareResult, s *cli.Sheet) error {
	if !(*c.Want > 0 && *c.Want < 1) {
		return errors.New("--want must be above 0 % and below 100 %: some of the old oil always stays")
	}
	times, err := e.TimesFor(*c.Want)
	if err != nil {
		return err
	}
	oilML, through := float64(times)*c.Out, e.ContinuousML(*c.Want)
	r.TimesForWant, r.OilForWantML, r.ThroughML = &times, &oilML, &through
	s.Add("for "+percent(*c.Want), timesWord(times), "%s of new oil, %s new; add what the pan, the run-out and the bottles take", ml(oilML),
		percent(e.Renewed(times)))
	s.Add("flowing through", ml(through), "where the old oil leaves as the new one enters")
	return nil
}

func timesWord(n int) string {
	if n <= 2 {
		return []string{"once", "twice"}[n-1]
	}
	return fmt.Sprintf("%d times", n)
}
