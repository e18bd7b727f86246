package cli

// This file holds errors of usage.

import (
	"fmt"

	"github.com/alecthomas/kong"
)

// UsageError is wrong usage: a flag or argument that makes no sense.
type UsageError struct {
	Cause   error
	Command string // whose help tells more
}

func (e UsageError) Error() string {
	return fmt.Sprintf("%v; see: %s --help", e.Cause, e.Command)
}

func (e UsageError) Unwrap() error { return e.Cause }

// Usage is the usage error of flags that make no sense together.
func Usage(c *kong.Context, err error) error {
	return UsageError{err, "tundish " + c.Selected().Path()}
}

// Wrong is the usage error of a flag whose value makes no sense.
func Wrong(c *kong.Context, flag string, err error) error {
	return UsageError{fmt.Errorf("%s: %w", flag, err), "tundish " + c.Selected().Path()}
}
