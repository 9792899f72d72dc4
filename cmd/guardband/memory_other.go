//go:build !linux

package main

// hugePages does nothing where the system chooses the size of pages itself.
func hugePages(int64) {}
