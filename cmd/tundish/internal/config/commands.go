package config

// This file shows and changes the settings.

import (
	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/cmd/tundish/internal/files"
	"garage/tundish/model/text"
)

// Place reads the settings and says where they are. With an error, what could be read of
// them is there all the same, nil where there is no place for them.
type Place func() (path string, s Settings, err error)

// Commands show and change the settings.
type Commands struct {
	List list `cmd:"" default:"1" help:"Print all settings, and where they are kept."`
	Get  get  `cmd:"" help:"Print one setting."`
	Set  set  `cmd:"" help:"Change one setting."`
}

type (
	list struct{ cli.JSONFlag }
	get  struct {
		Name string `arg:"" complete:"setting" help:"Setting to print."`
		cli.JSONFlag
	}
	set struct {
		Name  string `arg:"" complete:"setting" help:"Setting to change."`
		Value string `arg:"" help:"What it is to be."`
		cli.JSONFlag
	}
)

// Run prints all settings with what they mean.
func (c *list) Run(o *cli.Streams, at Place) error {
	path, now, err := at()
	if err != nil {
		return err
	}
	values, s := map[string]string{}, new(cli.Sheet)
	for _, k := range Keys() {
		values[k.Name], _ = now.Get(k.Name) // it is one of the keys
		s.Add(k.Name, text.Visible(values[k.Name]), "%s", k.Help)
	}
	s.Note("kept in %s; change one with: tundish config set NAME VALUE", text.Visible(path))
	return o.Show(c.JSONFlag, values, s)
}

// Run prints one setting.
func (c *get) Run(o *cli.Streams, at Place) error {
	_, now, err := at()
	if err != nil {
		return err
	}
	value, err := now.Get(c.Name)
	if err != nil {
		return err
	}
	return o.ShowText(c.JSONFlag, map[string]string{c.Name: value}, text.Visible(value)+"\n")
}

// Run changes one setting. What is not understood in the file goes with it.
func (c *set) Run(o *cli.Streams, at Place) error {
	path, now, err := at()
	if now == nil {
		return err
	}
	if err := now.set(c.Name, c.Value); err != nil {
		return err
	}
	if err := write(path, now); err != nil {
		return files.Unwritten(path, err)
	}
	return o.ShowText(c.JSONFlag, map[string]string{c.Name: now[c.Name]}, "")
}
