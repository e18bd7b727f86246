//go:build !linux

package store

import "os"

// syncData makes what was written durable.
func syncData(f *os.File) error { return f.Sync() }
