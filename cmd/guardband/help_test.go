package main

import (
	"slices"
	"strings"
	"testing"

	"github.com/stretchr/testify/require"
)

// Every command has its place in the help.
func TestHelpListsEveryCommand(t *testing.T) {
	var listed, have []string
	for _, x := range topics {
		listed = append(listed, strings.Fields(x.Commands)...)
	}
	root := (&app{}).rootCommand()
	root.InitDefaultHelpCmd()
	root.InitDefaultCompletionCmd()
	for _, c := range root.Commands() {
		have = append(have, c.Name())
	}
	slices.Sort(listed)
	slices.Sort(have)
	require.Equal(t, have, listed)
}
