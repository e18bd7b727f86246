// Package cli is what the commands share: files and streams, results as lines or as
// JSON, and errors of usage.
package cli

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
)

// StandardInput stands for it where a file is named.
const StandardInput = "-"

// Streams are those that a command reads and prints its result to.
type Streams struct {
	In  io.Reader
	Out io.Writer
}

// Open opens a file to read, or standard input, and says how to call it in an
// error.
func (o Streams) Open(path string) (f io.ReadCloser, name string, err error) {
	if path == StandardInput {
		return io.NopCloser(o.In), "standard input", nil
	}
	f, err = os.Open(path)
	if err != nil {
		return nil, path, errUnread(path, err)
	}
	return f, path, nil
}

// errUnread is the error of a file that cannot be read.
func errUnread(path string, err error) error {
	var pathError *fs.PathError
	switch {
	case errors.Is(err, fs.ErrNotExist):
		return fmt.Errorf("%s: there is no such file; check the name", path)
	case errors.Is(err, fs.ErrPermission):
		return fmt.Errorf("%s: you may not read it; change its permissions", path)
	case errors.As(err, &pathError):
		return fmt.Errorf("%s: cannot be read; %v", path, pathError.Err)
	}
	return fmt.Errorf("%s: cannot be read; %v", path, err)
}
