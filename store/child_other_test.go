//go:build !linux

package store

// systemRole is what a child of that name does: nothing on this system.
func systemRole(name string) func(string) error { return nil }
