package main

import (
	"runtime"
	"runtime/debug"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

// percent is the setting of the collector as it stands.
func percent() int {
	p := debug.SetGCPercent(-1)
	debug.SetGCPercent(p)
	return p
}

// The first collection of a large notebook is put off, and the setting of
// before holds from then on.
func TestPutOff(t *testing.T) {
	before := debug.SetGCPercent(ordinaryPercent)
	defer debug.SetGCPercent(before)
	t.Setenv("GOGC", "")
	require.False(t, reserve(reserveFrom-1))
	require.Equal(t, ordinaryPercent, percent())

	const size = 1 << 20
	require.True(t, reserve(size))
	require.Equal(t, ordinaryPercent+100*heapPerInput*size/leastHeap, percent())
	runtime.GC()
	require.Eventually(t, func() bool { return percent() == ordinaryPercent }, time.Minute, time.Millisecond)

	t.Setenv("GOGC", "50") // the user's own choice stands
	debug.SetGCPercent(50)
	require.True(t, reserve(size))
	require.Equal(t, 50, percent())
}
