// Package eval turns a Book into a Record: names resolved, dimensions
// checked, claims proven or broken, citations checked, cautions raised.
package eval
