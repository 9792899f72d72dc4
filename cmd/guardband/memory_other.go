//go:build !linux

package main

// reserve does nothing where the system chooses the size of pages itself.
func reserve(int64) bool { return false }
