//go:build !linux

package disk

import "os"

// SyncData makes what was written durable.
func SyncData(f *os.File) error { return f.Sync() }
