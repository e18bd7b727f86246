package reference

// This file holds texts of help that are too long for a tag.

import (
	"strings"

	"github.com/alecthomas/kong"
)

// Description is what the program is for.
const Description = "An oil change by measurement: what came out, what belongs in, and what is really inside.\n\n" +
	"Without a command it opens the guide: at the open job, or with a new one."

// LongHelp puts texts that are too long for a tag where a flag's help names them. Kong
// would look for variables in every variable anew for each flag: half of a start.
func LongHelp() kong.Option {
	texts := strings.NewReplacer(
		"${help_background}", "auto goes by $TUNDISH_BACKGROUND, $COLORFGBG, and what the terminal answers; nobody waits for it.",
		"${help_car}", "The car's name, the id that its jobs were begun with, or one of these jobs.",
		"${help_balance_file}", "Streams and balances as JSON: {\"streams\":[{\"name\":\"a\",\"ml\":1,\"u_ml\":1}]"+
			",\"balances\":[{\"in\":[\"a\"],\"out\":[\"b\",\"c\"]}]}. - is standard input.",
		"${help_drip_file}", "Readings as CSV with the header minutes,ml: minutes since the plug came out, ml "+
			"caught in all. - is standard input.",
		"${help_drip_form}", "Curve to fit: plain, offset (drips after a stream), film (drips of oil that runs down a wall), or "+
			"auto, the one that AICc prefers.",
		"${help_flow_lift}", "From the oil in the vessel up to the port; below 0 where the vessel is higher.",
		"${help_ics}", "Also write what is due on a day as a calendar file (RFC 5545). One that is there is "+
			"kept, unless --force. - prints it in place of the list.",
		"${help_plan_tolerance}", "How far off the fill may be: 50ml, 5% or +20-50. Default: what a stated range "+
			"allows, else the larger of 50 ml and 5 %, a tenth at most.",
		"${help_store}", "File that holds the jobs. Default: $TUNDISH_STORE, else tundish/jobs.db in the XDG data folder.",
	)
	return kong.PostBuild(func(k *kong.Kong) error {
		return kong.Visit(k.Model, func(node kong.Visitable, next kong.Next) error {
			if v, ok := node.(*kong.Value); ok {
				v.Help = texts.Replace(v.Help)
			}
			return next(nil)
		})
	})
}
