// Command floor converts a Markdown file to HTML and does nothing else. It is
// what BenchmarkCheck compares guardband with: a program of its own, so that
// it pays at its start for nothing but the library it uses.
package main

import (
	"fmt"
	"io"
	"os"

	"github.com/yuin/goldmark"
	"github.com/yuin/goldmark/extension"
)

func main() {
	data, err := os.ReadFile(os.Args[1])
	if err == nil {
		err = goldmark.New(goldmark.WithExtensions(extension.GFM)).Convert(data, io.Discard)
	}
	if err != nil {
		fmt.Fprintln(os.Stderr, err)
		os.Exit(1)
	}
}
