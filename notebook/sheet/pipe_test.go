//go:build unix

package sheet

import (
	"context"
	"path/filepath"
	"syscall"
	"testing"
	"time"

	"github.com/stretchr/testify/require"
)

func TestPipesAreNotOpened(t *testing.T) {
	pipe := filepath.Join(t.TempDir(), "pipe.pdf")
	require.NoError(t, syscall.Mkfifo(pipe, 0o600))
	done := make(chan error, 1)
	go func() {
		_, err := library(t).Inspect(context.Background(), pipe)
		done <- err
	}()
	select {
	case err := <-done:
		require.ErrorIs(t, err, ErrNotPDF)
	case <-time.After(5 * time.Second):
		require.Fail(t, "hangs on a pipe")
	}
}
