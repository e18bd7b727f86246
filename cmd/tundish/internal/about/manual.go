package about

// This file holds what the manual says that no definition of a command does: the
// examples, two of each command, and what the program reads around it.

import "garage/tundish/cmd/tundish/internal/reference"

// Examples are two of each command.
func Examples() reference.Examples {
	return reference.Examples{
		"": {
			{Args: "", Does: "opens the job that is open, or begins one"},
			{Args: "help calc plan", Does: "tells of one command"},
		},
		"guide": {
			{Args: "guide --job last", Does: "opens the job last worked on"},
			{Args: "guide --plain", Does: "one line at a time, for a screen reader"},
		},
		"demo": {
			{Args: "demo", Does: "an invented job, with a tour"},
			{Args: "demo --background light --ascii", Does: "the same for a light terminal that draws ASCII only"},
		},
		"jobs": {
			{Args: "jobs --all", Does: "every job"},
			{Args: "jobs --car estate -o estate.csv", Does: "a line a job, for a spreadsheet over the years"},
		},
		"car": {
			{Args: "car van --unit gearbox --unit axle", Does: "begins both, to be done in one go"},
			{Args: "car --buy", Does: "oil in bottles, washers, tools"},
		},
		"summary": {
			{Args: "summary last -o record.html", Does: "writes the record as a page"},
			{Args: "summary last --format json --share --kind", Does: "for the club: without plate, VIN, owner and place"},
		},
		"history": {
			{Args: "history last", Does: "the unit of the job last worked on, over the years"},
			{Args: "history 2026 --json", Does: "of the one job whose id begins with 2026, for a script"},
		},
		"due": {
			{Args: "due --ics due.ics --force", Does: "what is due, first what cannot wait; also as a calendar, over an older one"},
			{Args: "due --done last --item waste --answer depot", Does: "its waste oil was brought to the depot"},
		},
		"discard": {
			{Args: "discard 20260410", Does: "says what it changes, asks, and takes that job out of all lists"},
			{Args: "discard --undo 20260410", Does: "the job is there again, as it was"},
		},
		"purge": {
			{Args: "purge", Does: "says which jobs go for good, and asks"},
			{Args: "purge --yes --json", Does: "the same in a script, without a question"},
		},
		"tag": {
			{Args: "tag last", Does: "prints the tag in the terminal"},
			{Args: "tag last -o tag.html", Does: "writes it as a page to print"},
		},
		"paper": {
			{Args: "paper last", Does: "prints the sheets in the terminal"},
			{Args: "paper last -o sheets.html", Does: "writes them as a page to print"},
		},
		"import": {
			{Args: "import job.json", Does: "takes in one job"},
			{Args: "import k2.json from-the-laptop/*.json", Does: "takes in many, and a unit card; what is there already stays as it is"},
		},
		"pool": {
			{Args: "pool shared/*.json", Does: "what stays inside and is spilled, over all these jobs"},
			{Args: "pool --card k2.json --kind K2-axle shared/*.json", Does: "writes a card of what they measured of that kind of unit"},
		},
		"backup": {
			{Args: "backup jobs-backup.db", Does: "copies the store, also while the guide is open"},
			{Args: "backup /media/stick/jobs.db --force", Does: "over an older copy"},
		},
		"verify": {
			{Args: "verify", Does: "looks the store through"},
			{Args: "verify --store jobs-backup.db", Does: "looks a copy through"},
		},
		"repair": {
			{Args: "repair new.db", Does: "saves what can be read of the store"},
			{Args: "repair new.db --store damaged.db", Does: "the same of another store"},
		},
		"restore": {
			{Args: "restore jobs-backup.db", Does: "puts a copy back; what was there is kept beside it"},
			{Args: "restore jobs-backup.db --journal jobs.db.journal", Does: "with what the journal holds after the copy"},
		},
		"export": {
			{Args: "export --all jobs", Does: "writes each job as JSON into the folder jobs"},
			{Args: "export --all /media/stick/jobs --force", Does: "over older files of them"},
		},
		"schema": {
			{Args: "schema", Does: "prints the form of a job's JSON"},
			{Args: "schema > job.schema.json", Does: "into a file, for a validator"},
		},
		"calc": {
			{Args: "calc hose --bore 8mm --length 1.5m", Does: "what a hose holds"},
			{Args: "calc oil --at 60C --volume 830ml", Does: "a warm volume at 20 degrees"},
		},
		"calc plan": {
			{Args: "calc plan --capacity 900ml --drained 830ml", Does: "what to pour in"},
			{Args: "calc plan --capacity 600-680 --drained 588@35 --holdup 25 --json", Does: "with a range, warm oil and a hose"},
		},
		"calc oil": {
			{Args: "calc oil --at 60C --volume 830ml", Does: "830 ml at 60 degrees, brought to 20"},
			{Args: "calc oil --grade 75W-90 --at 5C", Does: "how thick such an oil may be on a cold day"},
		},
		"calc hose": {
			{Args: "calc hose --bore 8mm --length 1.5m", Does: "one piece"},
			{Args: "calc hose --bore 8mm --length 1.5m --bore 6mm --length 0.3m", Does: "two pieces"},
		},
		"calc flow": {
			{Args: "calc flow --grade 75W-90 --at 8C --bore 6mm --length 1.5m --lift 0.8m --pressure 1bar --volume 900ml",
				Does: "how long a push takes"},
			{Args: "calc flow --kv40 100 --kv100 14 --at 20C --bore 8mm --length 1m --lift -0.5m --pressure 50kPa --air 400ml " +
				"--volume 600ml",
				Does: "downhill, with air that expands"},
		},
		"calc drip": {
			{Args: "calc drip readings.csv", Does: "what is still to drip out"},
			{Args: "calc drip - --form auto --less-than 3ml", Does: "from a pipe, by the curve that fits best"},
		},
		"calc balance": {
			{Args: "calc balance streams.json", Does: "which of the volumes is wrong"},
			{Args: "calc balance - --json", Does: "from a pipe, for a script"},
		},
		"calc share": {
			{Args: "calc share --total 9L --out 4L", Does: "what three drains and fills renew"},
			{Args: "calc share --total 9L --out 4L --want 80% --json", Does: "how often for 80 %, for a script"},
		},
		"calc vessel": {
			{Args: "calc vessel --mass 498 --reading 500", Does: "a jug against water on a scale"},
			{Args: "calc vessel --mass 498 --reading 500 --mass 997 --reading 1000 --at 18C", Does: "two fills"},
		},
		"config": {
			{Args: "config", Does: "all settings, and where they are kept"},
			{Args: "config set records ~/garage/records", Does: "where records go from now on"},
		},
		"config list": {
			{Args: "config list", Does: "all settings"},
			{Args: "config list --json", Does: "the same for a script"},
		},
		"config get": {
			{Args: "config get units", Does: "one of them"},
			{Args: "config get records", Does: "where records go; empty: beside the jobs"},
		},
		"config set": {
			{Args: "config set units us", Does: "US units on offer"},
			{Args: "config set bell off", Does: "no wait rings"},
		},
		"help": {
			{Args: "help", Does: "tells of all commands"},
			{Args: "help calc flow", Does: "tells of one"},
		},
		"version": {
			{Args: "version", Does: "version, commit and date"},
			{Args: "version --json", Does: "the same for a script"},
		},
		"changes": {
			{Args: "changes", Does: "what changed, newest first"},
			{Args: "changes --json", Does: "the same for a script"},
		},
		"licenses": {
			{Args: "licenses", Does: "every notice in full"},
			{Args: "licenses --json", Does: "with module, version and licence of each"},
		},
		"man": {
			{Args: "man > tundish.1", Does: "writes the man page to a file"},
			{Args: "man | man -l -", Does: "shows it at once"},
		},
		"completion": {
			{Args: "completion bash > ~/.local/share/bash-completion/completions/tundish", Does: "for every bash to come"},
			{Args: "completion fish > ~/.config/fish/completions/tundish.fish", Does: "for every fish to come"},
		},
	}
}

// Environment is what the program reads of it.
func Environment() [][2]string {
	return [][2]string{
		{"TUNDISH_STORE", "File that holds the jobs, where --store does not say."},
		{"XDG_DATA_HOME", "Folder of data; the jobs are in tundish/jobs.db there. Else ~/.local/share, or what is usual on the system."},
		{"XDG_CONFIG_HOME", "Folder of settings; they are in tundish/config there. Else ~/.config."},
		{"TUNDISH_BACKGROUND", "light or dark: that of the terminal. COLORFGBG, which some terminals set, counts after it."},
		{"NO_COLOR", "Set to anything, it turns colours off."},
		{"TERM", "dumb: the guide goes one line at a time, as with --plain."},
		{"LC_ALL, LC_CTYPE, LANG", "A character set other than UTF-8 makes the guide draw ASCII only."},
		{"TZ", "The zone that times are printed in."},
	}
}

// Files are those that the program keeps.
func Files() [][2]string {
	return [][2]string{
		{"~/.config/tundish/config", "The settings, a line each: key = value."},
		{"~/.local/share/tundish/jobs.db", "The jobs."},
		{"~/.local/share/tundish/jobs.db.journal", "The same once more, line by line: what verify looks through and repair reads."},
	}
}
