package about

// This file holds the commands that tell of the program itself.

import "garage/tundish/cmd/tundish/internal/cli"

// VersionCommand tells which program this is.
type VersionCommand struct{ cli.JSONFlag }

// Run prints version, commit and day.
func (c *VersionCommand) Run(o *cli.Streams) error {
	v, s := ThisVersion(), new(cli.Sheet)
	s.Add("tundish", v.Version, "")
	if v.Commit != "" {
		changed := ""
		if v.Modified {
			changed = "and changes that are in no commit"
		}
		s.Add("commit", v.Commit, "%s", changed)
		s.Add("date", v.Date, "")
	}
	s.Add("built by", v.Go, "for %s", v.System)
	return o.Show(c.JSONFlag, v, s)
}

// ChangesCommand tells what changed.
type ChangesCommand struct{ cli.JSONFlag }

// Run prints what changed for who uses the program, newest first.
func (c *ChangesCommand) Run(o *cli.Streams) error {
	s := new(cli.Sheet)
	for _, one := range allChanges() {
		s.Note("%s", one.When)
		for _, line := range one.Lines {
			s.Note("  %s", line)
		}
	}
	return o.Show(c.JSONFlag, allChanges(), s)
}

// LicensesCommand tells of what is linked in.
type LicensesCommand struct{ cli.JSONFlag }

// Run prints the notices of all that is linked in.
func (c *LicensesCommand) Run(o *cli.Streams) error {
	return o.ShowText(c.JSONFlag, Notices(), NoticesText)
}
