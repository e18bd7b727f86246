package main

// This file says where what a command makes is written.

import (
	"garage/tundish/cmd/tundish/internal/cli"
	"garage/tundish/cmd/tundish/internal/files"
	"garage/tundish/store"
)

// forceFlag lets a file that is there be written over.
type forceFlag struct{ files.Force }

// outputFlag says where a text goes.
type outputFlag struct {
	Output string `short:"o" placeholder:"FILE" complete:"file" help:"File to write, in place of standard output. One that is there is kept, unless --force."`
	forceFlag
}

// put writes a text where it is wanted.
func (f outputFlag) put(o *outside, text []byte) error {
	if f.Output == "" || f.Output == cli.StandardInput {
		_, err := o.out.Write(text)
		return err
	}
	return f.Write(o.owned, f.Output, text)
}

// owned reports whether a file is one of the store's, which nothing is written over.
func (o *outside) owned(path string) bool {
	at, err := o.storePath()
	return err == nil && store.Owns(at, path)
}
